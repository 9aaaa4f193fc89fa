#include "app/zone.h"

#include <pthread.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

enum { HOUR = 60, SPANS_MAX = 64 };

/* TZ belongs to the whole process, so only one thread at a time may borrow it. */
static pthread_mutex_t borrowed = PTHREAD_MUTEX_INITIALIZER;

static bool name_is_sound(const char *zone) {
    size_t n = strlen(zone);
    return n > 0 && n < 64 && zone[0] != '/' && !strstr(zone, "..") &&
           strspn(zone, "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789_+-/") == n;
}

/* By the first bytes of its file (RFC 8536): a folder of zones ("America") and the lists beside
 * them would else be taken for UTC. */
static bool is_known(const char *zone) {
    char path[128], head[4];
    snprintf(path, sizeof path, "/usr/share/zoneinfo/%s", zone);
    FILE *f = fopen(path, "re");
    bool known = f && fread(head, 1, sizeof head, f) == sizeof head && !memcmp(head, "TZif", 4);
    if (f) fclose(f);
    return known || !strcmp(zone, "UTC");
}

static int offset_at(int64_t utc_min) {
    time_t at = (time_t)(utc_min * 60);
    struct tm tm;
    return localtime_r(&at, &tm) ? (int)(tm.tm_gmtoff / 60) : 0;
}

/* First minute in (low, high] with another offset than at low; the offsets differ at both ends. */
static int64_t change_between(int64_t low, int64_t high) {
    int before = offset_at(low);
    while (high - low > 1) {
        int64_t middle = low + (high - low) / 2;
        if (offset_at(middle) == before)
            low = middle;
        else
            high = middle;
    }
    return high;
}

static size_t spans_fill(int64_t from, int64_t to, struct zone_span *rows) {
    size_t n = 0;
    rows[n++] = (struct zone_span){from, offset_at(from)};
    for (int64_t at = from; at < to && n < SPANS_MAX; at += 24 * HOUR)
        if (offset_at(at) != offset_at(at + 24 * HOUR)) {
            int64_t change = change_between(at, at + 24 * HOUR);
            rows[n++] = (struct zone_span){change, offset_at(change)};
        }
    return n;
}

enum status zone_spans(const char *zone, int64_t now_utc_min, struct arena *arena,
                       const struct zone_span **out, size_t *out_n, struct why *why) {
    if (zone && (!name_is_sound(zone) || !is_known(zone)))
        return why_say(why, E_DOMAIN, "/shop/zone",
                       "\"%.64s\" is no time zone known on this machine. Write a name like "
                       "America/New_York or Europe/Berlin.",
                       zone);
    struct zone_span *rows = arena_array(arena, SPANS_MAX, sizeof *rows);
    if (!rows) return why_no_memory(why);
    pthread_mutex_lock(&borrowed);
    const char *own = getenv("TZ");
    char *kept = own ? strdup(own) : NULL;
    if (zone) setenv("TZ", zone, 1);
    tzset();
    *out_n = spans_fill(now_utc_min - 366 * 24 * HOUR, now_utc_min + 2 * 366 * 24 * HOUR, rows);
    if (zone && kept)
        setenv("TZ", kept, 1);
    else if (zone)
        unsetenv("TZ");
    tzset();
    free(kept);
    pthread_mutex_unlock(&borrowed);
    *out = rows;
    return OK;
}

int zone_offset_min(const struct zone_span *spans, size_t n, int64_t utc_min) {
    int offset = 0;
    for (size_t i = 0; i < n; i++)
        if (!i || spans[i].from_utc_min <= utc_min) offset = spans[i].offset_min;
    return offset;
}

int64_t zone_local(const struct zone_span *spans, size_t n, int64_t utc_min) {
    return utc_min + zone_offset_min(spans, n, utc_min);
}

int64_t zone_local_day(const struct zone_span *spans, size_t n, int64_t utc_min) {
    int64_t local = zone_local(spans, n, utc_min);
    return local / (24 * HOUR) - (local % (24 * HOUR) < 0);
}

int64_t zone_day(const char *zone, int64_t utc_min, struct arena *arena) {
    const struct zone_span *spans;
    size_t n;
    if (zone_spans(zone, utc_min, arena, &spans, &n, NULL)) n = 0;
    return zone_local_day(spans, n, utc_min);
}
