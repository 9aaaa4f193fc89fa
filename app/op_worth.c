/* Worth buying? Asked at a flea market: what an hour would earn, break-even, the highest offer. */
#include "app/book.h"
#include "app/cited.h"
#include "app/gather.h"
#include "app/worth_text.h"
#include "codec/job_desc.h"
#include "codec/plan_desc.h"
#include "core/work/cans.h"
#include "core/work/names.h"
#include "core/work/unsaid_class.h"
#include "core/work/worth.h"

#include <math.h>
#include <string.h>

struct worth_args {
    const char *template, *condition, *job;
    double width_mm, depth_mm, height_mm;
    int64_t drawers, doors, shelves, year;
    int child, drop_side;
    bool why;
    double asked_cent, price_cent, fee_frac, supplies_cent, delivery_cent, hours_min,
        pay_cent_per_h;
};

#define SIZE(m, h) F_QTY(struct worth_args, m, m##_mm, DIM_LENGTH, 1, 20000, h)
#define MONEY(m, h) F_QTY(struct worth_args, m, m##_cent, DIM_MONEY, 0, 1e11, h)
static const struct field args_fields[] = {
    F_ID(struct worth_args, template, FLAG_REQUIRED, "what it is: chest, nightstand, ..."),
    F_ID(struct worth_args, condition, 0, "sound, worn, damaged or strip; worn when not said"),
    MONEY(asked, "what the seller asks"),
    MONEY(price, "what it should sell for when it is done"),
    F_QTY(struct worth_args, fee, fee_frac, DIM_FRACTION, 0, 0.99,
          "seller's fee of the price: 13 %; the shop's when not said"),
    MONEY(supplies, "paint and supplies; as planned when not said"),
    MONEY(delivery, "fetching and delivering; none when not said"),
    F_QTY(struct worth_args, hours, hours_min, DIM_DURATION, 1, 60000,
          "hands-on: 6 h 30 min; as planned for the condition when not said"),
    F_QTY(struct worth_args, pay, pay_cent_per_h, DIM_RATE, 0, 1e8,
          "least an hour must earn: $30/h; the shop's rate when not said"),
    SIZE(width, "width; the usual one when not said"),
    SIZE(depth, "depth"),
    SIZE(height, "height"),
    F_INT(struct worth_args, drawers, 0, 100, "drawers"),
    F_INT(struct worth_args, doors, 0, 100, "doors"),
    F_INT(struct worth_args, shelves, 0, 100, "shelves"),
    F_INT(struct worth_args, year, 1500, 2100, "made about"),
    F_TRI(struct worth_args, child, "for a child"),
    F_TRI(struct worth_args, drop_side, "has a crib a drop side"),
    F_BOOL(struct worth_args, why, "say where every figure comes from"),
    {F_AT(struct worth_args, job), .type = FIELD_JSON, .flags = FLAG_FILE | FLAG_PATH,
     .help = "a job document whose shop and shelf stand in the book's place"},
};
static DESC(desc_args, struct worth_args, "worth_args", "A piece that could be bought.",
            args_fields);

static const char *const words_verdict[] = {"", "take", "offer", "leave", NULL};

#define CENT(stem, m, h) F_QTY(struct worth, stem, m, DIM_MONEY, 0, 0, h)
#define RATE(stem, m, h) F_QTY(struct worth, stem, m, DIM_RATE, 0, 0, h)
static const struct field worth_fields[] = {
    F_TEXT(struct worth, text, "what to do, and why"),
    F_WORD(struct worth, verdict, words_verdict,
           "take: at the price asked; offer: less than asked; leave: not even as a gift; missing: "
           "nobody has said what it sells for"),
    F_TEXT(struct worth, name, "what it is"),
    F_TEXT(struct worth, template, "template"),
    F_TEXT(struct worth, condition, "in which condition"),
    F_QTY(struct worth, width, width_mm, DIM_LENGTH, 0, 0, "width"),
    F_QTY(struct worth, depth, depth_mm, DIM_LENGTH, 0, 0, "depth"),
    F_QTY(struct worth, height, height_mm, DIM_LENGTH, 0, 0, "height"),
    CENT(sale, sale_cent, "sells for"),
    CENT(fee, fee_cent, "seller's fee"),
    F_QTY(struct worth, fee_share, fee_frac, DIM_FRACTION, 0, 0, "as a share of the price"),
    CENT(asked, asked_cent, "the seller asks"),
    CENT(supplies, supplies_cent, "paint and supplies"),
    CENT(delivery, delivery_cent, "fetching and delivering"),
    F_HOURS(struct worth, hours, "hands-on hours"),
    F_HOURS(struct worth, hours_low, "9 of 10 take longer"),
    F_HOURS(struct worth, hours_high, "9 of 10 take less"),
    RATE(pay, pay_cent, "least an hour must earn"),
    RATE(hour, hour_cent, "what an hour would earn at the price asked"),
    RATE(hour_low, hour_low_cent, "if it takes the longest"),
    RATE(hour_high, hour_high_cent, "if it goes quickly"),
    CENT(break_even, break_even_cent, "sale price at which the hours earn nothing"),
    CENT(must_bring, must_bring_cent, "sale price at which every hour earns the pay"),
    CENT(offer, offer_cent, "highest offer; below zero: leave it"),
    {.name = "notices",
     .offset = offsetof(struct worth, notices.rows),
     .count_offset = offsetof(struct worth, notices.n),
     .type = FIELD_LIST,
     .of = &desc_notice,
     .items_max = 1000,
     .help = "what may turn it round"},
    F_LIST(struct worth, assumed, &desc_assumption, 1000, "what nobody has said"),
    {.name = "basis",
     .offset = offsetof(struct worth, bases),
     .count_offset = offsetof(struct worth, bases_n),
     .type = FIELD_MAP,
     .of = &desc_basis,
     .items_max = 1000,
     .help = "where the figures come from"},
};
static DESC(desc_worth, struct worth, "worth", "Whether it is worth buying.", worth_fields);

/* Shop and shelf: of the document, else of the book, else nothing is said of them. */
static enum status shop_and_shelf(struct op_call *call, const char *document, struct job *out,
                                  struct why *why) {
    struct gathered g;
    if (document && call->book)
        return why_say(why, E_SYNTAX, "/job",
                       "Shop and shelf stand in the job document and in the book. Name one of "
                       "them: --job FILE or --book FILE.");
    if (call->book) {
        enum status s = gather_job(call, NULL, false, &g, why);
        if (!s) *out = g.job;
        return s;
    }
    desc_unsay(&desc_job, out);
    if (!document) return OK;
    enum status s =
        document_read(&desc_job, SPELL_INPUT, document, strlen(document), call->arena, out, why);
    if (!s) s = names_shelf_check(call->app->tables, &out->shelf, "/shelf", call->arena, why);
    if (!s) cans_fill(&out->shelf);
    if (!s) unsaid_classes(call->app->tables, &out->shelf);
    if (s) why_under(why, "/job");
    return s;
}

static enum status run(struct op_call *call, struct why *why) {
    const struct worth_args *a = call->args;
    struct job *job = arena_take(call->arena, sizeof *job);
    struct piece *piece = arena_take(call->arena, sizeof *piece);
    enum status s = job && piece ? shop_and_shelf(call, a->job, job, why) : why_no_memory(why);
    if (s) return s;
    desc_unsay(&desc_piece, piece);
    piece->template = a->template;
    piece->width_mm = a->width_mm, piece->depth_mm = a->depth_mm, piece->height_mm = a->height_mm;
    piece->drawers = a->drawers, piece->doors = a->doors, piece->shelves = a->shelves;
    piece->year = a->year;
    piece->child = (enum yes_no)a->child, piece->drop_side = (enum yes_no)a->drop_side;
    struct worth_ask ask = {.piece = piece,
                            .condition = a->condition,
                            .asked_cent = a->asked_cent,
                            .sale_cent = a->price_cent,
                            .fee_frac = a->fee_frac,
                            .pay_cent_per_h = a->pay_cent_per_h,
                            .supplies_cent = a->supplies_cent,
                            .hours = a->hours_min / 60,
                            .delivery_cent = a->delivery_cent};
    struct plan_options o = {.now_utc_min = book_call_now(call), .limit = call->limit, .seed = 1};
    struct worth *w = call->result;
    s = worth_make(call->app->tables, &job->shop, &job->shelf, &ask, &o, call->arena, w, why);
    if (!s && !a->why) w->bases_n = 0;
    if (!s && !a->why) s = worth_print(call, job->shop.units, w, why);
    if (!s && !cited_bases(call->app->tables, w->bases, w->bases_n, call->arena))
        s = why_no_memory(why);
    return s;
}

static const char *const positional[] = {"template", NULL};
static const struct op rows[] = {
    {"worth", OP_GET, "/api/worth", &desc_args, &desc_worth, positional,
     OP_READS | OP_SLOW | OP_BOOKLESS,
     "is a piece worth buying: what an hour earns, break-even, highest offer", run},
};
extern const struct ops ops_worth;
const struct ops ops_worth = {rows, sizeof rows / sizeof *rows};
