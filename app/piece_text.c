#include "app/piece_text.h"
#include "app/days_words.h"
#include "app/entry_text.h"
#include "codec/units_text.h"

#include <math.h>
#include <string.h>

static const char *piece_line(struct days_clock *c, const struct piece_row *p) {
    struct arena *a = c->arena;
    bool open = !p->stage || (strcmp(p->stage, "closed") != 0 && strcmp(p->stage, "left") != 0);
    const char *const parts[] = {
        entry_words(a, p->stage),
        p->blocked_by  ? arena_print(a, "Waits: %s", p->blocked_by)
        : p->next_step ? arena_print(a, "Next: %s", p->next_step)
                       : NULL,
        p->due_day != INT64_MIN ? arena_print(a, "Due %s", days_day(c, p->due_day)) : NULL,
        p->ready_utc_min != INT64_MIN ? arena_print(a, "Ready %s", days_when(c, p->ready_utc_min))
                                      : NULL,
        isnan(p->price_cent) ? NULL : units_text(a, DIM_MONEY, c->units, p->price_cent),
        !open || p->outlook_revision >= p->revision ? NULL
        : p->outlook_revision == INT64_MIN          ? "Not planned yet: coatwright days"
                                           : "Changed since it was planned: coatwright days"};
    return entry_sentences(a, parts, sizeof parts / sizeof *parts);
}

enum status pieces_print(struct op_call *call, const struct piece_row *rows, size_t n,
                         const char *next, struct why *why) {
    struct days_clock c;
    enum status s = days_clock_of_shop(call, &c, why);
    if (s) return s;
    struct text *out = &call->out_body;
    size_t at = 0;
    for (size_t i = 0; i < n; i++) at = entry_column(at, rows[i].id);
    for (size_t i = 0; i < n; i++) {
        const char *line = piece_line(&c, &rows[i]);
        if (!line) return why_no_memory(why);
        entry_print(out, at, rows[i].id, rows[i].title, line);
    }
    if (next) text_print(out, "More: coatwright pieces --after %s\n", next);
    return OK;
}
