/* The whole test harness: named cases, checks that print both sides, one closing line.
 *
 *   CASE("what must hold") { CHECK(a == b); CHECK_NEAR(x, 2.5, 1e-9); }
 *   int main(void) { ...cases...; return check_done(); }
 *
 * A case counts as failed when any check in it fails. SKIP says why and counts as skipped. */
#ifndef TEST_CHECK_H
#define TEST_CHECK_H

#include <math.h>
#include <stdio.h>
#include <string.h>

static int check_passed, check_failed, check_skipped, check_bad, check_skip;
static const char *check_name;

static inline int check_close(void) {
    if (check_name) {
        if (check_skip)
            check_skipped++;
        else if (check_bad)
            check_failed++, printf("FAILED %s\n", check_name);
        else
            check_passed++;
    }
    check_name = NULL;
    return 1;
}

static inline int check_open(const char *name) {
    check_close();
    check_name = name;
    check_bad = check_skip = 0;
    return 1;
}

#define CASE(...) if (check_open(__VA_ARGS__))
#define SKIP(...)                                                                                  \
    (check_skip = 1, printf("skipped %s: ", check_name), printf(__VA_ARGS__), puts(""))
#define CHECK(cond)                                                                                \
    ((cond) ? (void)0                                                                              \
            : (check_bad++, (void)printf("%s:%d: not so: %s\n", __FILE__, __LINE__, #cond)))
#define CHECK_NEAR(got, want, tol)                                                                 \
    do {                                                                                           \
        double g_ = (got), w_ = (want);                                                            \
        if (!(fabs(g_ - w_) <= (tol)))                                                             \
            check_bad++,                                                                           \
                printf("%s:%d: %s is %.10g, want %.10g\n", __FILE__, __LINE__, #got, g_, w_);      \
    } while (0)
#define CHECK_TEXT(got, want)                                                                      \
    do {                                                                                           \
        const char *g_ = (got), *w_ = (want);                                                      \
        if (!g_ || strcmp(g_, w_))                                                                 \
            check_bad++, printf("%s:%d: %s is \"%s\", want \"%s\"\n", __FILE__, __LINE__, #got,    \
                                g_ ? g_ : "(null)", w_);                                           \
    } while (0)

static inline int check_done(void) {
    check_close();
    printf("%d passed, %d failed, %d skipped\n", check_passed, check_failed, check_skipped);
    return check_failed ? 1 : 0;
}

#endif
