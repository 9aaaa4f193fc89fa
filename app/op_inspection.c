/* The guided inspection: which test next, an answer by a tap, what it changed in the plan. */
#include "app/book.h"
#include "app/change_words.h"
#include "app/gather.h"
#include "app/inspection_text.h"
#include "app/inspection_write.h"
#include "app/op_piece.h"
#include "codec/job_desc.h"
#include "codec/split.h"
#include "core/work/complete.h"
#include "core/work/guide.h"
#include "core/work/template.h"

#include <stdio.h>
#include <string.h>

static const char *const words_rank[] = {"", "note", "mind", "stop", NULL};

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
        struct guide_test, state, words_test_state,
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
    enum status s = complete_shop(call->app->tables, shop, &l, &full, why);
    if (!s) s = complete_piece(call->app->tables, &outline, at, &l, piece, why);
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
        if (!s) inspection_print(&call->out_body, g, call->arena);
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
    if (!s) inspection_print(&call->out_body, call->result, call->arena);
    return s;
}

/* ---- an answer ---- */

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
    if (!s) s = inspection_write(call, a, p, &document, why);
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
    inspection_changes_print(&call->out_body, out, call->arena);
    inspection_print(&call->out_body, out, call->arena);
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
