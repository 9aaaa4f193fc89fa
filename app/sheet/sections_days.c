/* Days: what is done when, what dries until when, when it may leave. */
#include "app/sheet/pen.h"

#include <string.h>

static const char *drying_words(struct pen *p, const struct day_task *t) {
    if (t->dry_until_utc_min == INT64_MIN) return NULL;
    bool same = pen_local_day(p, t->dry_until_utc_min) == pen_local_day(p, t->start_utc_min);
    const char *until =
        same ? pen_clock(p, t->dry_until_utc_min) : pen_when(p, t->dry_until_utc_min);
    if (t->window_end_utc_min == INT64_MIN)
        return pen_print(p, "%s %s.", day_dries(t->operation) ? "Dry" : "Over", until);
    return pen_print(p, "Dry %s; next coat without scuffing until %s.", until,
                     pen_when(p, t->window_end_utc_min));
}

/* All that is to be known of a task, as one paragraph. */
static const char *words(struct pen *p, const struct day_task *t) {
    const char *const all[] = {
        t->setup_min > 0 ? pen_print(p, "Get ready from %s.",
                                     pen_clock(p, t->start_utc_min - (int64_t)t->setup_min))
                         : NULL,
        t->pauses ? pen_print(p, "Pauses; on until %s.", pen_when(p, t->end_utc_min)) : NULL,
        drying_words(p, t), t->held_by, t->note};
    const char *text = NULL;
    for (size_t i = 0; i < sizeof all / sizeof *all; i++)
        if (all[i]) text = text ? pen_print(p, "%s %s", text, all[i]) : all[i];
    return text;
}

/* A date that was promised and is not kept. */
static void promise(struct pen *p) {
    int64_t due = p->piece->piece.agreement.due_day, at = p->piece->deliver_utc_min;
    if (due == INT64_MIN || at == INT64_MIN) return;
    int64_t late = pen_local_day(p, at) - due;
    if (late <= 0) return;
    pen_row(p, SHEET_MIND, NULL,
            pen_print(p, "Promised for %s, ready %s: %lld day%s late.", pen_date(p, due),
                      pen_date(p, due + late), (long long)late, late == 1 ? "" : "s"),
            pen_begun(p) ? "Tell them now, or let other work wait."
                         : "Ask for another day before you begin, or let other work wait.",
            NULL);
}

/* What has no date from anybody stands with the day that was taken. */
static void outside(struct pen *p) {
    for (size_t i = 0; i < p->piece->outside_n; i++) {
        const struct outside_plan *w = &p->piece->outside[i];
        if (w->until_utc_min == INT64_MIN) continue;
        bool said = w->expected_day != INT64_MIN;
        const char *detail = said ? pen_print(p, "Expected %s.", pen_date(p, w->expected_day))
                                  : pen_print(p, "Nobody said when: taken as %s.",
                                              pen_date(p, pen_local_day(p, w->until_utc_min)));
        if (!strcmp(w->kind, "sample"))
            detail = pen_print(p, "%s No batch is mixed and no color goes on before it.", detail);
        pen_row(p, SHEET_MIND, NULL, pen_print(p, "Waits for %s.", w->name), detail, NULL);
    }
}

static void saved_note(struct pen *p) {
    const struct days *d = &p->plan->days;
    double saved = 0;
    int times = 0;
    for (size_t i = 0; i < d->n; i++)
        if (d->rows[i].saved_min > 0 && !strcmp(d->rows[i].piece, p->piece->id))
            saved += d->rows[i].saved_min, times++;
    if (times)
        pen_row(p, SHEET_NOTE, NULL,
                pen_print(p, "%s of set-up and clean-up saved: the tool goes on wet, %d time%s.",
                          pen_span(p, saved), times, times == 1 ? "" : "s"),
                NULL, NULL);
}

static void date(struct pen *p, int64_t utc_min, const char *name, const char *what,
                 const char *detail) {
    if (utc_min == INT64_MIN) return;
    pen_figure(p, pen_pointer(p, "/%s_utc_min", name), pen_when(p, utc_min), what, detail);
}

/* What may still go wrong with the days. */
static void ahead(struct pen *p) {
    const struct days *d = &p->plan->days;
    if (d->blocked_by) pen_row(p, SHEET_MIND, NULL, "The dates wait.", d->blocked_by, NULL);
    outside(p);
    promise(p);
    pen_notices(p, &d->gates);
}

void sheet_days(struct pen *p) {
    const struct days *d = &p->plan->days;
    if (!p->closed) ahead(p);
    int64_t day = INT64_MIN;
    for (size_t i = 0; i < d->n; i++) {
        const struct day_task *t = &d->rows[i];
        if (!t->piece || strcmp(t->piece, p->piece->id)) continue;
        if (p->closed && !pen_task_done(p, t->id)) continue;
        int64_t its = pen_local_day(p, t->start_utc_min);
        if (its != day) pen_row(p, SHEET_HEAD, NULL, pen_day(p, t->start_utc_min), NULL, NULL);
        day = its;
        struct sheet_row *r =
            pen_row(p, SHEET_ROW, pen_clock(p, t->start_utc_min), t->name, words(p, t),
                    t->hands_min > 0 ? pen_span(p, t->hands_min) : NULL);
        const char *at = pen_print(p, "/days/rows/%zu/start_utc_min", i);
        if (pen_basis(p, at)) r->pointer = at;
        r->task = t->id;
    }
    if (p->closed) {
        if (day == INT64_MIN)
            pen_row(p, SHEET_TEXT, NULL, NULL, "When it was done is not on record.", NULL);
        return;
    }
    saved_note(p);
    if (day != INT64_MIN) pen_row(p, SHEET_HEAD, NULL, "Then", NULL, NULL);
    date(p, p->piece->handle_utc_min, "handle", "May be handled",
         "Hardware on, drawers and doors back in.");
    date(p, p->piece->deliver_utc_min, "deliver", "May be delivered",
         "Light use. Blankets must not touch the film before that.");
    date(p, p->piece->cured_utc_min, "cured", "Cured", "May be loaded, washed and used fully.");
}
