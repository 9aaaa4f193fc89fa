/* Operations: one table serves HTTP and command line alike.
 *
 * A row names the operation as words ("color diff"), its HTTP method and path
 * ("GET /api/colors/difference"), the described struct of its arguments (path, query and body
 * members, options and positionals alike), the described struct of its result, one line of help
 * and the handler. JSON, --json, --help, OpenAPI and generic printing follow from it.
 *
 * On the command line, arguments in `positional` order come without a name; all others are
 * --name VALUE. Over HTTP, members named in {braces} in the path come from it; for GET the others
 * are the query, else the JSON body. */
#ifndef APP_OP_H
#define APP_OP_H

#include "codec/desc.h"
#include "codec/document.h"
#include "core/base/arena.h"
#include "core/base/limit.h"
#include "core/base/status.h"
#include "tables.h"

struct store; /* the job book, store/store.h; NULL where no book is open */
struct book;  /* one transaction on it, store/store.h */
struct memory;

enum op_method { OP_GET, OP_POST, OP_PUT, OP_PATCH, OP_DELETE };
const char *op_method_name(enum op_method m); /* "GET" */

enum { OP_FILE_BYTES_MAX = 30 * 1024 * 1024 };

enum op_flags {
    OP_READS = 1,    /* needs the book, reads */
    OP_WRITES = 2,   /* needs the book, writes: revision checked, key remembered */
    OP_CLI_ONLY = 4, /* touches the person's files; never over HTTP */
    OP_HTTP_ONLY = 8,
    OP_SLOW = 16,      /* runs on a worker; may be cancelled through limit.stop */
    OP_BOOK = 32,      /* needs the book, opens its transactions itself (copies, restoring) */
    OP_FILE = 64,      /* takes a picture's bytes: the body over HTTP, a file on the command line */
    OP_PREPARES = 128, /* an OP_WRITES that computes long: it is run twice, first only reading */
    OP_BOOKLESS = 256, /* an OP_READS that answers where there is no book too: call->book is NULL */
    OP_MENDS = 512, /* an OP_BOOK that a damaged book is opened for: lists or brings back copies */
    OP_WHOLE =
        1024, /* takes a whole book's text: the JSON body over HTTP, a file on the command line */
};

struct app { /* what every operation may use; owned by main */
    const struct tables *tables;
    struct store *store;
    bool mend;             /* app_open opens a damaged book too, for an OP_MENDS */
    struct memory *memory; /* what searches found before (app/memory.h); NULL: nothing is kept */
    int64_t (*now_utc_min)(void *ctx); /* the clock comes in, so that tests can set it */
    void *now_ctx;
};

/* Opens the job book.
 *   path    NULL: the person's own, $XDG_DATA_HOME/coatwright/shop.book
 *   serve   a server: the book's lock is held, a second server is refused
 *   create  begin one where there is none
 * Errors: E_NOT_FOUND, E_NEWER, E_DAMAGED, E_BUSY, E_IO. */
enum status app_open(struct app *app, const char *path, bool create, bool serve, struct why *why);
/* What a server does once it answers: the book's copy of the day. limit->stop ends it early and
 * leaves nothing behind. Errors: E_IO. */
enum status app_daily(struct app *app, const struct limit *limit, struct why *why);
void app_close(struct app *app);
/* What went through last; a server tells its pages when it moves. INT64_MIN: no book. */
int64_t app_revision(struct app *app);

struct op_call {
    struct app *app;
    struct arena *arena; /* of this request */
    struct limit limit;
    const struct op *op; /* set by op_run */
    struct book *book;   /* the open transaction of OP_READS and OP_WRITES; set by op_run */
    const void *args;    /* described by op->args */
    void *result;        /* described by op->result, zeroed/unsaid before */
    const void *body;    /* of OP_FILE and OP_WHOLE over HTTP; NULL: an argument names the file */
    size_t body_n;
    /* of OP_PREPARES: what the reading run left for the writing one; NULL when the book has moved
     * in between (then the writing run computes itself) */
    void *prepared;
    const char *key;      /* idempotency key, or NULL */
    int64_t if_revision;  /* what the caller saw last; INT64_MIN: did not say */
    int64_t out_revision; /* highest revision that the answer depends on; INT64_MIN none */
    /* an answer that is not JSON (calendar, CSV, label): then result is not printed. Without
     * out_type, out_body is what a terminal shows instead of the plain listing of the result. */
    const char *out_type;
    struct text out_body;
    const char *out_file_name;
    bool out_lasting; /* whoever got it may keep it: it never changes */
};

struct op {
    const char *name;
    enum op_method method;
    const char *path;
    const struct desc *args, *result;
    const char *const *positional; /* NULL-terminated names, or NULL */
    unsigned flags;
    const char *help;
    enum status (*run)(struct op_call *call, struct why *why);
};

/* One array per subject, joined in app/ops.c. */
struct ops {
    const struct op *rows;
    size_t n;
};
const struct ops *const *ops_all(size_t *out_n); /* [n] subjects */
const struct op *op_by_name(const char *words);

/* Runs one operation; server and cli call this, never op->run. OP_READS sees one state of the book
 * from beginning to end. OP_WRITES is one transaction: a key that was seen before gets the stored
 * answer again, the answer is stored with the change, and on failure nothing was written.
 *
 * call->args, arena, limit, key and if_revision are the caller's; call->result points to
 * op->result->size bytes that were unsaid (desc_unsay).
 * Errors: those of the operation; E_NOT_FOUND (no book is open), E_CONFLICT (the key was used for
 * something else), E_BUSY, E_IO, E_DAMAGED. */
enum status op_run(const struct op *op, struct op_call *call, struct why *why);

#endif
