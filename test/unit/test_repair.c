#include "core/work/defect.h"
#include "core/work/fact.h"
#include "core/work/promise.h"
#include "core/work/repair.h"
#include "test/check.h"
#include "test/unit/trade_room.h"

#include <math.h>

static const struct tables *const t = &tables_builtin;

static const struct work_step *step_of(const struct steps *s, const char *operation) {
    for (size_t i = 0; i < s->n; i++)
        if (!strcmp(s->rows[i].operation, operation)) return &s->rows[i];
    return NULL;
}

static void table_cases(void) {
    CASE("repairs, agreement, care, defects, operations: facts, words and sources are known") {
        for (size_t i = 0; i < t->repairs_n; i++) {
            CHECK(source_known(t->repairs[i].source));
            CHECK(strstr("repair replace refer", t->repairs[i].verdict));
            CHECK(i == 0 || t->repairs[i].order > t->repairs[i - 1].order);
        }
        for (size_t i = 0; i < t->agreement_n; i++)
            CHECK(fact_known(t->agreement[i].when) && source_known(t->agreement[i].source));
        for (size_t i = 0; i < t->care_n; i++) {
            CHECK(fact_known(t->care[i].when) && source_known(t->care[i].source));
            CHECK(strstr("handle deliver cure always", t->care[i].until));
        }
        for (size_t i = 0; i < t->defects_n; i++) CHECK(source_known(t->defects[i].source));
        for (size_t i = 0; i < t->operations_n; i++) {
            const struct operations_row *op = &t->operations[i];
            CHECK(source_known(op->source));
            CHECK(op->promised == 1 || (op->promised == 0 && op->role));
            if (!strcmp(op->role, "takedown") || !strcmp(op->role, "rub")) CHECK(!op->promised);
        }
    }
    CASE("every step that puts on or rubs a coat knows what can go wrong with it") {
        const struct defects_row *rows[64];
        CHECK(defects_of(t, ROLE_COLOR, "wb_enamel", rows, 64) > 8);
        CHECK(defects_of(t, ROLE_CLEAR, "wb_clear", rows, 64) > 8);
        CHECK(defects_of(t, ROLE_WAX, "wax", rows, 64) >= 1);
        CHECK(defects_of(t, ROLE_SCUFF, NULL, rows, 64) >= 1);
        size_t all = defects_of(t, ROLE_COLOR, "alkyd_enamel", NULL, 0);
        CHECK(all > 0 && !defects_of(t, ROLE_UNSAID, NULL, NULL, 0));
    }
}

static void pull_cases(void) {
    CASE("pulls go by the width of the fronts, not of the piece") {
        struct surface rows[] = {{.part = {.shape = "drawer_front", .count = 3, .size_mm = {362}}},
                                 {.part = {.shape = "drawer_front", .count = 1, .size_mm = {800}}}};
        struct surfaces s = {.rows = rows, .rows_n = 2};
        struct trade_room r;
        trade_open(&r);
        r.piece.drawers = 4, r.piece.width_mm = 1200;
        CHECK(pulls_count(r.room.t, &r.piece, &s) ==
              3 + 2); /* a desk: pedestal and middle drawer */
        CHECK(pulls_count(r.room.t, &r.piece, NULL) == 8);
        r.piece.fittings.pulls.count = 4;
        CHECK(pulls_count(r.room.t, &r.piece, &s) == 4);
        trade_close(&r);
    }
}

static void hardware_cases(void) {
    struct trade_room r;
    CASE("old hardware goes back as its metal wants it; new pulls leave only the hinges") {
        trade_open(&r);
        r.piece.finish = "bare", r.piece.drawers = 3, r.piece.doors = 2, r.piece.width_mm = 500;
        trade_surface(&r, "case", "sides", TREAT_PAINT, 2, 2);
        CHECK(trade_coats(&r, NULL) == OK && repair_make(&r.room, &r.plan, NULL) == OK);
        CHECK(!step_of(&r.plan.finish, "touch_up_hardware")); /* nobody said what it is */
        r.piece.fittings.metal = "brass";
        CHECK(repair_make(&r.room, &r.plan, NULL) == OK);
        const struct work_step *w = step_of(&r.plan.finish, "touch_up_hardware");
        CHECK(w && w->count == 3 + 2 + 4 && strstr(w->why, "steel wool"));
        r.piece.fittings.pulls.new_spacing_mm = 96;
        CHECK(repair_make(&r.room, &r.plan, NULL) == OK);
        w = step_of(&r.plan.finish, "touch_up_hardware");
        CHECK(w && w->count == 4);
        struct why why;
        r.piece.fittings.metal = "mithril";
        CHECK(repair_make(&r.room, &r.plan, &why) == E_REFERENCE);
        CHECK_TEXT(why.field, "/pieces/0/fittings/metal");
        trade_close(&r);
    }
}

static void mask_cases(void) {
    CASE("masking takes as long as its edge is: 5 min and 1.5 min a meter, as between two colors "
         "(common practice, by hand: 4 seats of 18 x 18 in, 7.32 m; a top of 72 x 38 in, 5.59 m)") {
        static const double seats = 5 + 1.5 * 8, top = 5 + 1.5 * 6;
        struct trade_room r;
        trade_open(&r);
        r.piece.finish = "bare";
        trade_surface(&r, "case", "rails", TREAT_PAINT, 2, 2);
        trade_surface(&r, "case", "seat", TREAT_MASK, 0, 0);
        r.plan.surfaces.rows[1].mask_edge_mm = 4 * 4 * 18 * 25.4;
        r.plan.surfaces.masked_m2 = .8;
        CHECK(trade_coats(&r, NULL) == OK && repair_make(&r.room, &r.plan, NULL) == OK);
        const struct work_step *w = step_of(&r.plan.repairs, "mask");
        CHECK(w && fabs(w->hands_min - seats) < 1e-9);
        CHECK_TEXT(w->text, "Mask");
        r.plan.surfaces.rows[1].part.treatment = TREAT_CLEAR;
        r.plan.surfaces.rows[1].mask_edge_mm = 2 * (72 + 38) * 25.4;
        r.plan.surfaces.masked_m2 = 0;
        CHECK(repair_make(&r.room, &r.plan, NULL) == OK);
        w = step_of(&r.plan.repairs, "mask");
        CHECK(w && fabs(w->hands_min - top) < 1e-9);
        r.plan.surfaces.rows[1].mask_edge_mm = 0;
        CHECK(repair_make(&r.room, &r.plan, NULL) == OK && !step_of(&r.plan.repairs, "mask"));
        trade_close(&r);
    }
}

static void repair_cases(void) {
    CASE(
        "old holes are filled and new ones drilled before any coat; backplates spare the filling") {
        struct trade_room r;
        trade_open(&r);
        r.piece.finish = "bare", r.piece.drawers = 5, r.piece.width_mm = 860;
        struct fitting_pulls *f = &r.piece.fittings.pulls;
        f->old_spacing_mm = 63.5, f->new_spacing_mm = 76.2;
        CHECK(holes_to_fill(r.room.t, &r.piece, NULL) == 20 &&
              holes_to_drill(r.room.t, &r.piece, NULL) == 20);
        f->backplate_mm = 90;
        CHECK(holes_to_fill(r.room.t, &r.piece, NULL) == 0 &&
              holes_to_drill(r.room.t, &r.piece, NULL) == 20);
        f->backplate_mm = NAN, f->new_spacing_mm = 64.0; /* 0.5 mm: within the slack */
        CHECK(holes_to_fill(r.room.t, &r.piece, NULL) == 0 &&
              holes_to_drill(r.room.t, &r.piece, NULL) == 0);
        f->new_spacing_mm = 76.2;
        CHECK(trade_coats(&r, NULL) == OK && repair_make(&r.room, &r.plan, NULL) == OK);
        const struct work_step *fill = step_of(&r.plan.repairs, "fill_holes");
        CHECK(fill && fill->wait_min >= 1440);
        CHECK(step_of(&r.plan.takedown, "hardware_off")->bag != NULL);
        CHECK(step_of(&r.plan.finish, "wax_runners") && step_of(&r.plan.finish, "fit_pulls"));
        trade_close(&r);
    }
    CASE("glue comes before filler whatever the order in which they were said") {
        struct trade_room r;
        trade_open(&r);
        struct repair said[] = {{.kind = "filler", .count = 4, .cost_cent = NAN},
                                {.kind = "loose_joint", .count = 2, .cost_cent = NAN}};
        r.piece.finish = "bare", r.piece.repairs = said, r.piece.repairs_n = 2;
        CHECK(trade_coats(&r, NULL) == OK && repair_make(&r.room, &r.plan, NULL) == OK);
        CHECK(r.plan.repairs.n == 2);
        CHECK_TEXT(r.plan.repairs.rows[0].operation, "loose_joint");
        CHECK(r.plan.repairs.rows[0].wait_min == 1440); /* glue 24 h, common practice */
        trade_close(&r);
    }
    CASE("a repair that is not known is an error that names the field") {
        struct trade_room r;
        struct why why;
        trade_open(&r);
        struct repair said[] = {{.kind = "filler"}, {.kind = "prayer"}};
        r.piece.finish = "bare", r.piece.repairs = said, r.piece.repairs_n = 2;
        CHECK(trade_coats(&r, NULL) == OK);
        CHECK(repair_make(&r.room, &r.plan, &why) == E_REFERENCE);
        CHECK_TEXT(why.field, "/pieces/0/repairs/1/kind");
        trade_close(&r);
    }
    CASE("a tall chest gets its anchor, a low bench does not") {
        struct trade_room r;
        trade_open(&r);
        r.piece.template = "chest", r.piece.finish = "bare", r.piece.drawers = 4;
        r.piece.height_mm = 27 * 25.4, r.piece.width_mm = 900, r.piece.depth_mm = 450;
        CHECK(trade_coats(&r, NULL) == OK && repair_make(&r.room, &r.plan, NULL) == OK);
        CHECK(step_of(&r.plan.finish, "anchor"));
        r.piece.height_mm = 26.9 * 25.4;
        CHECK(repair_make(&r.room, &r.plan, NULL) == OK);
        CHECK(!step_of(&r.plan.finish, "anchor"));
        trade_close(&r);
    }
}

static bool promises(const char **work, size_t n, const char *words) {
    for (size_t i = 0; i < n; i++)
        if (!strncmp(work[i], words, strlen(words))) return true;
    return false;
}

static void promise_cases(void) {
    CASE("a client reads repairs, coats and what is fitted, not what the shop does for itself") {
        struct trade_room r;
        trade_open(&r);
        struct repair said[] = {{.kind = "loose_joint", .count = 2, .cost_cent = NAN}};
        r.piece.finish = "bare", r.piece.drawers = 3, r.piece.width_mm = 860;
        r.piece.repairs = said, r.piece.repairs_n = 1;
        r.piece.fittings.pulls.new_spacing_mm = 96;
        trade_surface(&r, "case", "sides", TREAT_PAINT, 2, 2);
        CHECK(trade_coats(&r, NULL) == OK && repair_make(&r.room, &r.plan, NULL) == OK);
        size_t n = 0;
        const char **work = promise_work(&r.room, &r.plan, &n);
        CHECK(promises(work, n, "Loose joint, reglued")); /* the word "Repair: " is for the shop */
        CHECK(promises(work, n, "Painted") && promises(work, n, "Pulls fitted"));
        CHECK(step_of(&r.plan.finish, "drawers_in") && !promises(work, n, "Drawers in"));
        CHECK(step_of(&r.plan.finish, "pack") && !promises(work, n, "Wrap and load"));
        CHECK(!promises(work, n, "Rub down"));
        trade_close(&r);
    }
    CASE("a client is told which part gets a coat that others do not: a natural top on a painted "
         "frame") {
        struct trade_room r;
        trade_open(&r);
        r.piece.finish = "alkyd_paint";
        trade_surface(&r, "frame", "legs", TREAT_PAINT, 1, 4);
        trade_surface(&r, "top", "top", TREAT_CLEAR, 2, 1);
        CHECK(trade_coats(&r, NULL) == OK);
        size_t n = 0;
        const char **work = promise_work(&r.room, &r.plan, &n);
        CHECK(promises(work, n, "top: Stripped") && promises(work, n, "frame: Painted"));
        CHECK(promises(work, n, "Cleaned and degreased") && !promises(work, n, "Stripped"));
        trade_close(&r);
    }
}

static bool agreed_on(struct trade_room *r, const char *topic, enum rank rank) {
    struct notices n;
    CHECK(agreement_make(&r->room, NULL, &n, NULL) == OK);
    for (size_t i = 0; i < n.n; i++)
        if (!strcmp(n.rows[i].topic, topic) && n.rows[i].rank == rank) return true;
    return false;
}

static void agreement_cases(void) {
    CASE("for a client: sample signed, who pays the laboratory; answered questions are not asked") {
        struct trade_room r;
        trade_open(&r);
        r.piece.finish = "lacquer", r.piece.year = 1938;
        r.piece.agreement.purpose = PURPOSE_CLIENT;
        CHECK(agreed_on(&r, "sample", RANK_STOP) && agreed_on(&r, "lead", RANK_STOP));
        r.piece.agreement.sample_signed = YN_YES, r.piece.tests.lead = LEAD_LAB_NEGATIVE;
        CHECK(!agreed_on(&r, "sample", RANK_STOP) && !agreed_on(&r, "lead", RANK_STOP));
        r.piece.agreement.purpose = PURPOSE_OWN;
        CHECK(!agreed_on(&r, "deposit", RANK_MIND));
        r.piece.wanted.top = "waxed", r.piece.agreement.purpose = PURPOSE_CLIENT;
        CHECK(agreed_on(&r, "natural top", RANK_MIND)); /* signed warning: cups and alcohol */
        trade_close(&r);
    }
    CASE("a piece that is refused is not agreed on, tested or advised about") {
        struct trade_room r;
        trade_open(&r);
        r.piece.template = "crib", r.piece.finish = "paint", r.piece.year = 1955;
        r.piece.agreement.purpose = PURPOSE_CLIENT;
        CHECK(agreed_on(&r, "refusal", RANK_MIND) && !agreed_on(&r, "deposit", RANK_MIND));
        CHECK(trade_coats(&r, NULL) == OK);
        CHECK(r.plan.hazards.refused && !r.plan.inspection.tests_n && !r.plan.coats.n);
        trade_close(&r);
    }
}

static void care_cases(void) {
    CASE("the card says until when, and what wax wants") {
        struct trade_room r;
        trade_open(&r);
        r.piece.finish = "bare", r.piece.wanted.product = "chalk", r.piece.wanted.clear = "wax";
        r.piece.wanted.color = (struct color_said){"blue", {30, 0, 0}};
        trade_surface(&r, "case", "sides", TREAT_PAINT, 2, 2);
        CHECK(trade_coats(&r, NULL) == OK);
        r.plan.cured_utc_min = 5000, r.plan.deliver_utc_min = 4000, r.plan.handle_utc_min = 3000;
        CHECK(care_make(&r.room, &r.plan, NULL) == OK);
        bool renew = false, dated = false, soap = false;
        for (size_t i = 0; i < r.plan.care_n; i++) {
            renew |= strstr(r.plan.care[i].text, "Wax again") != NULL;
            soap |= strstr(r.plan.care[i].text, "drop of dish soap") != NULL;
            dated |= r.plan.care[i].until_utc_min == 5000;
        }
        CHECK(renew && dated && !soap);
        trade_close(&r);
    }
}

int main(void) {
    table_cases();
    repair_cases();
    pull_cases();
    hardware_cases();
    mask_cases();
    promise_cases();
    agreement_cases();
    care_cases();
    return check_done();
}
