#include "core/work/day_check.h"

#include "core/work/climate.h"
#include "core/work/day_build.h"
#include "core/work/drying.h"
#include "core/work/fact.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* ---- dates ---- */

static enum status too_far(const char *field, const char *what, int days, struct why *why) {
    return why_say(why, E_DOMAIN, field,
                   "%s is more than %d days ahead, farther than the days are planned. Write an "
                   "earlier day, or leave it out until it is nearer.",
                   what, days);
}

static enum status dates(const struct piece_plan *p, size_t i, const struct day_ask *ask,
                         struct why *why) {
    /* the last days are left for the work that follows */
    int64_t last = ask->begin_utc_min / 1440 + ask->days - ask->days / 4;
    int far = ask->days - ask->days / 4;
    char field[64];
    int64_t arrives = p->piece.agreement.arrives_day, due = p->piece.agreement.due_day;
    snprintf(field, sizeof field, "/pieces/%zu/agreement/arrives", i);
    if (arrives != INT64_MIN && arrives > last) return too_far(field, "Its arrival", far, why);
    if (arrives != INT64_MIN && due != INT64_MIN && arrives > due)
        return why_say(
            why, E_DOMAIN, field,
            "Both cannot be: %s arrives %lld days after the day it must be ready. Change "
            "\"arrives\" or \"due\".",
            p->title, (long long)(arrives - due));
    int64_t sample = p->piece.agreement.sample_expected_day;
    snprintf(field, sizeof field, "/pieces/%zu/agreement/sample_expected", i);
    if (sample != INT64_MIN && sample > last) return too_far(field, "That day", far, why);
    for (size_t k = 0; k < p->piece.waits_n; k++) {
        snprintf(field, sizeof field, "/pieces/%zu/waits/%zu/until", i, k);
        if (p->piece.waits[k].until_day != INT64_MIN && p->piece.waits[k].until_day > last)
            return too_far(field, "That day", far, why);
    }
    return OK;
}

/* ---- labels ---- */

static enum status label(const struct paint *can, size_t row, struct why *why) {
    char field[40];
    enum status s = drying_label_check(can, why);
    snprintf(field, sizeof field, "/shelf/paints/%zu", row);
    if (s) why_under(why, field);
    return s;
}

static enum status labels(const struct piece_plan *p, const struct shelf *shelf, struct why *why) {
    enum status s = OK;
    for (size_t k = 0; k < p->coats.n && !s; k++)
        for (size_t i = 0; p->coats.rows[k].product && i < shelf->paints_n && !s; i++)
            if (!strcmp(shelf->paints[i].id, p->coats.rows[k].product))
                s = label(&shelf->paints[i], i, why);
    return s;
}

enum status day_check_facts(const struct job *job, const struct plan *plan,
                            const struct day_ask *ask, struct why *why) {
    for (size_t i = 0; i < plan->pieces_n; i++) {
        const struct piece_plan *p = &plan->pieces[i];
        if (p->hazards.refused) continue;
        enum status s = dates(p, i, ask, why);
        if (!s) s = labels(p, &job->shelf, why);
        if (s) return s;
    }
    if (job->shop.drying_area_m2 == 0)
        return why_say(
            why, E_DOMAIN, "/shop/drying_area",
            "Both cannot be: there is no floor to dry on, and coats that must dry. Write "
            "how much there is: 60 ft2.");
    return OK;
}

/* ---- what will go badly ---- */

/* Once, however many coats it holds for. */
static void say(struct ledger *l, struct notices *out, enum rank rank, const char *topic,
                const char *text, const char *remedy) {
    for (size_t i = 0; text && i < out->n; i++)
        if (!strcmp(out->rows[i].text, text)) return;
    struct notice *n = text ? notice_add(l, out, rank, topic, text, "CP", CERTAINTY_COMMON) : NULL;
    if (n) n->remedy = remedy;
}

void day_mind(struct ledger *l, struct notices *out, const char *topic, const char *text,
              const char *remedy) {
    say(l, out, RANK_MIND, topic, text, remedy);
}

static void long_film(const struct day_tasks *d, size_t i, const struct plan *plan,
                      const struct day_ask *ask, struct ledger *l, struct notices *out) {
    const struct timetable_task *t = &d->tasks[i];
    int32_t more = t->setup == TIMETABLE_NONE
                       ? 0
                       : d->setups[t->setup].setup_min + d->setups[t->setup].cleanup_min;
    char takes[32], open[32];
    if (t->work_min + more <= ask->longest_min) return;
    day_mind(l, out, "long",
             arena_print(
                 l->arena,
                 "%s, %s takes %s with getting ready, and nobody has more than %s in one go. "
                 "It is planned with a stop, and a stop leaves a lap.",
                 plan->pieces[d->meta[i].piece].title, d->meta[i].name,
                 basis_span(t->work_min + more, takes), basis_span((double)ask->longest_min, open)),
             "Stop at an edge or a joint, take two people, or open longer on that day.");
}

static void short_pot(const struct day_tasks *d, size_t i, const struct plan *plan,
                      struct ledger *l, struct notices *out) {
    int pot = d->meta[i].pot_lag;
    int setup = d->tasks[i].setup; /* all that is left to such a mix is getting ready */
    int64_t ready = setup == TIMETABLE_NONE ? 0 : d->setups[setup].setup_min;
    if (pot == TIMETABLE_NONE || d->lags[pot].max_min > ready) return;
    char takes[32];
    day_mind(l, out, "pot life",
             arena_print(l->arena, "%s, %s takes %s, longer than its mix can be used.",
                         plan->pieces[d->meta[i].piece].title, d->meta[i].name,
                         basis_span(d->tasks[i].work_min, takes)),
             "Mix in several small goes, each as much as goes on in time.");
}

void day_check_tasks(const struct day_tasks *d, const struct plan *plan, const struct day_ask *ask,
                     struct ledger *l, struct notices *out) {
    for (size_t i = 0; i < d->n; i++) {
        const struct coat *k = d->meta[i].coat;
        if (!k || !day_is_film(k->role)) continue;
        long_film(d, i, plan, ask, l, out);
        short_pot(d, i, plan, l, out);
    }
    for (size_t i = 0; i < plan->pieces_n; i++) {
        const struct surfaces *s = &plan->pieces[i].surfaces;
        for (size_t g = 0; g < s->groups_n && !plan->pieces[i].hazards.refused; g++)
            if (s->groups[g].floor_m2 * 100 > ask->floor_dm2)
                day_mind(
                    l, out, "room",
                    arena_print(l->arena,
                                "%s, %s: takes more floor to dry than the shop has. It is planned "
                                "as if it took all of it.",
                                plan->pieces[i].title, s->groups[g].name),
                    "Stand parts on edge, hang them, or make room.");
    }
}

/* ---- the air ---- */

struct day_coating day_coating_of(const struct tables *t, const struct shelf *shelf,
                                  const struct coat *k) {
    struct day_coating c = {product_class_of(t, k->class), NULL, NAN};
    if (!c.class) return c;
    const struct paint *can = shelf_paint(shelf, k->product);
    c.name = can && can->name ? can->name : c.class->name;
    if (can) c.lowest_degc = can->label_lowest_degc;
    if (isnan(c.lowest_degc)) c.lowest_degc = c.class->lowest_degc;
    return c;
}

/* How the shop's air is for a product, by day. */
static struct climate_verdict air_of(const struct day_coating *c, const struct shop *shop) {
    return climate_judge(c->class, c->lowest_degc, shop->day_degc, NAN, shop->humidity_frac);
}

/* Is the same to be said of both? */
static bool air_alike(const struct climate_verdict *a, const struct climate_verdict *b) {
    if (a->gate != b->gate || a->limit != b->limit) return false;
    return a->limit == CLIMATE_COLD    ? a->lowest_degc == b->lowest_degc
           : a->limit == CLIMATE_HUMID ? a->rh_stop_frac == b->rh_stop_frac
                                       : true;
}

/* What must not be is a stop, and the dates count as if it were put right. names: of all products
 * of which it is said */
static void say_air(const struct climate_verdict *v, const char *names, bool several,
                    const struct shop *shop, struct ledger *l, struct notices *out) {
    double damp = shop->humidity_frac * 100;
    if (v->gate != CLIMATE_GO && v->limit == CLIMATE_COLD)
        say(l, out, RANK_STOP, "cold",
            arena_print(l->arena,
                        "Not at %s: %s. %s %s; the dates count as if the shop were heated to that.",
                        ledger_degrees(l, shop->day_degc), names,
                        several ? "They need" : "It needs", ledger_degrees(l, v->lowest_degc)),
            "Heat the shop until the film has dried, or wait for warmer days.");
    else if (v->gate != CLIMATE_GO && v->limit == CLIMATE_DEW)
        say(l, out, RANK_STOP, "dew",
            arena_print(l->arena,
                        "No coat in air of %.0f %%. Water settles on the work at %s, less than %s "
                        "below the shop; the dates count as if the air were dried.",
                        damp, ledger_degrees(l, v->dew_degc),
                        l->metric ? "3 \u00b0C" : "5 \u00b0F"),
            "Heat or dry the air before coating.");
    else if (v->gate == CLIMATE_STOP && v->limit == CLIMATE_HUMID)
        say(l, out, RANK_STOP, "damp",
            arena_print(l->arena,
                        "Not in air of %.0f %%: %s. Over %.0f %% %s badly or %s hazy; the dates "
                        "count as if the air were dried to that.",
                        damp, names, v->rh_stop_frac * 100, several ? "they dry" : "it dries",
                        several ? "turn" : "turns"),
            "Dry the air, or wait for a drier day.");
    else if (v->gate != CLIMATE_GO && v->limit == CLIMATE_HUMID)
        day_mind(l, out, "damp",
                 arena_print(l->arena, "Slow in air of %.0f %%: %s. %s may turn hazy.", damp, names,
                             several ? "They" : "It"),
                 "Dry the air, or wait for a drier day.");
}

/* Once for all of which the same is to be said. */
static void judge_air(const struct day_coating *told, size_t n, const struct shop *shop,
                      struct ledger *l, struct notices *out) {
    for (size_t i = 0; i < n; i++) {
        const struct climate_verdict v = air_of(&told[i], shop);
        const char *names = told[i].name;
        bool first = true;
        for (size_t k = 0; k < n; k++) {
            const struct climate_verdict w = air_of(&told[k], shop);
            if (k == i || !air_alike(&v, &w)) continue;
            if (k < i)
                first = false;
            else
                names = arena_print(l->arena, "%s; %s", names, told[k].name);
        }
        if (first) say_air(&v, names, names != told[i].name, shop, l, out);
    }
}

/* Films that only stand still in a cold night; day_cold.h sees to those that would be spoilt. */
static bool stands_still(const struct day_coating *c, const struct shop *shop) {
    return shop->day_degc >= c->lowest_degc && shop->night_degc < c->lowest_degc &&
           drying_cure_of(c->class) != DRYING_COALESCES;
}

/* Once for all that stop at one temperature. */
static void say_still(const struct day_coating *told, size_t n, const struct shop *shop,
                      struct ledger *l, struct notices *out) {
    for (size_t i = 0; i < n; i++) {
        const char *names = told[i].name;
        bool first = stands_still(&told[i], shop);
        for (size_t k = 0; k < i; k++)
            first &= told[k].lowest_degc != told[i].lowest_degc || !stands_still(&told[k], shop);
        if (!first) continue;
        for (size_t k = i + 1; k < n; k++)
            if (told[k].lowest_degc == told[i].lowest_degc && stands_still(&told[k], shop))
                names = arena_print(l->arena, "%s; %s", names, told[k].name);
        bool several = names != told[i].name;
        day_mind(l, out, "night",
                 arena_print(l->arena, "%s at night: %s. Below %s %s not dry, and the shop has %s.",
                             several ? "They stand still" : "It stands still", names,
                             ledger_degrees(l, told[i].lowest_degc),
                             several ? "they do" : "it does", ledger_degrees(l, shop->night_degc)),
                 "Coat in the morning, or keep the shop warm over night.");
    }
}

void day_check_air(const struct tables *t, const struct plan *plan, const struct shelf *shelf,
                   struct ledger *l, struct notices *out) {
    enum { MOST = 64 };
    struct day_coating told[MOST];
    const struct shop *shop = &plan->shop;
    size_t n = 0;
    for (size_t i = 0; i < plan->pieces_n; i++)
        for (size_t k = 0; !plan->pieces[i].hazards.refused && k < plan->pieces[i].coats.n; k++) {
            struct day_coating c = day_coating_of(t, shelf, &plan->pieces[i].coats.rows[k]);
            size_t seen = 0;
            while (c.class && seen < n && strcmp(told[seen].name, c.name)) seen++;
            if (!c.class || seen < n || n == MOST) continue;
            told[n++] = c;
        }
    judge_air(told, n, shop, l, out);
    say_still(told, n, shop, l, out);
}
