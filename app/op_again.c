/* Another piece like one in the book. What the first one is made of and what is wanted on it goes
 * along; what was seen of it does not: its age, its tests and what is broken clear no other. */
#include "app/op_piece.h"
#include "codec/job_desc.h"
#include "core/base/name.h"

#include <string.h>

struct again_args {
    const char *id, *title, *client, *due;
    int64_t count;
};
static const struct field args_fields[] = {
    F_ID(struct again_args, id, FLAG_REQUIRED, "which piece it is like"),
    {F_AT(struct again_args, title), .type = FIELD_TEXT, .flags = FLAG_REQUIRED,
     .help = "what to call the new one"},
    F_INT(struct again_args, count, 1, 200, "how many alike; 1 when not said"),
    F_TEXT(struct again_args, client, "whose it is: id or name; the first one's when not said"),
    F_TEXT(struct again_args, due, "promised for: 2026-10-19"),
};
static DESC(desc_args, struct again_args, "piece_again_args", "Another piece like this one.",
            args_fields);

/* The first one's own: who it is, when it was made and how it was found, what is broken, what it
 * waits for; and of a crib and of what may tip, what was measured or done to make it safe. */
static const char own_out[] =
    "{\"id\":null,\"year\":null,\"condition\":null,\"tests\":null,\"repairs\":null,"
    "\"waits\":null,\"note\":null,\"slat_gap\":null,\"drop_side\":null,\"agreement\":null,"
    "\"fittings\":{\"anchor\":null}}";

/* So many of `had` things on `before` pieces make how many on `now`; rounded up: better one too
 * many on the sheet than one forgotten. */
static int64_t share(int64_t had, int64_t before, int64_t now) {
    return (had * now + before - 1) / before;
}

/* Pulls and panels are counted over all pieces of a document; for another count they are fewer or
 * more. */
static enum status recount(struct op_call *call, const struct piece *first, int64_t now,
                           const char **document, struct why *why) {
    const struct fittings *f = &first->fittings;
    const char **panels, *one, *sep = "";
    int64_t before = first->count == INT64_MIN ? 1 : first->count;
    size_t n;
    struct text t = {0};
    enum status s = document_parts(*document, "fittings/panels", call->arena, &panels, &n, why);
    if (s || before == now) return s;
    text_print(&t, "{\"count\":%lld", (long long)now);
    if (f->pulls.count != INT64_MIN || n) text_print(&t, ",\"fittings\":{");
    if (f->pulls.count != INT64_MIN) {
        text_print(&t, "\"pulls\":{\"count\":%lld}", (long long)share(f->pulls.count, before, now));
        sep = ",";
    }
    if (n) text_print(&t, "%s\"panels\":[", sep);
    for (size_t i = 0; !s && i < n; i++) {
        int64_t had = f->panels[i].count;
        one = panels[i];
        if (had != INT64_MIN) {
            const char *count =
                arena_print(call->arena, "{\"count\":%lld}", (long long)share(had, before, now));
            s = count ? document_merge(one, count, call->arena, &one, why) : why_no_memory(why);
        }
        text_print(&t, "%s%s", i ? "," : "", one);
    }
    if (n) text_print(&t, "]");
    if (f->pulls.count != INT64_MIN || n) text_print(&t, "}");
    text_print(&t, "}");
    if (!s && t.failed) s = why_no_memory(why);
    if (!s) s = document_merge(*document, t.at, call->arena, document, why);
    text_free(&t);
    return s;
}

static enum status again(struct op_call *call, struct why *why) {
    const struct again_args *args = call->args;
    struct piece_row first, *row = call->result;
    struct piece *p = arena_take(call->arena, sizeof *p);
    const char *document, *typed;
    if (!p) return why_no_memory(why);
    if (!name_said(args->title))
        return why_say(why, E_MISSING, "/title", "Give it a name of its own: Two more chairs.");
    enum status s = book_get(call, &table_piece, args->id, &first, why);
    if (!s) s = book_merge(call, &desc_piece, first.document, NULL, "", &document, p, why);
    if (!s) s = document_merge(document, own_out, call->arena, &document, why);
    if (!s) s = recount(call, p, args->count == INT64_MIN ? 1 : args->count, &document, why);
    if (s) return s;
    static const char due[] = "/agreement/due"; /* where it goes; it came as /due */
    static const char *const purposes[] = {NULL, "client", "sale", "own"};
    typed =
        book_typed(call, "title", args->title, "agreement.purpose", purposes[p->agreement.purpose],
                   "agreement.client", args->client ? args->client : first.client, "agreement.use",
                   p->agreement.use, "agreement.due", args->due, (const char *)NULL);
    if (!typed) return why_no_memory(why);
    s = document_merge(document, typed, call->arena, &document, why);
    if (!s) s = piece_enter(call, document, "", row, why);
    if (s && why && !strncmp(why->field, due, sizeof due - 1))
        memmove(why->field, "/due", sizeof "/due");
    if (!s) s = book_says(call->book, why, "%s, like %s", row->title, first.title);
    return s ? s : book_get(call, &table_piece, row->id, row, why);
}

static const struct op rows[] = {
    {"piece again", OP_POST, "/api/pieces/{id}/again", &desc_args, &desc_piece_row, positional_id,
     OP_WRITES,
     "enter another piece like this one, or more of a set: its build, coats and color; its age and "
     "tests are to be looked at anew",
     again},
};
extern const struct ops ops_again;
const struct ops ops_again = {rows, sizeof rows / sizeof *rows};
