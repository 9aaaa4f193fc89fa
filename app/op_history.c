/* What happened: the history of the book or of one piece, taking changes back, finding by words. */
#include "app/book.h"
#include "app/done_words.h"
#include "app/gather.h"
#include "app/history_text.h"
#include "app/op_shelf.h"
#include "codec/difference.h"
#include "codec/text_wrap.h"
#include "codec/units_text.h"
#include "store/change.h"
#include "store/search.h"

#include <stdlib.h>
#include <string.h>
#include <strings.h>

enum { CHANGED_MAX = 60 };

static const struct field changed_fields[] = {
    F_TEXT(struct changed, of, "kind of row: piece, paint, task, ..."),
    F_TEXT(struct changed, member, "which value"),
    {F_AT(struct changed, before), .type = FIELD_TEXT, .help = "as it was; missing: not there"},
    {F_AT(struct changed, after), .type = FIELD_TEXT, .help = "as it became; missing: gone"},
};
static DESC(desc_changed, struct changed, "changed_value", "One value that was changed.",
            changed_fields);
static const struct field row_fields[] = {
    F_REVISION(struct history_row),
    F_TIME(struct history_row, at, at_utc_min, FIELD_INSTANT, "when"),
    F_TEXT(struct history_row, operation, "which operation"),
    F_TEXT(struct history_row, done, "what was done, in words"),
    F_TEXT(struct history_row, what, "to what, in words"),
    F_INT(struct history_row, undoes, 0, 9e15, "the revision that this one takes back"),
    F_INT(struct history_row, undone_by, 0, 9e15, "the revision that took this one back"),
    F_LIST(struct history_row, changed, &desc_changed, CHANGED_MAX,
           "values that were changed; a new row has none"),
    F_BOOL(struct history_row, final,
           "it cannot be taken back: a whole book was read or brought back"),
};
static DESC(desc_row, struct history_row, "history_row", "A change.", row_fields);
static const struct field rows_fields[] = {F_ROWS(&desc_row)};
static DESC(desc_rows, struct list_answer, "history_rows", "A page of changes, newest first.",
            rows_fields);

static const struct field list_fields[] = {F_LIST_AFTER, F_LIST_LIMIT};
static DESC(desc_list, struct list_args, "history_args", "Which changes.", list_fields);
static const struct field piece_fields[] = {
    F_ID(struct list_args, id, FLAG_REQUIRED, "which piece"),
    F_LIST_AFTER,
    F_LIST_LIMIT,
};
static DESC(desc_piece_list, struct list_args, "piece_history_args", "Which changes.",
            piece_fields);

/* A column of a quantity in the shop's units; moments are said by who prints them, documents hold
 * what was typed. */
static const char *as_measured(struct op_call *call, enum unit_system units, const char *pointer,
                               const char *value) {
    static const char moment[] = "_utc_min";
    char *end;
    size_t n = strlen(pointer), m = sizeof moment - 1;
    if (!value || (n > m && !strcmp(pointer + n - m, moment))) return value;
    for (int d = 0; d < DIMENSION_COUNT; d++) {
        const char *suffix = dimension_suffix((enum dimension)d);
        size_t k = strlen(suffix);
        if (!k || n <= k || strcmp(pointer + n - k, suffix) != 0) continue;
        double v = strtod(value, &end);
        return *value && !*end ? units_text(call->arena, (enum dimension)d, units, v) : value;
    }
    return value;
}

/* Adds what one written row changed; rows that are new are named by the change's own words. */
static enum status add_changed(struct op_call *call, enum unit_system units,
                               const struct change_row *c, struct history_row *h, struct why *why) {
    struct difference_row *d;
    size_t n;
    if (!c->subject || !c->before) return OK;
    enum status s = book_differences(call, c->before, c->after, &d, &n, why);
    for (size_t i = 0; !s && i < n && h->changed_n < CHANGED_MAX; i++)
        h->changed[h->changed_n++] = (struct changed){
            c->subject, d[i].pointer + 1, as_measured(call, units, d[i].pointer, d[i].before),
            as_measured(call, units, d[i].pointer, d[i].after)};
    return s;
}

static enum status fill(struct op_call *call, const struct change_row *rows, size_t n, size_t limit,
                        struct why *why) {
    struct list_answer *answer = call->result;
    struct history_row *out = arena_array(call->arena, limit + 1, sizeof *out), *h = NULL;
    struct shop shop;
    if (!out) return why_no_memory(why);
    enum status s = gather_shop(call, &shop, why);
    if (s) return s;
    answer->rows = out;
    for (size_t i = 0; i < n; i++) {
        const struct change_row *c = &rows[i];
        if (!h || h->revision != c->revision) {
            if (answer->rows_n ==
                limit) { /* one change more than was asked for: there is another page */
                answer->next = arena_print(call->arena, "%lld", (long long)h->revision);
                return answer->next ? OK : why_no_memory(why);
            }
            h = &out[answer->rows_n++];
            *h = (struct history_row){c->revision,  c->at_utc_min, c->undoes,
                                      c->undone_by, c->operation,  done_words(c->operation),
                                      c->what,      NULL,          0,
                                      !c->subject};
            h->changed = arena_array(call->arena, CHANGED_MAX, sizeof *h->changed);
            if (!h->changed) return why_no_memory(why);
        }
        s = add_changed(call, shop.units, c, h, why);
        if (s) return s;
    }
    return OK;
}

static enum status history(struct op_call *call, struct why *why) {
    const struct list_args *args = call->args;
    struct change_row *rows;
    size_t n;
    int64_t limit = args->limit == INT64_MIN ? 50 : args->limit, below;
    enum status s = book_cursor(args->after, &below, why);
    struct piece_row piece;
    if (!s && args->id)
        s = row_get(call->book, &table_piece, "id", args->id, call->arena, &piece, why);
    if (!s) s = change_list(call->book, args->id, below, limit + 1, call->arena, &rows, &n, why);
    if (!s) s = fill(call, rows, n, (size_t)limit, why);
    const struct list_answer *a = call->result;
    return s ? s : history_print(call, a->rows, a->rows_n, args->id, a->next, why);
}

/* ---- undo ---- */

struct undo_args {
    int64_t revision;
};
static const struct field undo_fields[] = {
    F_INT(struct undo_args, revision, 1, 9e15,
          "the change to take back; the last one when not said"),
};
static DESC(desc_undo, struct undo_args, "undo_args", "Which change.", undo_fields);

struct undo_answer {
    int64_t revision, undoes;
    const char *operation, *what;
};
static const struct field undone_fields[] = {
    F_REVISION(struct undo_answer),
    F_INT(struct undo_answer, undoes, 0, 9e15, "the revision that was taken back"),
    F_TEXT(struct undo_answer, operation, "what had been done"),
    F_TEXT(struct undo_answer, what, "to what"),
};
static DESC(desc_undone, struct undo_answer, "undone", "What was taken back.", undone_fields);

static void undone_print(const struct undo_answer *u, struct arena *a, struct text *out) {
    const char *done = u->operation ? done_words(u->operation) : NULL;
    const char *line =
        arena_print(a, "Taken back: %s%s%s%s. To have it again: coatwright undo %lld",
                    u->what ? u->what : "", u->what && done ? " (" : "", done ? done : "",
                    u->what && done ? ")" : "", (long long)u->revision);
    if (line) text_wrap(out, 0, 0, line);
}

static const char taken_back[] = ": taken back", again[] = ": in effect again";

/* An undo is told by what it did: "Hill (client entered): taken back", and its own undo "...: in
 * effect again". */
static enum status say_undone(struct op_call *call, const struct undo_answer *u, struct why *why) {
    const char *what = u->what ? u->what : "", *done = u->operation ? done_words(u->operation) : "";
    size_t n = strlen(what), k = sizeof taken_back - 1, j = sizeof again - 1;
    bool was_back = n > k && !strcmp(what + n - k, taken_back),
         was_again = n > j && !strcmp(what + n - j, again);
    if (was_back || was_again)
        return book_says(call->book, why, "%.*s%s", (int)(n - (was_back ? k : j)), what,
                         was_back ? again : taken_back);
    char *small = arena_text(call->arena, done ? done : "");
    if (!small) return why_no_memory(why);
    if (*what && *small >= 'A' && *small <= 'Z') *small = (char)(*small - 'A' + 'a');
    return book_says(call->book, why, *what ? "%s (%s)%s" : "%s%s%s", what, small, taken_back);
}

static enum status undo(struct op_call *call, struct why *why) {
    const struct undo_args *args = call->args;
    struct undo_answer *answer = call->result;
    struct change_row *rows;
    size_t n;
    int64_t revision = args->revision;
    enum status s = revision == INT64_MIN ? change_last(call->book, &revision, why) : OK;
    if (!s && revision == INT64_MIN)
        return why_say(why, E_NOT_FOUND, "/revision", "There is nothing to take back.");
    const bool clear = !s && !paint_names_differ(call, "", NULL);
    if (!s) s = change_undo(call->book, revision, why);
    if (!s && clear) s = paint_names_differ(call, "/revision", why);
    if (!s) s = change_list(call->book, NULL, revision + 1, 1, call->arena, &rows, &n, why);
    if (s) return s;
    *answer = (struct undo_answer){book_revision(call->book), revision,
                                   n ? rows[0].operation : NULL, n ? rows[0].what : NULL};
    undone_print(answer, call->arena, &call->out_body);
    return say_undone(call, answer, why);
}

/* ---- search ---- */

struct search_args {
    const char *q;
    int64_t limit;
};
static const struct field search_fields[] = {
    {F_AT(struct search_args, q), .type = FIELD_TEXT, .flags = FLAG_REQUIRED,
     .help = "words; the beginning of a word is enough"},
    F_INT(struct search_args, limit, 1, 200, "rows at most; 30 when not said"),
};
static DESC(desc_search, struct search_args, "search_args", "What to look for.", search_fields);
static const struct field found_fields[] = {
    F_TEXT(struct found_row, subject, "piece, client, paint, recipe, batch or supply"),
    F_TEXT(struct found_row, id, "public name"),
    F_TEXT(struct found_row, title, "what it is called"),
    F_TEXT(struct found_row, around, "where it was found, the words between [ and ]"),
};
static DESC(desc_found, struct found_row, "found_row", "Something found.", found_fields);
static const struct field founds_fields[] = {F_ROWS(&desc_found)};
static DESC(desc_founds, struct list_answer, "found_rows", "What was found, best first.",
            founds_fields);

/* Is the word between [ and ] in the title too? Then a piece of the document around it says no
 * more. */
static bool in_title(const struct found_row *r) {
    const char *word = r->around ? strchr(r->around, '[') : NULL,
               *end = word ? strchr(word, ']') : NULL;
    size_t n = end ? (size_t)(end - word) - 1 : 0;
    for (const char *t = r->title; n && t && *t; t++)
        if (!strncasecmp(t, word + 1, n)) return true;
    return false;
}

static void found_print(const struct found_row *r, struct text *out) {
    enum { SUBJECT = 8 };
    const char *const lines[] = {r->title, in_title(r) ? NULL : r->around};
    text_left(out, SUBJECT, r->subject);
    text_print(out, "%s\n", r->id);
    for (size_t i = 0; i < sizeof lines / sizeof *lines; i++)
        if (lines[i])
            text_print(out, "%*s", SUBJECT, ""), text_wrap(out, SUBJECT, SUBJECT, lines[i]);
}

static enum status search(struct op_call *call, struct why *why) {
    const struct search_args *args = call->args;
    struct list_answer *answer = call->result;
    struct found_row *rows = NULL;
    enum status s = search_words(call->book, args->q, args->limit == INT64_MIN ? 30 : args->limit,
                                 call->arena, &rows, &answer->rows_n, why);
    answer->rows = rows;
    for (size_t i = 0; !s && i < answer->rows_n; i++) { /* ids were found too: read as words */
        char *around = arena_text(call->arena, rows[i].around);
        if (!around) return why_no_memory(why);
        for (char *c = around; *c; c++)
            if (*c == '_') *c = ' ';
        rows[i].around = around;
    }
    for (size_t i = 0; !s && i < answer->rows_n; i++) found_print(&rows[i], &call->out_body);
    if (!s && !answer->rows_n)
        text_wrap_print(&call->out_body, 0, 0, "Nothing in the book begins with \"%.80s\".",
                        args->q);
    return s;
}

static const char *const positional_revision[] = {"revision", NULL}, *const positional_q[] = {"q",
                                                                                              NULL};
static const struct op rows[] = {
    {"history", OP_GET, "/api/history", &desc_list, &desc_rows, NULL, OP_READS,
     "everything that was done, newest first", history},
    {"piece history", OP_GET, "/api/pieces/{id}/history", &desc_piece_list, &desc_rows,
     positional_id, OP_READS, "everything that was done to a piece, newest first", history},
    {"undo", OP_POST, "/api/undo", &desc_undo, &desc_undone, positional_revision, OP_WRITES,
     "take a change back; that can be taken back too", undo},
    {"search", OP_GET, "/api/search", &desc_search, &desc_founds, positional_q, OP_READS,
     "find pieces, clients, paints, recipes and batches by words", search},
};
extern const struct ops ops_history;
const struct ops ops_history = {rows, sizeof rows / sizeof *rows};
