#include "core/work/guide.h"
#include "core/work/fact.h"
#include "core/work/hazard.h"
#include "core/work/inspection.h"
#include "core/work/template.h"
#include "core/work/usual.h"

#include <math.h>
#include <string.h>

void piece_outline(const struct tables *t, enum unit_system units, const struct piece *said,
                   struct piece *out) {
    const struct piece_templates_row *usual = template_of(t, said->template);
    *out = *said;
    if (usual && isnan(out->width_mm)) out->width_mm = usual_length(usual->width_mm, units);
    if (usual && isnan(out->depth_mm)) out->depth_mm = usual_length(usual->depth_mm, units);
    if (usual && isnan(out->height_mm)) out->height_mm = usual_length(usual->height_mm, units);
    if (!out->wanted.color.text && !out->wanted.product && !out->wanted.top)
        out->wanted.product = "wb_enamel"; /* what most pieces get, and no recipe to search */
}

/* ---- answers ---- */

bool guide_set_next(const char **at, struct guide_set *out) {
    *at += strspn(*at, "; ");
    if (!**at) return false;
    out->member = *at;
    out->member_n = strcspn(*at, "=");
    *at += out->member_n;
    if (**at == '=') ++*at;
    out->value = *at;
    out->value_n = strcspn(*at, ";");
    *at += out->value_n;
    return true;
}

struct guide {
    const struct room *room;
    const struct guide_said *said;
    struct facts facts;
};

/* A JSON text without the quotation marks of a string. */
static const char *bare(const struct guide *g, const char *json) {
    size_t n = strlen(json);
    return n >= 2 && *json == '"' ? ROOM_TEXT(g->room, "%.*s", (int)(n - 2), json + 1) : json;
}

static const char *said_of(const struct guide *g, const struct guide_set *s) {
    char member[64];
    if (s->member_n >= sizeof member) return NULL;
    memcpy(member, s->member, s->member_n);
    member[s->member_n] = 0;
    const char *json = g->said->of(g->said->ctx, member);
    return json ? bare(g, json) : NULL;
}

/* Only the first part of `sets` tells whether it was answered; the others clear what became void.
 */
static void answer_make(const struct guide *g, const struct test_answers_row *row,
                        struct guide_test *test) {
    struct guide_answer *a = &test->answers[test->answers_n++];
    const char *at = row->sets;
    struct guide_set set;
    *a = (struct guide_answer){
        .id = row->id, .name = row->name, .means = row->means, .source = row->source};
    if (!guide_set_next(&at, &set)) return;
    const char *now = said_of(g, &set);
    bool typed = set.value_n == 1 && *set.value == '?';
    if (typed)
        a->member = ROOM_TEXT(g->room, "%.*s", (int)set.member_n, set.member);
    else
        a->chosen = now && strlen(now) == set.value_n && !memcmp(now, set.value, set.value_n);
    if (now && !test->answer && (typed || test->answers_n == 1))
        test->answer = *now == '[' ? "measured" : ledger_words(g->room->ledger, now),
        test->told = NULL;
    if (a->chosen) test->answer = row->name, test->told = row->means;
}

static enum status answers_of(const struct guide *g, struct guide_test *test) {
    const struct tables *t = g->room->t;
    size_t n = 0;
    for (size_t i = 0; i < t->test_answers_n; i++) n += !strcmp(t->test_answers[i].test, test->id);
    test->answers = arena_array(g->room->ledger->arena, n + 1, sizeof *test->answers);
    if (!test->answers) return E_MEMORY;
    for (size_t i = 0; i < t->test_answers_n; i++)
        if (!strcmp(t->test_answers[i].test, test->id)) answer_make(g, &t->test_answers[i], test);
    return OK;
}

/* ---- states ---- */

static bool is_open(enum test_state s) {
    return s == TEST_NEXT || s == TEST_OPEN || s == TEST_WAITS;
}

/* Does one of the tests named in the list, all of them earlier, still stand open? */
static bool hangs(const char *after, const struct guide_test *earlier, size_t n) {
    for (const char *at = after + strspn(after, " "); *at; at += strspn(at, " ")) {
        size_t length = strcspn(at, " ");
        for (size_t i = 0; i < n; i++)
            if (strlen(earlier[i].id) == length && !memcmp(earlier[i].id, at, length) &&
                is_open(earlier[i].state))
                return true;
        at += length;
    }
    return false;
}

static enum test_state state_of(const struct guide *g, const struct tests_row *row,
                                const struct guide_test *earlier, size_t n, bool refused) {
    const struct guide_test *test = &earlier[n];
    if (refused) return test->answer ? TEST_DONE : TEST_NOT_NEEDED;
    if (!fact_holds(&g->facts, row->open))
        return test->answer                    ? TEST_DONE
               : hangs(row->after, earlier, n) ? TEST_WAITS
                                               : TEST_NOT_NEEDED;
    if (test_skipped(&g->room->piece->tests, row->id)) return TEST_SKIPPED;
    if (*row->waits_for) return TEST_WAITS;
    for (size_t i = 0; i < n; i++)
        if (earlier[i].state == TEST_NEXT) return TEST_OPEN;
    return TEST_NEXT;
}

enum status guide_tests(const struct room *room, const struct inspection *in,
                        const struct guide_said *said, struct guide_test **out_tests,
                        size_t *out_n) {
    const struct tables *t = room->t;
    struct guide g = {.room = room, .said = said};
    struct guide_test *tests = arena_array(room->ledger->arena, t->tests_n + 1, sizeof *tests);
    size_t n = 0;
    if (!tests) return E_MEMORY;
    fact_make(room, in, &g.facts);
    bool refused = hazard_refuses(&g.facts) != NULL;
    for (size_t i = 0; i < t->tests_n; i++) {
        const struct tests_row *row = &t->tests[i];
        struct guide_test *test = &tests[n];
        if (!fact_holds(&g.facts, row->applies)) continue;
        *test = (struct guide_test){.id = row->id,
                                    .name = row->name,
                                    .what = test_what(room, row),
                                    .see = row->see,
                                    .means = row->means,
                                    .source = row->source,
                                    .waits_for = *row->waits_for ? row->waits_for : NULL,
                                    .rank = !strcmp(row->rank, "stop") ? RANK_STOP : RANK_MIND};
        if (answers_of(&g, test)) return E_MEMORY;
        test->state = state_of(&g, row, tests, n, refused);
        if (test->state == TEST_WAITS) test->answer = test->told = NULL;
        n++;
    }
    *out_tests = tests;
    *out_n = n;
    return room->ledger->failed ? E_MEMORY : OK;
}
