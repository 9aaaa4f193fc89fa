/* Asks operations of a book as server and command line do: arguments and answers as JSON. */
#ifndef TEST_UNIT_ASK_H
#define TEST_UNIT_ASK_H

#include "app/op.h"
#include "test/unit/temp_book.h"

#include <math.h>

struct asker {
    struct temp_book temp;
    struct app app;
    struct arena arena;
    int64_t now_utc_min;
    const char *key;     /* of the next request only */
    int64_t if_revision; /* of the next request only */
    int64_t revision;    /* of the last answer */
    struct why why;      /* of the last failure */
};

static inline int64_t asker_now(void *ctx) {
    return ((struct asker *)ctx)->now_utc_min;
}

static inline void asker_open(struct asker *a) {
    memset(a, 0, sizeof *a);
    a->temp = temp_book_make();
    a->now_utc_min = TEMP_NOW;
    a->if_revision = INT64_MIN;
    a->app = (struct app){.tables = &tables_builtin,
                          .store = temp_book_open(&a->temp),
                          .now_utc_min = asker_now,
                          .now_ctx = a};
    arena_init(&a->arena, alloc_heap(), 0);
}

static inline void asker_close(struct asker *a) {
    store_close(a->app.store);
    arena_free(&a->arena);
    temp_book_gone(&a->temp);
}

/* The status; *out is the answer as one line of JSON (or the body, where it is not JSON). */
static inline enum status ask(struct asker *a, const char *name, const char *args,
                              const char **out) {
    static char nothing[64];
    const struct op *op = op_by_name(name);
    struct text t = {0};
    *out = "";
    memset(&a->why, 0, sizeof a->why);
    if (!op) return printf("there is no operation %s\n", name), E_NOT_FOUND;
    void *in = op->args ? arena_take(&a->arena, op->args->size) : nothing;
    void *result = op->result ? arena_take(&a->arena, op->result->size) : nothing;
    if (op->args) desc_unsay(op->args, in);
    if (op->result) desc_unsay(op->result, result);
    enum status s = OK;
    if (op->args)
        s = document_read(op->args, SPELL_INPUT, args, strlen(args), &a->arena, in, &a->why);
    struct op_call call = {.app = &a->app,
                           .arena = &a->arena,
                           .args = in,
                           .result = result,
                           .key = a->key,
                           .if_revision = a->if_revision};
    a->key = NULL, a->if_revision = INT64_MIN;
    if (!s) s = op_run(op, &call, &a->why);
    a->revision = call.out_revision;
    if (!s && call.out_type)
        *out = call.out_body.at ? arena_text(&a->arena, call.out_body.at) : "";
    else if (!s && op->result && !document_print(op->result, SPELL_RESULT, result, 0, &t))
        *out = arena_text(&a->arena, t.at);
    text_free(&t);
    text_free(&call.out_body);
    return s;
}

/* The text of "member": in an answer, without its quotation marks; "" when it is not there. */
static inline const char *said(struct asker *a, const char *answer, const char *member) {
    char name[80];
    snprintf(name, sizeof name, "\"%s\":", member);
    const char *at = strstr(answer, name);
    if (!at) return "";
    at += strlen(name);
    size_t n = *at == '"' ? strcspn(at + 1, "\"") : strcspn(at, ",}]");
    return arena_print(&a->arena, "%.*s", (int)n, *at == '"' ? at + 1 : at);
}

static inline int64_t said_int(struct asker *a, const char *answer, const char *member) {
    const char *text = said(a, answer, member);
    return *text ? strtoll(text, NULL, 10) : INT64_MIN;
}

static inline double said_real(struct asker *a, const char *answer, const char *member) {
    const char *text = said(a, answer, member);
    return *text ? strtod(text, NULL) : (double)NAN;
}

static inline int count_of(const char *answer, const char *part) {
    int n = 0;
    for (; (answer = strstr(answer, part)); answer += strlen(part)) n++;
    return n;
}

#endif
