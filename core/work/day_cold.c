#include "core/work/day_cold.h"

#include "core/work/day_build.h"
#include "core/work/day_hours.h"
#include "core/work/drying.h"

#include <math.h>
#include <string.h>

enum { WARMTH_ALL = TIMETABLE_MAX_TASKS /* more than there are wet films */ };

/* Row of the warmth that ends with the nights below degc; TIMETABLE_NONE: no night is so cold. */
static int warmth_of(struct day_build *b, double degc) {
    struct day_tasks *d = b->out;
    for (int k = 0; k < d->warmth_n; k++)
        if (d->warmth_degc[k] == degc) return k;
    if (d->warmth_n == DAY_WARMTH_MOST) return TIMETABLE_NONE;
    int nights_n;
    struct timetable_span *nights = day_nights_below(
        &b->plan->shop, b->o, degc, b->ask->begin_utc_min, b->ask->days, b->l->arena, &nights_n);
    if (!nights) b->l->failed = true;
    if (!nights || !nights_n) return TIMETABLE_NONE;
    d->warmth_degc[d->warmth_n] = degc;
    d->room[DAY_RESOURCES + d->warmth_n] = (struct timetable_resource){
        .name = "warmth", .capacity = WARMTH_ALL, .shut = nights, .shut_n = nights_n};
    return d->warmth_n++;
}

/* Can the work, and `wet_min` behind it, lie between two nights on at least half of the days on
 * which this person works? Of the next four weeks. */
static bool person_can(const struct timetable_person *q, const struct timetable_task *task,
                       const struct timetable_setup *setup, double wet_min,
                       const struct timetable_resource *warmth, int64_t begin) {
    enum { LOOK_DAYS = 28 };
    int32_t before = setup ? setup->setup_min : 0, after = setup ? setup->cleanup_min : 0;
    int days = 0, good = 0, night = 0, day_of = -1, good_of = -1;
    for (int k = 0; k < q->windows_n; k++) {
        const struct timetable_span *w = &q->windows[k];
        if (w->from > begin + (int64_t)LOOK_DAYS * 1440) break;
        while (night < warmth->shut_n && warmth->shut[night].to <= w->from) night++;
        if (night == warmth->shut_n) break;
        if (night != day_of) day_of = night, days++;
        int64_t done = w->from + before + task->work_min;
        bool fits = done + after <= w->to && w->from < warmth->shut[night].from &&
                    done + (int64_t)ceil(wet_min) <= warmth->shut[night].from;
        if (fits && night != good_of) good_of = night, good++;
    }
    return days && 2 * good >= days;
}

static bool can(const struct day_build *b, const struct day_crew *crew, int task, double wet_min,
                const struct timetable_resource *warmth) {
    const struct timetable_task *t = &b->out->tasks[task];
    const struct timetable_setup *s = t->setup == TIMETABLE_NONE ? NULL : &b->out->setups[t->setup];
    for (int q = 0; q < crew->people_n && !t->pausable; q++)
        if (!(t->skills & ~crew->people[q].skills) &&
            person_can(&crew->people[q], t, s, wet_min, warmth, b->ask->begin_utc_min))
            return true;
    return false;
}

static void hold_warmth(struct day_build *b, int task, double wet_min, int warmth) {
    int lag = day_sooner_lag(b, task, wet_min);
    day_hold_add(b, (struct timetable_hold){
                        .first = task,
                        .last = task,
                        .resource = DAY_RESOURCES + warmth,
                        .amount = 1,
                        .until_lag = lag == TIMETABLE_NONE ? b->out->meta[task].dry_lag : lag});
}

/* ---- film by film ---- */

/* How dry a film is before the night. */
enum by_night { FOR_NEXT_COAT, TO_TOUCH, STILL_WET, BY_NIGHT };
static const char *const by_night_words[] = {"dry for the next coat", "dry to the touch", NULL};

/* Names of what goes on, by its warmth and how dry it is: "White; Satin clear"; NULL: nothing. */
struct told {
    const char *names[DAY_WARMTH_MOST][BY_NIGHT];
};

static bool listed(const char *names, const char *name) {
    size_t n = strlen(name);
    for (const char *at = names; at; at = (at = strstr(at, "; ")) ? at + 2 : NULL)
        if (!strncmp(at, name, n) && (!at[n] || at[n] == ';')) return true;
    return false;
}

static void film(struct day_build *b, const struct day_crew *crew, int i, struct told *told) {
    const struct coat *k = b->out->meta[i].coat;
    if (!k || !b->out->meta[i].drying || !day_is_film(k->role)) return;
    struct day_coating c = day_coating_of(b->t, b->ask->shelf, k);
    if (!c.class || drying_cure_of(c.class) != DRYING_COALESCES || isnan(c.lowest_degc)) return;
    int warmth = warmth_of(b, c.lowest_degc);
    if (warmth == TIMETABLE_NONE) return;
    const double wet_min[] = {[FOR_NEXT_COAT] = k->recoat_min, [TO_TOUCH] = k->touch_min};
    enum by_night dry = FOR_NEXT_COAT;
    while (dry < STILL_WET && !can(b, crew, i, wet_min[dry], &b->out->room[DAY_RESOURCES + warmth]))
        dry++;
    if (dry < STILL_WET) hold_warmth(b, i, wet_min[dry], warmth);
    b->out->meta[i].before_night = by_night_words[dry];
    const char **names = &told->names[warmth][dry];
    if (!*names || !listed(*names, c.name))
        *names = *names ? arena_print(b->l->arena, "%s; %s", *names, c.name) : c.name;
}

/* ---- in words ---- */

/* Of the nights that are too cold the usual one, else the coldest of those that were said. */
static double coldest(const struct shop *shop, double lowest_degc) {
    double degc = shop->night_degc;
    for (size_t i = 0; i < shop->nights_n && !(shop->night_degc < lowest_degc); i++)
        degc = fmin(degc, shop->nights[i].degc);
    return degc;
}

static void tell(struct day_build *b, double lowest_degc, enum by_night dry, const char *names,
                 struct notices *out) {
    struct ledger *l = b->l;
    const struct shop *shop = &b->plan->shop;
    bool usual = shop->night_degc < lowest_degc, several = strstr(names, "; ") != NULL;
    const char *night =
        arena_print(l->arena, "Below %s no film forms, and %s %s", ledger_degrees(l, lowest_degc),
                    usual ? "the shop's nights have" : "a night to come has",
                    ledger_degrees(l, coldest(shop, lowest_degc)));
    if (dry == STILL_WET)
        day_mind(l, out, "night",
                 arena_print(l->arena,
                             "Still wet in a cold night: %s. %s; the hours leave no time for %s to "
                             "dry before.",
                             names, night, several ? "them" : "it"),
                 "Keep the shop warm until all has dried, or begin earlier in the day.");
    else
        day_mind(
            l, out, "night",
            arena_print(l->arena, "Dry before the night: %s. %s; %s early enough to be %s by 8 pm.",
                        names, night, several ? "they go on" : "it goes on", by_night_words[dry]),
            "Keep the shop warm over night, and coats may go on later in the day.");
}

enum status day_cold_make(const struct tables *t, const struct plan *plan,
                          const struct day_ask *ask, const struct day_crew *crew,
                          const struct plan_options *o, struct ledger *l, struct day_tasks *d,
                          struct notices *out) {
    struct day_build b = {.t = t, .plan = plan, .o = o, .l = l, .ask = ask, .out = d};
    struct told told = {0};
    for (size_t i = 0, n = d->n; i < n; i++) film(&b, crew, (int)i, &told);
    for (int k = 0; k < d->warmth_n; k++)
        for (enum by_night dry = 0; dry < BY_NIGHT; dry++)
            if (told.names[k][dry]) tell(&b, d->warmth_degc[k], dry, told.names[k][dry], out);
    return l->failed ? E_MEMORY : OK;
}

bool day_cold_drop(struct day_tasks *d, struct ledger *l, struct notices *out) {
    if (!d->warmth_n) return false;
    for (int k = 0; k < d->warmth_n; k++) d->room[DAY_RESOURCES + k].shut_n = 0;
    day_mind(l, out, "night",
             "No order was found in which all is dry before the cold of the night: some films are "
             "wet in it.",
             "Keep the shop warm over night, or open longer.");
    return true;
}
