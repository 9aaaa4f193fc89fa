/* Solves every .sm or .SCH file of a folder and compares with the published bounds.
 *
 *   timetable DIR --seconds S [--out FILE]
 *
 * S is processor seconds an instance, reading included. Bounds come from psplib_bounds.csv or
 * optimum.csv in DIR or its parent. A checker that shares no code with the solver looks at every
 * timetable. Exit status 1 when it finds a violation or an answer contradicts a published one. */
#include "bench/cpu_time.h"
#include "bench/project_file.h"

#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct known {
    int low, best; /* -1: nothing known */
    bool infeasible;
};

struct tally {
    int files, solved, decided, compared, violations, wrong;
    double over_percent, seconds, longest;
};

static bool find_known(const char *path, const char *file, struct known *out) {
    FILE *f = fopen(path, "r");
    if (!f) return false;
    char line[256], name[128];
    bool found = false;
    while (!found && fgets(line, sizeof line, f)) {
        int low, best;
        if (sscanf(line, "%*[^,],%127[^,],%d,%d", name, &low, &best) == 3 && !strcmp(name, file)) {
            *out = (struct known){low, best, false};
            found = true;
        } else if (sscanf(line, "%127[^,],", name) == 1 && !strcmp(name, file)) {
            const char *v = strchr(line, ',') + 1;
            int n = sscanf(v, "%d..%d", &low, &best);
            if (n == 1) best = low;
            if (n >= 1)
                *out = (struct known){low, best, false}, found = true;
            else if (!strncmp(v, "unsat", 5))
                *out = (struct known){-1, -1, true}, found = true;
        }
    }
    fclose(f);
    return found;
}

static struct known known_of(const char *dir, const char *file) {
    static const char *const place[] = {"psplib_bounds.csv", "optimum.csv", "../psplib_bounds.csv",
                                        "../optimum.csv"};
    struct known k = {-1, -1, false};
    for (size_t i = 0; i < sizeof place / sizeof *place; i++) {
        char path[2048];
        snprintf(path, sizeof path, "%s/%s", dir, place[i]);
        if (find_known(path, file, &k)) break;
    }
    return k;
}

/* The independent checker: lags, resources minute by minute, makespan. */
static const char *violation(const struct project *p, const struct project_answer *a) {
    int end = 0;
    for (int i = 0; i < p->tasks_n; i++) {
        if (a->start[i] < 0) return "a start is negative";
        if (a->start[i] + p->duration[i] > end) end = a->start[i] + p->duration[i];
    }
    if (end != a->makespan) return "the makespan is not the last end";
    for (int k = 0; k < p->arcs_n; k++)
        if (a->start[p->arcs[k].to] < a->start[p->arcs[k].from] + p->arcs[k].min)
            return "a lag is not kept";
    for (int r = 0; r < p->resources_n; r++)
        for (int t = 0; t < end; t++) {
            int sum = 0;
            for (int i = 0; i < p->tasks_n; i++)
                if (a->start[i] <= t && t < a->start[i] + p->duration[i])
                    sum += p->use[i * p->resources_n + r];
            if (sum > p->capacity[r]) return "a resource is overfull";
        }
    return NULL;
}

static void count(struct tally *t, const char *file, const struct project_answer *a,
                  const struct known *k, double seconds) {
    bool contradicts = false;
    t->files++;
    t->seconds += seconds;
    if (seconds > t->longest) t->longest = seconds;
    if (a->status == PROJECT_INFEASIBLE) {
        contradicts = k->best >= 0;
        t->decided += !contradicts;
    } else if (a->status != PROJECT_UNKNOWN) {
        t->solved++;
        contradicts = k->infeasible || (k->low >= 0 && a->makespan < k->low) ||
                      (k->best >= 0 && a->lower_bound > k->best);
        t->decided += a->status == PROJECT_OPTIMAL && !contradicts;
        if (k->best > 0) {
            t->over_percent += 100.0 * (a->makespan - k->best) / k->best;
            t->compared++;
        }
    }
    if (contradicts) {
        t->wrong++;
        printf("%s: contradicts the published bounds\n", file);
    }
}

static void print_row(FILE *f, const char *file, const struct project *p,
                      const struct project_answer *a, double seconds) {
    static const char *const word[] = {"unknown", "feasible", "optimal", "infeasible"};
    bool has = a->start != NULL;
    fprintf(f, "%s,%s,", file, word[a->status]);
    if (has)
        fprintf(f, "%d,%d,", a->makespan, a->lower_bound);
    else
        fprintf(f, ",,");
    fprintf(f, "%.4f,", seconds);
    for (int i = 0; has && i < p->tasks_n; i++) fprintf(f, "%s%d", i ? " " : "", a->start[i]);
    fprintf(f, "\n");
}

static void solve_file(const char *dir, const char *file, double seconds, FILE *out,
                       struct tally *t) {
    struct arena arena;
    struct project p;
    struct project_answer a;
    struct why why;
    char path[2048];
    arena_init(&arena, alloc_heap(), (size_t)1 << 30);
    snprintf(path, sizeof path, "%s/%s", dir, file);
    double begin = cpu_seconds(), end = begin + seconds * .98;
    const char *bad = project_file_read(path, &arena, &p);
    struct limit limit = {.stop = cpu_past, .ctx = &end};
    if (bad || project_solve(&p, limit, 1, &arena, &a, &why)) {
        fprintf(stderr, "%s: %s\n", path, bad ? bad : why.text);
        t->violations++;
    } else {
        double used = cpu_seconds() - begin;
        const char *v = a.start ? violation(&p, &a) : NULL;
        if (v) {
            printf("%s: VIOLATION: %s\n", file, v);
            t->violations++;
        }
        struct known k = known_of(dir, file);
        count(t, file, &a, &k, used);
        if (out) print_row(out, file, &p, &a, used), fflush(out);
    }
    arena_free(&arena);
}

static int wanted(const struct dirent *d) {
    size_t n = strlen(d->d_name);
    return (n > 3 && !strcmp(d->d_name + n - 3, ".sm")) ||
           (n > 4 && !strcasecmp(d->d_name + n - 4, ".sch"));
}

int main(int argc, char **argv) {
    const char *dir = NULL, *out_path = NULL;
    double seconds = 1;
    for (int i = 1; i < argc; i++) {
        if (!strcmp(argv[i], "--seconds") && i + 1 < argc)
            seconds = atof(argv[++i]);
        else if (!strcmp(argv[i], "--out") && i + 1 < argc)
            out_path = argv[++i];
        else if (argv[i][0] != '-' && !dir)
            dir = argv[i];
        else
            dir = NULL, i = argc;
    }
    if (!dir || !(seconds > 0)) {
        fprintf(stderr, "usage: timetable DIR --seconds S [--out FILE]\n");
        return 2;
    }
    struct dirent **list;
    int n = scandir(dir, &list, wanted, versionsort);
    FILE *out = out_path ? fopen(out_path, "w") : NULL;
    if (n < 0 || (out_path && !out)) {
        perror(n < 0 ? dir : out_path);
        return 1;
    }
    if (out) fprintf(out, "instance,status,makespan,lower_bound,seconds,starts\n");
    struct tally t = {0};
    for (int i = 0; i < n; i++) {
        solve_file(dir, list[i]->d_name, seconds, out, &t);
        free(list[i]);
    }
    free(list);
    if (out && fclose(out)) perror(out_path);
    int files = t.files ? t.files : 1;
    printf("%-40s files %d  solved %d  decided %d (%.1f %%)  over best known %.3f %%  "
           "mean %.3f s  longest %.2f s  violations %d  wrong %d\n",
           dir, t.files, t.solved, t.decided, 100.0 * t.decided / files,
           t.compared ? t.over_percent / t.compared : 0.0, t.seconds / files, t.longest,
           t.violations, t.wrong);
    return t.violations || t.wrong ? 1 : 0;
}
