#include "core/work/worth.h"

#include "core/work/complete.h"
#include "core/work/guide.h"
#include "core/work/price.h"
#include "core/work/template.h"

#include <math.h>
#include <string.h>

struct judge { /* one ask on its way */
    const struct tables *t;
    const struct shop *shop; /* completed */
    const struct worth_ask *ask;
    const struct conditions_row *condition;
    struct ledger *l;
    struct worth *out;
};

static const struct conditions_row *condition_of(const struct tables *t, const char *id) {
    for (size_t i = 0; i < t->conditions_n; i++)
        if (!strcmp(t->conditions[i].id, id)) return &t->conditions[i];
    return NULL;
}

/* Exactly the words of the job document (codec/job_desc.c); a table's test refuses others. */
static enum condition condition_word(const char *word) {
    return !strcmp(word, "sound")     ? CONDITION_SOUND
           : !strcmp(word, "damaged") ? CONDITION_DAMAGED
           : !strcmp(word, "flaking") ? CONDITION_FLAKING
                                      : CONDITION_WORN;
}

static double or_else(double said, double otherwise) {
    return isnan(said) ? otherwise : said;
}

/* ---- the plan behind hours and supplies ---- */

static struct piece piece_of(const struct judge *j) {
    struct piece p;
    piece_outline(j->t, j->shop->units, j->ask->piece, &p);
    p.id = "worth";
    p.condition = condition_word(j->condition->plans_as);
    p.agreement.purpose = PURPOSE_SALE;
    p.agreement.asking_cent = p.agreement.bought_cent = NAN;
    return p;
}

static enum status plan_behind(const struct judge *j, const struct shelf *shelf,
                               const struct plan_options *o, struct plan *out, struct why *why) {
    struct piece piece = piece_of(j);
    struct shelf cans = *shelf;
    cans.samples_n = 0; /* no color is wanted yet, so nothing is learnt from them */
    struct job job = {.start_local_min = INT64_MIN,
                      .shop = *j->shop,
                      .shelf = cans,
                      .pieces = &piece,
                      .pieces_n = 1};
    struct plan_options quiet = *o;
    quiet.want_basis = false;
    quiet.kept_n = 0;
    quiet.no_days = true; /* hours and material hang on no date */
    enum status s = plan_make(j->t, &job, &quiet, j->l->arena, out, why);
    if (s && why && !strncmp(why->field, "/pieces/0", 9))
        memmove(why->field, why->field + 9, strlen(why->field + 9) + 1);
    return s;
}

/* ---- figures ---- */

static void take_hours(struct judge *j, const struct piece_plan *p,
                       const struct piece_templates_row *usual) {
    struct worth *w = j->out;
    const struct conditions_row *c = j->condition;
    bool said = !isnan(j->ask->hours);
    w->hours = said ? j->ask->hours : p->price.hours * c->hours_frac;
    w->hours_low = w->hours * (said ? 1 : c->low_frac);
    w->hours_high = w->hours * (said ? 1 : c->high_frac);
    struct basis *b = ledger_basis(
        j->l, "/hours",
        said ? "As said." : "hours of the plan of such a piece x what the condition adds",
        said ? "CP" : c->source, said ? CERTAINTY_EXACT : CERTAINTY_COMMON);
    if (said) return;
    basis_range(b, DIM_NONE, w->hours_low, w->hours_high);
    basis_number(j->l, b, "hours of the plan", p->price.hours, DIM_NONE);
    basis_word(j->l, b, "condition", c->name);
    basis_number(j->l, b, "the condition adds, times", c->hours_frac, DIM_NONE);
    basis_number(j->l, b, "usual for this kind of piece, from", usual->hours_low_h, DIM_NONE);
    basis_number(j->l, b, "to", usual->hours_high_h, DIM_NONE);
}

static void take_supplies(struct judge *j, const struct piece_plan *p) {
    struct worth *w = j->out;
    bool said = !isnan(j->ask->supplies_cent);
    w->supplies_cent = said ? j->ask->supplies_cent : ceil(p->price.material_cent / 100) * 100;
    struct basis *b = ledger_basis(
        j->l, "/supplies_cent",
        said ? "As said."
             : "paint, primer, clear and supplies of the plan at stock cost, in whole dollars",
        "CP", said ? CERTAINTY_EXACT : CERTAINTY_COMMON);
    if (!said) basis_number(j->l, b, "material of the plan", p->price.material_cent, DIM_MONEY);
}

static struct price_sale sale_of(const struct worth *w, double hours) {
    return (struct price_sale){.price_cent = w->sale_cent,
                               .fee_frac = w->fee_frac,
                               .bought_cent = or_else(w->asked_cent, 0),
                               .material_cent = w->supplies_cent + w->delivery_cent,
                               .hours = hours};
}

static void inputs(struct judge *j, struct basis *b, bool sale, bool hours) {
    const struct worth *w = j->out;
    if (sale) basis_number(j->l, b, "sale price", w->sale_cent, DIM_MONEY);
    basis_number(j->l, b, "seller's fee", w->fee_frac, DIM_FRACTION);
    basis_number(j->l, b, "asked", or_else(w->asked_cent, 0), DIM_MONEY);
    basis_number(j->l, b, "supplies", w->supplies_cent, DIM_MONEY);
    basis_number(j->l, b, "delivery", w->delivery_cent, DIM_MONEY);
    if (!hours) return;
    basis_number(j->l, b, "hours", w->hours, DIM_NONE);
    basis_number(j->l, b, "pay", w->pay_cent, DIM_RATE);
}

static void take_prices(struct judge *j) {
    struct worth *w = j->out;
    struct price_sale s = sale_of(w, w->hours);
    double kept = 1 - w->fee_frac;
    w->fee_cent = w->sale_cent * w->fee_frac;
    w->break_even_cent = price_break_even_cent(&s);
    w->must_bring_cent = w->break_even_cent + w->hours * w->pay_cent / kept;
    w->hour_cent = price_hour_cent(&s);
    struct price_sale quick = sale_of(w, w->hours_low), slow = sale_of(w, w->hours_high);
    w->hour_low_cent = fmin(price_hour_cent(&quick), price_hour_cent(&slow));
    w->hour_high_cent = fmax(price_hour_cent(&quick), price_hour_cent(&slow));
    w->offer_cent = price_best_offer_cent(&s, w->pay_cent);
    struct basis *b = ledger_basis(j->l, "/break_even_cent",
                                   "(asked + supplies + delivery) / (1 - seller's fee); the hours "
                                   "earn nothing",
                                   "CP", CERTAINTY_EXACT);
    inputs(j, b, false, false);
    b = ledger_basis(j->l, "/must_bring_cent",
                     "(asked + supplies + delivery + hours x pay) / (1 - seller's fee)", "CP",
                     CERTAINTY_EXACT);
    inputs(j, b, false, true);
    if (isnan(w->sale_cent)) return;
    b = ledger_basis(j->l, "/fee_cent", "sale price x seller's fee", "CP", CERTAINTY_EXACT);
    basis_number(j->l, b, "sale price", w->sale_cent, DIM_MONEY);
    basis_number(j->l, b, "seller's fee", w->fee_frac, DIM_FRACTION);
    b = ledger_basis(j->l, "/hour_cent_per_h",
                     "(sale price - fee - asked - supplies - delivery) / hours", "CP",
                     CERTAINTY_EXACT);
    basis_range(b, DIM_RATE, w->hour_low_cent, w->hour_high_cent);
    inputs(j, b, true, true);
    b = ledger_basis(j->l, "/offer_cent", "sale price - fee - supplies - delivery - hours x pay",
                     "CP", CERTAINTY_EXACT);
    inputs(j, b, true, true);
}

/* ---- verdict ---- */

static const char *dollars(const struct judge *j, double cent) {
    char text[32];
    return arena_print(j->l->arena, "%s", basis_money(cent, text));
}

static void judge_it(struct judge *j, const struct piece_plan *p) {
    struct worth *w = j->out;
    struct arena *a = j->l->arena;
    const double whole = 0.5; /* half a cent: what rounding may hide */
    if (p->hazards.refused) {
        w->verdict = WORTH_LEAVE;
        w->text = arena_print(a, "Leave it. %s", p->hazards.refusal);
    } else if (isnan(w->sale_cent)) {
        w->text = arena_print(a, "It must bring $%.0f. What do such pieces sell for here?",
                              ceil(w->must_bring_cent / 100 - 1e-9));
    } else if (w->offer_cent < -whole) {
        w->verdict = WORTH_LEAVE;
        w->text =
            price_leave_text(a, w->hour_cent + or_else(w->asked_cent, 0) / w->hours, w->pay_cent);
    } else if (isnan(w->asked_cent) || w->asked_cent > w->offer_cent + whole) {
        w->verdict = WORTH_OFFER;
        w->text = arena_print(a, "Offer $%.0f at most. Above that an hour earns less than %s.",
                              floor(w->offer_cent / 100 + 1e-9), dollars(j, w->pay_cent));
    } else {
        w->verdict = WORTH_TAKE;
        w->text = arena_print(a, "Take it. An hour earns %s; you could go up to $%.0f.",
                              dollars(j, w->hour_cent), floor(w->offer_cent / 100 + 1e-9));
    }
    char high[32];
    w->notices = (struct notices){0};
    for (size_t i = 0; i < p->hazards.notices.n; i++) {
        const struct notice *n = &p->hazards.notices.rows[i];
        if (n->rank != RANK_STOP || !strcmp(n->topic, "paint remover")) continue;
        struct notice *to =
            notice_add(j->l, &w->notices, n->rank, n->topic, n->text, n->source, n->certainty);
        if (to) to->remedy = n->remedy;
    }
    if (w->hour_low_cent < w->pay_cent && w->verdict == WORTH_TAKE)
        notice_add(j->l, &w->notices, RANK_MIND, "hours",
                   arena_print(a, "Keep the hours down. If it takes %s, an hour earns $%.2f.",
                               basis_hands(w->hours_high, high), w->hour_low_cent / 100),
                   j->condition->source, CERTAINTY_COMMON);
    notice_add(j->l, &w->notices, RANK_NOTE, "overhead",
               "Rent, tools and driving are not taken off. What an hour earns must carry them; tax "
               "differs by place: ask your adviser.",
               "CP", CERTAINTY_COMMON);
}

static enum status check(const struct judge *j, struct why *why) {
    double fee = j->out->fee_frac;
    if (fee < 1) return OK;
    return why_say(why, E_DOMAIN, "/fee",
                   "A seller's fee of %g %% leaves nothing. It must stay under 100 %%.", fee * 100);
}

static void assume(struct judge *j) {
    const struct worth_ask *a = j->ask;
    struct worth *w = j->out;
    if (isnan(a->piece->width_mm) || isnan(a->piece->height_mm))
        assume_word(j->l, "/width", w->name, "the usual size of such a piece", "CP");
    if (!a->condition)
        assume_word(j->l, "/condition", w->condition, "usual for a used piece", "CP");
    if (isnan(a->fee_frac))
        assume_number(j->l, "/fee", w->fee_frac, DIM_FRACTION, "the shop's seller's fee", "CP");
    if (isnan(a->pay_cent_per_h))
        assume_number(j->l, "/pay", w->pay_cent, DIM_RATE, "the shop's rate", "CP");
}

enum status worth_make(const struct tables *t, const struct shop *shop, const struct shelf *shelf,
                       const struct worth_ask *ask, const struct plan_options *options,
                       struct arena *arena, struct worth *out, struct why *why) {
    struct ledger l, quiet;
    struct shop full;
    struct plan plan;
    const char *condition = ask->condition ? ask->condition : "worn";
    if (!ask->piece->template)
        return why_say(why, E_MISSING, "/template",
                       "What is it? Name a template: chest, nightstand.");
    const struct piece_templates_row *usual = template_of(t, ask->piece->template);
    const struct conditions_row *c = condition_of(t, condition);
    if (!usual)
        return why_say(why, E_REFERENCE, "/template",
                       "\"%.64s\" is no usual piece. Write one such as chest, nightstand or "
                       "side_chair.",
                       ask->piece->template);
    if (!c)
        return why_say(why, E_REFERENCE, "/condition",
                       "\"%.64s\" is no condition. Write sound, worn, damaged or strip.",
                       condition);
    ledger_init(&l, arena, true);
    ledger_init(&quiet, arena, false);
    enum status s = complete_shop(t, shop, &quiet, &full, why);
    if (s) return s;
    struct piece of;
    piece_outline(t, full.units, ask->piece, &of);
    struct worth w = {.template = usual->id,
                      .name = usual->name,
                      .condition = c->name,
                      .width_mm = of.width_mm,
                      .depth_mm = of.depth_mm,
                      .height_mm = of.height_mm,
                      .asked_cent = ask->asked_cent,
                      .sale_cent = ask->sale_cent,
                      .fee_frac = or_else(ask->fee_frac, full.sale_fee_frac),
                      .pay_cent = or_else(ask->pay_cent_per_h, full.rate_cent_per_h),
                      .delivery_cent = or_else(ask->delivery_cent, 0)};
    struct judge j = {t, &full, ask, c, &l, &w};
    if ((s = check(&j, why)) || (s = plan_behind(&j, shelf, options, &plan, why))) return s;
    take_hours(&j, &plan.pieces[0], usual);
    take_supplies(&j, &plan.pieces[0]);
    take_prices(&j);
    judge_it(&j, &plan.pieces[0]);
    assume(&j);
    w.bases = l.bases, w.bases_n = l.bases_n;
    w.assumed = l.assumed, w.assumed_n = l.assumed_n;
    if (l.failed || !w.text) return why_no_memory(why);
    *out = w;
    return OK;
}
