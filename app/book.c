#include "app/book.h"

#include "app/id_words.h"
#include "codec/color_said.h"
#include "codec/difference.h"
#include "store/change.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const struct field id_fields[] = {
    F_ID(struct id_args, id, FLAG_REQUIRED, "which one"),
};
DESC(desc_id_args, struct id_args, "id_args", "One thing of the book.", id_fields);
const char *const positional_id[] = {"id", NULL};

static const struct field done_fields[] = {
    F_TEXT(struct done_answer, id, "of what"),
    F_REVISION(struct done_answer),
};
DESC(desc_done, struct done_answer, "done", "It was done.", done_fields);

int64_t book_call_now(const struct op_call *call) {
    return call->app->now_utc_min(call->app->now_ctx);
}

/* ---- lists ---- */

enum status book_cursor(const char *text, int64_t *out, struct why *why) {
    *out = INT64_MIN;
    if (!text) return OK;
    size_t n = strspn(text, "0123456789");
    if (!n || text[n] || n > 18)
        return why_say(why, E_SYNTAX, "/after",
                       "\"%.40s\" is not where a page ended. Give the \"next\" of the page before.",
                       text);
    *out = strtoll(text, NULL, 10);
    return OK;
}

enum status book_list(struct op_call *call, const struct book_table *t, struct row_query *q,
                      const struct list_args *args, struct why *why) {
    struct list_answer *answer = call->result;
    int64_t next;
    enum status s = book_cursor(args->after, &q->after, why);
    if (s) return s;
    q->limit = args->limit == INT64_MIN ? LIST_DEFAULT : args->limit;
    s = row_list(call->book, t, q, call->arena, &answer->rows, &answer->rows_n, &next, why);
    if (s || next == INT64_MIN) return s;
    answer->next = arena_print(call->arena, "%lld", (long long)next);
    return answer->next ? OK : why_no_memory(why);
}

enum status book_views(struct op_call *call, const struct book_table *t, const char *where,
                       size_t view_size,
                       enum status (*fill)(struct op_call *call, void *view, struct why *why),
                       struct why *why) {
    const struct list_args *args = call->args;
    struct list_answer *answer = call->result;
    struct row_query q = {.where = where, .texts = {args->piece}, .down = true};
    enum status s = book_list(call, t, &q, args, why);
    const char *rows = answer->rows;
    char *views = arena_array(call->arena, answer->rows_n + 1, view_size);
    if (!s && !views) s = why_no_memory(why);
    for (size_t i = 0; !s && i < answer->rows_n; i++) {
        memcpy(views + i * view_size, rows + i * t->size, t->size);
        s = fill(call, views + i * view_size, why);
    }
    answer->rows = views;
    return s;
}

/* ---- one row ---- */

static const struct column *column_of(const struct book_table *t, const char *name) {
    for (size_t i = 0; i < t->columns_n; i++)
        if (!strcmp(t->columns[i].name, name)) return &t->columns[i];
    return NULL;
}

static int64_t int_of(const struct book_table *t, const void *row, const char *name) {
    return *(const int64_t *)((const char *)row + column_of(t, name)->offset);
}

static bool *removed_of(const struct book_table *t, void *row) {
    return (bool *)((char *)row + column_of(t, "removed")->offset);
}

enum status book_get(struct op_call *call, const struct book_table *t, const char *id,
                     void *out_row, struct why *why) {
    row_unsay(t, out_row);
    enum status s = row_get(call->book, t, "id", id, call->arena, out_row, why);
    if (!s && column_of(t, "removed") && *removed_of(t, out_row))
        s = why_say(why, E_NOT_FOUND, "/id", "The %s \"%.64s\" was removed. Undo brings it back.",
                    t->name, id);
    return s;
}

/* Is this column taken out of the document, which tells of it in the person's own words? width_mm
 * of "/document/width", due_day of "/document/agreement/due". */
static bool told_by_document(const char *column, const struct difference_row *rows, size_t n) {
    static const char *const ends[] = {"", "_mm", "_ml", "_hex", "_day", "_cent"};
    for (size_t i = 0; i < n; i++) {
        const char *member = strrchr(rows[i].pointer, '/');
        if (strncmp(rows[i].pointer, "/document/", 10)) continue;
        size_t stem = strlen(member);
        for (size_t k = 0; k < sizeof ends / sizeof *ends; k++)
            if (!strncmp(column, member, stem) && !strcmp(column + stem, ends[k])) return true;
    }
    return false;
}

enum status book_differences(struct op_call *call, const char *then, const char *now,
                             struct difference_row **out_rows, size_t *out_n, struct why *why) {
    enum { MOST = 60 };
    struct difference_row *rows;
    size_t n, kept = 0;
    enum status s = difference_find(then, now, "document", MOST, call->arena, &rows, &n, why);
    if (s) return s;
    struct difference_row *own = arena_array(call->arena, n + 1, sizeof *own);
    if (!own) return why_no_memory(why);
    for (size_t i = 0; i < n; i++) {
        const char *p = rows[i].pointer;
        bool inside = !strncmp(p, "/document/", 10);
        if (!strcmp(p, "/revision") || !strcmp(p, "/number") ||
            (!inside && told_by_document(p, rows, n)))
            continue;
        own[kept] = rows[i];
        own[kept++].pointer = inside ? p + 9 : p;
    }
    *out_rows = own, *out_n = kept;
    return OK;
}

/* "width, wanted color" */
static void name_differences(const struct difference_row *rows, size_t n, char *out, size_t cap) {
    size_t at = 0;
    out[0] = 0;
    for (size_t i = 0; i < n; i++) {
        const char *p = rows[i].pointer;
        if (i == 6) {
            snprintf(out + at, cap - at, " and more");
            return;
        }
        struct text name = {0};
        member_words(p, &name);
        int len = snprintf(out + at, cap - at, "%s%s", i ? ", " : "", name.at ? name.at : "");
        text_free(&name);
        if (len < 0 || (size_t)len >= cap - at) return;
        at += (size_t)len;
    }
}

/* For the error's "changed" (server/answer.c). */
static void print_differences(const struct difference_row *rows, size_t n, const char *operation,
                              struct text *out) {
    text_print(out, "[");
    for (size_t i = 0; i < n; i++) {
        text_print(out, "%s{\"pointer\":", i ? "," : "");
        text_json(out, rows[i].pointer);
        if (rows[i].before) text_print(out, ",\"before\":"), text_json(out, rows[i].before);
        if (rows[i].after) text_print(out, ",\"after\":"), text_json(out, rows[i].after);
        if (operation) text_print(out, ",\"operation\":"), text_json(out, operation);
        text_print(out, "}");
    }
    text_print(out, "]");
}

enum status book_fresh_row(struct op_call *call, const char *table, int64_t number,
                           int64_t revision, struct why *why) {
    if (call->if_revision == INT64_MIN || revision <= call->if_revision) return OK;
    const char *then, *now, *operation;
    struct difference_row *rows;
    size_t n = 0;
    char names[256] = "";
    if (!change_since(call->book, table, number, call->if_revision, call->arena, &then, &now,
                      &operation, NULL) &&
        !book_differences(call, then, now, &rows, &n, NULL)) {
        name_differences(rows, n, names, sizeof names);
        call->out_body.n = 0;
        print_differences(rows, n, operation, &call->out_body);
    }
    return why_say(why, E_STALE, "",
                   "It was changed in the meantime (revision %lld, you saw %lld): %s. Nothing was "
                   "written. Look at it "
                   "again, then repeat your change.",
                   (long long)revision, (long long)call->if_revision,
                   names[0] ? names : "its content");
}

enum status book_fresh(struct op_call *call, const struct book_table *t, const void *row,
                       struct why *why) {
    return book_fresh_row(call, t->name, int_of(t, row, "number"), int_of(t, row, "revision"), why);
}

enum status book_says_changes(struct op_call *call, const char *table, int64_t number,
                              const char *title, struct why *why) {
    const char *then, *now, *operation;
    struct difference_row *rows;
    size_t n = 0;
    char names[160] = "";
    enum status s = change_since(call->book, table, number, book_revision(call->book) - 1,
                                 call->arena, &then, &now, &operation, why);
    if (!s) s = book_differences(call, then, now, &rows, &n, why);
    if (s) return s;
    name_differences(rows, n, names, sizeof names);
    return book_says(call->book, why, "%s: %s", title, names[0] ? names : "nothing new");
}

enum status book_change(struct op_call *call, const struct book_table *t, void *row,
                        const char *title, struct why *why) {
    enum status s = row_change(call->book, t, row, why);
    return s ? s : book_says_changes(call, t->name, int_of(t, row, "number"), title, why);
}

enum status book_remove(struct op_call *call, const struct book_table *t, const char *id,
                        void *scratch_row, struct why *why) {
    struct done_answer *answer = call->result;
    enum status s = book_get(call, t, id, scratch_row, why);
    if (!s) s = book_fresh(call, t, scratch_row, why);
    if (s) return s;
    *removed_of(t, scratch_row) = true;
    s = row_change(call->book, t, scratch_row, why);
    if (!s) s = book_says(call->book, why, "%s", id);
    answer->id = id;
    answer->revision = book_revision(call->book);
    return s;
}

/* ---- documents as typed ---- */

enum status book_new_id(struct op_call *call, const struct book_table *t, const char *said,
                        const char *title, const char **out_id, struct why *why) {
    if (!said) return row_free_id(call->book, t, title ? title : t->name, call->arena, out_id, why);
    void *row = arena_take(call->arena, t->size);
    if (!row) return why_no_memory(why);
    enum status s = row_get(call->book, t, "id", said, call->arena, row, NULL);
    if (s == OK)
        return why_say(
            why, E_DUPLICATE, "/id",
            "The %s \"%.64s\" is in the book already. Choose another id or leave it out.", t->name,
            said);
    *out_id = said;
    return s == E_NOT_FOUND ? OK : s;
}

enum status book_merge(struct op_call *call, const struct desc *d, const char *base,
                       const char *patch, const char *member, const char **out_document, void *out,
                       struct why *why) {
    const char *document = base;
    enum status s = patch ? document_merge(base, patch, call->arena, &document, why) : OK;
    if (!s) {
        desc_unsay(d, out);
        s = document_read(d, SPELL_INPUT, document, strlen(document), call->arena, out, why);
    }
    if (!s) s = document_spell(d, document, call->arena, &document, why);
    if (s)
        why_under(why, member);
    else
        *out_document = document;
    return s;
}

/* The nulls of the first patch stay in the result: merging takes away what the second one nulls. */
enum status book_merge_patches(struct op_call *call, const char *first, const char *second,
                               const char **out_patch, const char *member, struct why *why) {
    enum status s = document_merge(first, second, call->arena, out_patch, why);
    if (s) why_under(why, member);
    return s;
}

const char *book_typed(struct op_call *call, const char *name, ...) {
    struct text t = {0};
    const char *group = NULL; /* members with the same group must follow each other */
    va_list ap;
    va_start(ap, name);
    text_add(&t, "{", 1);
    for (; name; name = va_arg(ap, const char *)) {
        const char *value = va_arg(ap, const char *), *dot = strchr(name, '.');
        if (!value) continue;
        bool follows = group && dot && !strncmp(group, name, (size_t)(dot - name) + 1);
        if (group && !follows) text_add(&t, "}", 1), group = NULL;
        if (t.n > 1 && !follows) text_add(&t, ",", 1);
        if (dot && !follows)
            text_print(&t, "\"%.*s\":{", (int)(dot - name), name), group = name;
        else if (follows)
            text_add(&t, ",", 1);
        text_json(&t, dot ? dot + 1 : name);
        text_add(&t, ":", 1);
        text_json(&t, value);
    }
    va_end(ap);
    if (group) text_add(&t, "}", 1);
    text_add(&t, "}", 1);
    const char *copy = t.failed ? NULL : arena_text(call->arena, t.at);
    text_free(&t);
    return copy;
}

const char *book_hex(struct op_call *call, const struct color_said *c) {
    char hex[8];
    return c->text && color_said_hex(c, hex) ? arena_text(call->arena, hex) : NULL;
}
