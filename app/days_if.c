/* A day off, a cold night: tried in the days before it is written down, then written into the shop.
 */
#include "app/op_days.h"
#include "app/shop_kept.h"
#include "codec/job_desc.h"
#include "store/shop.h"

#include <math.h>
#include <string.h>

const struct days_ask days_as_they_are = {
    .off_day = INT64_MIN, .night_day = INT64_MIN, .night_degc = (double)NAN};

static enum status check(const struct days_ask *ask, struct why *why) {
    if (ask->night_day != INT64_MIN && isnan(ask->night_degc))
        return why_say(why, E_MISSING, "/night",
                       "Say how cold the night would be in the shop: 45 F or 7 C.");
    if (ask->night_day == INT64_MIN && !isnan(ask->night_degc))
        return why_say(why, E_MISSING, "/cold",
                       "Say after which day the night would be cold: 2026-10-12.");
    if (ask->person && ask->off_day == INT64_MIN)
        return why_say(why, E_MISSING, "/off", "Say on which day that one is off: 2026-10-12.");
    return OK;
}

static bool day_add(int64_t **days, size_t *n, int64_t day, struct arena *arena) {
    for (size_t i = 0; i < *n; i++)
        if ((*days)[i] == day) return true;
    int64_t *more = arena_array(arena, *n + 1, sizeof *more);
    if (!more) return false;
    if (*n) memcpy(more, *days, *n * sizeof *more);
    more[(*n)++] = day;
    *days = more;
    return true;
}

static bool night_add(struct shop *shop, int64_t day, double degc, struct arena *arena) {
    struct shop_night *more = arena_array(arena, shop->nights_n + 1, sizeof *more);
    size_t n = 0;
    if (!more) return false;
    for (size_t i = 0; i < shop->nights_n; i++)
        if (shop->nights[i].day != day) more[n++] = shop->nights[i];
    more[n++] = (struct shop_night){day, degc};
    shop->nights = more, shop->nights_n = n;
    return true;
}

static struct crew_member *member_of(struct shop *shop, const char *id) {
    for (size_t i = 0; i < shop->crew_n; i++)
        if (!strcmp(shop->crew[i].id, id)) return &shop->crew[i];
    return NULL;
}

enum status days_if_apply(const struct days_ask *ask, struct shop *shop, struct arena *arena,
                          struct why *why) {
    enum status s = check(ask, why);
    if (s) return s;
    bool good = true;
    if (ask->shop) *shop = *ask->shop;
    if (ask->person) {
        struct crew_member *m = member_of(shop, ask->person);
        if (!m)
            return why_say(why, E_REFERENCE, "/person", "There is no \"%.64s\" in the shop's crew.",
                           ask->person);
        good = day_add(&m->days_off, &m->days_off_n, ask->off_day, arena);
    } else if (ask->off_day != INT64_MIN) {
        good = day_add(&shop->days_off, &shop->days_off_n, ask->off_day, arena);
    }
    if (good && ask->night_day != INT64_MIN)
        good = night_add(shop, ask->night_day, ask->night_degc, arena);
    return good ? OK : why_no_memory(why);
}

enum status days_if_enter(struct op_call *call, const struct days_ask *ask, struct why *why) {
    if (ask->off_day == INT64_MIN && ask->night_day == INT64_MIN) return OK;
    const char *document;
    int64_t revision;
    struct shop shop, patch;
    struct text text = {0};
    enum status s = shop_kept(call, &document, &revision, NULL, why);
    if (!s) s = book_merge(call, &desc_shop, document, NULL, "/shop", &document, &shop, why);
    if (!s) s = days_if_apply(ask, &shop, call->arena, why);
    if (s) return s;
    desc_unsay(&desc_shop, &patch); /* only what changes */
    if (ask->person)
        patch.crew = shop.crew, patch.crew_n = shop.crew_n;
    else if (ask->off_day != INT64_MIN)
        patch.days_off = shop.days_off, patch.days_off_n = shop.days_off_n;
    if (ask->night_day != INT64_MIN) patch.nights = shop.nights, patch.nights_n = shop.nights_n;
    s = document_print(&desc_shop, SPELL_INPUT, &patch, 0, &text);
    const char *change = text.at ? arena_text(call->arena, text.at) : NULL;
    text_free(&text);
    if (!s && !change) s = why_no_memory(why);
    if (!s) s = book_merge(call, &desc_shop, document, change, "/shop", &document, &shop, why);
    return s ? s : shop_write(call->book, document, why);
}
