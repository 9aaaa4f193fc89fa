/* How long a plan takes and how much memory it needs, and how both grow.
 *
 * A job of two pieces whose parts are listed one by one, in three groups each; the same is planned
 * with 200 parts and, step by step, with up to 2,000. Each size runs in a process of its own, so
 * that its peak memory is its own. */
#include "app/op_plan.h"
#include "codec/job_desc.h"

#include <stdio.h>
#include <stdlib.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

enum { PIECES = 2, GROUPS = 3, RUNS = 7 };

static double seconds(void) {
    struct timespec t;
    clock_gettime(CLOCK_MONOTONIC, &t);
    return (double)t.tv_sec + (double)t.tv_nsec * 1e-9;
}

static void job_write(struct text *t, int parts) {
    static const char *const groups[GROUPS] = {"case", "drawers", "doors"};
    text_print(t, "{\"format\":\"coatwright-job\",\"version\":1,"
                  "\"shop\":{\"zone\":\"UTC\",\"drying_area\":\"40 m2\"},"
                  "\"shelf\":{\"paints\":["
                  "{\"id\":\"white\",\"name\":\"White\",\"class\":\"wb_enamel\",\"color\":\"#"
                  "f4f2ec\",\"stock\":\"9 L\"},"
                  "{\"id\":\"black\",\"name\":\"Black\",\"class\":\"wb_enamel\",\"color\":\"#"
                  "26262a\",\"stock\":\"9 L\"},"
                  "{\"id\":\"ochre\",\"name\":\"Yellow "
                  "ochre\",\"class\":\"wb_enamel\",\"color\":\"#c8923a\",\"stock\":\"9 L\"},"
                  "{\"id\":\"blue\",\"name\":\"Ultramarine\",\"class\":\"wb_enamel\",\"color\":\"#"
                  "2b2f6f\",\"stock\":\"9 L\"}]},"
                  "\"pieces\":[");
    for (int p = 0; p < PIECES; p++) {
        text_print(
            t,
            "%s{\"id\":\"piece-%d\",\"title\":\"Cabinet\",\"year\":1995,\"finish\":\"lacquer\","
            "\"wood\":\"red_oak\",\"wanted\":{\"color\":\"#7d8a8c\"},\"parts\":[",
            p ? "," : "", p);
        for (int i = 0; i < parts / PIECES; i++)
            text_print(
                t,
                "%s{\"id\":\"part-%d\",\"name\":\"Panel\",\"group\":\"%s\",\"shape\":\"panel\","
                "\"a\":\"%d mm\",\"b\":\"%d mm\",\"count\":1,\"treatment\":\"paint\"}",
                i ? "," : "", i, groups[i % GROUPS], 200 + i % 50, 300 + i % 70);
        text_print(t, "]}");
    }
    text_print(t, "]}");
}

struct result {
    double read_ms, plan_ms;
    long tasks, peak_kb;
};

static struct result measure(int parts) {
    struct text doc = {0};
    job_write(&doc, parts);
    struct result best = {1e9, 1e9, 0, 0};
    for (int run = 0; run < RUNS; run++) {
        struct arena arena;
        arena_init(&arena, alloc_heap(), 0);
        struct why why = {0};
        struct job job;
        double t0 = seconds();
        enum status s = document_read(&desc_job, SPELL_INPUT, doc.at, doc.n, &arena, &job, &why);
        double t1 = seconds();
        struct plan_answer a;
        struct plan_ask ask = {.now_utc_min = 29850000, .why = true};
        if (!s) s = plan_of_job(&tables_builtin, &job, &ask, &arena, &a, &why);
        double t2 = seconds();
        if (s) {
            fprintf(stderr, "%s: %s\n", why.field, why.text);
            exit(1);
        }
        if ((t1 - t0) * 1e3 < best.read_ms) best.read_ms = (t1 - t0) * 1e3;
        if ((t2 - t1) * 1e3 < best.plan_ms) best.plan_ms = (t2 - t1) * 1e3;
        best.tasks = (long)a.plan.days.n;
        arena_free(&arena);
    }
    text_free(&doc);
    struct rusage u;
    getrusage(RUSAGE_SELF, &u);
    best.peak_kb = u.ru_maxrss;
    return best;
}

static bool measure_apart(int parts, struct result *out) {
    int fd[2];
    if (pipe(fd)) return false;
    fflush(stdout);
    pid_t child = fork();
    if (child == 0) {
        struct result r = measure(parts);
        _exit(write(fd[1], &r, sizeof r) == sizeof r ? 0 : 1);
    }
    close(fd[1]);
    bool ok = child > 0 && read(fd[0], out, sizeof *out) == sizeof *out;
    close(fd[0]);
    int status;
    return waitpid(child, &status, 0) == child && ok && status == 0;
}

int main(void) {
    static const int sizes[] = {200, 500, 1000, 2000};
    struct result first = {0, 0, 0, 0};
    printf("parts  tasks  read ms  plan+sheet ms  peak MB   time x   memory x   (best of %d)\n",
           RUNS);
    for (size_t i = 0; i < sizeof sizes / sizeof *sizes; i++) {
        struct result r;
        if (!measure_apart(sizes[i], &r)) {
            fprintf(stderr, "plan of %d parts failed\n", sizes[i]);
            return 1;
        }
        if (!i) first = r;
        printf("%5d  %5ld  %7.2f  %13.2f  %7.1f  %7.2f  %9.2f\n", sizes[i], r.tasks, r.read_ms,
               r.plan_ms, (double)r.peak_kb / 1024, r.plan_ms / first.plan_ms,
               (double)r.peak_kb / (double)first.peak_kb);
    }
    return 0;
}
