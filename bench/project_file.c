#include "bench/project_file.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Text with a reading place; brackets and line ends count as blanks. */
struct text {
    char *at;
};

static char *whole(const char *path, struct arena *arena) {
    FILE *f = fopen(path, "rb");
    if (!f) return NULL;
    fseek(f, 0, SEEK_END);
    long size = ftell(f);
    rewind(f);
    char *t = size >= 0 ? arena_take(arena, (size_t)size + 1) : NULL;
    size_t got = t ? fread(t, 1, (size_t)size, f) : 0;
    fclose(f);
    if (!t || got != (size_t)size) return NULL;
    for (char *c = t; *c; c++)
        if (*c == '[' || *c == ']' || *c == '\r') *c = ' ';
    return t;
}

static int number(struct text *t) {
    char *end;
    long v = strtol(t->at, &end, 10);
    if (end == t->at)
        t->at += strlen(t->at);
    else
        t->at = end;
    return (int)v;
}

/* Goes to the line `more` lines below the one that holds `word`. */
static bool seek(struct text *t, char *all, const char *word, int more) {
    char *at = strstr(all, word);
    for (int i = 0; at && i < more; i++)
        if ((at = strchr(at, '\n'))) at++;
    if (at) t->at = at;
    return at != NULL;
}

struct draft {
    int n, k, arcs_n, arcs_room;
    int *duration, *use, *capacity;
    struct project_arc *arcs;
};

static bool draft_make(struct draft *d, int arcs, struct arena *arena) {
    if (d->n < 1 || d->n > PROJECT_MAX_TASKS || d->k < 0 || d->k > PROJECT_MAX_RESOURCES)
        return false;
    d->duration = arena_array(arena, (size_t)d->n, sizeof(int));
    d->use = arena_array(arena, (size_t)(d->n * d->k) + 1, sizeof(int));
    d->capacity = arena_array(arena, (size_t)d->k + 1, sizeof(int));
    d->arcs = arena_array(arena, (size_t)arcs + 1, sizeof *d->arcs);
    d->arcs_room = arcs;
    return d->duration && d->use && d->capacity && d->arcs;
}

static void draft_arc(struct draft *d, int from, int to, int min) {
    if (d->arcs_n < d->arcs_room) d->arcs[d->arcs_n++] = (struct project_arc){from, to, min};
}

static const char *read_sm(char *all, struct arena *arena, struct draft *d) {
    struct text t = {all};
    char *colon = strstr(all, "jobs (incl") ? strchr(strstr(all, "jobs (incl"), ':') : NULL;
    char *renew = strstr(all, "- renewable") ? strchr(strstr(all, "- renewable"), ':') : NULL;
    if (!colon || !renew) return "no line with the number of jobs or resources";
    d->n = atoi(colon + 1);
    d->k = atoi(renew + 1);
    if (!draft_make(d, d->n * 40, arena)) return "too many jobs or resources";
    if (!seek(&t, all, "PRECEDENCE RELATIONS", 2)) return "no precedence relations";
    for (int i = 0; i < d->n; i++) {
        int job = number(&t) - 1;
        number(&t);
        int count = number(&t);
        if (job != i || count < 0 || count > d->n) return "precedence relations out of order";
        for (int s = 0; s < count; s++) draft_arc(d, i, number(&t) - 1, 0);
    }
    if (!seek(&t, all, "REQUESTS/DURATIONS", 3)) return "no durations";
    for (int i = 0; i < d->n; i++) {
        if (number(&t) - 1 != i) return "durations out of order";
        number(&t);
        d->duration[i] = number(&t);
        for (int r = 0; r < d->k; r++) d->use[i * d->k + r] = number(&t);
    }
    if (!seek(&t, all, "RESOURCEAVAILABILITIES", 2)) return "no resource availabilities";
    for (int r = 0; r < d->k; r++) d->capacity[r] = number(&t);
    for (int a = 0; a < d->arcs_n; a++) d->arcs[a].min = d->duration[d->arcs[a].from];
    return NULL;
}

static const char *read_sch(char *all, struct arena *arena, struct draft *d) {
    struct text t = {all};
    d->n = number(&t) + 2;
    d->k = number(&t);
    number(&t);
    number(&t);
    if (!draft_make(d, d->n * 60, arena)) return "too many activities or resources";
    for (int i = 0; i < d->n; i++) {
        int job = number(&t);
        number(&t);
        int count = number(&t), to[PROJECT_MAX_TASKS];
        if (job != i || count < 0 || count > d->n) return "activities out of order";
        for (int s = 0; s < count; s++) to[s] = number(&t);
        for (int s = 0; s < count; s++) draft_arc(d, i, to[s], number(&t));
    }
    for (int i = 0; i < d->n; i++) {
        if (number(&t) != i) return "durations out of order";
        number(&t);
        d->duration[i] = number(&t);
        for (int r = 0; r < d->k; r++) d->use[i * d->k + r] = number(&t);
    }
    for (int r = 0; r < d->k; r++) d->capacity[r] = number(&t);
    return NULL;
}

const char *project_file_read(const char *path, struct arena *arena, struct project *out) {
    char *all = whole(path, arena);
    if (!all) return "the file cannot be read";
    struct draft d = {0};
    size_t n = strlen(path);
    bool sm = n > 3 && !strcmp(path + n - 3, ".sm");
    const char *bad = sm ? read_sm(all, arena, &d) : read_sch(all, arena, &d);
    if (bad) return bad;
    if (d.arcs_n == d.arcs_room) return "too many arcs";
    for (int i = 0; i < d.arcs_n; i++)
        if (d.arcs[i].to < 0 || d.arcs[i].to >= d.n) return "an arc to a job that is not there";
    *out = (struct project){d.n, d.k, d.arcs_n, d.duration, d.use, d.capacity, d.arcs};
    return NULL;
}
