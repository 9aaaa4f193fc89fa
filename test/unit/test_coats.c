#include "core/work/coats_rules.h"
#include "test/check.h"
#include "test/unit/trade_room.h"

static const struct tables *const t = &tables_builtin;

static bool under_known(const char *u) {
    return material_of(t, u) || strstr("any film opaque", u) != NULL;
}

static bool over_known(const char *o) {
    return coat_kind_of(t, o) || strstr("any none barrier primer color clear last", o) != NULL;
}

static void table_cases(void) {
    CASE("every rule's ground, coat, facts, verdict, preparation and source are known") {
        for (size_t i = 0; i < t->coat_rules_n; i++) {
            const struct coat_rules_row *r = &t->coat_rules[i];
            unsigned bits;
            bool good = under_known(r->under) && over_known(r->over) && fact_known(r->when) &&
                        verdict_named(r->verdict) != VERDICT_UNKNOWN &&
                        prep_parse(r->prep, &bits) && source_known(r->source) &&
                        certainty_of(r->certainty) != CERTAINTY_UNSAID;
            CHECK(good);
            if (!good) printf("  row %s\n", r->id);
        }
        CHECK(t->coat_rules_n >= 90);
    }
    CASE("no two rules of equal rank contradict") {
        for (size_t i = 0; i < t->coat_rules_n; i++)
            for (size_t k = i + 1; k < t->coat_rules_n; k++) {
                const struct coat_rules_row *a = &t->coat_rules[i], *b = &t->coat_rules[k];
                bool equal = !strcmp(a->under, b->under) && !strcmp(a->over, b->over) &&
                             !strcmp(a->when, b->when);
                CHECK(!equal);
                if (equal) printf("  %s and %s\n", a->id, b->id);
            }
    }
    CASE("what can never be put on says what to do instead") {
        for (size_t i = 0; i < t->coat_rules_n; i++)
            CHECK(strcmp(t->coat_rules[i].verdict, "never") || *t->coat_rules[i].remedy);
    }
}

static const struct coat *row_of(const struct piece_plan *p, enum coat_role role) {
    for (size_t i = 0; i < p->coats.n; i++)
        if (p->coats.rows[i].role == role) return &p->coats.rows[i];
    return NULL;
}

static void color_is(struct trade_room *r, const char *text, double lightness) {
    r->piece.wanted.color = (struct color_said){text, {lightness, 0, 0}};
}

static void system_cases(void) {
    CASE("oil clear over white is refused and a waterborne clear planned (common practice)") {
        struct trade_room r;
        trade_open(&r);
        r.piece.finish = "bare", r.piece.wanted.product = "wb_enamel";
        r.piece.wanted.clear = "oil_clear";
        color_is(&r, "white", 95);
        trade_surface(&r, "case", "sides", TREAT_PAINT, 2, 2);
        CHECK(trade_coats(&r, NULL) == OK);
        CHECK(r.plan.coats.refused.n == 1);
        CHECK_TEXT(row_of(&r.plan, ROLE_CLEAR)->class, "wb_clear");
        CHECK(row_of(&r.plan, ROLE_CLEAR)->coats == 2); /* thin and several */
        trade_close(&r);
    }
    CASE("a sound old film is scuffed with 220 grit (common practice)") {
        struct trade_room r;
        trade_open(&r);
        r.piece.finish = "lacquer", r.piece.year = 1995;
        color_is(&r, "green", 40);
        trade_surface(&r, "case", "sides", TREAT_PAINT, 2, 2);
        CHECK(trade_coats(&r, NULL) == OK);
        CHECK(row_of(&r.plan, ROLE_SCUFF) && row_of(&r.plan, ROLE_SCUFF)->grit == 220);
        trade_close(&r);
    }
    CASE("a wish that does not exist is an error that names the field") {
        struct trade_room r;
        struct why why;
        trade_open(&r);
        r.piece.finish = "bare", r.piece.wanted.clear = "varnish of Cremona";
        trade_surface(&r, "case", "sides", TREAT_PAINT, 2, 2);
        CHECK(trade_coats(&r, &why) == E_REFERENCE);
        CHECK_TEXT(why.field, "/pieces/0/wanted/clear");
        trade_close(&r);
    }
}

/* ---- hands-on hours ---- */

static double hours_of(struct trade_room *r) {
    CHECK(trade_coats(r, NULL) == OK && repair_make(&r->room, &r->plan, NULL) == OK);
    double min = 0;
    for (size_t i = 0; i < r->plan.coats.n; i++)
        min += r->plan.coats.rows[i].hands_min * (double)r->plan.coats.rows[i].coats;
    const struct steps *steps[] = {&r->plan.takedown, &r->plan.repairs, &r->plan.finish};
    for (size_t k = 0; k < 3; k++)
        for (size_t i = 0; i < steps[k]->n; i++) min += steps[k]->rows[i].hands_min;
    trade_close(r);
    return min / 60;
}

/* A worn, varnished piece of hard maple, waterborne enamel and clear, for a client. */
static void worn(struct trade_room *r, const char *template) {
    trade_open(r);
    struct piece *p = &r->piece;
    p->template = template, p->finish = "oil_varnish", p->year = 1995, p->wood = "hard_maple";
    p->condition = CONDITION_WORN, p->knots = YN_NO, p->wanted.product = "wb_enamel";
    p->tests.wax_wipe = WIPE_CLEAN, p->tests.tape_removed_frac = 0.02;
    p->agreement.purpose = PURPOSE_CLIENT;
    color_is(r, "green", 40);
}

static void hours_cases(void) {
    struct trade_room r;
    CASE("hands-on hours of whole pieces (common practice; areas from their geometry)") {
        worn(&r, "nightstand"); /* 24 x 16 x 26 in: 12.8 ft2 */
        r.piece.drawers = 1;
        trade_surface(&r, "case", "sides", TREAT_PAINT, 0.99, 0.99);
        trade_surface(&r, "drawers", "fronts", TREAT_PAINT, 0.2, 0.2);
        CHECK_NEAR(hours_of(&r), 5, 1); /* 4 to 6 */
        worn(&r, "side_chair");         /* 11 ft2 */
        trade_surface(&r, "frame", "legs", TREAT_PAINT, 0.6, 0.6);
        trade_surface(&r, "seat", "seat", TREAT_PAINT, 0.4, 0.4);
        CHECK_NEAR(hours_of(&r), 5.5, 1.5); /* 4 to 7 */
        worn(&r, "dresser");                /* 60 x 18 x 34 in: 30.2 ft2 with its edges */
        r.piece.drawers = 6, r.piece.width_mm = 1524, r.piece.depth_mm = 457;
        r.piece.height_mm = 864;
        trade_surface(&r, "case", "sides", TREAT_PAINT, 1.9, 1.9);
        trade_surface(&r, "drawers", "fronts", TREAT_PAINT, 1.2, 1.2);
        CHECK_NEAR(hours_of(&r), 11.5, 2.5); /* 9 to 14 */
    }
    CASE("ten cabinet doors sprayed: 12 to 18 h; a top stripped and finished: 5 to 8 h") {
        worn(&r, "kitchen_doors");
        r.piece.doors = 10, r.piece.place = PLACE_KITCHEN, r.piece.wanted.clear = "wb_clear";
        trade_surface(&r, "doors", "doors", TREAT_PAINT, 7, 7)->factor = 1.3;
        r.groups[0].tool = "hvlp";
        CHECK_NEAR(hours_of(&r), 15, 3);
        worn(&r, "dining_table");
        r.piece.wanted.top = "stained", r.piece.wanted.product = NULL;
        r.piece.wanted.color.text = NULL;
        trade_surface(&r, "top", "top", TREAT_STAIN, 1.67, 1.67); /* 72 x 36 in, one face */
        CHECK_NEAR(hours_of(&r), 6.5, 1.5);
    }
    CASE("hours grow with area, with bad condition and with turnings, and never with nothing") {
        double plain, large, bad, turned;
        worn(&r, "chest"), trade_surface(&r, "case", "sides", TREAT_PAINT, 2, 2);
        plain = hours_of(&r);
        worn(&r, "chest"), trade_surface(&r, "case", "sides", TREAT_PAINT, 3, 3);
        large = hours_of(&r);
        worn(&r, "chest"), trade_surface(&r, "case", "sides", TREAT_PAINT, 2, 2);
        r.piece.condition = CONDITION_DAMAGED;
        bad = hours_of(&r);
        worn(&r, "chest"), trade_surface(&r, "case", "turned_leg", TREAT_PAINT, 2, 2);
        turned = hours_of(&r);
        CHECK(large > plain && bad > plain && turned > bad);
        worn(&r, "chest"), trade_surface(&r, "case", "back", TREAT_BARE, 0, 0);
        CHECK(hours_of(&r) < 1.5);
    }
}

int main(void) {
    table_cases();
    hours_cases();
    system_cases();
    return check_done();
}
