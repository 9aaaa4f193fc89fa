#include "app/owed_text.h"
#include "app/days_words.h"
#include "app/entry_text.h"
#include "codec/units_text.h"
#include "core/work/basis.h"

#include <math.h>
#include <string.h>

static const char *money(const struct days_clock *c, double cent) {
    return units_text(c->arena, DIM_MONEY, c->units, cent);
}

/* "$640 quoted, $320 paid, $320 to come" */
static const char *price_words(const struct days_clock *c, const struct owed_row *r) {
    struct arena *a = c->arena;
    bool planned = r->price_is && !strcmp(r->price_is, "planned");
    const char *price = isnan(r->price_cent) ? "No price yet"
                        : planned ? arena_print(a, "%s as planned", money(c, r->price_cent))
                                  : arena_print(a, "%s %s", money(c, r->price_cent), r->price_is);
    const char *paid =
        r->paid_cent > 0 ? arena_print(a, "%s paid", money(c, r->paid_cent)) : "nothing paid";
    return isnan(r->to_come_cent)
               ? arena_print(a, "%s, %s", price, paid)
               : arena_print(a, "%s, %s, %s to come", price, paid, money(c, r->to_come_cent));
}

static const char *owed_line(const struct days_clock *c, const struct owed_row *r) {
    struct arena *a = c->arena;
    char hours[32];
    const char *const parts[] = {
        r->client_name ? arena_print(a, "For %s", r->client_name) : NULL, entry_words(a, r->stage),
        price_words(c, r),
        isnan(r->hours) ? NULL : arena_print(a, "%s of work", basis_hands(r->hours, hours)),
        isnan(r->unbooked_cent)
            ? NULL
            : arena_print(a,
                          "Bought for %s, which is not under Money: coatwright money add --kind "
                          "purchase --amount '%s' --piece %s",
                          money(c, r->unbooked_cent), money(c, r->unbooked_cent), r->id)};
    return entry_sentences(a, parts, sizeof parts / sizeof *parts);
}

enum status owed_print(struct op_call *call, const struct owed_row *rows, size_t n,
                       struct why *why) {
    struct days_clock c;
    enum status s = days_clock_of_shop(call, &c, why);
    size_t at = 0;
    for (size_t i = 0; i < n; i++) at = entry_column(at, rows[i].id);
    for (size_t i = 0; !s && i < n; i++) {
        const char *line = owed_line(&c, &rows[i]);
        if (!line) return why_no_memory(why);
        entry_print(&call->out_body, at, rows[i].id, rows[i].title, line);
    }
    return s;
}
