#include "app/when.h"

#include "app/gather.h"
#include "app/zone.h"
#include "codec/time_text.h"
#include "core/work/day_hours.h"

#include <string.h>

static int64_t utc_of(const struct zone_span *zone, size_t n, int64_t said) {
    const struct plan_options clock = {.zone = zone, .zone_n = n};
    return day_utc_of_local(&clock, said - TIME_OF_CLOCK);
}

enum status when_args(struct op_call *call, struct why *why) {
    const struct desc *d = call->op->args;
    const struct zone_span *zone = NULL;
    size_t zone_n = 0;
    for (size_t i = 0; d && i < d->fields_n; i++) {
        int64_t min;
        char *at = (char *)(uintptr_t)call->args + d->fields[i].offset;
        if (d->fields[i].type != FIELD_INSTANT) continue;
        memcpy(&min, at, sizeof min);
        if (!time_is_clock(min)) continue;
        enum status s = zone ? OK : gather_clock(call, &zone, &zone_n, why);
        if (s) return s;
        min = utc_of(zone, zone_n, min);
        memcpy(at, &min, sizeof min);
    }
    return OK;
}

enum status when_in_zone(struct op_call *call, const char *zone, int64_t *utc_min,
                         struct why *why) {
    const struct zone_span *spans;
    size_t n;
    if (!time_is_clock(*utc_min)) return OK;
    enum status s =
        zone_spans(zone, call->app->now_utc_min(call->app->now_ctx), call->arena, &spans, &n, why);
    if (!s) *utc_min = utc_of(spans, n, *utc_min);
    return s;
}
