/* The guided inspection: which test next, an answer by a tap, what it changed in the plan. */
#include "app/book.h"
#include "app/change_words.h"
#include "app/gather.h"
#include "app/op_piece.h"
#include "codec/job_desc.h"
#include "codec/split.h"
#include "codec/text_wrap.h"
#include "core/work/complete.h"
#include "core/work/guide.h"
#include "core/work/template.h"

#include <ctype.h>
#include <stdio.h>
#include <string.h>

static const char *const words_rank[] = {"", "note", "mind", "stop", NULL};
static const char *const words_state[] = {"",        "next",  "open",       "done",
                                          "skipped", "waits", "not needed", NULL};

/* ---- shapes ---- */

static const struct field answer_fields[] = {
    F_TEXT(struct guide_answer, id, "what to send back"),
    F_TEXT(struct guide_answer, name, "what was seen"),
    F_TEXT(struct guide_answer, means, "what it means"),
    F_TEXT(struct guide_answer, member, "it is typed into this member of the piece's document"),
    F_BOOL(struct guide_answer, chosen, "the document says it"),
    F_TEXT(struct guide_answer, source, "id of the source"),
};
static DESC(desc_answer, struct guide_answer, "test_answer", "What may be seen.", answer_fields);

static const struct field test_fields[] = {
    F_TEXT(struct guide_test, id, "which test"),
    F_TEXT(struct guide_test, name, "its name"),
    F_WORD(
        struct guide_test, state, words_state,
        "next: worth making now; open: after it; done; skipped: stays unknown; waits: for another "
        "answer; not needed"),
    F_TEXT(struct guide_test, answer, "what was answered"),
    F_TEXT(struct guide_test, told, "what that means"),
    F_WORD(struct guide_test, rank, words_rank, "stop: before anything else; mind: before coating"),
    F_TEXT(struct guide_test, what, "do this"),
    F_TEXT(struct guide_test, see, "look for that"),
    F_TEXT(struct guide_test, means, "it means"),
    F_TEXT(struct guide_test, waits_for, "whose answer it waits for"),
    F_LIST(struct guide_test, answers, &desc_answer, 100, "what may be answered"),
    F_TEXT(struct guide_test, source, "id of the source"),
};
static DESC(desc_test, struct guide_test, "guide_test", "A test of the inspection.", test_fields);

struct guide_piece {
    const char *piece, *title, *next, *refusal;
    int64_t revision;
    struct guide_test *tests;
    size_t tests_n;
    struct plan_change *changed;
    size_t changed_n;
};
#define GUIDE_FIELDS                                                                               \
    F_TEXT(struct guide_piece, piece, "which piece"),                                              \
        F_TEXT(struct guide_piece, title, "what it is called"),                                    \
        F_TEXT(struct guide_piece, refusal, "why the piece is refused; missing: it is not"),       \
        F_TEXT(struct guide_piece, next, "the test worth making now; missing: none is left"),      \
        F_LIST(struct guide_piece, tests, &desc_test, 100, "the tests, in order")
static const struct field piece_fields[] = {GUIDE_FIELDS};
static DESC(desc_guide, struct guide_piece, "guide", "The inspection of a piece, test by test.",
            piece_fields);
static const struct field told_fields[] = {
    GUIDE_FIELDS,
    F_REVISION(struct guide_piece),
    F_LIST(struct guide_piece, changed, &desc_plan_change, 100, "what it changed in the plan"),
};
static DESC(desc_told, struct guide_piece, "guide_told",
            "The inspection after an answer, and what it changed.", told_fields);

struct guide_pieces {
    struct guide_piece *pieces;
    size_t pieces_n;
};
static const struct field pieces_fields[] = {
    F_LIST(struct guide_pieces, pieces, &desc_guide, 64, "the pieces of the document"),
};
static DESC(desc_pieces, struct guide_pieces, "guides", "The inspection of each piece.",
            pieces_fields);

/* ---- the list of one piece ---- */

struct document { /* what a piece's document says, for the core */
    const char *text;
    struct arena *arena;
};

static const char *document_says(void *ctx, const char *member) {
    const struct document *d = ctx;
    char pointer[80];
    const char *value = NULL;
    snprintf(pointer, sizeof pointer, "/%s", member);
    for (char *c = pointer; *c; c++)
        if (*c == '.') *c = '/';
    return split_at(d->text, pointer, d->arena, &value, NULL) ? NULL : value;
}

static enum status guide_of(struct op_call *call, const struct shop *shop,
                            const struct shelf *shelf, const struct piece *stated,
                            const char *document, const char *at, struct guide_piece *out,
                            struct why *why) {
    struct ledger l;
    struct shop full;
    struct piece outline, *piece = arena_take(call->arena, sizeof *piece);
    struct document d = {document, call->arena};
    if (!piece) return why_no_memory(why);
    ledger_init(&l, call->arena, false);
    piece_outline(call->app->tables, shop->units, stated, &outline);
    enum status s = complete_shop(shop, &l, &full, why);
    if (!s) s = complete_piece(&outline, at, &full, &l, piece, why);
    if (!s) s = template_fill(call->app->tables, full.units, at, &l, piece, why);
    if (s) return s;
    struct room r = {.t = call->app->tables,
                     .shop = &full,
                     .shelf = shelf,
                     .piece = piece,
                     .at = at,
                     .ledger = &l,
                     .now_utc_min = book_call_now(call)};
    struct inspection in;
    struct hazards h;
    struct guide_said said = {document_says, &d};
    if ((s = inspection_make(&r, &in, why)) || (s = hazard_make(&r, &in, &h, why))) return s;
    if ((s = guide_tests(&r, &in, &said, &out->tests, &out->tests_n)))
        return why_say(why, s, "", "%s", status_text(s));
    out->piece = stated->id;
    out->title = stated->title ? stated->title : stated->template;
    out->refusal = h.refused ? h.refusal : NULL;
    for (size_t i = 0; i < out->tests_n && !out->next; i++)
        if (out->tests[i].state == TEST_NEXT) out->next = out->tests[i].id;
    return OK;
}

/* ---- on a terminal ---- */

static void print_line(struct text *t, const char *head, const char *words) {
    enum { WORDS_AT = 8 };
    text_print(t, "  %-6s", head);
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

static void print_guide(struct text *t, const struct guide_piece *g, struct arena *arena) {
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
        text_print(t, "  %-11s %-12s ", words_state[n->state], n->id);
        text_wrap(t, NAME_AT, NAME_AT, line ? line : n->name);
    }
    for (size_t i = 0; i < g->tests_n; i++)
        if (g->tests[i].state == TEST_NEXT) print_next(t, &g->tests[i]);
}

static void print_changes(struct text *t, const struct guide_piece *g, struct arena *arena) {
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

/* ---- of a document, of a piece ---- */

struct job_args {
    const char *job;
};
static const struct field job_fields[] = {
    {F_AT(struct job_args, job), .type = FIELD_JSON, .flags = FLAG_REQUIRED | FLAG_FILE,
     .help = "the job document"},
};
static DESC(desc_job_args, struct job_args, "inspection_args", "Which job.", job_fields);

static enum status of_job(struct op_call *call, struct why *why) {
    const struct job_args *a = call->args;
    struct guide_pieces *answer = call->result;
    struct job *job = arena_take(call->arena, sizeof *job);
    const char *const *documents;
    size_t n;
    if (!job) return why_no_memory(why);
    enum status s =
        document_read(&desc_job, SPELL_INPUT, a->job, strlen(a->job), call->arena, job, why);
    if (!s) s = split_rows(a->job, "/pieces", call->arena, &documents, &n, why);
    if (s) return s;
    answer->pieces = arena_array(call->arena, n + 1, sizeof *answer->pieces);
    if (!answer->pieces) return why_no_memory(why);
    for (size_t i = 0; i < n && i < job->pieces_n && !s; i++) {
        struct guide_piece *g = &answer->pieces[answer->pieces_n++];
        *g = (struct guide_piece){.revision = INT64_MIN};
        s = guide_of(call, &job->shop, &job->shelf, &job->pieces[i], documents[i],
                     arena_print(call->arena, "/pieces/%zu", i), g, why);
        if (!s) print_guide(&call->out_body, g, call->arena);
    }
    return s;
}

static enum status of_row(struct op_call *call, const struct piece_row *row,
                          struct guide_piece *out, struct why *why) {
    struct gathered g;
    enum status s = gather_job(call, row->id, false, &g, why);
    if (!s)
        s = guide_of(call, &g.job.shop, &g.job.shelf, &g.job.pieces[0], row->document, "/piece",
                     out, why);
    return s;
}

static enum status of_piece(struct op_call *call, struct why *why) {
    const struct id_args *a = call->args;
    struct piece_row row;
    enum status s = book_get(call, &table_piece, a->id, &row, why);
    if (!s) s = of_row(call, &row, call->result, why);
    if (!s) print_guide(&call->out_body, call->result, call->arena);
    return s;
}

/* ---- an answer ---- */

struct test_args {
    const char *id, *test, *answer, *value;
    bool skip, open;
};
static const struct field test_args_fields[] = {
    F_ID(struct test_args, id, FLAG_REQUIRED, "which piece"),
    F_ID(struct test_args, test, FLAG_REQUIRED, "which test"),
    F_ID(struct test_args, answer, 0, "what was seen: id of one of its answers"),
    F_TEXT(struct test_args, value, "what is typed, where the answer is typed: 9 %, 1938"),
    F_BOOL(struct test_args, skip, "not made: it stays unknown and is planned for safely"),
    F_BOOL(struct test_args, open, "to be made (again): what was answered or skipped is taken out"),
};
static DESC(desc_test_args, struct test_args, "piece_test_args", "What a test has shown.",
            test_args_fields);

/* As JSON: true, false, numbers and lists as they stand, all else a text. */
static void print_value(struct text *t, const char *value, size_t n, bool typed) {
    bool digits = n > 0;
    for (size_t i = 0; i < n; i++) digits = digits && isdigit((unsigned char)value[i]);
    bool plain = digits || (!typed && *value == '[') || (n == 4 && !memcmp(value, "true", 4)) ||
                 (n == 5 && !memcmp(value, "false", 5));
    char text[256];
    if (!n)
        text_print(t, "null");
    else if (plain)
        text_print(t, "%.*s", (int)n, value);
    else
        snprintf(text, sizeof text, "%.*s", (int)n, value), text_json(t, text);
}

/* Writes one part of `sets` into the document by a patch: {"tests":{"rag":"red"}}. Parts are
 * written one after another: two patches in one would lose what they take out. */
static enum status set_write(struct op_call *call, const struct guide_set *s, const char *typed,
                             bool out, const char **document, struct why *why) {
    struct text t = {0};
    size_t depth = 0;
    bool asks = s->value_n == 1 && *s->value == '?';
    const char *value = asks ? typed : s->value;
    size_t n = out ? 0 : asks ? strlen(typed) : s->value_n;
    for (size_t i = 0, from = 0; i <= s->member_n; i++) {
        if (i < s->member_n && s->member[i] != '.') continue;
        text_print(&t, "{\"%.*s\":", (int)(i - from), s->member + from);
        from = i + 1, depth++;
    }
    print_value(&t, n ? value : "", n, asks);
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
        if (asks && !out && !typed)
            return why_say(why, E_MISSING, "/value", "%s: write it.", row->name);
        s = set_write(call, &set, typed, out, document, why);
    }
    return s;
}

/* The skipped tests of the document with one more or one less. */
static enum status skip_write(struct op_call *call, const struct piece *p, const char *test,
                              bool skip, const char **document, struct why *why) {
    struct text t = {0};
    size_t n = 0;
    text_print(&t, "{\"tests\":{\"skipped\":[");
    for (size_t i = 0; i < p->tests.skipped_n; i++)
        if (strcmp(p->tests.skipped[i], test))
            text_print(&t, "%s\"%s\"", n++ ? "," : "", p->tests.skipped[i]);
    if (skip) text_print(&t, "%s\"%s\"", n++ ? "," : "", test);
    text_print(&t, "]}}");
    const char *patch = t.failed ? NULL : arena_text(call->arena, t.at);
    text_free(&t);
    if (!patch) return why_no_memory(why);
    if (!skip && !p->tests.skipped_n) return OK;
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

static enum status test_write(struct op_call *call, const struct test_args *a,
                              const struct piece *p, const char **document, struct why *why) {
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
                s = sets_write(call, &t->test_answers[i], "", true, document, why);
        return s ? s : skip_write(call, p, a->test, false, document, why);
    }
    const struct test_answers_row *row = answer_of(t, a);
    if (!row)
        return why_say(why, a->answer ? E_REFERENCE : E_MISSING, a->answer ? "/answer" : "/value",
                       "%s: say what was seen. The inspection lists the answers.", test->name);
    s = sets_write(call, row, a->value, false, document, why);
    return s ? s : skip_write(call, p, a->test, false, document, why);
}

/* The plans for the comparison, made outside of the change where possible; one that cannot be made
 * leaves nothing to compare. */
struct compared {
    const struct plan_answer *before, *after;
};

/* With the piece as `document` has it; NULL: as it is in the book. */
static const struct plan_answer *plan_with(struct op_call *call, const char *id,
                                           const char *document) {
    struct gathered *g = arena_take(call->arena, sizeof *g);
    struct plan_answer *answer = arena_take(call->arena, sizeof *answer);
    struct plan_ask ask = {.now_utc_min = book_call_now(call), .supposed = document != NULL};
    if (!g || !answer || gather_job(call, id, true, g, NULL)) return NULL;
    if (document) {
        struct piece *p = &g->job.pieces[0], was = *p;
        desc_unsay(&desc_piece, p);
        if (document_read(&desc_piece, SPELL_INPUT, document, strlen(document), call->arena, p,
                          NULL))
            return NULL;
        p->id = was.id, p->title = was.title, p->batch = was.batch;
    }
    desc_unsay(&desc_plan_answer, answer);
    return gather_plan(call, g, id, &ask, answer, NULL) ? NULL : answer;
}

static const struct compared *plans_compare(struct op_call *call, const char *id,
                                            const char *document) {
    struct compared *c = call->prepared ? call->prepared : arena_take(call->arena, sizeof *c);
    if (c && !call->prepared)
        *c = (struct compared){plan_with(call, id, NULL), plan_with(call, id, document)};
    return call->prepared = c;
}

static enum status test(struct op_call *call, struct why *why) {
    const struct test_args *a = call->args;
    struct guide_piece *out = call->result;
    struct piece_row row;
    struct piece *p = arena_take(call->arena, sizeof *p);
    const char *document;
    enum status s = p ? book_get(call, &table_piece, a->id, &row, why) : why_no_memory(why);
    if (!s) s = book_fresh(call, &table_piece, &row, why);
    if (s) return s;
    desc_unsay(&desc_piece, p);
    s = document_read(&desc_piece, SPELL_INPUT, row.document, strlen(row.document), call->arena, p,
                      why);
    document = row.document;
    if (!s) s = test_write(call, a, p, &document, why);
    if (s) return s;
    const struct compared *c = plans_compare(call, a->id, document);
    if (!c) return why_no_memory(why);
    if (!book_writes(call->book)) return OK;
    s = piece_rewrite(call, &row, document, a->value ? "/value" : "/answer", why);
    if (!s) s = of_row(call, &row, out, why);
    if (s) return s;
    enum unit_system units = c->after ? c->after->plan.shop.units : UNITS_US;
    s = change_words(c->before, c->after, units, call->arena, &out->changed, &out->changed_n, why);
    out->revision = row.revision;
    if (s) return s;
    print_changes(&call->out_body, out, call->arena);
    print_guide(&call->out_body, out, call->arena);
    return OK;
}

static const char *const job_positional[] = {"job", NULL};
static const char *const test_positional[] = {"id", "test", "answer", NULL};
static const struct op rows[] = {
    {"inspection", OP_POST, "/api/inspection", &desc_job_args, &desc_pieces, job_positional, 0,
     "the tests of a job document with their state, and the next one worth making", of_job},
    {"piece inspection", OP_GET, "/api/pieces/{id}/inspection", &desc_id_args, &desc_guide,
     positional_id, OP_READS, "the tests of a piece with their state, and the next one", of_piece},
    {"piece test", OP_POST, "/api/pieces/{id}/tests", &desc_test_args, &desc_told, test_positional,
     OP_WRITES | OP_PREPARES | OP_SLOW,
     "answer, skip or reopen a test; says what changed in the plan", test},
};
extern const struct ops ops_inspection;
const struct ops ops_inspection = {rows, sizeof rows / sizeof *rows};
