#include "app/uncounted.h"

#include <math.h>
#include <string.h>

enum status uncounted_unsay(struct op_call *call, struct paint_row *rows, size_t n,
                            struct why *why) {
    struct paint_row *uncounted;
    size_t uncounted_n;
    struct row_query q = {.where = "NOT EXISTS (SELECT 1 FROM stock_movement m WHERE m.paint = id"
                                   " AND m.kind NOT IN ('used', 'thrown'))",
                          .after = INT64_MIN};
    enum status s = row_list(call->book, &table_paint, &q, call->arena, (void **)&uncounted,
                             &uncounted_n, NULL, why);
    for (size_t i = 0; !s && i < n; i++)
        for (size_t k = 0; k < uncounted_n; k++)
            if (!strcmp(rows[i].id, uncounted[k].id)) rows[i].stock_ml = NAN;
    return s;
}
