/* Judges a timetable knowing only the problem and the answer; shares no code with the solver.
 * Slow and plain on purpose: minutes are walked one by one. */
#ifndef TEST_MODEL_TIMETABLE_JUDGE_H
#define TEST_MODEL_TIMETABLE_JUDGE_H

#include "core/timetable/timetable.h"

/* What is wrong with the answer, in words (static buffer), or NULL when every rule is kept. */
const char *timetable_judge(const struct timetable_problem *problem,
                            const struct timetable_answer *answer);

/* The same without looking at score and bound. */
const char *timetable_judge_rules(const struct timetable_problem *problem,
                                  const struct timetable_answer *answer);

/* Brute force asks millions of times and reads no words: they take a quarter of its time. */
extern bool timetable_judge_wordless;

#endif
