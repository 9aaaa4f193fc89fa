/* The days for other programs: iCalendar and comma-separated text. */
#include "app/days_words.h"
#include "app/op_days.h"
#include "app/zone.h"
#include "codec/calendar_text.h"

#include <string.h>

enum { EVENTS_A_TASK = 3, WINDOW_ALARM_MIN = 60, SITTING_ALARM_MIN = 10, SITTING_GAP_MIN = 20 };

static int64_t from_of(const struct task_view *t) {
    return t->start_utc_min - (int64_t)t->setup_min;
}

/* A bell for each sitting, not for each of its tasks: is anybody at work shortly before? */
static bool begins_sitting(const struct days_view *v, size_t i) {
    const struct task_view *t = &v->tasks[i];
    for (size_t k = 0; k < i; k++) {
        const struct task_view *before = &v->tasks[k];
        bool same = before->person == t->person ||
                    (before->person && t->person && !strcmp(before->person, t->person));
        if (same &&
            before->end_utc_min + (int64_t)before->cleanup_min + SITTING_GAP_MIN >= from_of(t))
            return false;
    }
    return true;
}

static const char *note_of(const struct task_view *t, struct arena *arena) {
    if (!t->held_by || !t->note) return t->held_by ? t->held_by : t->note;
    return arena_print(arena, "%s %s", t->held_by, t->note);
}

static const char *text_of(const char *summary, const char *piece, struct arena *arena) {
    return piece ? arena_print(arena, "%s (%s)", summary, piece) : summary;
}

/* What is done stays as it was, so that a calendar that is read again does not keep it where it was
 * planned. Hands-on work, then what dries, then the edge by which the next coat must be on. */
static void add_events(struct op_call *call, const struct days_view *v, size_t i,
                       struct calendar_event *events, size_t *n) {
    const struct task_view *t = &v->tasks[i];
    bool rings = t->state == TASK_OPEN && begins_sitting(v, i);
    const char *piece = t->piece_title ? t->piece_title : t->piece,
               *name = t->name ? t->name : t->id;
    events[(*n)++] = (struct calendar_event){.id = t->id,
                                             .summary = text_of(name, piece, call->arena),
                                             .note = note_of(t, call->arena),
                                             .piece = piece,
                                             .person = t->person,
                                             .kind = CALENDAR_WORK,
                                             .from_utc_min = from_of(t),
                                             .to_utc_min = t->end_utc_min + (int64_t)t->cleanup_min,
                                             .alarm_before_min = rings ? SITTING_ALARM_MIN : -1};
    if (t->dry_until_utc_min != INT64_MIN && t->dry_until_utc_min > t->end_utc_min)
        events[(*n)++] = (struct calendar_event){
            .id = arena_print(call->arena, "%s/dry", t->id),
            .summary =
                arena_print(call->arena, "%s: %s", day_dries(t->operation) ? "Dries" : "Waits",
                            text_of(name, piece, call->arena)),
            .piece = piece,
            .kind = CALENDAR_DRYING,
            .from_utc_min = t->end_utc_min,
            .to_utc_min = t->dry_until_utc_min,
            .alarm_before_min = -1};
    bool window = t->window_end_utc_min != INT64_MIN && t->dry_until_utc_min != INT64_MIN &&
                  t->window_end_utc_min > t->dry_until_utc_min;
    if (window)
        events[(*n)++] = (struct calendar_event){
            .id = arena_print(call->arena, "%s/window", t->id),
            .summary = arena_print(call->arena, "Next coat without scuffing: %s", piece),
            .piece = piece,
            .kind = CALENDAR_WINDOW,
            .from_utc_min = t->dry_until_utc_min,
            .to_utc_min = t->window_end_utc_min,
            .alarm_before_min = days_followed(v, i) ? -1 : WINDOW_ALARM_MIN};
}

/* When a piece may leave, one event each. */
static void add_ready(struct op_call *call, const struct days_view *v,
                      struct calendar_event *events, size_t *n) {
    const struct plan *plan = &v->answer.plan;
    for (size_t i = 0; i < plan->pieces_n; i++) {
        const struct piece_plan *p = &plan->pieces[i];
        events[(*n)++] =
            (struct calendar_event){.id = arena_print(call->arena, "%s/ready", p->id),
                                    .summary = arena_print(call->arena, "Ready: %s", p->title),
                                    .piece = p->title,
                                    .kind = CALENDAR_READY,
                                    .from_utc_min = p->deliver_utc_min,
                                    .to_utc_min = p->deliver_utc_min,
                                    .alarm_before_min = -1};
    }
}

static enum status make(struct op_call *call, struct calendar *out, struct why *why) {
    struct days_view *v = arena_take(call->arena, sizeof *v);
    enum status s = v ? days_look(call, INT64_MIN, false, v, why) : why_no_memory(why);
    if (s) return s;
    struct calendar_event *events = arena_array(
        call->arena, v->tasks_n * EVENTS_A_TASK + v->answer.plan.pieces_n + 1, sizeof *events);
    if (!events) return why_no_memory(why);
    size_t n = 0;
    for (size_t i = 0; i < v->tasks_n; i++) add_events(call, v, i, events, &n);
    add_ready(call, v, events, &n);
    struct days_clock clock;
    if ((s = days_clock_make(call, v, &clock, why))) return s;
    for (size_t i = 0; i < n; i++) {
        struct calendar_event *e = &events[i];
        e->from_ahead_min = zone_offset_min(clock.zone, clock.zone_n, e->from_utc_min);
        e->to_ahead_min = zone_offset_min(clock.zone, clock.zone_n, e->to_utc_min);
    }
    const char *name = v->gathered.job.shop.name;
    *out = (struct calendar){.job = "days",
                             .name = name ? name : "Coatwright",
                             .stamp_utc_min = v->now_utc_min,
                             .revision = (int32_t)(book_revision(call->book) & 0x7fffffff),
                             .events = events,
                             .n = n};
    return OK;
}

static enum status ics(struct op_call *call, struct why *why) {
    struct calendar c;
    call->out_type = "text/calendar; charset=utf-8";
    call->out_file_name = "days.ics";
    enum status s = make(call, &c, why);
    return s ? s : calendar_print(&c, &call->out_body, why);
}

static enum status csv(struct op_call *call, struct why *why) {
    struct calendar c;
    call->out_type = "text/csv; charset=utf-8";
    call->out_file_name = "days.csv";
    enum status s = make(call, &c, why);
    return s ? s : calendar_print_csv(&c, &call->out_body, why);
}

static const struct op rows[] = {
    {"calendar", OP_GET, "/api/calendar.ics", NULL, NULL, NULL, OP_READS | OP_SLOW,
     "the days as a calendar (iCalendar, RFC 5545)", ics},
    {"days table", OP_GET, "/api/days.csv", NULL, NULL, NULL, OP_READS | OP_SLOW,
     "the days as CSV (RFC 4180)", csv},
};
extern const struct ops ops_calendar;
const struct ops ops_calendar = {rows, sizeof rows / sizeof *rows};
