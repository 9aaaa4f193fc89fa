/* The shop: hours, rates, climate, units; as typed, and as it is understood. */
#include "app/book.h"
#include "app/shop_kept.h"
#include "app/zone.h"
#include "codec/job_desc.h"
#include "codec/plan_desc.h"
#include "core/work/complete.h"
#include "store/shop.h"

struct shop_answer {
    int64_t revision;
    const char *document, *text;
    struct shop shop;
    struct assumption *assumed;
    size_t assumed_n;
};
static const struct field answer_fields[] = {
    F_REVISION(struct shop_answer),
    F_TEXT(struct shop_answer, text, "what of it is not taken as it was typed, and why"),
    F_JSON(struct shop_answer, document, "the shop as typed"),
    F_RECORD(struct shop_answer, shop, &desc_shop,
             "the same as numbers; what is not said is assumed in each plan"),
    F_LIST(struct shop_answer, assumed, &desc_assumption, 1000, "what each plan assumes"),
};
static DESC(desc_answer, struct shop_answer, "shop_answer", "The shop.", answer_fields);

struct shop_args {
    const char *shop;
};
static const struct field change_fields[] = {
    {F_AT(struct shop_args, shop), .type = FIELD_JSON, .flags = FLAG_FILE | FLAG_REQUIRED,
     .help = "the members that change, as in a job document (RFC 7396)"},
};
static DESC(desc_change, struct shop_args, "shop_change_args", "What changes.", change_fields);

/* What every plan would refuse of it is refused here: it closes before it opens. */
static enum status fill(struct op_call *call, struct why *why) {
    struct shop_answer *answer = call->result;
    struct shop whole;
    struct ledger l;
    ledger_init(&l, call->arena, false);
    enum status s = complete_shop(call->app->tables, &answer->shop, &l, &whole, why);
    answer->assumed = l.assumed, answer->assumed_n = l.assumed_n;
    return s ? s : l.failed ? why_no_memory(why) : OK;
}

static enum status show(struct op_call *call, struct why *why) {
    struct shop_answer *answer = call->result;
    const char *was;
    enum status s = shop_kept(call, &answer->document, &answer->revision, &was, why);
    if (!s && was)
        answer->text = arena_print(call->arena, "Smallest amount: %s. Say what your measure shows.",
                                   smallest_words(call->arena, was));
    if (!s)
        s = book_merge(call, &desc_shop, answer->document, NULL, "/shop", &answer->document,
                       &answer->shop, why);
    return s ? s : fill(call, why);
}

static enum status change(struct op_call *call, struct why *why) {
    const struct shop_args *args = call->args;
    struct shop_answer *answer = call->result;
    enum status s = shop_kept(call, &answer->document, &answer->revision, NULL, why);
    if (!s) s = book_fresh_row(call, "shop", 1, answer->revision, why);
    if (!s)
        s = book_merge(call, &desc_shop, answer->document, args->shop, "/shop", &answer->document,
                       &answer->shop, why);
    if (!s) s = fill(call, why);
    const struct zone_span *spans; /* a zone that is none would show only where hours are wrong */
    size_t n;
    if (!s && answer->shop.zone)
        s = zone_spans(answer->shop.zone, book_call_now(call), call->arena, &spans, &n, why);
    if (!s) s = shop_write(call->book, answer->document, why);
    if (!s) s = book_says_changes(call, "shop", 1, "Shop", why);
    answer->revision = book_revision(call->book);
    return s;
}

static const char *const positional[] = {"shop", NULL};
static const struct op rows[] = {
    {"shop", OP_GET, "/api/shop", NULL, &desc_answer, NULL, OP_READS,
     "the shop: hours, rates, climate, units", show},
    {"shop change", OP_PATCH, "/api/shop", &desc_change, &desc_answer, positional, OP_WRITES,
     "change what was said of the shop", change},
};
extern const struct ops ops_shop;
const struct ops ops_shop = {rows, sizeof rows / sizeof *rows};
