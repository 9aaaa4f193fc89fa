#include "app/days_outside.h"
#include "codec/text_wrap.h"

#include <stdlib.h>
#include <string.h>

static const struct field outside_fields[] = {
    F_TEXT(struct outside_row, piece, "id of the piece"),
    F_TEXT(struct outside_row, title, "what the piece is called"),
    F_TEXT(struct outside_row, who, "the client, where the piece names one"),
    F_TEXT(struct outside_row, kind, "row of the waits, or sample: the client's signature on it"),
    F_TEXT(struct outside_row, text, "what it waits for, and until when"),
    F_TIME(struct outside_row, expected, expected_day, FIELD_DAY, "when it is expected, as said"),
    F_TIME(struct outside_row, until, until_utc_min, FIELD_INSTANT,
           "as the days take it: not before tomorrow, until it is here"),
};
DESC(desc_outside_row, struct outside_row, "outside_row",
     "Something from outside that a piece waits for.", outside_fields);

static const char *words(const struct days_clock *c, const struct outside_plan *w, int64_t today) {
    const char *day = days_day(c, days_local_day(c, w->until_utc_min));
    const char *when = w->expected_day == INT64_MIN
                           ? arena_print(c->arena, "Nobody said when: the days take %s.", day)
                       : w->expected_day <= today
                           ? arena_print(c->arena, "It was expected %s and is not here: ask.",
                                         days_day(c, w->expected_day))
                           : arena_print(c->arena, "Expected %s.", days_day(c, w->expected_day));
    return arena_print(c->arena, "Waits for %s. %s", w->name, when);
}

static int by_until(const void *a, const void *b) {
    const struct outside_row *x = a, *y = b;
    return x->until_utc_min < y->until_utc_min   ? -1
           : x->until_utc_min > y->until_utc_min ? 1
                                                 : strcmp(x->piece, y->piece);
}

enum status days_outside(struct op_call *call, const struct days_view *v, int days,
                         struct outside_row **out, size_t *out_n, struct why *why) {
    const struct plan *plan = &v->answer.plan;
    struct days_clock c;
    size_t most = 0;
    enum status s = days_clock_make(call, v, &c, why);
    for (size_t i = 0; i < plan->pieces_n; i++) most += plan->pieces[i].outside_n;
    struct outside_row *rows = arena_array(call->arena, most + 1, sizeof *rows);
    if (!s && !rows) return why_no_memory(why);
    *out = rows;
    *out_n = 0;
    for (size_t i = 0; !s && i < plan->pieces_n; i++) {
        const struct piece_plan *p = &plan->pieces[i];
        for (size_t k = 0; k < p->outside_n; k++) {
            const struct outside_plan *w = &p->outside[k];
            if (w->until_utc_min == INT64_MIN ||
                (days && w->until_utc_min > v->now_utc_min + (int64_t)days * 1440))
                continue;
            rows[(*out_n)++] =
                (struct outside_row){p->id,
                                     p->title,
                                     p->piece.agreement.client,
                                     w->kind,
                                     words(&c, w, days_local_day(&c, v->now_utc_min)),
                                     w->expected_day,
                                     w->until_utc_min};
        }
    }
    if (s) return s;
    qsort(rows, *out_n, sizeof *rows, by_until);
    if (*out_n > OUTSIDE_ROWS) *out_n = OUTSIDE_ROWS;
    return OK;
}

void outside_print(const struct days_clock *c, const struct outside_row *w, struct text *out) {
    text_wrap(out, 2, 4, arena_print(c->arena, "%s: %s", w->title ? w->title : w->piece, w->text));
    if (strcmp(w->kind, "sample")) return;
    text_print(out, "    ");
    text_wrap(
        out, 4, 6,
        arena_print(c->arena, "When it is signed: coatwright piece accept %s sample", w->piece));
}
