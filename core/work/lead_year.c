#include "core/work/lead_year.h"

#include <limits.h>
#include <stdbool.h>
#include <string.h>

/* zones: names with spaces between; "Europe/" stands for all below it, "*" for all. */
static bool names_zone(const char *zones, const char *zone) {
    size_t length = strlen(zone);
    for (const char *at = zones; *at;) {
        size_t n = strcspn(at, " ");
        bool below = at[n - 1] == '/' && length > n && !strncmp(at, zone, n);
        bool all = n == 1 && *at == '*';
        if (all || below || (n == length && !strncmp(at, zone, n))) return true;
        at += n + strspn(at + n, " ");
    }
    return false;
}

int64_t lead_year_of(const struct tables *t, const struct shop *s, const char **out_source) {
    const char *zone = s->zone ? s->zone : "UTC";
    for (size_t i = 0; i < t->lead_years_n; i++) {
        const struct lead_years_row *row = &t->lead_years[i];
        if (!names_zone(row->zones, zone)) continue;
        if (out_source) *out_source = row->source;
        return row->year == INT_MIN ? INT64_MAX : row->year;
    }
    return INT64_MAX;
}
