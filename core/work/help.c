#include "core/work/help.h"
#include "core/work/day_waits.h"
#include "core/work/defect.h"
#include "core/work/fact.h"
#include "core/work/hazard.h"

#include <stdlib.h>
#include <string.h>

static const struct cautions_row *caution_of(const struct tables *t, const char *hazard) {
    for (size_t i = 0; hazard && i < t->cautions_n; i++)
        if (!strcmp(t->cautions[i].id, hazard)) return &t->cautions[i];
    return NULL;
}

/* ---- which step ---- */

/* "chest-case-color-coat2" is a coat of "chest-case-color", "...-coat2-back" its back. */
static bool names(const char *task, const char *id) {
    size_t n = strlen(id);
    if (strncmp(task, id, n)) return false;
    const char *rest = task + n;
    if (!strncmp(rest, "-coat", 5)) rest += 5 + strspn(rest + 5, "0123456789");
    return !*rest || !strcmp(rest, "-back");
}

static bool find_coat(const struct piece_plan *p, const char *task, struct step_help *out,
                      enum coat_role *role) {
    for (size_t i = 0; i < p->coats.n; i++) {
        const struct coat *c = &p->coats.rows[i];
        if (!names(task, c->id)) continue;
        *role = c->role;
        *out = (struct step_help){.name = c->text,
                                  .operation = c->operation,
                                  .role = role_word(c->role),
                                  .class = c->class,
                                  .product = c->product,
                                  .how = c->how,
                                  .why = c->why,
                                  .tool = c->tool,
                                  .grit = c->grit,
                                  .grit_curves = c->grit_curves,
                                  .hands_min = c->hands_min,
                                  .wait_min = c->recoat_min};
        return true;
    }
    return false;
}

static bool find_step(const struct tables *t, const struct piece_plan *p, const char *task,
                      struct step_help *out) {
    const struct steps *lists[] = {&p->takedown, &p->repairs, &p->finish};
    for (size_t k = 0; k < 3; k++)
        for (size_t i = 0; i < lists[k]->n; i++) {
            const struct work_step *s = &lists[k]->rows[i];
            if (strcmp(s->id, task)) continue;
            const struct operations_row *op = operation_row(t, s->operation);
            *out = (struct step_help){.name = s->text,
                                      .operation = s->operation,
                                      .role = op ? op->role : "repair",
                                      .how = s->how,
                                      .why = s->why,
                                      .tool = op && *op->tool ? op->tool : NULL,
                                      .hands_min = s->hands_min,
                                      .wait_min = s->wait_min};
            return true;
        }
    return false;
}

/* Steps of the color: they belong to the piece, not to a row of its plan. */
static const struct {
    const char *tail, *operation;
} color_steps[] = {
    {"-board", "test_board"}, {"-card", "sample_card"}, {"-mix", "mix_batch"}, {"-pot", "mix_pot"}};

static bool find_color(const struct tables *t, const struct piece_plan *p, const char *task,
                       struct step_help *out) {
    size_t n = strlen(p->id);
    if (strncmp(task, p->id, n)) return false;
    for (size_t i = 0; i < sizeof color_steps / sizeof *color_steps; i++) {
        size_t tail = strlen(color_steps[i].tail);
        bool is = !strncmp(task + n, color_steps[i].tail, tail) &&
                  (!task[n + tail] || task[n + tail] == '-');
        const struct operations_row *op = is ? operation_row(t, color_steps[i].operation) : NULL;
        if (!op) continue;
        *out = (struct step_help){.name = op->name,
                                  .operation = op->id,
                                  .role = op->role,
                                  .how = op->how,
                                  .why = i ? op->how : p->coats.test_board_why,
                                  .tool = op->tool,
                                  .hands_min = op->fixed_min,
                                  .wait_min = op->wait_min};
        return true;
    }
    return false;
}

/* ---- what belongs to it ---- */

static enum status notes_of(const struct tables *t, struct arena *arena, struct step_help *h) {
    h->notes = arena_array(arena, t->process_notes_n + 1, sizeof(struct process_notes_row *));
    if (!h->notes) return E_MEMORY;
    for (size_t i = 0; i < t->process_notes_n; i++) {
        const struct process_notes_row *n = &t->process_notes[i];
        const char *alone = arena_print(arena, "=%s", h->operation);
        bool here = word_listed(n->at, h->role) || word_listed(n->at, h->operation) ||
                    word_listed(n->at, alone);
        if (here && word_listed(n->classes, h->class ? h->class : "any"))
            h->notes[h->notes_n++] = n;
    }
    return OK;
}

/* A card and a batch are the color's own work: what a coat of the piece asks to be read first is
 * not asked of them unless their operation is named. The test board gets every coat. */
static const char *read_before(const struct step_help *h) {
    static const char *const alone[] = {"sample_card", "mix_batch", "mix_pot"};
    for (size_t i = 0; i < sizeof alone / sizeof *alone; i++)
        if (!strcmp(h->operation, alone[i])) return alone[i];
    return h->role;
}

/* A client's color waits for the sample that they sign: its batch, and each of its coats. */
static const struct notice *unsigned_sample(const struct piece_plan *p, const char *task,
                                            enum coat_role role) {
    const char *tail = strlen(task) > strlen(p->id) ? task + strlen(p->id) : "";
    bool batch = role == ROLE_UNSAID && (!strcmp(tail, "-mix") || !strncmp(tail, "-mix-", 5));
    return role == ROLE_COLOR || batch ? day_waits_sample(p) : NULL;
}

static enum status notices_of(const struct tables *t, const struct piece_plan *p, const char *task,
                              enum coat_role role, struct arena *arena, struct step_help *h) {
    const struct notices *n = &p->hazards.notices;
    const struct notice *sample = unsigned_sample(p, task, role);
    h->cautions = arena_array(arena, n->n + 1, sizeof(struct notice *));
    h->blocked = arena_array(arena, n->n + 2, sizeof(struct notice *));
    if (!h->cautions || !h->blocked) return E_MEMORY;
    if (sample) h->blocked[h->blocked_n++] = sample;
    for (size_t i = 0; i < n->n; i++) {
        const struct cautions_row *c = caution_of(t, n->rows[i].id);
        if (c && word_listed(c->before, read_before(h))) h->cautions[h->cautions_n++] = &n->rows[i];
        if (n->rows[i].rank == RANK_STOP && hazard_blocks(t, &n->rows[i], h->operation))
            h->blocked[h->blocked_n++] = &n->rows[i];
    }
    return OK;
}

enum status help_step(const struct tables *t, const struct piece_plan *p, const char *task,
                      struct arena *arena, struct step_help *out, struct why *why) {
    struct step_help h = {0};
    enum coat_role role = ROLE_UNSAID;
    if (!find_coat(p, task, &h, &role) && !find_step(t, p, task, &h) && !find_color(t, p, task, &h))
        return why_say(why, E_NOT_FOUND, "/id", "There is no step \"%.64s\" in the plan.", task);
    if (role != ROLE_UNSAID) {
        h.defects = arena_array(arena, t->defects_n + 1, sizeof(struct defects_row *));
        if (!h.defects) return why_no_memory(why);
        h.defects_n = defects_of(t, role, h.class, h.defects, t->defects_n);
    }
    if (notes_of(t, arena, &h) || notices_of(t, p, task, role, arena, &h))
        return why_no_memory(why);
    *out = h;
    return OK;
}
