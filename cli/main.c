/* The command line: finds the operation, reads its arguments, prints its result. */
#include "app/gather.h"
#include "app/op.h"
#include "cli/args.h"
#include "cli/complaint.h"
#include "cli/help.h"
#include "cli/listing.h"
#include "cli/sheet_text.h"
#include "photo/picture.h"
#include "server/serve.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

enum { EXIT_GOOD, EXIT_FAILED, EXIT_USAGE };
enum { ARENA_MAX = 1u << 30 };

static int64_t clock_now(void *ctx) {
    (void)ctx;
    return (int64_t)(time(NULL) / 60);
}

static int flush(struct paper *p) {
    bool bad = p->out.failed;
    if (p->out.at && fwrite(p->out.at, 1, p->out.n, stdout) != p->out.n) bad = true;
    text_free(&p->out);
    if (fflush(stdout) != 0 || bad) {
        fputs("The output could not be written.\n", stderr);
        return EXIT_FAILED;
    }
    return EXIT_GOOD;
}

static const struct field *member_of(const struct desc *d, enum field_type type, const char *of) {
    for (size_t i = 0; d && i < d->fields_n; i++)
        if (d->fields[i].type == type && !strcmp(d->fields[i].of->name, of)) return &d->fields[i];
    return NULL;
}

/* Where a list is empty: what begins it is asked for at the same path. */
static void say_nothing(struct paper *p, const struct op *op) {
    size_t n;
    const struct ops *const *all = ops_all(&n);
    for (size_t i = 0; i < n && op->path; i++)
        for (size_t k = 0; k < all[i]->n; k++) {
            const struct op *row = &all[i]->rows[k];
            if (op->method != OP_GET || row->method != OP_POST || strcmp(row->path, op->path) ||
                (row->flags & OP_HTTP_ONLY))
                continue;
            paper_line(p, "Nothing yet. The first one: coatwright %s (--help tells how).",
                       row->name);
            return;
        }
    paper_line(p, "Nothing yet.");
}

/* A job sheet where there is one, the operation's own text, or the plain listing. */
static void show(struct paper *p, const struct op *op, struct op_call *call,
                 enum unit_system units) {
    const struct field *sheet = member_of(op->result, FIELD_RECORD, "sheet");
    const struct field *map = member_of(op->result, FIELD_MAP, "basis");
    const struct field *assumed = member_of(op->result, FIELD_LIST, "assumption");
    if (call->out_body.n) {
        text_add(&p->out, call->out_body.at, call->out_body.n);
        if (call->out_body.at[call->out_body.n - 1] != '\n' && isatty(STDOUT_FILENO))
            text_add(&p->out, "\n", 1);
    } else if (sheet) {
        const char *at = call->result;
        struct sheet_reasons reasons = {0};
        if (map) {
            memcpy(&reasons.bases, at + map->offset, sizeof reasons.bases);
            memcpy(&reasons.bases_n, at + map->count_offset, sizeof reasons.bases_n);
        }
        if (assumed) {
            memcpy(&reasons.assumed, at + assumed->offset, sizeof reasons.assumed);
            memcpy(&reasons.assumed_n, at + assumed->count_offset, sizeof reasons.assumed_n);
        }
        sheet_text(p, (const void *)(at + sheet->offset), &reasons);
    } else {
        struct listing_as as = {.tables = call->app->tables, .units = units};
        if (gather_clock(call, &as.zone, &as.zone_n, NULL)) as.zone_n = 0;
        if (!listing(p, &as, op->result, call->result)) say_nothing(p, op);
    }
}

static int print_result(const struct op *op, struct op_call *call, const struct common *common) {
    struct paper p;
    paper_for(&p, STDOUT_FILENO);
    if (call->out_type) {
        text_add(&p.out, call->out_body.at ? call->out_body.at : "", call->out_body.n);
    } else if (common->json) {
        document_print(op->result, SPELL_RESULT, call->result, 2, &p.out);
        text_add(&p.out, "\n", 1);
    } else {
        show(&p, op, call, common->units);
    }
    return flush(&p);
}

static bool given_document(const struct op *op, const void *args) {
    for (size_t i = 0; op->args && i < op->args->fields_n; i++)
        if ((op->args->fields[i].flags & FLAG_FILE) && field_said(&op->args->fields[i], args))
            return true;
    return false;
}

/* Is a book begun where there is none? Not for what only changes or keeps what stands in one. */
static bool begins_book(const struct op *op) {
    return (op->flags & OP_WRITES) && !(op->flags & OP_PREPARES) &&
           !(op->path && strchr(op->path, '{'));
}

/* The book that the operation needs; one that can do without it does where nobody named a book and
 * there is none, or a document stands in its place. */
static enum status book_open(struct app *app, const struct op *op, const void *args,
                             const char *named, struct why *why) {
    if (!(op->flags & (OP_READS | OP_WRITES | OP_BOOK))) return OK;
    bool may_do_without = (op->flags & OP_BOOKLESS) && !named;
    if (may_do_without && given_document(op, args)) return OK;
    if (!named) named = getenv("COATWRIGHT_BOOK");
    app->mend = (op->flags & OP_MENDS) != 0;
    enum status s = app_open(app, named, begins_book(op), false, why);
    return s == E_NOT_FOUND && may_do_without && !named ? OK : s;
}

static size_t page_columns(void) {
    struct paper p;
    paper_for(&p, STDOUT_FILENO);
    return p.width;
}

static int run(const struct op *op, int argc, char **argv) {
    struct app app = {.tables = &tables_builtin, .now_utc_min = clock_now};
    struct arena arena;
    struct common common = {0};
    struct why why = {0};
    int code = EXIT_FAILED;
    arena_init(&arena, alloc_heap(), ARENA_MAX);
    void *args = arena_take(&arena, op->args ? op->args->size : 1);
    void *result = arena_take(&arena, op->result ? op->result->size : 1);
    if (!args || !result) {
        complain(E_MEMORY, &why, false);
        arena_free(&arena);
        return EXIT_FAILED;
    }
    if (op->args) desc_unsay(op->args, args);
    if (op->result) desc_unsay(op->result, result);
    enum args_end end = args_read(op, argc, argv, &arena, args, &common, &why);
    if (end == ARGS_GOOD && common.help) {
        struct paper p;
        paper_for(&p, STDOUT_FILENO);
        help_operation(&p, op);
        code = flush(&p);
    } else if (end != ARGS_GOOD) {
        complain(end == ARGS_BAD_VALUE ? common.failed : E_SYNTAX, &why, common.json);
        code = end == ARGS_BAD_USAGE ? EXIT_USAGE : EXIT_FAILED;
        if (code == EXIT_USAGE) fprintf(stderr, "coatwright %s --help tells more.\n", op->name);
    } else {
        struct op_call call = {
            .app = &app, .arena = &arena, .args = args, .result = result, .if_revision = INT64_MIN};
        call.out_body.columns = page_columns();
        enum status s = book_open(&app, op, args, common.book, &why);
        if (s == OK) s = op_run(op, &call, &why);
        if (s == OK)
            code = print_result(op, &call, &common);
        else
            complain(s, &why, common.json);
        text_free(&call.out_body);
        app_close(&app);
    }
    arena_free(&arena);
    return code;
}

int main(int argc, char **argv) {
    int words = 0;
    struct paper p;
    picture_worker(argc, argv);
    if (argc < 2 || !strcmp(argv[1], "--help") || !strcmp(argv[1], "-h") ||
        !strcmp(argv[1], "help")) {
        paper_for(&p, STDOUT_FILENO);
        help_all(&p);
        int code = flush(&p);
        return argc < 2 ? EXIT_USAGE : code;
    }
    if (!strcmp(argv[1], "--version")) {
        puts("coatwright " COATWRIGHT_VERSION);
        return EXIT_GOOD;
    }
    if (!strcmp(argv[1], "serve")) return serve_main(argc - 2, argv + 2);
    const struct op *op = args_operation(argc - 1, argv + 1, &words);
    if (!op) {
        struct why why;
        bool json = false;
        for (int i = 1; i < argc; i++) json |= !strcmp(argv[i], "--json");
        why_say(&why, E_SYNTAX, "", "\"%.80s\" is not an operation. coatwright --help lists them.",
                argv[1]);
        complain(E_SYNTAX, &why, json);
        return EXIT_USAGE;
    }
    return run(op, argc - 1 - words, argv + 1 + words);
}
