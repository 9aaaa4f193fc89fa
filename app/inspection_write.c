#include "app/inspection_write.h"

#include "core/base/name.h"
#include "core/work/guide.h"

#include <string.h>

/* What a table writes: true, false, numbers and lists as they stand, all else a text. */
static bool is_plain(const char *value) {
    return *value == '[' || !strcmp(value, "true") || !strcmp(value, "false") ||
           value[strspn(value, "0123456789")] == 0;
}

/* What somebody typed is a text, but for whole numbers as JSON writes them. */
static bool is_whole(const char *typed) {
    enum { DIGITS_MAX = 15 };
    size_t n = strspn(typed, "0123456789");
    return n && n <= DIGITS_MAX && !typed[n] && (*typed != '0' || n == 1);
}

/* Writes one part of `sets` into the document by a patch: {"tests":{"rag":"red"}}. Parts are
 * written one after another: two patches in one would lose what they take out. */
static enum status set_write(struct op_call *call, const struct guide_set *s, const char *typed,
                             bool out, const char **document, struct why *why) {
    struct text t = {0};
    size_t depth = 0;
    const char *value = typed ? typed : arena_print(call->arena, "%.*s", (int)s->value_n, s->value);
    if (!value) return why_no_memory(why);
    for (size_t i = 0, from = 0; i <= s->member_n; i++) {
        if (i < s->member_n && s->member[i] != '.') continue;
        text_print(&t, "{\"%.*s\":", (int)(i - from), s->member + from);
        from = i + 1, depth++;
    }
    if (out || !*value)
        text_print(&t, "null");
    else if (typed ? is_whole(value) : is_plain(value))
        text_print(&t, "%s", value);
    else
        text_json(&t, value);
    while (depth--) text_print(&t, "}");
    const char *patch = t.failed ? NULL : arena_text(call->arena, t.at);
    text_free(&t);
    if (!patch) return why_no_memory(why);
    return document_merge(*document, patch, call->arena, document, why);
}

static enum status sets_write(struct op_call *call, const struct test_answers_row *row,
                              const char *typed, bool out, const char **document, struct why *why) {
    const char *at = row->sets;
    struct guide_set set;
    enum status s = OK;
    while (!s && guide_set_next(&at, &set)) {
        bool asks = set.value_n == 1 && *set.value == '?';
        if (asks && !out && !name_said(typed))
            return why_say(why, E_MISSING, "/value", "%s: write it.", row->name);
        s = set_write(call, &set, asks ? typed : NULL, out, document, why);
    }
    return s;
}

/* The skipped tests of the document with one more or one less. */
static enum status skip_write(struct op_call *call, const struct piece *p, const char *test,
                              bool skip, const char **document, struct why *why) {
    struct text t = {0};
    size_t n = 0;
    if (!skip && !p->tests.skipped_n) return OK;
    text_print(&t, "{\"tests\":{\"skipped\":[");
    for (size_t i = 0; i < p->tests.skipped_n; i++)
        if (strcmp(p->tests.skipped[i], test))
            text_print(&t, "%s\"%s\"", n++ ? "," : "", p->tests.skipped[i]);
    if (skip) text_print(&t, "%s\"%s\"", n++ ? "," : "", test);
    text_print(&t, "]}}");
    const char *patch = t.failed ? NULL : arena_text(call->arena, t.at);
    text_free(&t);
    if (!patch) return why_no_memory(why);
    return document_merge(*document, patch, call->arena, document, why);
}

static const struct tests_row *test_of(const struct tables *t, const char *id) {
    for (size_t i = 0; i < t->tests_n; i++)
        if (!strcmp(t->tests[i].id, id)) return &t->tests[i];
    return NULL;
}

/* The answer named by its id, with or without the test in front: "wax_greasy", "greasy"; without a
 * name the one that is typed. */
static const struct test_answers_row *answer_of(const struct tables *t, const struct test_args *a) {
    size_t n = strlen(a->test);
    for (size_t i = 0; i < t->test_answers_n; i++) {
        const struct test_answers_row *row = &t->test_answers[i];
        if (strcmp(row->test, a->test) || strncmp(row->id, a->test, n)) continue;
        if (a->answer ? !strcmp(row->id, a->answer) || !strcmp(row->id + n + 1, a->answer)
                      : a->value && strstr(row->sets, "=?"))
            return row;
    }
    return NULL;
}

enum status inspection_write(struct op_call *call, const struct test_args *a, const struct piece *p,
                             const char **document, struct why *why) {
    const struct tables *t = call->app->tables;
    const struct tests_row *test = test_of(t, a->test);
    enum status s = OK;
    if (!test)
        return why_say(why, E_REFERENCE, "/test",
                       "\"%.64s\" is no test. The inspection lists them.", a->test);
    if (a->skip) return skip_write(call, p, a->test, true, document, why);
    if (a->open) {
        for (size_t i = 0; !s && i < t->test_answers_n; i++)
            if (!strcmp(t->test_answers[i].test, a->test))
                s = sets_write(call, &t->test_answers[i], NULL, true, document, why);
        return s ? s : skip_write(call, p, a->test, false, document, why);
    }
    const struct test_answers_row *row = answer_of(t, a);
    if (!row)
        return why_say(why, a->answer ? E_REFERENCE : E_MISSING, a->answer ? "/answer" : "/value",
                       "%s: say what was seen. The inspection lists the answers.", test->name);
    s = sets_write(call, row, a->value, false, document, why);
    return s ? s : skip_write(call, p, a->test, false, document, why);
}
