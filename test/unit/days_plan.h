/* A job that is planned as a whole for a test of its days, and what they say. */
#ifndef TEST_UNIT_DAYS_PLAN_H
#define TEST_UNIT_DAYS_PLAN_H

#include "app/op_plan.h"
#include "codec/job_desc.h"

#include <stdio.h>
#include <string.h>

enum { DAY = 1440, MONDAY = 20731 /* 2026-10-05, days since 1970 */, OCTOBER_5 = MONDAY * DAY };

static struct arena arena;
static struct plan_answer answer;
static struct why why;
static int64_t now_min = OCTOBER_5 + 6 * 60;
static bool no_recipes;

/* A whole job from its shop, shelf and pieces, written with ' for ". */
static enum unit_system view; /* of the sheet; 0: the shop's */
static inline enum status plan(const char *shop, const char *paints, const char *pieces) {
    static struct job job;
    static char doc[32768];
    int n = snprintf(doc, sizeof doc,
                     "{'format':'coatwright-job','version':1,'shop':{'units':'us'%s},"
                     "'shelf':{'paints':[%s]},'pieces':[%s]}",
                     shop, paints, pieces);
    for (char *c = doc; *c; c++)
        if (*c == '\'') *c = '"';
    arena_free(&arena);
    arena_init(&arena, alloc_heap(), 0);
    why = (struct why){0};
    struct plan_ask ask = {
        .now_utc_min = now_min, .units = view, .recipes_of = no_recipes ? "" : NULL};
    enum status s = document_read(&desc_job, SPELL_INPUT, doc, (size_t)n, &arena, &job, &why);
    if (!s) s = plan_of_job(&tables_builtin, &job, &ask, &arena, &answer, &why);
    if (s) printf("  %s: %s\n", why.field, why.text);
    return s;
}

#define WHITE "{'id':'white','name':'White','class':'wb_enamel','color':'#f4f2ec','stock':'3 L'"
#define STAND(more, wanted)                                                                        \
    "{'id':'stand','title':'Nightstand','template':'nightstand','width':'24 in','depth':'16 in',"  \
    "'height':'28 in','finish':'lacquer','year':1995,'wood':'hard_maple'" more                     \
    ",'wanted':{'color':'#f4f2ec','product':'white'" wanted "}}"

static inline const struct days *days(void) {
    return &answer.plan.days;
}
/* The task of that id; an impossible one when there is none. */
static inline const struct day_task *task(const char *id) {
    static const struct day_task none = {.start_utc_min = -1, .end_utc_min = -1};
    for (size_t i = 0; i < days()->n; i++)
        if (!strcmp(days()->rows[i].id, id)) return &days()->rows[i];
    printf("  no task %s\n", id);
    return &none;
}
static inline bool says(const char *text, const char *words) {
    return text && strstr(text, words);
}
static inline int notes(const char *words) {
    int n = 0;
    for (size_t i = 0; i < days()->n; i++) n += says(days()->rows[i].note, words);
    return n;
}
static inline bool minded(const char *words) {
    for (size_t i = 0; i < days()->gates.n; i++)
        if (says(days()->gates.rows[i].text, words)) return true;
    return false;
}

#endif
