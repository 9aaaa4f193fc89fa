#include "core/work/day_crew.h"

#include "core/work/day_hours.h"
#include "core/work/fact.h"

#include <string.h>

/* Each operation that somebody's list names is a skill; everything else together is the last. */
enum { SKILLS = 31, REST = 31 };

static int64_t longest_of(const struct timetable_span *w, int n) {
    int64_t longest = 0;
    for (int i = 0; i < n; i++)
        if (w[i].to - w[i].from > longest) longest = w[i].to - w[i].from;
    return longest;
}

/* The shop as one of its crew knows it: own hours, days off added. */
static enum status shop_of(const struct shop *shop, const struct crew_member *m, struct ledger *l,
                           struct shop *out) {
    *out = *shop;
    if (m->hours_n) out->hours = m->hours, out->hours_n = m->hours_n;
    if (!m->days_off_n) return OK;
    int64_t *off = arena_array(l->arena, shop->days_off_n + m->days_off_n, sizeof *off);
    if (!off) return E_MEMORY;
    if (shop->days_off_n) memcpy(off, shop->days_off, shop->days_off_n * sizeof *off);
    memcpy(off + shop->days_off_n, m->days_off, m->days_off_n * sizeof *off);
    out->days_off = off;
    out->days_off_n = shop->days_off_n + m->days_off_n;
    return OK;
}

static enum status person_add(const struct shop *hours, const char *name, const char *field,
                              const struct plan_options *o, int64_t begin, int days,
                              struct ledger *l, struct day_crew *out, struct why *why) {
    struct timetable_person *p = &out->people[out->people_n++];
    struct timetable_span *w = day_windows(hours, o, begin, days, l->arena, &p->windows_n);
    if (!w) return why_no_memory(why);
    if (!p->windows_n)
        return why_say(why, E_DOMAIN, field,
                       "%s never open in the next year. Give at least one day with an opening and "
                       "a closing time.",
                       name ? "These hours are" : "The shop is");
    p->name = name;
    p->windows = w;
    int64_t longest = longest_of(w, p->windows_n);
    if (out->people_n == 1 || longest < out->longest_min) out->longest_min = longest;
    return OK;
}

enum status day_crew_make(const struct shop *shop, const struct plan_options *o, int64_t begin,
                          int days, struct ledger *l, struct day_crew *out, struct why *why) {
    *out = (struct day_crew){0};
    for (size_t i = 0; i < shop->crew_n && i < DAY_CREW_MAX; i++) {
        const struct crew_member *m = &shop->crew[i];
        struct shop hours;
        enum status s = shop_of(shop, m, l, &hours);
        const char *field = arena_print(l->arena, "/shop/crew/%zu/hours", i);
        if (!s)
            s = person_add(&hours, m->name ? m->name : m->id, field, o, begin, days, l, out, why);
        if (s) return s;
        out->ids[i] = m->id;
    }
    if (out->people_n) return OK;
    enum status s = person_add(shop, NULL, "/shop/hours", o, begin, days, l, out, why);
    int64_t people = shop->people > DAY_CREW_MAX ? DAY_CREW_MAX : shop->people;
    for (; !s && out->people_n < people; out->people_n++)
        out->people[out->people_n] = out->people[0];
    static const char *const numbers[DAY_CREW_MAX] = {"1", "2", "3", "4", "5", "6", "7", "8"};
    for (int i = 0; i < out->people_n; i++) out->ids[i] = numbers[i];
    return s;
}

int day_crew_find(const struct day_crew *crew, const char *id) {
    for (int i = 0; id && i < crew->people_n; i++)
        if (crew->ids[i] && !strcmp(crew->ids[i], id)) return i;
    return TIMETABLE_NONE;
}

static enum status no_operation(const char *field, const char *id, struct why *why) {
    return why_say(why, E_REFERENCE, field,
                   "\"%.60s\" is no operation. Write ids of operations: strip, color, clear, "
                   "fit_pulls.",
                   id);
}

enum status day_crew_one_go(const struct tables *t, const struct shop *shop,
                            const struct day_crew *crew, struct ledger *l, struct day_tasks *d,
                            struct why *why) {
    for (size_t k = 0; k < shop->in_one_go_n; k++) {
        const char *id = shop->in_one_go[k];
        if (!operation_row(t, id))
            return no_operation(arena_print(l->arena, "/shop/in_one_go/%zu", k), id, why);
        for (size_t i = 0; i < d->n; i++)
            if (d->meta[i].operation && !strcmp(d->meta[i].operation, id) &&
                d->tasks[i].work_min <= crew->longest_min)
                d->tasks[i].pausable = false;
    }
    return OK;
}

/* Bit of an operation in somebody's list; REST: in nobody's. */
static int skill_of(const char *const *skills, int n, const char *operation) {
    for (int i = 0; operation && i < n; i++)
        if (!strcmp(skills[i], operation)) return i;
    return REST;
}

enum status day_crew_skills(const struct tables *t, const struct shop *shop, struct ledger *l,
                            struct day_crew *crew, struct day_tasks *d, struct why *why) {
    const char *skills[SKILLS];
    int n = 0;
    uint32_t there = 0;
    if (!shop->crew_n) return OK;
    for (int i = 0; i < crew->people_n; i++) {
        const struct crew_member *m = &shop->crew[i];
        uint32_t can = m->only_n ? 0 : UINT32_MAX;
        for (size_t k = 0; k < m->only_n; k++) {
            const char *field = arena_print(l->arena, "/shop/crew/%d/only/%zu", i, k);
            if (!operation_row(t, m->only[k])) return no_operation(field, m->only[k], why);
            int skill = skill_of(skills, n, m->only[k]);
            if (skill == REST) {
                if (n == SKILLS)
                    return why_say(why, E_DOMAIN, field,
                                   "More than %d operations are told apart; name fewer.", SKILLS);
                skill = n;
                skills[n++] = m->only[k];
            }
            can |= UINT32_C(1) << skill;
        }
        crew->people[i].skills = can;
        there |= can;
    }
    for (size_t i = 0; i < d->n; i++) {
        if (d->tasks[i].person == TIMETABLE_NOBODY) continue;
        d->tasks[i].skills = UINT32_C(1) << skill_of(skills, n, d->meta[i].operation);
        if (!(d->tasks[i].skills & there))
            return why_say(why, E_DOMAIN, "/shop/crew",
                           "Nobody does \"%s\". Add \"%s\" to somebody's list, or leave one list "
                           "out.",
                           d->meta[i].name, d->meta[i].operation);
    }
    return OK;
}
