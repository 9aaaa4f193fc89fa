/* Whole jobs drawn at random (days_draw.c), planned, and judged by the rows alone (days_judge.c).
 * One job at a time, which all three share. */
#ifndef TEST_MODEL_DAYS_MODEL_H
#define TEST_MODEL_DAYS_MODEL_H

#include "app/op_plan.h"
#include "core/base/random.h"

enum { DAY = 1440, MONDAY = 20731 /* 2026-10-05 */, NOW = MONDAY * DAY + 6 * 60, PIECES_MAX = 4 };
enum { KEPT_MAX = 600 };

/* ---- days_draw.c */
extern struct arena arena;
extern struct plan_answer answer;
extern struct why why;
extern struct random rnd;
extern char doc[16384]; /* the job that was drawn */
extern int64_t now_min;
extern uint64_t seed;
extern struct task_kept kept[KEPT_MAX]; /* what was promised, begun and done */
extern size_t kept_n;

int below(int n); /* 0 to n - 1 */
void job_draw(void);
/* Accepts the days; what lies before `until` is done as planned, or a little later. */
void time_passes(int64_t until);
enum status plan(void);

/* ---- days_judge.c */
extern int wrong_n, stacked_n;

void wrong(const struct day_task *t, const char *what);
const struct task_kept *kept_of(const struct day_task *t);
void judge(void);

#endif
