#include "core/work/price.h"

#include "core/work/color_plan.h"
#include "core/work/fact.h"
#include "core/work/learn.h"
#include "core/work/pot.h"
#include "core/work/promise.h"
#include "core/work/work_part.h"

#include <math.h>
#include <string.h>

/* ---- the arithmetic ---- */

double price_of_cost(double cost_cent, double margin_frac, double fee_frac) {
    double kept = 1 - margin_frac - fee_frac;
    return kept > 0 ? cost_cent / kept : NAN;
}

double price_markup_of_margin(double margin_frac) {
    return margin_frac / (1 - margin_frac);
}

static double left_for_hours(const struct price_sale *s) {
    return s->price_cent * (1 - s->fee_frac) - s->bought_cent - s->material_cent - s->overhead_cent;
}

double price_hour_cent(const struct price_sale *s) {
    return s->hours > 0 ? left_for_hours(s) / s->hours : NAN;
}

double price_best_offer_cent(const struct price_sale *s, double pay_cent) {
    return left_for_hours(s) + s->bought_cent - s->hours * pay_cent;
}

double price_break_even_cent(const struct price_sale *s) {
    return (s->bought_cent + s->material_cent + s->overhead_cent) / (1 - s->fee_frac);
}

const char *price_leave_text(struct arena *arena, double gift_cent, double pay_cent) {
    char gift[32], pay[32];
    return arena_print(arena, "Leave it. Even as a gift an hour would earn %s, and you want %s.",
                       basis_money(gift_cent, gift), basis_money(pay_cent, pay));
}

/* ---- hours ---- */

struct hours {
    double of[WORK_PARTS];
};

static double steps_h(const struct steps *s) {
    double min = 0;
    for (size_t i = 0; i < s->n; i++)
        if (s->rows[i].hands_min > 0) min += s->rows[i].hands_min;
    return min / 60;
}

/* Tape and the smell test stand among the repairs by their time, not by their kind. */
static double readying_h(const struct room *r, const struct steps *s) {
    double min = 0;
    for (size_t i = 0; i < s->n; i++) {
        if (s->rows[i].hands_min > 0 && work_part_of(r->t, s->rows[i].operation) == WORK_TAKEDOWN)
            min += s->rows[i].hands_min;
    }
    return min / 60;
}

static double operation_h(const struct room *r, const char *id) {
    const struct operations_row *op = operation_row(r->t, id);
    const struct learnt *l = learnt_of(r->shop, r->piece->id, "hours", id, NULL);
    return op ? (op->fixed_min + op->each_min) / 60 * (l ? l->factor : 1) : 0;
}

/* Every mixed color gets a card and a batch, which other pieces may share; the board of a whole
 * system is one; what spoils in the cup is mixed again and again. */
static double samples_h(const struct room *r, struct piece_plan *p) {
    double h = p->coats.test_board ? operation_h(r, "test_board") : 0;
    h += pot_mixings(r->t, r->shelf, p) * operation_h(r, "mix_pot");
    for (size_t i = 0; i <= p->colors_n; i++)
        if (color_plan_row(p, i)->mixes)
            h += (i ? 1 : 1 - p->batch_others_frac) *
                 (operation_h(r, "sample_card") + operation_h(r, "mix_batch"));
    return h;
}

static struct hours hours_of(const struct room *r, struct piece_plan *p) {
    double readying = readying_h(r, &p->repairs);
    struct hours h = {.of = {[WORK_TAKEDOWN] = steps_h(&p->takedown) + readying,
                             [WORK_REPAIRS] = steps_h(&p->repairs) - readying,
                             [WORK_SAMPLES] = samples_h(r, p),
                             [WORK_FINISH] = steps_h(&p->finish)}};
    for (size_t i = 0; i < p->coats.n; i++) {
        const struct coat *c = &p->coats.rows[i];
        if (c->hands_min > 0)
            h.of[work_part_of_role(c->role)] +=
                c->hands_min / 60 * (double)(c->coats > 0 ? c->coats : 1);
    }
    return h;
}

/* What one of several like pieces would take alone: what falls due once for all of them, whole. */
static double alone_h(const struct room *r, struct piece_plan *p) {
    const struct steps *lists[] = {&p->takedown, &p->repairs, &p->finish};
    double n = (double)r->piece->count, h = samples_h(r, p);
    for (size_t k = 0; k < 3; k++)
        for (size_t i = 0; i < lists[k]->n; i++) {
            const struct work_step *w = &lists[k]->rows[i];
            if (w->hands_min > 0)
                h += w->hands_min / 60 * (w->alone_frac > 0 ? w->alone_frac : 1 / n);
        }
    for (size_t i = 0; i < p->coats.n; i++) {
        const struct coat *c = &p->coats.rows[i];
        if (c->hands_min > 0)
            h += c->hands_min / 60 * (double)(c->coats > 0 ? c->coats : 1) *
                 (c->alone_frac > 0 ? c->alone_frac : 1 / n);
    }
    return h;
}

/* ---- lines ---- */

struct bill {
    const struct room *r;
    struct price *price;
    const struct steps *steps; /* repairs */
    size_t cap;
    double fee_frac, bought_cent;
    double minimum_frac; /* of the least that a job is done for */
    bool sale;
};

/* The basis of the new line, whose inputs follow; NULL: it costs nothing and is no line. */
static struct basis *line_add(struct bill *b, const char *id, const char *name, double hours,
                              double cent, const char *rule, const char *source) {
    if (!(hours > 0 || cent > 0)) return NULL;
    struct price *p = b->price;
    struct ledger *l = b->r->ledger;
    void *rows = ledger_grow(l, p->rows, p->rows_n, &b->cap, sizeof *p->rows);
    if (!rows) return NULL;
    p->rows = rows;
    p->rows[p->rows_n++] = (struct cost_line){id, name, hours, cent, source};
    return ledger_basis(l, ROOM_TEXT(b->r, "%s/price/rows/%zu/cost_cent", b->r->at, p->rows_n - 1),
                        rule, source,
                        !strncmp(source, "MEM", 3) ? CERTAINTY_MEMORY : CERTAINTY_COMMON);
}
static void line_number(struct bill *b, struct basis *line, const char *name, double value,
                        enum dimension unit) {
    if (line) basis_number(b->r->ledger, line, name, value, unit);
}

static void hour_lines(struct bill *b, const struct hours *h) {
    double rate = b->r->shop->rate_cent_per_h;
    for (enum work_part i = 0; i < WORK_PARTS; i++) {
        b->price->hours += h->of[i];
        struct basis *e = line_add(b, work_part_id(i), work_part_name(i), h->of[i], h->of[i] * rate,
                                   "hours x rate; the hours are the sum of its steps",
                                   "CP, hours of the operations");
        line_number(b, e, "hands-on", h->of[i] * 60, DIM_DURATION);
        line_number(b, e, "the shop's rate", rate, DIM_RATE);
    }
    b->price->labor_cent = b->price->hours * rate;
}

static const char *referred(const struct work_step *w) {
    return w->text + sizeof "Refer: " - 1;
}

/* What others are asked to do is paid like material; until they have said what they ask, it is in
 * no figure, and that is said. */
static void unasked_note(struct bill *b, const struct piece_plan *p) {
    const char *unasked = NULL;
    for (size_t i = 0; i < p->repairs.n; i++) {
        const struct work_step *w = &p->repairs.rows[i];
        if (w->referred && isnan(w->others_cent))
            unasked = unasked ? ROOM_TEXT(b->r, "%s; %s", unasked, referred(w)) : referred(w);
    }
    if (unasked)
        notice_add(b->r->ledger, &b->price->notices, RANK_MIND, "price",
                   ROOM_TEXT(b->r,
                             "Not in this price: what others ask for it (%s). Ask them, and write "
                             "it down as the cost of that repair.",
                             unasked),
                   "CP", CERTAINTY_COMMON);
}

/* What one line of the bill adds up. */
struct costs {
    struct cost {
        const char *name;
        double cent;
    } * rows;
    size_t n;
    double cent;
};

static struct costs costs_for(struct bill *b, size_t most) {
    struct costs c = {.rows = arena_array(b->r->ledger->arena, most + 1, sizeof *c.rows)};
    b->r->ledger->failed = b->r->ledger->failed || !c.rows;
    return c;
}

/* What costs nothing, or nobody has said of, is left out. */
static void cost_put(struct costs *c, const char *name, double cent) {
    if (!c->rows || !(cent > 0)) return;
    c->rows[c->n++] = (struct cost){name, cent};
    c->cent += cent;
}

static double costs_line(struct bill *b, const struct costs *c, const char *id, const char *name,
                         const char *rule, const char *source) {
    struct basis *e = line_add(b, id, name, 0, c->cent, rule, source);
    for (size_t i = 0; i < c->n; i++)
        line_number(b, e, c->rows[i].name, c->rows[i].cent, DIM_MONEY);
    return c->cent;
}

static double paint_line(struct bill *b, const struct piece_plan *p) {
    struct costs c = costs_for(b, p->amounts.n);
    for (size_t i = 0; i < p->amounts.n; i++) {
        const struct amount *a = &p->amounts.rows[i];
        cost_put(&c, a->name ? a->name : a->product, a->cost_cent);
    }
    return costs_line(b, &c, "paint", "Paint, primer and clear, as used",
                      "what is used of each, at what the can cost", "CP, at stock cost");
}

/* What is used up, or what stays on the piece. */
static double supplies_line(struct bill *b, const struct piece_plan *p, bool stays) {
    struct costs c = costs_for(b, p->supplies_n);
    for (size_t i = 0; i < p->supplies_n; i++)
        if (p->supplies[i].stays == stays)
            cost_put(&c, p->supplies[i].name, p->supplies[i].cost_cent);
    return stays ? costs_line(b, &c, "fittings", "Cane, hardware, glass",
                              "how many x what one costs", "MEM, usual cost or the shelf's")
                 : costs_line(b, &c, "supplies", "Tape, abrasive, rollers, rags",
                              "how many x what one costs on the shelf, else usually",
                              "CP, at stock cost");
}

static double repairs_line(struct bill *b, const struct piece_plan *p) {
    struct costs c = costs_for(b, p->repairs.n);
    for (size_t i = 0; i < p->repairs.n; i++)
        cost_put(&c, p->repairs.rows[i].text, p->repairs.rows[i].material_cent);
    return costs_line(b, &c, "repair_material", "Material of the repairs",
                      "how many x what one usually takes", "MEM, usual cost");
}

static double others_line(struct bill *b, const struct piece_plan *p) {
    struct costs c = costs_for(b, p->repairs.n);
    for (size_t i = 0; i < p->repairs.n; i++)
        if (p->repairs.rows[i].referred)
            cost_put(&c, referred(&p->repairs.rows[i]), p->repairs.rows[i].others_cent);
    unasked_note(b, p);
    return costs_line(b, &c, "others", "Work done by others", "as they ask for it",
                      "CP, as they ask for it");
}

static void material_lines(struct bill *b, const struct piece_plan *p) {
    double cent = paint_line(b, p);
    cent += supplies_line(b, p, false);
    cent += repairs_line(b, p);
    cent += supplies_line(b, p, true);
    b->price->material_cent = cent + others_line(b, p);
}

static void cost_sum(struct bill *b) {
    const struct shop *s = b->r->shop;
    struct price *p = b->price;
    p->overhead_cent = s->overhead_frac * (p->labor_cent + p->material_cent);
    struct basis *e = line_add(b, "overhead", "Overhead", 0, p->overhead_cent,
                               "the shop's share on labor and material: rent, power, tools", "CP");
    line_number(b, e, "labor", p->labor_cent, DIM_MONEY);
    line_number(b, e, "material", p->material_cent, DIM_MONEY);
    line_number(b, e, "overhead", s->overhead_frac, DIM_FRACTION);
    line_add(b, "bought", "The piece itself, as bought", 0, b->bought_cent, "as you said", "CP");
    p->cost_cent = p->labor_cent + p->material_cent + p->overhead_cent + b->bought_cent;
}

/* ---- price ---- */

static double said(double cent) {
    return isnan(cent) ? 0 : cent;
}

static double agreed_cent(const struct bill *b) {
    const struct agreement *a = &b->r->piece->agreement;
    double cent = b->sale ? a->asking_cent : a->quoted_cent;
    return isnan(cent) ? b->price->price_cent : cent;
}

static void price_judge(struct bill *b) {
    struct price *p = b->price;
    struct price_sale s = {.price_cent = agreed_cent(b),
                           .fee_frac = b->fee_frac,
                           .bought_cent = b->bought_cent,
                           .material_cent = p->material_cent,
                           .overhead_cent = p->overhead_cent,
                           .hours = p->hours};
    double rate = b->r->shop->rate_cent_per_h;
    p->fee_cent = s.price_cent * b->fee_frac;
    p->hour_cent = price_hour_cent(&s);
    bool asked = !isnan(b->r->piece->agreement.asking_cent);
    p->best_offer_cent = b->sale && asked ? price_best_offer_cent(&s, rate) : NAN;
    p->worth_it = isnan(p->hour_cent) ? YN_UNSAID : p->hour_cent >= rate - .5 ? YN_YES : YN_NO;
}

/* What is asked is asked in whole units of money: cents would promise what no hour keeps. */
static double round_up(double cent) {
    return 100 * ceil(cent / 100 - 1e-6);
}

/* What would be asked if the hours came to so many times what is reckoned; NAN: margin and fee take
 * it all. */
static double price_at(const struct bill *b, double hours_factor) {
    const struct shop *s = b->r->shop;
    const struct price *p = b->price;
    double more_cent = (hours_factor - 1) * p->labor_cent * (1 + s->overhead_frac);
    double price = price_of_cost(p->cost_cent + more_cent, s->margin_frac, b->fee_frac);
    double least = s->minimum_cent * b->minimum_frac;
    return isnan(price) ? NAN : round_up(fmax(price, least));
}

static enum status price_set(struct bill *b, struct why *why) {
    const struct shop *s = b->r->shop;
    struct price *p = b->price;
    double price = price_at(b, 1);
    if (isnan(price))
        return why_say(why, E_DOMAIN, "/shop/margin",
                       "Margin and seller's fee together take the whole price (%g %% and %g %%). "
                       "Together they must stay under 100 %%.",
                       s->margin_frac * 100, b->fee_frac * 100);
    double least = s->minimum_cent * b->minimum_frac;
    p->minimum_cent = round(fmax(least, p->cost_cent / (1 - b->fee_frac)));
    p->price_cent = price;
    price_judge(b);
    double deposit = b->r->piece->agreement.deposit_cent;
    p->deposit_cent = b->sale          ? NAN
                      : isnan(deposit) ? round_up(s->deposit_frac * agreed_cent(b))
                                       : deposit;
    return OK;
}

/* ---- words ---- */

static void note(struct bill *b, enum rank rank, const char *text) {
    notice_add(b->r->ledger, &b->price->notices, rank, "price", text, "CP", CERTAINTY_COMMON);
}

/* At a price that was said: what the shop must hear, and the client need not. */
static void hour_warn(struct bill *b, double agreed) {
    const double much = 2.0 / 3; /* of the rate; less is no bargaining any more */
    const struct agreement *a = &b->r->piece->agreement;
    const struct price *p = b->price;
    double rate = b->r->shop->rate_cent_per_h;
    char at[32], hour[32], want[32];
    if (isnan(b->sale ? a->asking_cent : a->quoted_cent) || isnan(p->hour_cent)) return;
    if (b->sale && p->best_offer_cent < 0)
        note(b, RANK_STOP,
             price_leave_text(b->r->ledger->arena, p->hour_cent + b->bought_cent / p->hours, rate));
    else if (p->hour_cent < 0)
        note(b, RANK_STOP,
             ROOM_TEXT(b->r, "Leave it at %s. An hour would earn %s, and you want %s.",
                       basis_money(agreed, at), basis_money(p->hour_cent, hour),
                       basis_money(rate, want)));
    else if (p->hour_cent < much * rate)
        note(b, RANK_MIND,
             ROOM_TEXT(b->r, "Ask more, or do less. At %s an hour earns %s, and you want %s.",
                       basis_money(agreed, at), basis_money(p->hour_cent, hour),
                       basis_money(rate, want)));
}

/* A figure that surprises says why. */
static void set_note(struct bill *b, struct piece_plan *p) {
    double n = (double)b->r->piece->count;
    char each[32], all[32], alone[32];
    if (!(n > 1)) return;
    note(b, RANK_NOTE,
         ROOM_TEXT(b->r,
                   "%.0f alike: %s each, %s in all; one of them alone would take %s. "
                   "Getting ready, washing out, mixing and writing down fall due once, and much of "
                   "the same goes faster; each is looked over, photographed and turned by itself.",
                   n, basis_hands(p->price.hours / n, each), basis_hands(p->price.hours, all),
                   basis_hands(alone_h(b->r, p), alone)));
}

/* Who reckons it after must know that a part of it stands on another sheet. */
static void shared_note(struct bill *b, const struct piece_plan *p) {
    if (p->batch_others_frac > 0)
        note(b, RANK_NOTE,
             ROOM_TEXT(b->r,
                       "One sample card and one batch serve several pieces: %.0f %% of their time "
                       "is charged here, by the paint that this one takes.",
                       (1 - p->batch_others_frac) * 100));
    if (b->minimum_frac < 1 &&
        b->r->shop->minimum_cent * b->minimum_frac >= p->price.price_cent - 100)
        note(b, RANK_NOTE,
             ROOM_TEXT(b->r,
                       "The least that a job is done for counts once for all pieces of this "
                       "client: %.0f %% of it here, by what each costs.",
                       b->minimum_frac * 100));
}

static void price_warn(struct bill *b) {
    const struct price *p = b->price;
    double agreed = agreed_cent(b);
    const char *kind = b->sale ? "asking price" : "quoted price";
    char at[32], less[32];
    if (agreed < p->minimum_cent - .5)
        note(b, RANK_MIND,
             ROOM_TEXT(b->r,
                       "The %s of %s is below the lowest price. It is %s under what the work "
                       "costs.",
                       kind, basis_money(agreed, at), basis_money(p->minimum_cent - agreed, less)));
    hour_warn(b, agreed);
    note(b, RANK_NOTE,
         "Overhead is added here; do not hide it in the rate as well. Sales tax and income tax "
         "differ by place: ask your adviser.");
}

/* What the price hangs on and nobody knows yet, as the client signs it. */
static const char *open_text(const struct bill *b, const struct notices *agreement) {
    const char *text = "";
    for (size_t i = 0; i < agreement->n; i++) {
        const struct notice *n = &agreement->rows[i];
        bool open = !strcmp(n->topic, "lead") || !strcmp(n->topic, "unknown finish");
        if (open && n->signs) text = ROOM_TEXT(b->r, "%s%s\n", text, n->signs);
    }
    return text;
}

/* Common practice, from the inquiry to the handing over. */
static const char *terms_text(const struct bill *b, const struct notices *agreement) {
    const struct piece *q = b->r->piece;
    double weekly = q->agreement.storage_fee_cent;
    char deposit[32], fee[32];
    return ROOM_TEXT(
        b->r,
        "%sDeposit of %s on agreement, the rest when it is collected.\n"
        "A change gets its price and its days in writing before it is made.\n"
        "%sIt goes on hardening for some weeks after you have it: the care card says how to "
        "treat it until then.%s",
        open_text(b, agreement), basis_money(said(b->price->deposit_cent), deposit),
        !q->wanted.color.text ? ""
        : q->agreement.sample_signed == YN_YES
            ? "The color is that of the sample which you have signed.\n"
            : "No color goes on before you have signed a sample of it.\n",
        weekly > 0 ? ROOM_TEXT(b->r, "\nStorage after the day of collection: %s a week.",
                               basis_money(weekly, fee))
                   : "");
}

/* What was said not to be part of it, after what others have not said their price for. */
static void excluded_make(struct bill *b) {
    const struct agreement *a = &b->r->piece->agreement;
    struct price *p = b->price;
    p->excluded =
        arena_array(b->r->ledger->arena, b->steps->n + a->excluded_n + 1, sizeof *p->excluded);
    p->excluded_n = 0;
    if (!p->excluded) {
        b->r->ledger->failed = true;
        return;
    }
    for (size_t i = 0; i < b->steps->n; i++)
        if (b->steps->rows[i].referred && isnan(b->steps->rows[i].others_cent))
            p->excluded[p->excluded_n++] =
                ROOM_TEXT(b->r, "What another workshop asks for: %s", referred(&b->steps->rows[i]));
    for (size_t i = 0; i < a->excluded_n; i++) p->excluded[p->excluded_n++] = a->excluded[i];
}

/* Each on a line of its own, under what stands above them; "" where there is none. */
static const char *bullets(const struct bill *b, const char *above, const char *const *rows,
                           size_t n) {
    const char *text = n ? above : "";
    for (size_t i = 0; i < n; i++) text = ROOM_TEXT(b->r, "%s\n- %s", text, rows[i]);
    return text;
}

static const char *quote_text(const struct bill *b) {
    const struct piece *q = b->r->piece;
    const struct agreement *a = &q->agreement;
    const struct price *p = b->price;
    char price[32];
    return ROOM_TEXT(
        b->r, "%s\nThe work:%s%s%s\nPrice: %s.\n%s", q->title ? q->title : "Furniture refinishing",
        bullets(b, "", p->work, p->work_n), bullets(b, "\nAgreed:", a->agreed, a->agreed_n),
        bullets(b, "\nNot included:", p->excluded, p->excluded_n),
        basis_money(agreed_cent(b), price), p->terms);
}

static void cost_explain(struct bill *b) {
    const struct room *r = b->r;
    const struct price *p = b->price;
    struct ledger *l = r->ledger;
    struct basis *e =
        ledger_basis(l, ROOM_TEXT(r, "%s/price/cost_cent", r->at),
                     "labor + material + overhead + what it was bought for", "CP", CERTAINTY_EXACT);
    basis_number(l, e, "labor", p->labor_cent, DIM_MONEY);
    basis_number(l, e, "material", p->material_cent, DIM_MONEY);
    basis_number(l, e, "overhead", p->overhead_cent, DIM_MONEY);
    if (b->bought_cent > 0) basis_number(l, e, "bought for", b->bought_cent, DIM_MONEY);
    if (p->fee_cent > 0) {
        e = ledger_basis(l, ROOM_TEXT(r, "%s/price/fee_cent", r->at), "price x seller's fee", "CP",
                         CERTAINTY_EXACT);
        basis_number(l, e, "price", agreed_cent(b), DIM_MONEY);
        basis_number(l, e, "seller's fee", b->fee_frac, DIM_FRACTION);
    }
    if (isnan(p->deposit_cent)) return;
    bool said = !isnan(r->piece->agreement.deposit_cent);
    e = ledger_basis(l, ROOM_TEXT(r, "%s/price/deposit_cent", r->at),
                     said ? "as agreed" : "price x the shop's share, rounded up to whole money",
                     "CP", said ? CERTAINTY_SAID : CERTAINTY_EXACT);
    if (said) return;
    basis_number(l, e, "the shop's share", r->shop->deposit_frac, DIM_FRACTION);
    basis_number(l, e, "price", agreed_cent(b), DIM_MONEY);
}

/* What is left for the hours, and the same turned round: the most to pay for the piece. */
static void hour_explain(struct bill *b) {
    const struct room *r = b->r;
    const struct price *p = b->price;
    struct ledger *l = r->ledger;
    struct basis *e;
    for (int offer = 0; offer < 2; offer++) {
        if (isnan(offer ? p->best_offer_cent : p->hour_cent)) continue;
        e = ledger_basis(
            l, ROOM_TEXT(r, "%s/price/%s", r->at, offer ? "best_offer_cent" : "hour_cent_per_h"),
            offer ? "price - fee - material - overhead - hours x rate"
                  : "(price - fee - bought - material - overhead) / hours",
            "CP", CERTAINTY_EXACT);
        basis_number(l, e, "at the price of", agreed_cent(b), DIM_MONEY);
        if (p->fee_cent > 0) basis_number(l, e, "seller's fee", p->fee_cent, DIM_MONEY);
        if (!offer && b->bought_cent > 0)
            basis_number(l, e, "bought for", b->bought_cent, DIM_MONEY);
        basis_number(l, e, "material", p->material_cent, DIM_MONEY);
        basis_number(l, e, "overhead", p->overhead_cent, DIM_MONEY);
        basis_number(l, e, "hands-on", p->hours * 60, DIM_DURATION);
        if (offer) basis_number(l, e, "the shop's rate", r->shop->rate_cent_per_h, DIM_RATE);
    }
}

static void price_explain(struct bill *b) {
    const struct room *r = b->r;
    const struct price *p = b->price;
    struct ledger *l = r->ledger;
    struct basis *e = ledger_basis(
        l, ROOM_TEXT(r, "%s/price/price_cent", r->at),
        "(hours x rate + material + overhead + what it was bought for) / (1 - margin - seller's "
        "fee), not under the shop's minimum, rounded up to whole money",
        "CP, margin on the price", CERTAINTY_EXACT);
    basis_range(e, DIM_MONEY, price_at(b, .6), price_at(b, 1.8)); /* as unsure as the hours */
    basis_number(l, e, "hands-on", p->hours * 60, DIM_DURATION);
    basis_number(l, e, "the shop's rate", r->shop->rate_cent_per_h, DIM_RATE);
    basis_number(l, e, "material", p->material_cent, DIM_MONEY);
    basis_number(l, e, "overhead", p->overhead_cent, DIM_MONEY);
    if (b->bought_cent > 0) basis_number(l, e, "bought for", b->bought_cent, DIM_MONEY);
    basis_number(l, e, "margin on the price", r->shop->margin_frac, DIM_FRACTION);
    basis_number(l, e, "the same as markup on the cost",
                 price_markup_of_margin(r->shop->margin_frac), DIM_FRACTION);
    basis_number(l, e, "seller's fee", b->fee_frac, DIM_FRACTION);
    e = ledger_basis(l, ROOM_TEXT(r, "%s/price/minimum_cent", r->at),
                     "cost / (1 - seller's fee), not under the shop's minimum", "CP",
                     CERTAINTY_EXACT);
    basis_number(l, e, "cost", p->cost_cent, DIM_MONEY);
    basis_number(l, e, "shop's minimum", r->shop->minimum_cent, DIM_MONEY);
    if (b->minimum_frac < 1)
        basis_number(l, e, "its share of it, by cost, among the client's pieces", b->minimum_frac,
                     DIM_FRACTION);
    cost_explain(b);
    hour_explain(b);
}

enum status price_make(const struct room *r, struct piece_plan *p, struct why *why) {
    p->price = (struct price){.best_offer_cent = NAN, .hour_cent = NAN};
    bool sale = r->piece->agreement.purpose == PURPOSE_SALE;
    struct bill b = {.r = r,
                     .price = &p->price,
                     .steps = &p->repairs,
                     .sale = sale,
                     .fee_frac = sale ? r->shop->sale_fee_frac : 0,
                     .bought_cent = said(r->piece->agreement.bought_cent),
                     .minimum_frac = 1 - p->minimum_others_frac};
    struct hours h = hours_of(r, p);
    hour_lines(&b, &h);
    material_lines(&b, p);
    cost_sum(&b);
    enum status s = price_set(&b, why);
    if (s) return s;
    set_note(&b, p);
    shared_note(&b, p);
    price_warn(&b);
    price_explain(&b);
    p->price.work = promise_work(r, p, &p->price.work_n);
    excluded_make(&b);
    p->price.terms = sale ? NULL : terms_text(&b, &p->agreement);
    p->price.quote = sale ? NULL : quote_text(&b);
    return r->ledger->failed ? E_MEMORY : OK;
}
