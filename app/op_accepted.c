/* What was agreed: quotes, agreements, change orders, samples, cautions that were read. Only added
 * to: what was promised stays readable when the plan has changed since; undo adds the row that
 * takes one back. */
#include "app/op_accepted.h"
#include "app/gather.h"
#include "app/op_piece.h"
#include "app/zone.h"
#include "codec/time_text.h"
#include "codec/units_text.h"

#include <math.h>
#include <string.h>

static const char *const words_kind[] = {"",       "quote",    "agreement", "change",
                                         "sample", "schedule", "caution",   NULL};
enum {
    KIND_UNSAID,
    KIND_QUOTE,
    KIND_AGREEMENT,
    KIND_CHANGE,
    KIND_SAMPLE,
    KIND_SCHEDULE,
    KIND_CAUTION
};

/* ---- shapes ---- */

static const struct field row_fields[] = {
    F_INT(struct accepted_row, number, 0, 9e15, "order of entry"),
    F_REVISION(struct accepted_row),
    F_TEXT(struct accepted_row, piece, "for which piece"),
    F_TEXT(struct accepted_row, kind, "quote, agreement, change, sample, schedule or caution"),
    F_QTY(struct accepted_row, amount, amount_cent, DIM_MONEY, 0, 0,
          "price; of a change, what it adds"),
    F_TIME(struct accepted_row, due, due_day, FIELD_DAY, "promised for"),
    F_TEXT(struct accepted_row, text, "the words that were agreed"),
    F_TEXT(struct accepted_row, who, "who agreed"),
    F_TEXT(struct accepted_row, about, "of a caution: which one; of a sample: card or board"),
    F_TIME(struct accepted_row, at, at_utc_min, FIELD_INSTANT, "when"),
    F_INT(struct accepted_row, corrects, 0, 9e15, "number of the row that this one takes back"),
    F_BOOL(struct accepted_row, withdrawn, "taken back since"),
    F_JSON(struct accepted_row, document, "what the plan said then"),
};
static DESC(desc_row, struct accepted_row, "accepted_row", "Something that was agreed.",
            row_fields);
static const struct field rows_fields[] = {F_ROWS(&desc_row)};
static DESC(desc_rows, struct list_answer, "accepted_rows", "What was agreed, newest first.",
            rows_fields);
static const struct field list_fields[] = {
    F_ID(struct list_args, id, FLAG_REQUIRED, "which piece"),
    F_ID(struct list_args, kind, 0, "only this kind"),
    F_LIST_AFTER,
    F_LIST_LIMIT,
};
static DESC(desc_list, struct list_args, "piece_accepted_args", "Of which piece.", list_fields);

struct accept_args {
    const char *id, *text, *who, *about;
    int kind;
    double amount_cent;
    int64_t due_day;
};
static const struct field accept_fields[] = {
    F_ID(struct accept_args, id, FLAG_REQUIRED, "which piece"),
    {F_AT(struct accept_args, kind), .type = FIELD_WORD, .words = words_kind,
     .flags = FLAG_REQUIRED, .help = "what was agreed"},
    F_QTY(struct accept_args, amount, amount_cent, DIM_MONEY, -1e11, 1e11,
          "price, as planned when not said; of a change, what it adds: $80"),
    F_TIME(struct accept_args, due, due_day, FIELD_DAY, "promised for; of a change, the new day"),
    F_TEXT(struct accept_args, text, "the words that were agreed; a change needs them"),
    F_TEXT(
        struct accept_args, who,
        "who agreed; a quote, agreement or change needs it, of a sample it is the client when not "
        "said"),
    F_ID(struct accept_args, about, 0,
         "of a caution: which one, data/cautions.tsv; of a sample: card or board, card when not "
         "said"),
};
static DESC(desc_accept, struct accept_args, "piece_accept_args", "What was agreed.",
            accept_fields);

static enum status list(struct op_call *call, struct why *why) {
    const struct list_args *args = call->args;
    struct piece_row piece;
    struct row_query q = {.where = "piece = ?1 AND (?2 IS NULL OR kind = ?2)",
                          .texts = {args->id, args->kind},
                          .down = true};
    enum status s = book_get(call, &table_piece, args->id, &piece, why);
    return s ? s : book_list(call, &table_accepted, &q, args, why);
}

enum status caution_read_at(struct op_call *call, const char *piece, const char *caution,
                            int64_t *out_utc_min, struct why *why) {
    struct accepted_row *rows;
    size_t n;
    struct row_query q = {.where = "piece = ?1 AND about = ?2 AND kind = 'caution' AND corrects IS "
                                   "NULL AND withdrawn = 0",
                          .texts = {piece, caution},
                          .after = INT64_MIN,
                          .limit = 1};
    *out_utc_min = INT64_MIN;
    enum status s =
        row_list(call->book, &table_accepted, &q, call->arena, (void **)&rows, &n, NULL, why);
    if (!s && n) *out_utc_min = rows[0].at_utc_min;
    return s;
}

/* ---- what the plan says now, to be kept ---- */

static void text_member(struct text *t, const char *name, const char *value) {
    if (!value) return;
    text_print(t, "%s\"%s\":", t->n > 1 ? "," : "", name);
    text_json(t, value);
}
static void number_member(struct text *t, const char *name, double value) {
    if (!isnan(value)) text_print(t, "%s\"%s\":%.15g", t->n > 1 ? "," : "", name, value);
}
static void whole_member(struct text *t, const char *name, int64_t value) {
    if (value != INT64_MIN)
        text_print(t, "%s\"%s\":%lld", t->n > 1 ? "," : "", name, (long long)value);
}
static void texts_member(struct text *t, const char *name, const char *const *rows, size_t n) {
    text_print(t, "%s\"%s\":[", t->n > 1 ? "," : "", name);
    for (size_t i = 0; i < n; i++) {
        if (i) text_add(t, ",", 1);
        text_json(t, rows[i]);
    }
    text_add(t, "]", 1);
}

static const char *promise_of(struct op_call *call, const struct plan_answer *a) {
    if (!a || !a->plan.pieces_n) return NULL;
    const struct piece_plan *p = &a->plan.pieces[0];
    const struct agreement *g = &p->piece.agreement;
    struct text t = {0};
    text_add(&t, "{", 1);
    text_member(&t, "title", p->title);
    number_member(&t, "width_mm", p->piece.width_mm);
    number_member(&t, "depth_mm", p->piece.depth_mm);
    number_member(&t, "height_mm", p->piece.height_mm);
    number_member(&t, "price_cent", isnan(g->quoted_cent) ? p->price.price_cent : g->quoted_cent);
    number_member(&t, "deposit_cent", p->price.deposit_cent);
    number_member(&t, "storage_fee_cent", g->storage_fee_cent);
    number_member(&t, "hours", p->price.hours);
    whole_member(&t, "due_day", g->due_day);
    whole_member(&t, "ready_utc_min", p->deliver_utc_min);
    text_member(&t, "use", g->use);
    text_member(&t, "color", p->color.target.text);
    text_member(&t, "hex", book_hex(call, &p->color.target));
    texts_member(&t, "work", p->price.work, p->price.work_n);
    texts_member(&t, "agreed", g->agreed, g->agreed_n);
    texts_member(&t, "excluded", p->price.excluded, p->price.excluded_n);
    texts_member(&t, "marks", g->marks, g->marks_n);
    text_member(&t, "quote", p->price.quote);
    text_add(&t, "}", 1);
    const char *json = t.failed ? NULL : arena_text(call->arena, t.at);
    text_free(&t);
    return json;
}

/* The plan before the change, computed outside of it where possible. */
static const struct plan_answer *plan_before(struct op_call *call, const char *id) {
    if (call->prepared) return call->prepared;
    struct gathered *g = arena_take(call->arena, sizeof *g);
    struct plan_answer *answer = arena_take(call->arena, sizeof *answer);
    struct plan_ask ask = {.now_utc_min = book_call_now(call)};
    if (!g || !answer || gather_job(call, id, true, g, NULL)) return NULL;
    desc_unsay(&desc_plan_answer, answer);
    if (gather_plan(call, g, id, &ask, answer, NULL)) return NULL;
    return call->prepared = answer;
}

/* ---- agreeing ---- */

/* A sample is signed by the client, where nobody else is named. */
static const char *who_of(const struct accept_args *a, const struct plan_answer *plan) {
    if (a->who || a->kind != KIND_SAMPLE || !plan || !plan->plan.pieces_n) return a->who;
    const struct agreement *g = &plan->plan.pieces[0].piece.agreement;
    return g->purpose == PURPOSE_CLIENT && !g->client ? "the client" : g->client;
}

static enum status check(const struct accept_args *a, const struct plan_answer *plan,
                         struct why *why) {
    bool needs_who = a->kind >= KIND_QUOTE && a->kind <= KIND_SAMPLE;
    if (needs_who && !who_of(a, plan))
        return why_say(why, E_MISSING, "/who", "Who agreed? Write the name.");
    if (a->kind == KIND_CHANGE && !a->text)
        return why_say(why, E_MISSING, "/text", "Say what changes, in the words that were agreed.");
    if (a->kind == KIND_CHANGE && isnan(a->amount_cent))
        return why_say(why, E_MISSING, "/amount",
                       "Say what the change adds to the price, $0 if nothing.");
    if (a->kind == KIND_CAUTION && !a->about)
        return why_say(why, E_MISSING, "/about", "Say which caution was read.");
    if (a->kind == KIND_SAMPLE && a->about && strcmp(a->about, "card") && strcmp(a->about, "board"))
        return why_say(why, E_REFERENCE, "/about",
                       "\"%.64s\" is no sample. Write card for a sample card of the color, board "
                       "for a test board of the whole system.",
                       a->about);
    bool refused = plan && plan->plan.pieces_n && plan->plan.pieces[0].hazards.refused;
    if (refused && a->kind <= KIND_SAMPLE)
        return why_say(why, E_REFUSED, "/id", "Nothing is agreed on a piece that is refused. %s",
                       plan->plan.pieces[0].hazards.refusal);
    return OK;
}

static const struct notice *caution_now(const struct plan_answer *plan, const char *id) {
    if (!plan || !plan->plan.pieces_n) return NULL;
    const struct notices *n = &plan->plan.pieces[0].hazards.notices;
    for (size_t i = 0; i < n->n; i++)
        if (n->rows[i].id && !strcmp(n->rows[i].id, id)) return &n->rows[i];
    return NULL;
}

static enum status fill(struct op_call *call, const struct accept_args *a,
                        const struct plan_answer *plan, struct accepted_row *row, struct why *why) {
    const struct piece_plan *p = plan && plan->plan.pieces_n ? &plan->plan.pieces[0] : NULL;
    row_unsay(&table_accepted, row);
    row->piece = a->id;
    row->kind = words_kind[a->kind];
    row->amount_cent = a->amount_cent;
    row->due_day = a->due_day;
    row->text = a->text;
    row->who = who_of(a, plan);
    row->about = a->about ? a->about : a->kind == KIND_SAMPLE ? "card" : NULL;
    row->at_utc_min = book_call_now(call);
    if (a->kind == KIND_CAUTION) {
        const struct notice *n = caution_now(plan, a->about);
        if (!n)
            return why_say(why, E_REFERENCE, "/about",
                           "The plan of this piece has no caution \"%.64s\".", a->about);
        row->text = n->text;
        return OK;
    }
    row->document = promise_of(call, plan);
    if (!p || a->kind == KIND_CHANGE || a->kind == KIND_SAMPLE) return OK;
    const struct agreement *g = &p->piece.agreement;
    if (isnan(row->amount_cent))
        row->amount_cent = isnan(g->quoted_cent) ? p->price.price_cent : g->quoted_cent;
    if (row->due_day == INT64_MIN) row->due_day = g->due_day;
    if (!row->text) row->text = p->price.quote;
    return OK;
}

/* A signature of the evening has the shop's own date. */
static const char *shop_zone(struct op_call *call, const struct plan_answer *plan) {
    struct gathered g;
    if (plan) return plan->plan.shop.zone;
    return gather_job(call, NULL, false, &g, NULL) ? NULL : g.job.shop.zone;
}

/* What follows for the piece's own statement: the price that holds, the day, the signature. */
static const char *patch_of(struct op_call *call, const struct accept_args *a,
                            const struct plan_answer *plan, const struct accepted_row *row) {
    struct text t = {0};
    char day[24], money[40];
    double price = NAN;
    if (a->kind == KIND_CAUTION || a->kind == KIND_SCHEDULE) return NULL;
    if (a->kind == KIND_SAMPLE) return "{\"agreement\":{\"sample_signed\":true}}";
    if (a->kind != KIND_CHANGE)
        price = row->amount_cent;
    else if (plan && plan->plan.pieces_n) {
        const struct piece_plan *p = &plan->plan.pieces[0];
        double was = p->piece.agreement.quoted_cent;
        price = (isnan(was) ? p->price.price_cent : was) + row->amount_cent;
    }
    text_print(&t, "{\"agreement\":{");
    if (!isnan(price)) {
        units_print(DIM_MONEY, UNITS_US, round(price), money, sizeof money);
        text_print(&t, "\"quoted\":\"%s\",", money);
    }
    if (row->due_day != INT64_MIN) {
        day_print(row->due_day, day, sizeof day);
        text_print(&t, "\"due\":\"%s\",", day);
    }
    day_print(zone_day(shop_zone(call, plan), row->at_utc_min, call->arena), day, sizeof day);
    text_print(&t, "\"signed\":\"%s\"}}", day);
    const char *patch = t.failed ? NULL : arena_text(call->arena, t.at);
    text_free(&t);
    return patch;
}

static enum status accept(struct op_call *call, struct why *why) {
    const struct accept_args *a = call->args;
    struct accepted_row *row = call->result;
    struct piece_row piece;
    const char *document;
    enum status s = book_get(call, &table_piece, a->id, &piece, why);
    const struct plan_answer *plan = s ? NULL : plan_before(call, a->id);
    if (!s && !book_writes(call->book)) return OK;
    if (!s) s = check(a, plan, why);
    if (!s) s = fill(call, a, plan, row, why);
    if (s) return s;
    const char *patch = patch_of(call, a, plan, row);
    if (patch) {
        s = document_merge(piece.document, patch, call->arena, &document, why);
        if (!strcmp(piece.stage, "looked_over") && a->kind != KIND_SAMPLE) piece.stage = "agreed";
        if (!s) s = piece_rewrite(call, &piece, document, "/id", why);
    }
    if (!s) s = row_add(call->book, &table_accepted, row, why);
    return s ? s
             : book_says(call->book, why, "%s: %s%s%s", piece.title,
                         a->kind == KIND_CAUTION ? "caution read" : row->kind, row->who ? ", " : "",
                         row->who ? row->who : "");
}

static const char *const positional[] = {"id", "kind", NULL};
static const struct op rows[] = {
    {"piece accepted", OP_GET, "/api/pieces/{id}/accepted", &desc_list, &desc_rows, positional_id,
     OP_READS, "what was agreed on a piece, as it was promised then", list},
    {"piece accept", OP_POST, "/api/pieces/{id}/accepted", &desc_accept, &desc_row, positional,
     OP_WRITES | OP_PREPARES | OP_SLOW,
     "a quote, agreement, change order or sample was agreed, or a caution was read", accept},
};
extern const struct ops ops_accepted;
const struct ops ops_accepted = {rows, sizeof rows / sizeof *rows};
