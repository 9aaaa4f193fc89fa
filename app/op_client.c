/* Clients: who work is done for. */
#include "app/op_client.h"
#include "app/entry_text.h"
#include "core/base/name.h"
#include "store/search.h"

#include <string.h>

static const struct field row_fields[] = {
    F_TEXT(struct client_row, id, "public name"),
    F_REVISION(struct client_row),
    F_TEXT(struct client_row, name, "as the shop calls them"),
    F_TEXT(struct client_row, phone, "as written"),
    F_TEXT(struct client_row, email, "as written"),
    F_TEXT(struct client_row, address, "as written"),
    F_TEXT(struct client_row, waits_for, "what the client must still decide or bring"),
    F_TEXT(struct client_row, note, "anything else"),
};
static DESC(desc_row, struct client_row, "client_row", "A client.", row_fields);
static const struct field rows_fields[] = {F_ROWS(&desc_row)};
static DESC(desc_rows, struct list_answer, "client_rows", "A page of clients.", rows_fields);

static const struct field list_fields[] = {
    F_TEXT(struct list_args, q, "only those with these words"),
    F_LIST_AFTER,
    F_LIST_LIMIT,
};
static DESC(desc_list, struct list_args, "clients_args", "Which clients.", list_fields);

#define CLIENT_FIELDS                                                                              \
    F_TEXT(struct client_row, phone, "telephone"), F_TEXT(struct client_row, email, "mail"),       \
        F_TEXT(struct client_row, address, "address"),                                             \
        F_TEXT(struct client_row, waits_for,                                                       \
               "what the client must still decide or bring; \"\" for nothing"),                    \
        F_TEXT(struct client_row, note, "anything else")
static const struct field add_fields[] = {
    {F_AT(struct client_row, name), .type = FIELD_TEXT, .flags = FLAG_REQUIRED,
     .help = "as the shop calls them"},
    F_ID(struct client_row, id, 0, "public name; made of the name when not said"),
    CLIENT_FIELDS,
};
static DESC(desc_add, struct client_row, "client_add_args", "A new client.", add_fields);
static const struct field change_fields[] = {
    F_ID(struct client_row, id, FLAG_REQUIRED, "which client"),
    F_TEXT(struct client_row, name, "as the shop calls them"),
    CLIENT_FIELDS,
};
static DESC(desc_change, struct client_row, "client_change_args", "What changes.", change_fields);

enum status client_named(struct op_call *call, const char *name, const char **out_id,
                         struct why *why) {
    *out_id = NULL;
    if (!name_said(name)) return OK;
    struct client_row *found;
    size_t n;
    struct row_query q = {.where = "removed = 0 AND (id = ?1 OR name = ?1 COLLATE NOCASE)",
                          .texts = {name},
                          .after = INT64_MIN,
                          .limit = 1};
    enum status s =
        row_list(call->book, &table_client, &q, call->arena, (void **)&found, &n, NULL, why);
    if (s) return s;
    if (n) {
        *out_id = found->id;
        return OK;
    }
    struct client_row row;
    row_unsay(&table_client, &row);
    row.name = name;
    s = row_free_id(call->book, &table_client, name, call->arena, &row.id, why);
    if (!s) s = row_add(call->book, &table_client, &row, why);
    if (!s) *out_id = row.id;
    return s;
}

/* Each with what the shop waits for, and how they are reached. */
static enum status clients_print(struct op_call *call, const struct list_answer *list,
                                 struct why *why) {
    const struct client_row *rows = list->rows;
    struct arena *a = call->arena;
    size_t at = 0;
    for (size_t i = 0; i < list->rows_n; i++) at = entry_column(at, rows[i].id);
    for (size_t i = 0; i < list->rows_n; i++) {
        const struct client_row *r = &rows[i];
        const char *const parts[] = {
            r->waits_for && *r->waits_for ? arena_print(a, "Waits for: %s", r->waits_for) : NULL,
            r->phone, r->email, r->address, r->note};
        const char *line = entry_sentences(a, parts, sizeof parts / sizeof *parts);
        if (!line) return why_no_memory(why);
        entry_print(&call->out_body, at, r->id, r->name, line);
    }
    if (list->next)
        text_print(&call->out_body, "More: coatwright clients --after %s\n", list->next);
    return OK;
}

static enum status list(struct op_call *call, struct why *why) {
    const struct list_args *args = call->args;
    struct row_query q = {.where = "removed = 0 AND (?1 IS NULL OR id IN (SELECT w.id FROM words w "
                                   "WHERE w.subject = 'client' AND words MATCH ?1))",
                          .texts = {args->q ? search_query(args->q, call->arena) : NULL}};
    enum status s = book_list(call, &table_client, &q, args, why);
    return s ? s : clients_print(call, call->result, why);
}

static enum status show(struct op_call *call, struct why *why) {
    const struct id_args *args = call->args;
    return book_get(call, &table_client, args->id, call->result, why);
}

static enum status name_given(const char *name, struct why *why) {
    return name_said(name) ? OK : why_say(why, E_MISSING, "/name", "Say what to call the client.");
}

static enum status add(struct op_call *call, struct why *why) {
    const struct client_row *args = call->args;
    struct client_row *row = call->result;
    enum status s = name_given(args->name, why);
    if (s) return s;
    *row = *args;
    row->removed = false;
    s = book_new_id(call, &table_client, args->id, args->name, &row->id, why);
    if (!s) s = row_add(call->book, &table_client, row, why);
    return s ? s : book_says(call->book, why, "%s", row->name);
}

/* What was said replaces what was there; an empty text clears it. */
static void say(const char **to, const char *said) {
    if (said) *to = *said ? said : NULL;
}

static enum status change(struct op_call *call, struct why *why) {
    const struct client_row *args = call->args;
    struct client_row *row = call->result;
    enum status s = book_get(call, &table_client, args->id, row, why);
    if (!s) s = book_fresh(call, &table_client, row, why);
    if (!s && args->name) s = name_given(args->name, why);
    if (s) return s;
    say(&row->name, args->name);
    say(&row->phone, args->phone);
    say(&row->email, args->email);
    say(&row->address, args->address);
    say(&row->waits_for, args->waits_for);
    say(&row->note, args->note);
    return book_change(call, &table_client, row, row->name, why);
}

static enum status remove_client(struct op_call *call, struct why *why) {
    const struct id_args *args = call->args;
    struct client_row row;
    return book_remove(call, &table_client, args->id, &row, why);
}

static const struct op rows[] = {
    {"clients", OP_GET, "/api/clients", &desc_list, &desc_rows, NULL, OP_READS, "the clients",
     list},
    {"client show", OP_GET, "/api/clients/{id}", &desc_id_args, &desc_row, positional_id, OP_READS,
     "one client", show},
    {"client add", OP_POST, "/api/clients", &desc_add, &desc_row, NULL, OP_WRITES, "enter a client",
     add},
    {"client change", OP_PATCH, "/api/clients/{id}", &desc_change, &desc_row, positional_id,
     OP_WRITES, "change what is written of a client", change},
    {"client remove", OP_DELETE, "/api/clients/{id}", &desc_id_args, &desc_done, positional_id,
     OP_WRITES, "take a client off the list; undo brings them back", remove_client},
};
extern const struct ops ops_client;
const struct ops ops_client = {rows, sizeof rows / sizeof *rows};
