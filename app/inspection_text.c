#include "app/inspection_text.h"

#include "codec/text_wrap.h"

#include <string.h>

const char *const words_test_state[] = {"",        "next",  "open",       "done",
                                        "skipped", "waits", "not needed", NULL};

static void print_line(struct text *t, const char *head, const char *words) {
    enum { WORDS_AT = 9 };
    text_print(t, "  %-7s", head);
    text_wrap(t, WORDS_AT, WORDS_AT, words);
}

static void print_next(struct text *t, const struct guide_test *n) {
    text_print(t, "\nNext: %s\n", n->name);
    print_line(t, "Do", n->what);
    print_line(t, "Look", n->see);
    print_line(t, "Means", n->means);
    for (size_t i = 0; i < n->answers_n; i++) {
        const char *id = n->answers[i].id + strlen(n->id) + 1;
        text_print(t, "  - %s: ", id);
        text_wrap(t, 6 + text_columns(id, strlen(id)), 4, n->answers[i].name);
        if (n->answers[i].member) text_print(t, "    with --value\n");
    }
}

void inspection_print(struct text *t, const struct guide_piece *g, struct arena *arena) {
    text_print(t, "%s\n", g->title ? g->title : "Piece");
    if (g->refusal) {
        text_print(t, "Refused. ");
        text_wrap(t, 9, 0, g->refusal);
    }
    for (size_t i = 0; i < g->tests_n; i++) {
        const struct guide_test *n = &g->tests[i];
        enum { NAME_AT = 27 };
        const char *line = arena_print(arena, "%s%s%s", n->name, n->answer ? ": " : "",
                                       n->answer ? n->answer : "");
        text_print(t, "  %-11s %-12s ", words_test_state[n->state], n->id);
        text_wrap(t, NAME_AT, NAME_AT, line ? line : n->name);
    }
    for (size_t i = 0; i < g->tests_n; i++)
        if (g->tests[i].state == TEST_NEXT) print_next(t, &g->tests[i]);
}

void inspection_changes_print(struct text *t, const struct guide_piece *g, struct arena *arena) {
    text_print(t, "%s\n", g->changed_n ? "What it changed:" : "Nothing in the plan has changed.");
    for (size_t i = 0; i < g->changed_n; i++) {
        const struct plan_change *c = &g->changed[i];
        const char *line = c->before && c->after
                               ? arena_print(arena, "%s: %s (was %s)", c->what, c->after, c->before)
                               : arena_print(arena, "%s %s: %s", c->after ? "+" : "-", c->what,
                                             c->after ? c->after : c->before);
        text_print(t, "  ");
        text_wrap(t, 2, 4, line ? line : c->what);
    }
    text_print(t, "\n");
}
