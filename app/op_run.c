#include "app/memory.h"
#include "app/op.h"
#include "app/when.h"
#include "store/answer.h"
#include "store/store.h"

#include <stdio.h>
#include <string.h>

enum { KEY_MAX = 200 };

/* Whatever found no memory on the way, its answer is not whole. */
static enum status run(const struct op *op, struct op_call *call, struct why *why) {
    enum status s = op->run(call, why);
    return !s && (call->arena->failed || call->out_body.failed) ? why_no_memory(why) : s;
}

static enum status run_reading(const struct op *op, struct op_call *call, struct why *why) {
    enum status s = store_read(call->app->store, &call->book, why);
    if (s) return s;
    s = run(op, call, why);
    if (!s && call->out_revision == INT64_MIN) call->out_revision = book_revision(call->book);
    store_read_end(call->book);
    call->book = NULL;
    return s;
}

/* The arguments and the body as a short text: two 64-bit FNV-1a sums, from both ends. It tells a
 * retry from another request under the same key; it protects against nothing else. */
static enum status fingerprint(const struct op_call *call, char out[40], struct why *why) {
    struct text t = {0};
    uint64_t a = 14695981039346656037u, b = a;
    enum status s =
        call->op->args ? document_print(call->op->args, SPELL_INPUT, call->args, 0, &t) : OK;
    if (s || t.failed) {
        text_free(&t);
        return why_no_memory(why);
    }
    for (size_t i = 0; i < call->body_n; i++) {
        const unsigned char *body = call->body;
        a = (a ^ body[i]) * 1099511628211u;
        b = (b ^ body[call->body_n - 1 - i]) * 1099511628211u;
    }
    for (size_t i = 0; i < t.n; i++) {
        a = (a ^ (unsigned char)t.at[i]) * 1099511628211u;
        b = (b ^ (unsigned char)t.at[t.n - 1 - i]) * 1099511628211u;
    }
    text_free(&t);
    snprintf(out, 40, "%016llx%016llx", (unsigned long long)a, (unsigned long long)b);
    return OK;
}

static enum status check_key(const char *key, struct why *why) {
    size_t n = strlen(key);
    for (size_t i = 0; i < n; i++)
        if (key[i] < 33 || key[i] > 126) n = 0;
    if (n >= 8 && n <= KEY_MAX) return OK;
    return why_say(why, E_SYNTAX, "", "An idempotency key has 8 to %d visible ASCII characters.",
                   KEY_MAX);
}

static enum status keep_answer(struct op_call *call, const char *asked, struct why *why) {
    struct text t = {0};
    enum status s = OK;
    if (call->op->result) s = document_print(call->op->result, SPELL_RESULT, call->result, 0, &t);
    if (!s && t.failed) s = E_MEMORY;
    if (s)
        why_say(why, s, "", "The answer could not be kept.");
    else
        s = answer_keep(call->book, call->key, call->op->name, asked, t.at ? t.at : "{}", why);
    text_free(&t);
    return s;
}

/* True: the key was seen before and the answer of then is in call->result (or s tells why not). */
static bool answered_before(struct op_call *call, const char *asked, enum status *out_s,
                            struct why *why) {
    const char *answer = NULL;
    int64_t revision = INT64_MIN;
    *out_s = answer_find(call->book, call->key, call->op->name, asked, call->arena, &answer,
                         &revision, why);
    if (*out_s || !answer) return *out_s != OK;
    call->out_revision = revision;
    if (call->op->result)
        *out_s = document_read(call->op->result, SPELL_RESULT, answer, strlen(answer), call->arena,
                               call->result, why);
    return true;
}

static void forget(const struct op *op, struct op_call *call) {
    call->prepared = NULL;
    text_free(&call->out_body);
    if (op->result) desc_unsay(op->result, call->result);
}

/* The reading run, so that nobody waits for this writer while it computes. What it refuses is
 * refused again by the writing run, which knows whether the request was answered before. */
static enum status prepare(const struct op *op, struct op_call *call, int64_t *out_at,
                           struct why *why) {
    struct why unheard = {{0}, {0}};
    call->prepared = NULL;
    enum status s = store_read(call->app->store, &call->book, why);
    if (s) return s;
    *out_at = book_revision(call->book);
    if (op->run(call, &unheard)) forget(op, call);
    store_read_end(call->book);
    call->book = NULL;
    return OK;
}

/* Begins the change; what was prepared is of the state just before it, or is gone. */
static enum status begin(const struct op *op, struct op_call *call, struct why *why) {
    enum { TRIES = 3 };
    int64_t at = INT64_MIN;
    for (int i = 1;; i++) {
        enum status s = op->flags & OP_PREPARES ? prepare(op, call, &at, why) : OK;
        if (!s)
            s = store_write(call->app->store, op->name, call->app->now_utc_min(call->app->now_ctx),
                            &call->book, why);
        if (s || !call->prepared || book_revision(call->book) == at + 1) return s;
        forget(op, call);
        if (i == TRIES) return OK;
        store_rollback(call->book);
    }
}

static enum status run_writing(const struct op *op, struct op_call *call, struct why *why) {
    char asked[40] = "";
    enum status s = OK;
    if (call->key) s = check_key(call->key, why);
    if (!s && call->key) s = fingerprint(call, asked, why);
    if (!s) s = begin(op, call, why);
    if (s) return s;
    if (call->key && answered_before(call, asked, &s, why)) {
        store_rollback(call->book);
        call->book = NULL;
        return s;
    }
    s = run(op, call, why);
    if (!s && call->key) s = keep_answer(call, asked, why);
    if (!s) call->out_revision = book_revision(call->book);
    if (s)
        store_rollback(call->book);
    else
        s = store_commit(call->book, why);
    call->book = NULL;
    return s;
}

enum status op_run(const struct op *op, struct op_call *call, struct why *why) {
    call->op = op;
    call->book = NULL;
    call->limit.recall = memory_recall(call->app->memory);
    call->out_revision = INT64_MIN;
    if (op->flags & (OP_READS | OP_WRITES)) {
        enum status s = when_args(call, why);
        if (s) return s;
    }
    if ((op->flags & OP_BOOKLESS) && !call->app->store) return run(op, call, why);
    if ((op->flags & (OP_READS | OP_WRITES | OP_BOOK)) && !call->app->store)
        return why_say(why, E_NOT_FOUND, "", "No book is open. Name one: --book FILE.");
    if (!(op->flags & (OP_READS | OP_WRITES))) return run(op, call, why);
    return op->flags & OP_WRITES ? run_writing(op, call, why) : run_reading(op, call, why);
}
