/* Today: what now, what dries, what waits, what must not be missed, what runs short. */
#ifndef APP_OP_TODAY_H
#define APP_OP_TODAY_H

#include "app/days_outside.h"
#include "app/short_list.h"

struct waiting {
    const char *piece, *title, *client, *text;
    bool stops;     /* work must not go on before it: drawn as a Stop, as on the sheet */
    bool unplanned; /* the piece is in no days: text says why */
};

struct today_answer {
    int64_t now_utc_min, pieces_open;
    struct task_view *now, *next, *drying, *windows, *around;
    size_t now_n, next_n, drying_n, windows_n, around_n;
    struct outside_row *outside;
    struct waiting *waiting;
    const char **late; /* pieces that come after the day they are promised for, in words */
    size_t waiting_n, outside_n, late_n;
    struct short_row *shorts;
    size_t shorts_n;
};

#endif
