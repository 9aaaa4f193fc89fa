/* What the shop knows, holds and shares changes what a piece takes and costs: its records,
 * leftovers, batches, sets, what it asks at least. */
#include "core/work/fact.h"
#include "core/work/method.h"
#include "test/check.h"
#include "test/unit/costs_room.h"

static const struct amount *amount(const struct trade_room *r, enum coat_role role) {
    for (size_t i = 0; i < r->plan.amounts.n; i++)
        if (r->plan.amounts.rows[i].role == role) return &r->plan.amounts.rows[i];
    return NULL;
}

/* Log standard deviation of a row's film, from its 9-in-10 amount: what tool and tray keep apart.
 */
static double log_sd(const struct trade_room *r, const struct amount *a) {
    const char *tool = NULL;
    for (size_t i = 0; i < r->plan.coats.n; i++)
        if (r->plan.coats.rows[i].role == a->role) tool = r->plan.coats.rows[i].tool;
    const struct methods_row *m = method_of(r->room.t, tool);
    double keep = (m->session_high_ml - m->session_low_ml) / 2 * a->sessions;
    double over = a->high_ml - a->need_ml, film = sqrt(over * over - keep * keep);
    return log(1 + film / (a->film_ml / (1 - a->loss_frac))) / 1.2815515655;
}

static void records(void) {
    struct trade_room r;
    CASE("a shop that loses twice as much reckons with twice the loss") {
        struct learnt twice = {"loss", "wb_enamel", NULL, 2, .1, 5, NULL, NULL, 0};
        open(&r);
        trade_surface(&r, "case", "sides", TREAT_PAINT, 2, 0);
        CHECK(rooms(&r, NULL) == OK);
        double usual = amount(&r, ROLE_COLOR)->loss_frac;
        r.shop.learnt = &twice, r.shop.learnt_n = 1;
        CHECK(rooms(&r, NULL) == OK);
        CHECK_NEAR(amount(&r, ROLE_COLOR)->loss_frac, 2 * usual, 1e-9);
        twice.factor = 100; /* but a tenth of the paint lands: from memory */
        CHECK(rooms(&r, NULL) == OK);
        CHECK_NEAR(amount(&r, ROLE_COLOR)->loss_frac, .9, 1e-9);
        trade_close(&r);
    }
    CASE("a can has its own name and price; a leftover is paid for, whatever its class costs") {
        struct paint can = {.id = "sea", .name = "Sea blue", .class = "wb_enamel"};
        can.stock_ml = 3000, can.size_ml = 1000, can.cost_cent = 2500; /* by hand: 2.5 cents a ml */
        can.label_spread_m2_per_l = can.density_g_per_ml = can.smallest_ml = NAN;
        open(&r);
        trade_surface(&r, "case", "sides", TREAT_PAINT, 2, 0);
        r.shelf.paints = &can, r.shelf.paints_n = 1, r.piece.wanted.product = "sea";
        CHECK(rooms(&r, NULL) == OK);
        const struct amount *a = amount(&r, ROLE_COLOR);
        CHECK_TEXT(a ? a->name : "", "Sea blue");
        CHECK_NEAR(a ? a->cost_cent : NAN, a ? 2.5 * a->need_ml : 0, 1e-6);
        can.cost_cent = NAN;
        CHECK(rooms(&r, NULL) == OK);
        CHECK(amount(&r, ROLE_COLOR)->cost_cent > 0);
        can.leftover_of_n = 1;
        CHECK(rooms(&r, NULL) == OK);
        CHECK_NEAR(amount(&r, ROLE_COLOR)->cost_cent, 0, 1e-9);
        trade_close(&r);
    }
    CASE("the first coat on bare wood goes in: the low end of what a liter covers (by hand: one "
         "coat on 2 m2)") {
        const struct product_classes_row *c = tables_builtin.product_classes;
        open(&r);
        r.piece.finish = "bare";
        trade_surface(&r, "case", "sides", TREAT_PAINT, 2, 0);
        CHECK(rooms(&r, NULL) == OK);
        const struct amount *first = amount(&r, ROLE_PRIMER);
        CHECK(first && first->coats == 1);
        while (first && strcmp(c->id, first->class)) c++;
        CHECK_NEAR(first ? first->film_ml : 0, 2000 / c->spread_low_m2_per_l, 1e-6);
        trade_close(&r);
    }
    CASE("a label that says less than the low end of its class is believed on bare wood too (by "
         "hand: one coat on 2 m2 at 4 m2 a liter)") {
        struct paint can = {.id = "x", .class = "wb_primer", .label_spread_m2_per_l = 4};
        can.stock_ml = can.size_ml = can.cost_cent = can.smallest_ml = can.density_g_per_ml = NAN;
        open(&r);
        r.piece.finish = "bare";
        r.shelf.paints = &can, r.shelf.paints_n = 1;
        trade_surface(&r, "case", "sides", TREAT_PAINT, 2, 0);
        CHECK(rooms(&r, NULL) == OK);
        const struct amount *first = amount(&r, ROLE_PRIMER);
        CHECK_TEXT(first ? first->product : "", "x");
        CHECK_NEAR(first ? first->film_ml : 0, 500, 1e-6);
        trade_close(&r);
    }
    CASE("liters add up over groups, what each takes of the can by its own tool; a tool that comes "
         "back keeps its share once (by hand)") {
        static const char *const tools[] = {"brush", "hvlp", "brush"};
        static const char *const groups[] = {"case", "doors", "top"};
        const struct methods_row *brush, *gun;
        open(&r);
        brush = method_of(r.room.t, "brush"), gun = method_of(r.room.t, "hvlp");
        for (int i = 0; i < 3; i++) trade_surface(&r, groups[i], groups[i], TREAT_PAINT, 2, 0);
        CHECK(trade_coats(&r, NULL) == OK);
        for (size_t i = 0; i < r.plan.coats.n; i++)
            for (int k = 0; k < 3; k++)
                if (!strcmp(r.plan.coats.rows[i].group, groups[k]))
                    r.plan.coats.rows[i].tool = tools[k];
        CHECK(amount_make(&r.room, &r.plan, NULL) == OK);
        const struct amount *a = amount(&r, ROLE_COLOR);
        const double third = a->film_ml / 3;
        CHECK_NEAR(a->film_ml / (1 - a->loss_frac),
                   2 * third / (1 - brush->loss_frac) + third / (1 - gun->loss_frac), 1e-6);
        CHECK_NEAR(a->session_ml,
                   (brush->session_low_ml + brush->session_high_ml + gun->session_low_ml +
                    gun->session_high_ml) /
                       2,
                   1e-9);
        trade_close(&r);
    }
    CASE(
        "how unsure an amount is: the class's or the label's spread (12 %) and the area, 2 % where "
        "it was measured, 6 % from a template, both on a log scale (common practice)") {
        const struct product_classes_row *c = tables_builtin.product_classes;
        while (strcmp(c->id, "wb_enamel")) c++;
        double class_sd = log(c->spread_high_m2_per_l / c->spread_low_m2_per_l) / 2 / 1.2815515655;
        struct paint can = {.id = "x", .class = "wb_enamel", .label_spread_m2_per_l = 10};
        can.stock_ml = can.size_ml = can.cost_cent = can.smallest_ml = can.density_g_per_ml = NAN;
        for (int i = 0; i < 3; i++) {
            open(&r);
            r.piece.template = i == 1 ? "chest" : NULL;
            trade_surface(&r, "case", "sides", TREAT_PAINT, 2, 0);
            if (i == 2) {
                r.shelf.paints = &can, r.shelf.paints_n = 1;
                r.piece.wanted.product = "x";
            }
            CHECK(rooms(&r, NULL) == OK);
            const struct amount *a = amount(&r, ROLE_COLOR);
            CHECK_NEAR(log_sd(&r, a), hypot(i == 2 ? .12 : class_sd, i == 1 ? .06 : .02), 1e-6);
            trade_close(&r);
        }
    }
}

static void batches(void) {
    struct mix_item from = {"a", 1};
    struct paint cans[2] = {
        {.id = "a",
         .class = "wb_enamel",
         .leftover_of = &from,
         .leftover_of_n = 1,
         .stock_ml = 5000,
         .size_ml = NAN,
         .cost_cent = NAN},
        {.id = "b", .class = "wb_enamel", .stock_ml = 5000, .size_ml = 1000, .cost_cent = 2000}};
    struct recipe_line lines[2] = {{"a", "a", 3, NAN, 1}, {"b", "b", 1, NAN, 1}};
    struct mixed_batch mixed = {.id = "m", .name = "m", .ml = 5000};
    struct trade_room r;
    for (int i = 0; i < 2; i++)
        cans[i].smallest_ml = cans[i].label_spread_m2_per_l = cans[i].density_g_per_ml =
            cans[i].label_pot_life_min = NAN;
    open(&r);
    trade_surface(&r, "case", "sides", TREAT_PAINT, 2, 0);
    CHECK(trade_coats(&r, NULL) == OK);
    r.shelf.paints = cans, r.shelf.paints_n = 2;
    r.plan.color.lines = lines, r.plan.color.lines_n = 2;
    CASE("3 + 1 parts are poured in whole parts; of 30 + 1 that would be a third too much") {
        CHECK(amount_make(&r.room, &r.plan, NULL) == OK);
        const struct amount *a = amount(&r, ROLE_COLOR);
        CHECK_NEAR(fmod(a->mix_ml + 1e-9, 4 * 5), 0, 1e-6); /* marks of 5 ml */
        lines[0].parts = 30;
        CHECK(amount_make(&r.room, &r.plan, NULL) == OK);
        a = amount(&r, ROLE_COLOR);
        CHECK(a->mix_ml >= a->high_ml && a->mix_ml < a->high_ml + 5);
        lines[0].parts = 3;
    }
    CASE("a leftover is paid for already: only the other quarter costs, $20 a liter") {
        CHECK(amount_make(&r.room, &r.plan, NULL) == OK);
        const struct amount *a = amount(&r, ROLE_COLOR);
        CHECK_NEAR(a->cost_cent, a->mix_ml / 4 * 2, 1e-6);
    }
    CASE("a mix of several paints, one of which sets in 200 minutes, is mixed for each of two "
         "coats; "
         "what dies before the coat is on is left in the tray each time") {
        const struct operations_row *pot = operation_row(r.room.t, "mix_pot");
        const struct coat *k = r.plan.coats.rows;
        while (k->role != ROLE_COLOR) k++;
        CHECK(k->coats == 2 && k->recoat_min > 200);
        CHECK(amount_make(&r.room, &r.plan, NULL) == OK &&
              price_make(&r.room, &r.plan, NULL) == OK);
        double once = r.plan.price.hours, sessions = amount(&r, ROLE_COLOR)->sessions;
        CHECK_NEAR(sessions, 2, 1e-9);
        cans[1].label_pot_life_min = 200;
        CHECK(amount_make(&r.room, &r.plan, NULL) == OK &&
              price_make(&r.room, &r.plan, NULL) == OK);
        CHECK_NEAR(r.plan.price.hours - once, (pot->fixed_min + pot->each_min) / 60, 1e-9);
        CHECK_NEAR(amount(&r, ROLE_COLOR)->sessions, sessions, 1e-9);
        cans[1].label_pot_life_min = (k->hands_min - k->ready_min) / 2.5; /* three pots a coat */
        CHECK(amount_make(&r.room, &r.plan, NULL) == OK &&
              price_make(&r.room, &r.plan, NULL) == OK);
        CHECK_NEAR(r.plan.price.hours - once, 5 * (pot->fixed_min + pot->each_min) / 60, 1e-9);
        CHECK_NEAR(amount(&r, ROLE_COLOR)->sessions, 6, 1e-9);
        lines[0] = lines[1], r.plan.color.lines_n = 1; /* of one can: it has no batch of its own */
        cans[1].label_pot_life_min = 200;
        CHECK(price_make(&r.room, &r.plan, NULL) == OK);
        CHECK_NEAR(r.plan.price.hours - once, 2 * (pot->fixed_min + pot->each_min) / 60, 1e-9);
        lines[0] = (struct recipe_line){"a", "a", 3, NAN, 1}, r.plan.color.lines_n = 2;
        cans[1].label_pot_life_min = NAN;
    }
    CASE("of a jar that is short of its share the shelf counts what is in it; the rest is bought, "
         "and "
         "that is said") {
        cans[1].stock_ml = 10;
        CHECK(amount_make(&r.room, &r.plan, NULL) == OK);
        const struct amount *a = amount(&r, ROLE_COLOR);
        CHECK_NEAR(a->stock_ml, a->mix_ml * 3 / 4 + 10, 1e-6);
        CHECK_NEAR(a->buy_ml, a->mix_ml / 4 - 10, 1e-6);
        CHECK(a->cans == 1 && says(&r.plan.amounts.notices, "Buy 1 ", RANK_MIND));
        cans[1].stock_ml = 5000;
    }
    CASE("of a sister's cup as much is painted as is left in it; what is short is mixed") {
        r.plan.color.batch = "m", r.room.cup_ml = 120;
        CHECK(amount_make(&r.room, &r.plan, NULL) == OK);
        const struct amount *a = amount(&r, ROLE_COLOR);
        CHECK_NEAR(a->mixed_ml, 120, 1e-9);
        CHECK_NEAR(a->stock_ml, a->mix_ml - 120, 1e-6);
        mixed.ml = 60, r.piece.batch = &mixed; /* and of a batch of its own besides */
        CHECK(amount_make(&r.room, &r.plan, NULL) == OK);
        CHECK_NEAR(amount(&r, ROLE_COLOR)->mixed_ml, 180, 1e-9);
        r.room.cup_ml = 0, mixed.ml = 5000, r.piece.batch = NULL, r.plan.color.batch = NULL;
    }
    CASE("a batch that holds more than is wanted leaves all the rest") {
        r.plan.color.batch = "m", r.piece.batch = &mixed;
        CHECK(amount_make(&r.room, &r.plan, NULL) == OK);
        const struct amount *a = amount(&r, ROLE_COLOR);
        CHECK_NEAR(a->left_ml, 5000 - a->need_ml, 1e-6);
        CHECK_NEAR(a->mixed_ml, a->mix_ml, 1e-9);
    }
    CASE("a card and a batch that sister pieces share are charged by what each takes of it") {
        r.plan.color.mixes = true, r.plan.batch_others_frac = .6;
        CHECK(price_make(&r.room, &r.plan, NULL) == OK);
        CHECK_NEAR(line(&r, "samples")->hours, .4 * 25 / 60, 1e-9); /* operations.tsv: 10 + 15 */
    }
    CASE("a quote for which memory runs out anywhere is E_MEMORY, never half a quote") {
        const char *said[] = {"the top", "the sides"};
        r.piece.agreement.agreed = r.piece.agreement.excluded = said;
        r.piece.agreement.agreed_n = r.piece.agreement.excluded_n = 2;
        enum status s = E_MEMORY;
        for (size_t more = 0; s == E_MEMORY && more < 100000; more += 96) {
            r.arena.max_bytes = r.arena.used_bytes + more + 1;
            r.ledger.failed = false;
            s = price_make(&r.room, &r.plan, NULL);
        }
        CHECK(s == OK && strstr(r.plan.price.quote, "Agreed:\n- the top\n- the sides\nNot") &&
              strstr(r.plan.price.quote, "Not included:\n- the top\n- the sides\nPrice: "));
    }
    trade_close(&r);
}

/* The price at which an hour earns so much (by hand: nothing is sold, so there is no fee). */
static double price_for(const struct price *p, double hour_cent) {
    return p->hours * hour_cent + p->material_cent + p->overhead_cent;
}

static void prices(void) {
    struct trade_room r;
    open(&r);
    trade_surface(&r, "case", "sides", TREAT_PAINT, 3, 0);
    CHECK(rooms(&r, NULL) == OK);
    struct price p = r.plan.price;
    CASE("worth it is what earns the rate, to the cent") {
        r.piece.agreement.quoted_cent = price_for(&p, 4000);
        CHECK(rooms(&r, NULL) == OK && r.plan.price.worth_it == YN_YES);
        r.piece.agreement.quoted_cent = price_for(&p, 3990);
        CHECK(rooms(&r, NULL) == OK && r.plan.price.worth_it == YN_NO);
        CHECK_NEAR(r.plan.price.hour_cent, 3990, 1e-6);
    }
    CASE("a quarter off is bargaining, below two thirds of the rate one is told to ask more") {
        r.piece.agreement.quoted_cent = price_for(&p, 3000);
        CHECK(rooms(&r, NULL) == OK && !says(&r.plan.price.notices, "Ask more", RANK_MIND));
        r.piece.agreement.quoted_cent = price_for(&p, 2600);
        CHECK(rooms(&r, NULL) == OK && says(&r.plan.price.notices, "Ask more", RANK_MIND));
    }
    CASE("a dollar under what the work costs is said") {
        r.piece.agreement.quoted_cent = r.plan.price.minimum_cent;
        CHECK(rooms(&r, NULL) == OK && !says(&r.plan.price.notices, "The quoted price", RANK_MIND));
        r.piece.agreement.quoted_cent -= 100;
        CHECK(rooms(&r, NULL) == OK && says(&r.plan.price.notices, "The quoted price", RANK_MIND));
    }
    CASE("the least that a job is done for counts once for all pieces of a client") {
        r.piece.agreement.quoted_cent = NAN;
        r.shop.minimum_cent = 1e6;
        CHECK(rooms(&r, NULL) == OK && r.plan.price.price_cent == 1e6);
        r.plan.minimum_others_frac = .75;
        CHECK(price_make(&r.room, &r.plan, NULL) == OK && r.plan.price.price_cent == 250000);
    }
    trade_close(&r);
}

static void supplies(void) {
    static const char *two_tone[] = {"two_tone"};
    struct trade_room r;
    CASE("tape: 15 % more than the edge, in tenths of a roll of 50 m (common practice)") {
        open(&r);
        trade_surface(&r, "case", "sides", TREAT_PAINT, 2, 0)->mask_edge_mm = 100000;
        CHECK(rooms(&r, NULL) == OK);
        CHECK_NEAR(supply(&r, "tape")->count, 2.3, 1e-9);
        trade_close(&r);
    }
    CASE("tape around a second color nobody placed: four sides of one square of its area") {
        open(&r);
        r.piece.wanted.effects = two_tone, r.piece.wanted.effects_n = 1;
        trade_surface(&r, "case", "sides", TREAT_PAINT, 16, 0);
        CHECK(rooms(&r, NULL) == OK);
        double around_m = 0;
        for (size_t i = 0; i < r.plan.coats.n; i++)
            if (!strcmp(r.plan.coats.rows[i].operation, "two_tone"))
                around_m += 4 * sqrt(r.plan.coats.rows[i].area_m2);
        CHECK(around_m > 8); /* of 16 m2 */
        CHECK_NEAR(supply(&r, "tape")->count, ceil(around_m * 1.15 / 5) / 10, 1e-9);
        trade_close(&r);
    }
    CASE("a small piece takes two rags all the same; each piece of a pair its own anchor") {
        open(&r);
        r.piece.width_mm = 900, r.piece.depth_mm = 300, r.piece.height_mm = 1800;
        r.piece.template = "bookcase", r.piece.count = 2;
        trade_surface(&r, "case", "sides", TREAT_PAINT, .2, 0);
        CHECK(rooms(&r, NULL) == OK);
        CHECK(supply(&r, "rag")->count == 2);
        CHECK(supply(&r, "anchor")->count == 2);
        trade_close(&r);
    }
}

int main(void) {
    records();
    batches();
    prices();
    supplies();
    return check_done();
}
