#include "app/change_words.h"

#include "app/zone.h"
#include "codec/text_wrap.h"
#include "codec/time_text.h"
#include "codec/units_text.h"

#include <math.h>
#include <string.h>

enum { CHANGES_MAX = 60, NAMES_MAX = 200 };

static const struct field change_fields[] = {
    F_TEXT(struct plan_change, what, "what it is about"),
    F_TEXT(struct plan_change, before, "as it was; missing: it was not there"),
    F_TEXT(struct plan_change, after, "as it is now; missing: it is gone"),
};
DESC(desc_plan_change, struct plan_change, "plan_change", "One thing that an answer changed.",
     change_fields);

struct changes {
    struct arena *arena;
    enum unit_system units;
    const struct plan_answer *a, *b; /* before, after */
    const struct piece_plan *was, *is;
    struct plan_change *rows;
    size_t n;
};

static void add(struct changes *c, const char *what, const char *before, const char *after) {
    if (c->n < CHANGES_MAX) c->rows[c->n++] = (struct plan_change){what, before, after};
}

static bool same(const char *a, const char *b) {
    return a == b || (a && b && !strcmp(a, b));
}

static const char *first_sentence(const struct changes *c, const char *text) {
    return arena_print(c->arena, "%.*s", (int)text_sentence(text), text);
}

/* ---- what is there or not: gates, steps ---- */

struct names {
    const char *rows[NAMES_MAX];
    size_t n;
};

static bool has(const struct names *s, const char *name) {
    for (size_t i = 0; i < s->n; i++)
        if (same(s->rows[i], name)) return true;
    return false;
}
static void put(struct names *s, const char *name) {
    if (name && s->n < NAMES_MAX && !has(s, name)) s->rows[s->n++] = name;
}

static void gates_of(const struct changes *c, const struct piece_plan *p, struct names *out) {
    out->n = 0;
    for (size_t i = 0; i < p->hazards.notices.n; i++) {
        const struct notice *n = &p->hazards.notices.rows[i];
        if (n->rank == RANK_STOP) put(out, first_sentence(c, n->text));
    }
}

static void steps_of(const struct piece_plan *p, struct names *out) {
    const struct steps *lists[] = {&p->takedown, &p->repairs, &p->finish};
    out->n = 0;
    for (size_t i = 0; i < p->coats.n; i++) put(out, p->coats.rows[i].text);
    for (size_t k = 0; k < 3; k++)
        for (size_t i = 0; i < lists[k]->n; i++) put(out, lists[k]->rows[i].text);
}

static void compare(struct changes *c, const struct names *was, const struct names *is,
                    const char *word) {
    for (size_t i = 0; i < is->n; i++)
        if (!has(was, is->rows[i])) add(c, word, NULL, is->rows[i]);
    for (size_t i = 0; i < was->n; i++)
        if (!has(is, was->rows[i])) add(c, word, was->rows[i], NULL);
}

/* ---- values ---- */

static void findings(struct changes *c) {
    const struct inspection *a = &c->was->inspection, *b = &c->is->inspection;
    for (size_t i = 0; i < b->findings_n; i++) {
        const struct finding *f = &b->findings[i], *old = NULL;
        for (size_t k = 0; k < a->findings_n; k++)
            if (same(a->findings[k].id, f->id)) old = &a->findings[k];
        if (!old || !same(old->verdict, f->verdict))
            add(c, f->name, old ? old->verdict : NULL, f->verdict);
    }
}

static const char *quantity(const struct changes *c, enum dimension d, double v) {
    char text[64];
    if (isnan(v)) return NULL;
    units_print(d, c->units, v, text, sizeof text);
    return arena_text(c->arena, text);
}

static void number(struct changes *c, const char *what, enum dimension d, double was, double is,
                   double still) {
    if ((isnan(was) && isnan(is)) || fabs(was - is) < still) return;
    add(c, what, quantity(c, d, was), quantity(c, d, is));
}

static const char *day(const struct changes *c, const struct plan_answer *p, int64_t at) {
    const struct zone_span *zone;
    size_t n;
    if (at == INT64_MIN) return p->plan.days.blocked_by ? "no day yet" : NULL;
    if (zone_spans(p->plan.shop.zone, p->plan.now_utc_min, c->arena, &zone, &n, NULL)) return NULL;
    char text[32];
    weekday_print(zone_local_day(zone, n, at), text, sizeof text);
    return arena_text(c->arena, text);
}

static void values(struct changes *c) {
    const struct price *a = &c->was->price, *b = &c->is->price;
    number(c, "Hours", DIM_DURATION, 60 * a->hours, 60 * b->hours, 3);
    number(c, "Material", DIM_MONEY, round(a->material_cent), round(b->material_cent), 100);
    number(c, "Price", DIM_MONEY, a->price_cent, b->price_cent, 100);
    const char *was = day(c, c->a, c->was->deliver_utc_min),
               *is = day(c, c->b, c->is->deliver_utc_min);
    if (!same(was, is)) add(c, "Ready", was, is);
}

static void refusal(struct changes *c) {
    const struct hazards *was = &c->was->hazards, *is = &c->is->hazards;
    if (is->refused != was->refused)
        add(c, "Refused", was->refused ? was->refusal : NULL, is->refused ? is->refusal : NULL);
    const char *const board = "wanted before any color";
    if (c->is->coats.test_board != c->was->coats.test_board)
        add(c, "Test board", c->was->coats.test_board ? board : NULL,
            c->is->coats.test_board ? board : NULL);
}

enum status change_words(const struct plan_answer *before, const struct plan_answer *after,
                         enum unit_system units, struct arena *arena, struct plan_change **out_rows,
                         size_t *out_n, struct why *why) {
    struct changes c = {.arena = arena, .units = units, .a = before, .b = after};
    c.rows = arena_array(arena, CHANGES_MAX, sizeof *c.rows);
    struct names *names = arena_array(arena, 2, sizeof *names);
    if (!c.rows || !names) return why_no_memory(why);
    if (before && after && before->plan.pieces_n && after->plan.pieces_n) {
        c.was = &before->plan.pieces[0], c.is = &after->plan.pieces[0];
        refusal(&c);
        gates_of(&c, c.was, &names[0]), gates_of(&c, c.is, &names[1]);
        compare(&c, &names[0], &names[1], "Stop");
        findings(&c);
        if (!c.is->hazards.refused && !c.was->hazards.refused) {
            steps_of(c.was, &names[0]), steps_of(c.is, &names[1]);
            compare(&c, &names[0], &names[1], "Step");
            values(&c);
        }
    }
    *out_rows = c.rows;
    *out_n = c.n;
    return OK;
}
