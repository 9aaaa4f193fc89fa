#include "app/paint_text.h"
#include "app/days_words.h"
#include "app/entry_text.h"
#include "app/id_words.h"
#include "codec/time_text.h"
#include "codec/units_text.h"

#include <math.h>

static const char *stock_words(const struct days_clock *c, const struct paint_row *p) {
    struct arena *a = c->arena;
    if (isnan(p->stock_ml)) return "Not counted";
    const char *left = units_text(a, DIM_VOLUME, c->units, p->stock_ml < 0 ? 0 : p->stock_ml);
    bool sized = p->size_ml > 0;
    const char *cans = sized ? units_text(a, DIM_VOLUME, c->units, p->size_ml) : NULL;
    return sized ? arena_print(a, "%s left, cans of %s", left, cans)
                 : arena_print(a, "%s left", left);
}

static const char *paint_line(const struct tables *t, const struct days_clock *c,
                              const struct paint_row *p) {
    struct arena *a = c->arena;
    char day[24];
    const char *kind = p->class ? id_words(t, "class", p->class) : NULL;
    const char *text =
        arena_print(a, "%s%s%s%s%s. %s", kind ? kind : "Of no kind yet", p->sheen ? ", " : "",
                    p->sheen ? p->sheen : "", p->color_hex ? ", " : "",
                    p->color_hex ? p->color_hex : "", stock_words(c, p));
    if (!isnan(p->cost_cent))
        text = arena_print(a, "%s at %s", text, units_text(a, DIM_MONEY, c->units, p->cost_cent));
    if (p->opened_day != INT64_MIN) {
        date_print(p->opened_day, day, sizeof day);
        text = arena_print(a, "%s, opened %s", text, day);
    }
    char *line = arena_print(a, "%s%s.", text, p->leftover ? ", a leftover" : "");
    if (line && *line >= 'a' && *line <= 'z') *line = (char)(*line - 'a' + 'A');
    return line;
}

enum status paints_print(struct op_call *call, const struct paint_row *rows, size_t n,
                         const char *next, struct why *why) {
    struct days_clock c;
    enum status s = days_clock_of_shop(call, &c, why);
    size_t at = 0;
    for (size_t i = 0; i < n; i++) at = entry_column(at, rows[i].id);
    for (size_t i = 0; !s && i < n; i++) {
        const char *line = paint_line(call->app->tables, &c, &rows[i]);
        if (!line) return why_no_memory(why);
        entry_print(&call->out_body, at, rows[i].id, rows[i].name, line);
    }
    if (!s && next) text_print(&call->out_body, "More: coatwright paints --after %s\n", next);
    return s;
}

/* "18 left at $0.90 each. Abrasive." */
static const char *supply_line(const struct days_clock *c, const struct supply_row *r) {
    struct arena *a = c->arena;
    char count[64];
    const char *left = "Not counted";
    if (!isnan(r->count)) {
        number_print(r->count < 0 ? 0 : r->count, count, sizeof count);
        left = arena_print(a, "%s left", count);
    }
    const char *each =
        isnan(r->cost_cent)
            ? ""
            : arena_print(a, " at %s each", units_text(a, DIM_MONEY, c->units, r->cost_cent));
    const char *const parts[] = {arena_print(a, "%s%s", left, each), entry_words(a, r->kind),
                                 r->note};
    return entry_sentences(a, parts, sizeof parts / sizeof *parts);
}

enum status supplies_print(struct op_call *call, const struct supply_row *rows, size_t n,
                           const char *next, struct why *why) {
    struct days_clock c;
    enum status s = days_clock_of_shop(call, &c, why);
    size_t at = 0;
    for (size_t i = 0; i < n; i++) at = entry_column(at, rows[i].id);
    for (size_t i = 0; !s && i < n; i++) {
        const char *line = supply_line(&c, &rows[i]);
        if (!line) return why_no_memory(why);
        entry_print(&call->out_body, at, rows[i].id, rows[i].name, line);
    }
    if (!s && next) text_print(&call->out_body, "More: coatwright supplies --after %s\n", next);
    return s;
}
