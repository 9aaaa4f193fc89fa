/* Copies of the book, its check, and taking everything elsewhere as JSON and CSV. */
#include "app/book.h"
#include "app/copies_text.h"
#include "app/export_aside.h"
#include "app/export_sound.h"
#include "app/text_file.h"
#include "codec/csv_text.h"
#include "codec/text_wrap.h"
#include "store/copy.h"
#include "store/export.h"

#include <stdlib.h>
#include <string.h>

/* ---- copies ---- */

static const struct field copy_fields[] = {
    F_TEXT(struct copy_row, name, "of the copy"),
    F_TEXT(struct copy_row, path, "where it lies"),
    F_INT(struct copy_row, bytes, 0, 9e15, "size"),
    F_TIME(struct copy_row, at, at_utc_min, FIELD_INSTANT, "when it was made"),
    F_REVISION(struct copy_row),
};
static DESC(desc_copy, struct copy_row, "copy_row", "A copy of the book.", copy_fields);
static const struct field copies_fields[] = {F_ROWS(&desc_copy)};
static DESC(desc_copies, struct list_answer, "copy_rows", "The copies, newest first.",
            copies_fields);

struct backup_args {
    const char *file;
};
static const struct field backup_fields[] = {
    {F_AT(struct backup_args, file), .type = FIELD_TEXT, .flags = FLAG_PATH,
     .help = "where to; the book's own folder of copies when not said"},
};
static DESC(desc_backup, struct backup_args, "backup_args", "Where to.", backup_fields);

/* What a whole copy, or the check of the book, has to tell. */
struct copied {
    const char *id;
    int64_t revision;
    struct picture_files pictures;
};
enum { MISSING_MOST = 100000 };
static const struct field copied_fields[] = {
    F_TEXT(struct copied, id, "which copy; or sound"),
    F_REVISION(struct copied),
    {.name = "pictures_brought",
     .offset = offsetof(struct copied, pictures.brought),
     .type = FIELD_INT,
     .max = 9e15,
     .help = "files of pictures that were copied"},
    {.name = "pictures_there",
     .offset = offsetof(struct copied, pictures.there),
     .type = FIELD_INT,
     .max = 9e15,
     .help = "files of pictures that stood there whole"},
    {.name = "pictures_missing",
     .offset = offsetof(struct copied, pictures.missing),
     .count_offset = offsetof(struct copied, pictures.missing_n),
     .type = FIELD_TEXTS,
     .items_max = MISSING_MOST,
     .help = "files of pictures that are gone or damaged; bring the folder back from a copy"},
};
static DESC(desc_copied, struct copied, "copied", "A whole copy, or the check of the book.",
            copied_fields);

struct restore_args {
    const char *name;
};
static const struct field restore_fields[] = {
    {F_AT(struct restore_args, name), .type = FIELD_TEXT, .flags = FLAG_REQUIRED,
     .help = "name of a copy, as backups lists them"},
};
static DESC(desc_restore, struct restore_args, "restore_args", "Which copy.", restore_fields);
struct restore_file_args {
    const char *file;
};
static const struct field restore_file_fields[] = {
    {F_AT(struct restore_file_args, file), .type = FIELD_TEXT, .flags = FLAG_REQUIRED | FLAG_PATH,
     .help = "a copy of a book"},
};
static DESC(desc_restore_file, struct restore_file_args, "restore_file_args", "Which copy.",
            restore_file_fields);

struct restore_export_args {
    const char *file;
};
static const struct field restore_export_fields[] = {
    {F_AT(struct restore_export_args, file), .type = FIELD_TEXT, .flags = FLAG_PATH,
     .help = "an export of a whole book"},
};
static DESC(desc_restore_export, struct restore_export_args, "restore_export_args", "Which export.",
            restore_export_fields);

static enum status list_copies(struct op_call *call, struct why *why) {
    struct list_answer *answer = call->result;
    struct copy_row *rows = NULL;
    enum status s = copy_list(call->app->store, call->arena, &rows, &answer->rows_n, why);
    answer->rows = rows;
    if (!s) copies_print(call, rows, answer->rows_n);
    return s;
}

static enum status backup(struct op_call *call, struct why *why) {
    struct list_answer *answer = call->result;
    struct copy_row *rows = NULL;
    enum status s = copy_aside(call->app->store, COPY_ASKED, book_call_now(call), NULL, why);
    if (!s) s = copy_list(call->app->store, call->arena, &rows, &answer->rows_n, why);
    answer->rows = rows;
    if (!s) copies_print(call, rows, answer->rows_n);
    return s;
}

static enum status backup_file(struct op_call *call, struct why *why) {
    const struct backup_args *args = call->args;
    struct copied *answer = call->result;
    if (!args->file)
        return why_say(why, E_MISSING, "/file", "Say where to: a file that is not there yet.");
    answer->id = args->file;
    answer->revision = app_revision(call->app);
    enum status s = copy_to(call->app->store, args->file, call->arena, &answer->pictures, why);
    if (s) return s;
    text_wrap_print(&call->out_body, 0, 0, "A whole copy of the book, checked, is in %s.",
                    args->file);
    pictures_print(call, &answer->pictures, "copied beside it");
    return OK;
}

/* what: its name for people. */
static enum status restore_path(struct op_call *call, const char *path, const char *what,
                                struct why *why) {
    struct copied *answer = call->result;
    enum status s = copy_restore(call->app->store, path, book_call_now(call), call->arena,
                                 &answer->pictures, why);
    answer->id = path;
    answer->revision = call->out_revision = app_revision(call->app);
    if (s) return s;
    text_wrap_print(&call->out_body, 0, 0,
                    "The book is what was in %s. The one before was put aside: coatwright backups.",
                    what);
    pictures_print(call, &answer->pictures, "brought along");
    return OK;
}

/* Only copies in the book's own folder can be named over HTTP, so that no request reaches for other
 * files. */
static enum status restore(struct op_call *call, struct why *why) {
    const struct restore_args *args = call->args;
    struct copy_row *rows;
    size_t n;
    enum status s = copy_list(call->app->store, call->arena, &rows, &n, why);
    for (size_t i = 0; !s && i < n; i++)
        if (!strcmp(rows[i].name, args->name))
            return restore_path(call, rows[i].path, rows[i].name, why);
    return s ? s : why_say(why, E_NOT_FOUND, "/name", "There is no copy \"%.100s\".", args->name);
}

static enum status restore_file(struct op_call *call, struct why *why) {
    const struct restore_file_args *args = call->args;
    return restore_path(call, args->file, args->file, why);
}

/* The export becomes a book of its own first: where it is not sound the present one is not touched.
 */
static enum status restore_export(struct op_call *call, struct why *why) {
    const struct restore_export_args *args = call->args;
    const char *text = call->body;
    char *path;
    enum status s = OK;
    if (text && strlen(text) != call->body_n)
        return why_say(why, E_SYNTAX, "/export", "There is a NUL byte in it: this is not JSON.");
    if (!text && !args->file)
        return why_say(why, E_MISSING, "/file", "Say which: an export of a whole book.");
    if (!text) s = text_file_read(args->file, WHOLE_BYTES_MAX, call->arena, &text, why);
    if (!s) s = export_aside(call, text, &path, why);
    if (s) return s;
    s = restore_path(call, path, args->file ? args->file : "the export", why);
    export_aside_remove(path);
    ((struct copied *)call->result)->id = "export";
    return s;
}

static enum status check(struct op_call *call, struct why *why) {
    struct copied *answer = call->result;
    const char *path = store_path(call->app->store);
    enum status s = copy_check(call->book, why);
    answer->id = "sound";
    answer->revision = book_revision(call->book);
    if (!s) s = picture_files_bring(call->book, path, path, call->arena, &answer->pictures, why);
    if (s) return s;
    text_print(&call->out_body,
               "The book is sound, and everything in it refers to something that is there.\n");
    pictures_print(call, &answer->pictures, "brought");
    return OK;
}

/* ---- everything as text ---- */

struct table_args {
    const char *table;
};
static const struct field table_fields[] = {
    F_ID(struct table_args, table, FLAG_REQUIRED,
         "piece, client, paint, stock_movement, money, record, ..."),
};
static DESC(desc_table, struct table_args, "export_table_args", "Which table.", table_fields);
struct import_args {
    const char *export;
};
static const struct field import_fields[] = {
    {F_AT(struct import_args, export), .type = FIELD_JSON,
     .flags = FLAG_REQUIRED | FLAG_FILE | FLAG_WHOLE, .help = "an export of a whole book"},
};
static DESC(desc_import, struct import_args, "export_read_args", "What to read.", import_fields);

static void add_piece(void *ctx, const char *text, size_t n) {
    text_add(ctx, text, n);
}

static enum status export_json(struct op_call *call, struct why *why) {
    call->out_type = "application/json";
    call->out_file_name = "coatwright-book.json";
    enum status s = export_book(call->book, add_piece, &call->out_body, why);
    return s ? s : call->out_body.failed ? why_no_memory(why) : OK;
}

static void add_row(void *ctx, const char *const *values, size_t n) {
    for (size_t i = 0; i < n; i++) csv_field(ctx, values[i], i == 0);
    csv_end(ctx);
}

static enum status export_csv(struct op_call *call, struct why *why) {
    const struct table_args *args = call->args;
    call->out_type = "text/csv; charset=utf-8";
    call->out_file_name = arena_print(call->arena, "%s.csv", args->table);
    enum status s = export_table(call->book, args->table, add_row, &call->out_body, why);
    return s ? s : call->out_body.failed ? why_no_memory(why) : OK;
}

static enum status read_export(struct op_call *call, struct why *why) {
    const struct import_args *args = call->args;
    struct done_answer *answer = call->result;
    enum status s = export_check(call->book, args->export, why);
    if (!s) s = export_sound(call, args->export, why);
    if (!s) s = export_read(call->book, args->export, why);
    answer->id = "book";
    answer->revision = book_revision(call->book);
    return s ? s : book_says(call->book, why, "a whole book");
}

static const char *const positional_name[] = {"name", NULL},
                         *const positional_file[] = {"file", NULL},
                         *const positional_table[] = {"table", NULL},
                         *const positional_export[] = {"export", NULL};
static const struct op rows[] = {
    {"backups", OP_GET, "/api/backups", NULL, &desc_copies, NULL, OP_BOOK | OP_MENDS,
     "the copies of the book, newest first", list_copies},
    {"backup", OP_POST, "/api/backup", NULL, &desc_copies, NULL, OP_BOOK | OP_SLOW,
     "put a checked copy of the book aside", backup},
    {"backup to", OP_POST, "/api/backup/file", &desc_backup, &desc_copied, positional_file,
     OP_BOOK | OP_SLOW | OP_CLI_ONLY,
     "copy the book, checked, into a file, and its pictures beside it", backup_file},
    {"restore", OP_POST, "/api/restore", &desc_restore, &desc_copied, positional_name,
     OP_BOOK | OP_MENDS | OP_SLOW, "bring a copy back; the present book is put aside first",
     restore},
    {"restore from", OP_POST, "/api/restore/file", &desc_restore_file, &desc_copied,
     positional_file, OP_BOOK | OP_MENDS | OP_SLOW | OP_CLI_ONLY,
     "bring a copy back from a file; the present book is put aside first", restore_file},
    {"restore export", OP_POST, "/api/restore/export", &desc_restore_export, &desc_copied,
     positional_file, OP_BOOK | OP_MENDS | OP_SLOW | OP_WHOLE,
     "put an export of a whole book in the place of this one, which is put aside first",
     restore_export},
    {"check", OP_GET, "/api/check", NULL, &desc_copied, NULL, OP_READS | OP_SLOW,
     "is the book's file sound, does everything refer to something, are the pictures there", check},
    {"export", OP_GET, "/api/export.json", NULL, NULL, NULL, OP_READS | OP_SLOW,
     "the whole book as JSON", export_json},
    {"export table", OP_GET, "/api/export/{table}.csv", &desc_table, NULL, positional_table,
     OP_READS | OP_SLOW, "one table of the book as CSV (RFC 4180)", export_csv},
    {"export read", OP_POST, "/api/export/read", &desc_import, &desc_done, positional_export,
     OP_WRITES | OP_CLI_ONLY, "read an export into a book that is still empty", read_export},
};
extern const struct ops ops_copy;
const struct ops ops_copy = {rows, sizeof rows / sizeof *rows};
