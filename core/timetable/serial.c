#include "core/timetable/serial.h"

#include <string.h>

static bool side_make(struct serial_side *side, const struct project *p, bool mirrored,
                      struct arena *arena) {
    int n = p->tasks_n;
    side->first = arena_array(arena, (size_t)n + 2, sizeof *side->first);
    side->link = arena_array(arena, (size_t)p->arcs_n + 1, sizeof *side->link);
    if (!side->first || !side->link) return false;
    for (int k = 0; k < p->arcs_n; k++)
        side->first[(mirrored ? p->arcs[k].from : p->arcs[k].to) + 2]++;
    for (int i = 2; i <= n + 1; i++) side->first[i] += side->first[i - 1];
    for (int k = 0; k < p->arcs_n; k++) {
        const struct project_arc *a = &p->arcs[k];
        int to = mirrored ? a->from : a->to, from = mirrored ? a->to : a->from;
        int min = mirrored ? a->min + p->duration[a->to] - p->duration[a->from] : a->min;
        side->link[side->first[to + 1]++] = (struct serial_link){from, min};
    }
    return true;
}

/* No list makes a timetable longer than all durations and the longest lag to each task. */
static int length_most(const struct serial_side *side, const struct project *p) {
    int64_t sum = 1;
    for (int i = 0; i < p->tasks_n; i++) {
        int lag = 0;
        for (int k = side->first[i]; k < side->first[i + 1]; k++)
            if (side->link[k].min > lag) lag = side->link[k].min;
        sum += p->duration[i] + lag;
    }
    return sum < PROJECT_MAX_HORIZON ? (int)sum : -1;
}

bool serial_make(struct serial *s, const struct project_net *w, struct arena *arena) {
    const struct project *p = w->p;
    *s = (struct serial){.p = p};
    if (!side_make(&s->side[0], p, false, arena) || !side_make(&s->side[1], p, true, arena))
        return false;
    int forward = length_most(&s->side[0], p), mirrored = length_most(&s->side[1], p);
    if (forward < 0 || mirrored < 0) return false;
    int largest = 0;
    for (int r = 0; r < p->resources_n; r++)
        if (p->capacity[r] > largest) largest = p->capacity[r];
    int bits = largest < 1 << 15 ? 16 : 32, lanes = 64 / bits;
    s->words = (p->resources_n + lanes - 1) / lanes;
    if (s->words == 0) s->words = 1;
    s->length = forward > mirrored ? forward : mirrored;
    s->use = arena_array(arena, (size_t)(p->tasks_n * s->words) + 1, sizeof *s->use);
    s->full = arena_array(arena, (size_t)s->words, sizeof *s->full);
    s->guard = arena_array(arena, (size_t)s->words, sizeof *s->guard);
    s->left = arena_array(arena, (size_t)s->length * (size_t)s->words + 1, sizeof *s->left);
    s->bucket = arena_array(arena, (size_t)s->length + 2, sizeof *s->bucket);
    s->other = arena_array(arena, (size_t)p->tasks_n + 1, sizeof *s->other);
    if (!s->use || !s->full || !s->guard || !s->left || !s->bucket || !s->other) return false;
    for (int r = 0; r < p->resources_n; r++) {
        int word = r / lanes, shift = r % lanes * bits;
        s->guard[word] |= (uint64_t)1 << (shift + bits - 1);
        s->full[word] |= (uint64_t)p->capacity[r] << shift;
        for (int i = 0; i < p->tasks_n; i++)
            s->use[i * s->words + word] |= (uint64_t)p->use[i * p->resources_n + r] << shift;
    }
    for (int k = 0; k < s->words; k++) s->full[k] |= s->guard[k];
    s->touched = s->length;
    return true;
}

static void clear(struct serial *s) {
    for (int t = 0; t < s->touched; t++)
        for (int k = 0; k < s->words; k++) s->left[t * s->words + k] = s->full[k];
    s->touched = 0;
}

static int fit_one(const struct serial *s, int t, int duration, uint64_t use) {
    const uint64_t guard = s->guard[0], *left = s->left;
    for (int ok = 0; ok < duration; t++) {
        if (((left[t] - use) & guard) == guard)
            ok++;
        else
            ok = 0;
    }
    return t - duration;
}

static int fit_many(const struct serial *s, int t, int duration, const uint64_t *use) {
    for (int ok = 0; ok < duration; t++) {
        const uint64_t *left = &s->left[t * s->words];
        bool fits = true;
        for (int k = 0; k < s->words; k++)
            fits &= ((left[k] - use[k]) & s->guard[k]) == s->guard[k];
        ok = fits ? ok + 1 : 0;
    }
    return t - duration;
}

int serial_build(struct serial *s, const int *list, bool mirrored, int *start) {
    const struct project *p = s->p;
    const struct serial_side *side = &s->side[mirrored];
    int end = 0;
    clear(s);
    for (int m = 0; m < p->tasks_n; m++) {
        int i = list[m], t = 0, d = p->duration[i];
        for (int k = side->first[i]; k < side->first[i + 1]; k++) {
            int from = start[side->link[k].task] + side->link[k].min;
            if (from > t) t = from;
        }
        const uint64_t *use = &s->use[i * s->words];
        if (d) t = s->words == 1 ? fit_one(s, t, d, *use) : fit_many(s, t, d, use);
        start[i] = t;
        for (int u = t; u < t + d; u++)
            for (int k = 0; k < s->words; k++) s->left[u * s->words + k] -= use[k];
        if (t + d > end) end = t + d;
    }
    s->touched = end;
    return end;
}

/* list: tasks in order of key (0..length), ties as they were. */
static void serial_sort(struct serial *s, int *list, const int *key) {
    int n = s->p->tasks_n, most = 0;
    for (int m = 0; m < n; m++)
        if (key[list[m]] > most) most = key[list[m]];
    memset(s->bucket, 0, ((size_t)most + 2) * sizeof *s->bucket);
    for (int m = 0; m < n; m++) s->bucket[key[list[m]] + 1]++;
    for (int k = 1; k <= most; k++) s->bucket[k] += s->bucket[k - 1];
    for (int m = 0; m < n; m++) s->other[s->bucket[key[list[m]]]++] = list[m];
    memcpy(list, s->other, (size_t)n * sizeof *list);
}

static void reverse(int *list, int n) {
    for (int i = 0; i < n / 2; i++) {
        int t = list[i];
        list[i] = list[n - 1 - i];
        list[n - 1 - i] = t;
    }
}

/* In order of ends, last first, into mirrored time and back. */
int serial_justify(struct serial *s, int *list, int *start) {
    const struct project *p = s->p;
    int n = p->tasks_n, end = 0;
    for (int i = 0; i < n; i++) {
        start[i] += p->duration[i];
        if (start[i] > end) end = start[i];
    }
    serial_sort(s, list, start);
    reverse(list, n);
    end = serial_build(s, list, true, start);
    for (int i = 0; i < n; i++) start[i] = end - start[i] - p->duration[i];
    reverse(list, n);
    serial_sort(s, list, start);
    end = serial_build(s, list, false, start);
    serial_sort(s, list, start);
    return end;
}
