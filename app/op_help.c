/* Help at a step of the work: how, notes, what can go wrong, cautions to be read, gates. */
#include "app/op_help.h"
#include "app/gather.h"
#include "app/help_text.h"
#include "app/op_accepted.h"
#include "codec/plan_desc.h"
#include "core/work/defect.h"

#include <string.h>

/* ---- shapes ---- */

static const struct field note_fields[] = {
    F_TEXT(struct process_notes_row, topic, "dwell, technique, air, cleaning, disposal or rags"),
    F_TEXT(struct process_notes_row, text, "what to do"),
    F_TEXT(struct process_notes_row, source, "id of the source"),
};
static DESC(desc_note, struct process_notes_row, "process_note", "A note at a step.", note_fields);
static const struct field defect_fields[] = {
    F_TEXT(struct defects_row, id, "which defect"),
    F_TEXT(struct defects_row, name, "its name"),
    F_TEXT(struct defects_row, see, "what it looks like"),
    F_TEXT(struct defects_row, cause, "where it comes from"),
    F_TEXT(struct defects_row, cure, "what to do now"),
    F_TEXT(struct defects_row, prevent, "how it is kept away"),
    F_TEXT(struct defects_row, source, "id of the source"),
};
static DESC(desc_defect, struct defects_row, "defect", "Something that goes wrong.", defect_fields);

static const struct field caution_fields[] = {
    F_TEXT(struct caution_view, id, "which caution"),
    F_TEXT(struct caution_view, text, "what to do and why"),
    F_TEXT(struct caution_view, remedy, "what may be done instead"),
    F_TEXT(struct caution_view, source, "id of the source"),
    F_TIME(struct caution_view, read, read_utc_min, FIELD_INSTANT,
           "when it was read; missing: not yet"),
};
static DESC(desc_caution, struct caution_view, "caution", "To be read before the first such step.",
            caution_fields);

#define STEP(stem, m, t, h)                                                                        \
    { .name = #stem, .offset = offsetof(struct help_answer, step.m), .type = t, .help = h }
#define STEP_TIME(stem, m, h)                                                                      \
    {                                                                                              \
        .name = #stem, .offset = offsetof(struct help_answer, step.m), .type = FIELD_QUANTITY,     \
        .dimension = DIM_DURATION, .help = h                                                       \
    }
static const struct field help_fields[] = {
    F_TEXT(struct help_answer, id, "which task"),
    F_TEXT(struct help_answer, piece, "of which piece"),
    F_TEXT(struct help_answer, piece_title, "what the piece is called"),
    STEP(name, name, FIELD_TEXT, "the step"),
    STEP(operation, operation, FIELD_TEXT, "kind of work"),
    STEP(role, role, FIELD_TEXT, "clean, primer, color, clear ..."),
    STEP(class, class, FIELD_TEXT, "class of the product"),
    STEP(product, product, FIELD_TEXT, "can on the shelf"),
    STEP(how, how, FIELD_TEXT, "how it is done"),
    STEP(why, why, FIELD_TEXT, "why it is done"),
    STEP(tool, tool, FIELD_TEXT, "with what"),
    {.name = "grit",
     .offset = offsetof(struct help_answer, step.grit),
     .type = FIELD_INT,
     .help = "grit on flats"},
    {.name = "grit_curves",
     .offset = offsetof(struct help_answer, step.grit_curves),
     .type = FIELD_INT,
     .help = "grit on curves and turnings"},
    STEP_TIME(hands, hands_min, "hands-on"),
    STEP_TIME(wait, wait_min, "then waits: drying, glue, filler"),
    F_LIST(struct help_answer, notes, &desc_note, 1000, "notes at this step"),
    F_LIST(struct help_answer, defects, &desc_defect, 1000, "what can go wrong here"),
    F_LIST(struct help_answer, cautions, &desc_caution, 1000, "to be read before the first"),
    F_LIST(struct help_answer, blocked, &desc_notice, 1000, "why it must not be begun"),
};
static DESC(desc_help, struct help_answer, "step_help", "What one needs to know at a step.",
            help_fields);

static const struct field id_fields[] = {
    F_TEXT(struct id_args, id, "which task, as the days name it"),
};
static DESC(desc_task_id, struct id_args, "task_help_args", "Which task.", id_fields);

/* ---- one task ---- */

/* The piece planned alone and without days: its steps and what blocks them hang on no date. */
static enum status piece_plan_of(struct op_call *call, const char *piece,
                                 const struct piece_plan **out, struct why *why) {
    struct gathered *g = arena_take(call->arena, sizeof *g);
    struct plan_answer *answer = arena_take(call->arena, sizeof *answer);
    struct plan_ask ask = {.now_utc_min = book_call_now(call), .no_days = true};
    if (!g || !answer) return why_no_memory(why);
    enum status s = gather_job(call, piece, false, g, why);
    if (s) return s;
    desc_unsay(&desc_plan_answer, answer);
    s = gather_plan(call, g, piece, &ask, answer, why);
    *out = s ? NULL : &answer->plan.pieces[0];
    return s;
}

static bool copy_rows(struct op_call *call, struct help_answer *a) {
    const struct step_help *h = &a->step;
    a->notes = arena_array(call->arena, h->notes_n + 1, sizeof *a->notes);
    a->defects = arena_array(call->arena, h->defects_n + 1, sizeof *a->defects);
    a->cautions = arena_array(call->arena, h->cautions_n + 1, sizeof *a->cautions);
    a->blocked = arena_array(call->arena, h->blocked_n + 1, sizeof *a->blocked);
    if (!a->notes || !a->defects || !a->cautions || !a->blocked) return false;
    for (size_t i = 0; i < h->notes_n; i++) a->notes[a->notes_n++] = *h->notes[i];
    for (size_t i = 0; i < h->defects_n; i++) a->defects[a->defects_n++] = *h->defects[i];
    for (size_t i = 0; i < h->blocked_n; i++) a->blocked[a->blocked_n++] = *h->blocked[i];
    return true;
}

static enum status help_of(struct op_call *call, const char *piece, const char *task,
                           struct help_answer *a, struct why *why) {
    const struct piece_plan *p = NULL;
    enum status s = piece_plan_of(call, piece, &p, why);
    if (!s) s = help_step(call->app->tables, p, task, call->arena, &a->step, why);
    if (s) return s;
    if (!copy_rows(call, a)) return why_no_memory(why);
    a->id = task, a->piece = p->id, a->piece_title = p->title;
    for (size_t i = 0; !s && i < a->step.cautions_n; i++) {
        const struct notice *n = a->step.cautions[i];
        struct caution_view *c = &a->cautions[a->cautions_n++];
        *c = (struct caution_view){n->id, n->text, n->remedy, n->source, INT64_MIN};
        s = caution_read_at(call, piece, n->id, &c->read_utc_min, why);
    }
    return s;
}

/* The piece whose id begins the task's id ("chest-2-clean"); the longest such. */
static enum status piece_of_task(struct op_call *call, const char *task, const char **out,
                                 struct why *why) {
    struct piece_row row;
    for (size_t n = strlen(task); n-- > 1;) {
        if (task[n] != '-') continue;
        const char *id = arena_print(call->arena, "%.*s", (int)n, task);
        if (!id) return why_no_memory(why);
        enum status s = book_get(call, &table_piece, id, &row, NULL);
        if (s == E_NOT_FOUND) continue;
        if (!s) *out = row.id;
        return s;
    }
    return why_say(why, E_NOT_FOUND, "/id", "There is no task \"%.64s\".", task);
}

static enum status task_help(struct op_call *call, struct why *why) {
    const struct id_args *a = call->args;
    const char *piece = NULL;
    if (!a->id) return why_say(why, E_MISSING, "/id", "Say which task.");
    enum status s = piece_of_task(call, a->id, &piece, why);
    if (!s) s = help_of(call, piece, a->id, call->result, why);
    return s ? s : help_print(call, call->result, why);
}

/* All that is unread is named at once: nobody should be sent back once for each. The words of as
 * many as there is room for stand behind; the step's help has all. */
static enum status all_read(struct op_call *call, const struct help_answer *a, const char *piece,
                            const char *task, struct why *why) {
    enum { ROOM = sizeof why->text - 128 };
    const char *acts = "", *words = "";
    size_t n = 0, left_out = 0;
    for (size_t i = 0; i < a->cautions_n; i++) {
        const struct caution_view *c = &a->cautions[i];
        if (c->read_utc_min != INT64_MIN) continue;
        acts = arena_print(call->arena, "%s%spiece accept %s caution --about %s", acts,
                           n++ ? "; " : "", piece, c->id);
        if (!acts) return why_no_memory(why);
    }
    for (size_t i = 0; i < a->cautions_n; i++) {
        const struct caution_view *c = &a->cautions[i];
        if (c->read_utc_min != INT64_MIN) continue;
        if (strlen(acts) + strlen(words) + strlen(c->text) > ROOM)
            left_out++;
        else if (!(words = arena_print(call->arena, "%s %s", words, c->text)))
            return why_no_memory(why);
    }
    if (!n) return OK;
    return why_say(why, E_REFUSED, "/cautions",
                   "Read %s first, and say%s that it was read (%s)%s%s:%s",
                   n > 1 ? "these" : "this", n > 1 ? " of each" : "", acts,
                   left_out ? "; all of them: task help " : "", left_out ? task : "", words);
}

enum status help_may_begin(struct op_call *call, const char *piece, const char *task,
                           struct why *why) {
    struct help_answer a = {0};
    struct why not_planned = {0};
    enum status s = help_of(call, piece, task, &a, &not_planned);
    if (s == E_MEMORY || s == E_IO) return s;
    if (s == E_NOT_FOUND) /* what nobody plans nobody has judged */
        return why_say(why, E_REFUSED, "/gate",
                       "This step is not in the plan of the piece as it stands now. Plan the days "
                       "again.");
    if (s)
        return why_say(why, E_REFUSED, "/gate",
                       "The piece cannot be planned as it stands, so nobody has looked what must "
                       "not be begun. First put right %s: %s",
                       not_planned.field, not_planned.text);
    if (a.blocked_n) return why_say(why, E_REFUSED, "/gate", "%s", a.blocked[0].text);
    return all_read(call, &a, piece, task, why);
}

/* ---- defects without a task ---- */

struct defects_args {
    const char *role, *class, *q;
};
static const struct field defects_args_fields[] = {
    F_ID(struct defects_args, role, 0, "at which step: clean, primer, color, clear, wax ..."),
    F_ID(struct defects_args, class, 0, "of which class of product"),
    F_TEXT(struct defects_args, q, "with these letters in name, look or cause"),
};
static DESC(desc_defects_args, struct defects_args, "defects_args", "Which defects.",
            defects_args_fields);
static const struct field defects_fields[] = {F_ROWS(&desc_defect)};
static DESC(desc_defects, struct list_answer, "defects", "What can go wrong with a coat.",
            defects_fields);

static char lower(char c) {
    return c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
}
static bool holds(const char *text, const char *letters) {
    for (; *text; text++) {
        size_t i = 0;
        while (letters[i] && lower(text[i]) == lower(letters[i])) i++;
        if (!letters[i]) return true;
    }
    return false;
}

static enum status defects(struct op_call *call, struct why *why) {
    const struct defects_args *a = call->args;
    struct list_answer *answer = call->result;
    const struct tables *t = call->app->tables;
    struct defects_row *rows = arena_array(call->arena, t->defects_n + 1, sizeof *rows);
    if (!rows) return why_no_memory(why);
    for (size_t i = 0; i < t->defects_n; i++) {
        const struct defects_row *d = &t->defects[i];
        if (a->role && !word_listed(d->roles, a->role)) continue;
        if (a->class && !word_listed(d->classes, a->class)) continue;
        if (a->q && !holds(d->name, a->q) && !holds(d->see, a->q) && !holds(d->cause, a->q))
            continue;
        rows[answer->rows_n++] = *d;
    }
    answer->rows = rows;
    defects_print(&call->out_body, rows, answer->rows_n);
    return OK;
}

static const struct op rows[] = {
    {"task help", OP_GET, "/api/tasks/{id}/help", &desc_task_id, &desc_help, positional_id,
     OP_READS | OP_SLOW, "how a step is done, what can go wrong, what to read before it",
     task_help},
    {"defects", OP_GET, "/api/defects", &desc_defects_args, &desc_defects, NULL, 0,
     "what can go wrong with a coat: look, cause, cure, prevention", defects},
};
extern const struct ops ops_help;
const struct ops ops_help = {rows, sizeof rows / sizeof *rows};
