/* How far a piece of the book is: what has begun, what is done, is it closed. */
#include "app/sheet/pen.h"

#include <string.h>

/* task NULL: any of the piece */
static const struct task_kept *begun(const struct pen *p, const char *task) {
    const struct sheet_standing *s = p->standing;
    for (size_t i = 0; i < s->kept_n; i++)
        if (!strcmp(s->kept[i].piece, p->piece->id) && (!task || !strcmp(s->kept[i].id, task)) &&
            s->kept[i].begun_utc_min != INT64_MIN)
            return &s->kept[i];
    return NULL;
}

bool pen_begun(const struct pen *p) {
    return p->closed || begun(p, NULL);
}

bool pen_task_done(const struct pen *p, const char *task) {
    const struct task_kept *k = begun(p, task);
    return k && k->done_utc_min != INT64_MIN;
}

bool pen_done(const struct pen *p, const char *operation) {
    const struct days *d = &p->plan->days;
    bool any = false;
    for (size_t i = 0; i < d->n; i++) {
        const struct day_task *t = &d->rows[i];
        if (!t->piece || strcmp(t->piece, p->piece->id) || !t->operation ||
            strcmp(t->operation, operation))
            continue;
        if (!pen_task_done(p, t->id)) return false;
        any = true;
    }
    return any;
}
