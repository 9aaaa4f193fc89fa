/* The rules by which drying places, hands and order are priced, beside timetables that stand:
 * each keeps all of them, whatever the minute. And no price is proof against one. */
#include "core/timetable/deadline.h"
#include "core/timetable/room_inside.h"
#include "test/check.h"
#include "test/model/timetable_judge.h"
#include "test/model/timetable_workshop.h"

enum { SHOPS = 40, EVERY = 7 /* minutes */ };

static struct workshop shop;
static int start_of[WORKSHOP_TASKS]; /* working minute in which each hold begins */

static int64_t used(const struct room *r, const struct room_rule *rule) {
    int64_t sum = 0;
    for (int k = 0; k < r->s->p->holds_n; k++)
        if (r->holds[k].class >= 0) sum += room_rule_uses(r, rule, r->holds[k].class, start_of[k]);
    return sum;
}

/* Returns how many rules leave nothing over. */
static int keeps_all(const struct room *r) {
    int tight = 0, broken = 0;
    for (int i = 1; i + 5 < r->minutes_n; i++) {
        struct room_rule rule = {RULE_HANDS, 0, i, i + 5, 0, 0};
        if (r->minutes[i + 4] == r->minutes[i] + 4)
            broken += used(r, &rule) > room_rule_most(r, &rule);
        for (int d = 0; d < 4; d++) {
            rule = (struct room_rule){RULE_ORDER, d, i, 0, 0, 0};
            broken += used(r, &rule) > 0, tight += used(r, &rule) == 0;
        }
    }
    for (int c = 0; c < r->classes_n; c++)
        for (int i = r->classes[c].first; i < r->classes[c].past; i += EVERY) {
            struct room_rule rule = {RULE_EARLY, c, i, 0, 0, 0};
            broken += used(r, &rule) > room_rule_most(r, &rule);
            rule.kind = RULE_LATE;
            broken += used(r, &rule) > room_rule_most(r, &rule);
        }
    CHECK(!broken);
    return tight;
}

/* What a start earns is its price less what it uses up of the rules. */
static void earns_as_said(const struct room *r) {
    int wrong = 0;
    for (int c = 0; c < r->classes_n; c++) {
        const struct room_class *x = &r->classes[c];
        for (int i = x->first; i < x->past; i += EVERY) {
            int64_t sum = x->price;
            for (int k = 0; k < r->rules_n; k++)
                sum -= r->rules[k].price * room_rule_uses(r, &r->rules[k], c, i);
            wrong += x->until[i] >= 0 && x->earns[i] != sum;
        }
    }
    CHECK(!wrong);
}

int main(void) {
    CASE("40 shops: a timetable keeps every rule of its own finish, and is not proven impossible") {
        int tight = 0, rules = 0, shown = 0;
        for (int seed = 0; seed < SHOPS; seed++) {
            struct arena arena;
            struct timetable_answer a;
            struct why why = {0};
            struct shop s;
            static struct room r;
            int places = 1 + seed % 4;
            workshop_draw(&shop, (uint64_t)seed + 50, 1 + seed % 3, 1 + seed % 2, places, 4);
            arena_init(&arena, alloc_heap(), 0);
            CHECK(!timetable_solve(&shop.problem, (struct limit){.steps = 1 + (uint64_t)seed}, 1,
                                   &arena, &a, &why));
            CHECK(!timetable_judge(&shop.problem, &a));
            CHECK(!shop_make(&shop.problem, &arena, &s, &why));
            CHECK(!room_make(&r, &s, a.score.finish, &arena));
            CHECK(deadlines(&s, a.score.finish, INT64_MAX, r.latest));
            CHECK(room_classes(&r, 0, 1, true));
            for (int k = 0; k < shop.problem.holds_n; k++) {
                int64_t start = a.places[shop.hold[k].first].start;
                for (start_of[k] = 0; r.minutes[start_of[k]] < start;) start_of[k]++;
                const struct room_class *x = &r.classes[r.holds[k].class];
                CHECK(r.minutes[start_of[k]] == start && x->until[start_of[k]] > start_of[k]);
                CHECK(start_of[k] >= r.holds[k].first && start_of[k] < r.holds[k].past);
            }
            tight += keeps_all(&r);
            CHECK(!room_overfull(&r, places, 60, 10, &(struct limit){0}));
            rules += r.rules_n;
            earns_as_said(&r);
            int64_t less = a.bound.finish - 1; /* here some prices are not 0 */
            if (deadlines(&s, less, INT64_MAX, r.latest) && room_classes(&r, 0, 1, true)) {
                shown += room_overfull(&r, places, 60, 10, &(struct limit){0});
                earns_as_said(&r);
            }
            arena_free(&arena);
        }
        printf("%d rules were priced, %d finishes excluded, order tight %d times\n", rules, shown,
               tight);
        CHECK(rules > 100 && tight > 1000);
    }
    return check_done();
}
