/* What would bring the days forward: the shop otherwise in one thing at a time, each laid out anew
 * and held against the shop as it is, laid out anew too. */
#include "app/days_words.h"
#include "codec/text_wrap.h"
#include "core/work/day_crew.h"

#include <ctype.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { LONGER_MIN = 60 };

/* ---- the shop otherwise; false: it is so already, or memory is out ---- */

static bool sand_apart(struct shop *s, struct arena *arena) {
    (void)arena;
    if (s->sand_apart == YN_YES) return false;
    s->sand_apart = YN_YES;
    return true;
}

static bool more_floor(struct shop *s, struct arena *arena) {
    (void)arena;
    if (isnan(s->drying_area_m2)) return false;
    s->drying_area_m2 *= 2;
    return true;
}

static bool warm_nights(struct shop *s, struct arena *arena) {
    (void)arena;
    if (!(s->night_degc < s->day_degc) && !s->nights_n) return false;
    s->night_degc = s->day_degc;
    s->nights_n = 0;
    return true;
}

/* The last hours of each day of the week close later. */
static bool close_later(struct shop_hours **hours, size_t n, struct arena *arena) {
    struct shop_hours *more = arena_array(arena, n + 1, sizeof *more);
    if (!more) return false;
    for (size_t i = 0; i < n; i++) {
        bool last = true;
        more[i] = (*hours)[i];
        for (size_t k = 0; k < n; k++)
            last &= (*hours)[k].day != more[i].day || (*hours)[k].close_min <= more[i].close_min;
        if (last) more[i].close_min += LONGER_MIN;
        if (more[i].close_min > 1440) more[i].close_min = 1440;
    }
    *hours = more;
    return true;
}

static bool open_longer(struct shop *s, struct arena *arena) {
    struct crew_member *crew = arena_array(arena, s->crew_n + 1, sizeof *crew);
    if (!crew || !close_later(&s->hours, s->hours_n, arena)) return false;
    for (size_t i = 0; i < s->crew_n; i++) {
        crew[i] = s->crew[i];
        if (crew[i].hours_n && !close_later(&crew[i].hours, crew[i].hours_n, arena)) return false;
    }
    s->crew = crew;
    return true;
}

static bool one_more(struct shop *s, struct arena *arena) {
    (void)arena;
    if (s->crew_n || s->people >= DAY_CREW_MAX) return false; /* who, only the shop knows */
    s->people++;
    return true;
}

static const struct change {
    const char *name;
    bool (*make)(struct shop *s, struct arena *arena);
} changes[] = {
    {"Sanding in another room", sand_apart},
    {"Twice the floor to dry parts on", more_floor},
    {"Nights as warm as the days", warm_nights},
    {"Open an hour longer on every working day", open_longer},
    {"One more pair of hands", one_more},
};
enum { CHANGES = sizeof changes / sizeof *changes };

/* ---- what comes of it ---- */

struct readiness {
    int64_t last_utc_min; /* all can be handed over */
    int64_t late_days;    /* days after the promised ones, of all pieces */
    int64_t sum_days;     /* of the days on which pieces are ready */
    size_t late;          /* pieces after their day */
};

static struct readiness readiness_of(const struct days_clock *c, const struct days_view *v) {
    const struct plan *plan = &v->answer.plan;
    struct readiness o = {.last_utc_min = plan->days.deliver_utc_min};
    for (size_t i = 0; i < plan->pieces_n; i++) {
        int64_t at = plan->pieces[i].deliver_utc_min, due = plan->pieces[i].piece.agreement.due_day;
        if (at == INT64_MIN) continue;
        int64_t day = days_local_day(c, at);
        o.sum_days += day;
        if (due == INT64_MIN || day <= due) continue;
        o.late++;
        o.late_days += day - due;
    }
    return o;
}

static int by(int64_t a, int64_t b) {
    return a < b ? -1 : a > b;
}

/* Promises first, then the last piece, then all. */
static int compare(const struct days_clock *c, const struct readiness *a,
                   const struct readiness *b) {
    int k = by(a->late_days, b->late_days);
    if (!k) k = by(days_local_day(c, a->last_utc_min), days_local_day(c, b->last_utc_min));
    return k ? k : by(a->sum_days, b->sum_days);
}

static const char *late_words(const struct days_clock *c, size_t late) {
    if (!late) return "none after its promised day";
    return late == 1 ? "1 piece after its promised day"
                     : arena_print(c->arena, "%zu pieces after their promised days", late);
}

/* What each change is held against: days that were kept may be others. */
static const char *ready_words(const struct days_clock *c, const struct readiness *o) {
    return arena_print(c->arena, "As the shop is, laid out anew: all may be handed over %s, %s.",
                       days_day(c, days_local_day(c, o->last_utc_min)), late_words(c, o->late));
}

static const char *days_words(const struct days_clock *c, int64_t days) {
    return arena_print(c->arena, "%lld %s", (long long)days, days == 1 ? "day" : "days");
}

/* How it differs from the days as they are: "2 days sooner; late by 1 day less in all". */
static const char *gain_words(const struct days_clock *c, const struct readiness *is,
                              const struct readiness *o) {
    int64_t last = days_local_day(c, is->last_utc_min) - days_local_day(c, o->last_utc_min),
            late = is->late_days - o->late_days, sum = is->sum_days - o->sum_days;
    const char *text = last > 0   ? arena_print(c->arena, "%s sooner", days_words(c, last))
                       : last < 0 ? arena_print(c->arena, "%s later", days_words(c, -last))
                                  : "no sooner in all";
    if (late > 0) return arena_print(c->arena, "%s; late by %s less", text, days_words(c, late));
    return last || sum <= 0 ? text
                            : arena_print(c->arena, "the last no sooner, others %s sooner together",
                                          days_words(c, sum));
}

/* ---- the operation ---- */

struct sooner_row {
    const char *name, *text;
    int64_t ready_utc_min;
};
static const struct field row_fields[] = {
    F_TEXT(struct sooner_row, name, "what would be otherwise in the shop"),
    F_TEXT(struct sooner_row, text, "how the days differ then, in words"),
    F_TIME(struct sooner_row, ready, ready_utc_min, FIELD_INSTANT, "all can be handed over then"),
};
static DESC(desc_row, struct sooner_row, "sooner_row", "The shop otherwise in one thing.",
            row_fields);

struct sooner_answer {
    const char *as_it_is, *in_vain;
    struct sooner_row *rows;
    size_t rows_n;
};
static const struct field answer_fields[] = {
    F_TEXT(struct sooner_answer, as_it_is, "the days of the shop as it is, in words"),
    F_LIST(struct sooner_answer, rows, &desc_row, CHANGES, "what helps, the most first"),
    F_TEXT(struct sooner_answer, in_vain, "what does not, in words"),
};
static DESC(desc_answer, struct sooner_answer, "sooner_answer",
            "What would bring the days forward.", answer_fields);

struct sooner_args {
    int64_t now_utc_min;
};
static const struct field arg_fields[] = {
    F_TIME(struct sooner_args, now, now_utc_min, FIELD_INSTANT, "as if it were this time"),
};
static DESC(desc_args, struct sooner_args, "sooner_args", "When.", arg_fields);

struct tried {
    const char *name;
    struct readiness ready;
};

static enum status look(struct op_call *call, const struct shop *shop, struct days_view **out,
                        struct why *why) {
    const struct sooner_args *args = call->args;
    struct days_ask ask = days_as_they_are;
    ask.anew = true;
    ask.shop = shop;
    *out = arena_take(call->arena, sizeof **out);
    return *out ? days_look_if(call, args->now_utc_min, false, &ask, *out, why)
                : why_no_memory(why);
}

static enum status answer_make(const struct days_clock *c, const struct readiness *is,
                               const struct tried *tried, size_t n, struct sooner_answer *a,
                               struct why *why) {
    const char *vain = NULL;
    a->as_it_is = ready_words(c, is);
    a->rows = arena_array(c->arena, CHANGES, sizeof *a->rows);
    if (!a->rows) return why_no_memory(why);
    for (size_t i = 0; i < n; i++)
        if (compare(c, &tried[i].ready, is) < 0)
            a->rows[a->rows_n++] = (struct sooner_row){
                tried[i].name, gain_words(c, is, &tried[i].ready), tried[i].ready.last_utc_min};
        else
            vain = arena_print(c->arena, "%s%s%c%s", vain ? vain : "", vain ? "; " : "",
                               tolower((unsigned char)tried[i].name[0]), tried[i].name + 1);
    if (vain) a->in_vain = arena_print(c->arena, "No sooner: %s.", vain);
    return OK;
}

static void print(const struct days_clock *c, const struct sooner_answer *a, struct text *out) {
    text_wrap(out, 0, 0, a->as_it_is);
    if (a->rows_n) text_print(out, "\nIn one thing otherwise, likewise:\n");
    for (size_t i = 0; i < a->rows_n; i++) {
        const char *day = days_day(c, days_local_day(c, a->rows[i].ready_utc_min));
        text_print(out, "  %s\n    ", a->rows[i].name);
        text_wrap(out, 4, 4,
                  arena_print(c->arena, "All ready %s: %s.", day ? day : "", a->rows[i].text));
    }
    if (a->in_vain) text_wrap(out, 0, 0, a->in_vain);
}

static enum status sooner(struct op_call *call, struct why *why) {
    struct sooner_answer *answer = call->result;
    struct days_view *is, *v;
    struct days_clock clock;
    struct tried tried[CHANGES];
    size_t n = 0;
    enum status s = look(call, NULL, &is, why);
    if (!s && !is->tasks_n)
        return why_say(why, E_MISSING, "",
                       "There are no days to bring forward: no piece in the book has work to be "
                       "done.");
    if (!s) s = days_clock_make(call, is, &clock, why);
    if (s) return s;
    struct readiness was = readiness_of(&clock, is);
    for (size_t i = 0; i < CHANGES; i++) {
        struct shop shop = is->answer.plan.shop;
        if (!changes[i].make(&shop, call->arena)) continue;
        if ((s = look(call, &shop, &v, why))) return s;
        struct tried t = {changes[i].name, readiness_of(&clock, v)};
        size_t k = n++;
        for (; k > 0 && compare(&clock, &t.ready, &tried[k - 1].ready) < 0; k--)
            tried[k] = tried[k - 1];
        tried[k] = t;
    }
    s = answer_make(&clock, &was, tried, n, answer, why);
    if (!s) print(&clock, answer, &call->out_body);
    return s;
}

static const struct op rows[] = {
    {"days sooner", OP_GET, "/api/days/sooner", &desc_args, &desc_answer, NULL, OP_READS | OP_SLOW,
     "what would bring the days forward: the shop otherwise in one thing at a time", sooner},
};
extern const struct ops ops_sooner;
const struct ops ops_sooner = {rows, sizeof rows / sizeof *rows};
