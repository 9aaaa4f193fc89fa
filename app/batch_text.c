#include "app/batch_text.h"
#include "app/days_words.h"
#include "app/entry_text.h"
#include "codec/units_text.h"

#include <math.h>

static const char *volume(const struct days_clock *c, double ml) {
    return units_text(c->arena, DIM_VOLUME, c->units, ml);
}

static const char *batch_line(const struct days_clock *c, const struct batch_view *v) {
    struct arena *a = c->arena;
    const struct batch_row *r = &v->row;
    const char *off =
        isnan(v->difference) ? "" : arena_print(a, ", %.1f from the target", v->difference);
    const char *const parts[] = {
        arena_print(a, "%s, mixed %s", volume(c, r->amount_ml), days_when(c, r->made_utc_min)),
        r->piece ? arena_print(a, "For %s", r->piece) : NULL,
        r->target ? arena_print(a, "Target %s", r->target) : NULL,
        r->dried           ? arena_print(a, "Dried to %s%s", r->dried, off)
        : r->predicted_hex ? arena_print(a, "Should dry to %s", r->predicted_hex)
                           : NULL,
        isnan(v->left_ml) ? NULL : arena_print(a, "%s left", volume(c, v->left_ml)),
        v->ticked ? arena_print(a, "Done: %s", v->ticked) : NULL,
        v->past};
    return entry_sentences(a, parts, sizeof parts / sizeof *parts);
}

static void under(struct text *out, size_t at, const char *words) {
    text_print(out, "%*s", (int)at, "");
    text_wrap(out, at, at + 2, words ? words : "");
}

enum status batches_print(struct op_call *call, const struct batch_view *rows, size_t n,
                          const char *next, struct why *why) {
    struct days_clock c;
    enum status s = days_clock_of_shop(call, &c, why);
    struct text *out = &call->out_body;
    size_t at = 0;
    for (size_t i = 0; i < n; i++) at = entry_column(at, rows[i].row.id);
    for (size_t i = 0; !s && i < n; i++) {
        const struct batch_view *v = &rows[i];
        const char *line = batch_line(&c, v);
        if (!line) return why_no_memory(why);
        entry_print(out, at, v->row.id, v->row.name, line);
        for (size_t k = 0; k < v->items_n; k++) {
            const struct batch_part *p = &v->items[k];
            const char *amount = p->text ? p->text : volume(&c, p->amount_ml);
            under(out, at, arena_print(c.arena, "%s of %s", amount, p->name ? p->name : p->paint));
        }
        if (v->row.note) under(out, at, v->row.note);
    }
    if (!s && next) text_print(out, "More: coatwright batches --after %s\n", next);
    return s;
}
