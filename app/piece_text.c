#include "app/piece_text.h"
#include "app/days_words.h"
#include "app/entry_text.h"
#include "codec/units_text.h"

#include <math.h>
#include <string.h>

static const char *stage_words(struct days_clock *c, const char *stage) {
    char *text = arena_print(c->arena, "%s", stage ? stage : "");
    for (char *at = text; at && *at; at++)
        if (*at == '_') *at = ' ';
    if (text && *text >= 'a' && *text <= 'z') *text = (char)(*text - 'a' + 'A');
    return text ? text : "";
}

/* Each part a sentence; a reason that waits is one already. */
static const char *piece_line(struct days_clock *c, const struct piece_row *p) {
    struct arena *a = c->arena;
    bool open = !p->stage || (strcmp(p->stage, "closed") != 0 && strcmp(p->stage, "left") != 0);
    const char *const parts[] = {
        stage_words(c, p->stage),
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
    const char *text = "";
    for (size_t i = 0; text && i < sizeof parts / sizeof *parts; i++) {
        size_t n = parts[i] ? strlen(parts[i]) : 0;
        if (n)
            text = arena_print(a, "%s%s%s%s", text, *text ? " " : "", parts[i],
                               parts[i][n - 1] == '.' ? "" : ".");
    }
    return text;
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
