/* Surfaces of a piece: areas against sums made by hand, what is coated, masked or left, with which
 * tool. */
#include "test/unit/surface_room.h"

static const struct tables *T = &tables_builtin;

static void open_chest(struct trade_room *tr) {
    trade_open(tr);
    tr->piece.template = "chest";
    tr->piece.width_mm = 900;
    tr->piece.depth_mm = 450;
    tr->piece.height_mm = 1000;
    tr->piece.thickness_mm = 20;
    tr->piece.leg_mm = 80;
    tr->piece.drawers = 4;
}

static void by_hand(void) {
    struct trade_room tr;
    struct surfaces s;
    CASE("chest: box with top, sides and front, edges of top and drawer fronts more") {
        open_chest(&tr);
        CHECK(surfaces_of(&tr, &s, NULL) == OK);
        /* top 900x450 and its edges 20 x (900 + 2x450); sides 450x980; front 900x980;
         * four fronts of 860 x 200: their edges 20 x 2 x (860 + 200) */
        double top = 900 * 450 + 20 * (900 + 2 * 450), sides = 2 * 450 * 980, front = 900 * 980;
        double edges = 4 * 20 * 2 * (860 + 200);
        CHECK_NEAR(s.coated_m2 * 1e6, top + sides + front + edges, 1e-3);
        CHECK_NEAR(row_of(&s, "drawer_front")->part.size_mm[1], 200, 1e-9);
        CHECK(s.groups_n == 2 && s.groups[1].lies_flat && !s.groups[0].lies_flat);
        CHECK_NEAR(s.groups[1].floor_m2, 4 * .86 * .2 * 1.2, 1e-9);
        CHECK(s.clear_m2 == s.coated_m2 && s.bare_m2 > 0);
        trade_close(&tr);
    }
    CASE("a pair is twice one") {
        struct surfaces two;
        open_chest(&tr);
        CHECK(surfaces_of(&tr, &s, NULL) == OK);
        tr.piece.count = 2;
        CHECK(surfaces_of(&tr, &two, NULL) == OK);
        CHECK_NEAR(two.coated_m2, 2 * s.coated_m2, 1e-12);
        CHECK(row_of(&two, "drawer_front")->part.count == 8);
        trade_close(&tr);
    }
    CASE("natural top: a group of its own, clear only, taped around") {
        open_chest(&tr);
        tr.piece.wanted.top = "natural";
        tr.piece.wanted.color.text = "#fff";
        CHECK(surfaces_of(&tr, &s, NULL) == OK);
        const struct surface *top = row_of(&s, "top");
        CHECK(!strcmp(top->part.group, "top") && top->part.treatment == TREAT_CLEAR);
        CHECK(top->coated_m2 == 0 && top->clear_m2 > 0);
        CHECK_NEAR(top->mask_edge_mm, 2 * (900 + 450), 1e-9);
        CHECK_NEAR(surface_role_m2(&s, "top", ROLE_CLEAR), top->clear_m2, 1e-12);
        CHECK(surface_role_m2(&s, "top", ROLE_COLOR) == 0);
        trade_close(&tr);
    }
    CASE("four legs of a dining chair are turned where the template says so") {
        trade_open(&tr);
        tr.piece.template = "turned_chair";
        CHECK(surfaces_of(&tr, &s, NULL) == OK);
        double forms[METHOD_FORMS];
        surface_forms(&s, NULL, forms);
        CHECK(forms[FORM_TURNED] > 0 && !strcmp(s.groups[0].tool, "brush"));
        CHECK(s.coated_m2 > .6 && s.coated_m2 < 1.6);
        trade_close(&tr);
    }
    CASE("plain side chair: about 11 square feet (own geometry of the trade, +- 20 %)") {
        trade_open(&tr);
        tr.piece.template = "side_chair";
        CHECK(surfaces_of(&tr, &s, NULL) == OK);
        CHECK_NEAR(s.coated_m2, 1.02, .2);
        trade_close(&tr);
    }
    CASE("bookcase of 36 x 12 x 72 in with 5 shelves: about 72 square feet, insides included") {
        trade_open(&tr);
        tr.piece.template = "bookcase";
        tr.piece.width_mm = 914.4, tr.piece.depth_mm = 304.8, tr.piece.height_mm = 1828.8;
        CHECK(surfaces_of(&tr, &s, NULL) == OK);
        CHECK_NEAR(s.coated_m2, 6.69, .67);
        trade_close(&tr);
    }
}

static void said_parts(void) {
    struct trade_room tr;
    struct surfaces s;
    struct why why;
    CASE("what is said of a part beats the template; a new part is added") {
        struct part said[2] = {part_unsaid("back"), part_unsaid("gallery")};
        said[0].treatment = TREAT_PAINT;
        said[1].shape = "carved";
        said[1].size_mm[0] = 500, said[1].size_mm[1] = 100;
        said[1].profile = "carved";
        said[1].count = 2;
        open_chest(&tr);
        tr.piece.parts = said, tr.piece.parts_n = 2;
        CHECK(surfaces_of(&tr, &s, NULL) == OK);
        CHECK_NEAR(row_of(&s, "back")->coated_m2, .9 * .98, 1e-12);
        CHECK_NEAR(row_of(&s, "gallery")->coated_m2, 2 * .05 * 2, 1e-12);
        CHECK(!strcmp(row_of(&s, "gallery")->part.group, "case"));
        said[1].profile = "lacy";
        CHECK(surfaces_of(&tr, &s, &why) == E_REFERENCE &&
              !strcmp(why.field, "/pieces/0/parts/1/profile"));
        said[1].profile = NULL, said[1].shape = "blob";
        CHECK(surfaces_of(&tr, &s, &why) == E_REFERENCE &&
              !strcmp(why.field, "/pieces/0/parts/1/shape"));
        said[1].shape = NULL;
        CHECK(surfaces_of(&tr, &s, &why) == E_MISSING &&
              !strcmp(why.field, "/pieces/0/parts/1/shape"));
        said[1].shape = "panel", said[1].size_mm[1] = NAN;
        CHECK(surfaces_of(&tr, &s, &why) == E_MISSING);
        CHECK(!strcmp(why.field, "/pieces/0/parts/1/b"));
        trade_close(&tr);
    }
    CASE("a part may be left out, and a piece made of said parts alone") {
        struct part said = part_unsaid("drawer_front");
        said.count = 0;
        open_chest(&tr);
        tr.piece.parts = &said, tr.piece.parts_n = 1;
        CHECK(surfaces_of(&tr, &s, NULL) == OK && !row_of(&s, "drawer_front"));
        said = part_unsaid("board");
        said.shape = "panel", said.size_mm[0] = 1000, said.size_mm[1] = 500;
        tr.piece.template = NULL;
        CHECK(surfaces_of(&tr, &s, NULL) == OK && s.rows_n == 1);
        CHECK_NEAR(s.coated_m2, .5, 1e-12);
        trade_close(&tr);
    }
}

/* by hand: a seat of 1200 x 450 and 25 thick is its top and its edge all around; two posts of 50 x
 * 40 and 850 long on four sides; without slats none is coated */
static void back_cases(void) {
    CASE("a bench with a back, its back of cane") {
        struct trade_room tr;
        struct surfaces s = {0};
        trade_open(&tr);
        tr.shop.units = UNITS_METRIC;
        tr.piece.template = "back_bench";
        tr.piece.width_mm = 1200, tr.piece.depth_mm = 450, tr.piece.height_mm = 850;
        tr.piece.slats = 0;
        CHECK(surfaces_of(&tr, &s, NULL) == OK);
        CHECK_NEAR(row_of(&s, "seat")->coated_m2, 1.2 * .45 + .025 * 2 * (1.2 + .45), 1e-9);
        CHECK_NEAR(row_of(&s, "back_posts")->coated_m2, 2 * .85 * 2 * (.05 + .04), 1e-9);
        CHECK(!row_of(&s, "slats") && row_of(&s, "underside")->coated_m2 == 0);
        trade_close(&tr);
    }
}

/* by hand: the top of a seat of 450 x 400 (the trapeze is 450 in front, 382.5 behind) is masked, no
 * more of it is coated than before less the seat; common practice that a sound weave is masked */
static void seat_cases(void) {
    static const struct {
        enum seat seat;
        enum treatment is;
        double masked_m2;
    } rows[] = {{SEAT_UNSAID, TREAT_PAINT, 0},
                {SEAT_WOOD, TREAT_PAINT, 0},
                {SEAT_WOVEN, TREAT_MASK, 1},
                {SEAT_UPHOLSTERED, TREAT_BARE, 0}};
    CASE("a woven seat is masked, upholstery comes off, and what said its part says otherwise "
         "counts") {
        double wood_m2 = 0, seat_m2 = 0;
        for (size_t i = 0; i < 4; i++) {
            struct trade_room tr;
            struct surfaces s = {0};
            trade_open(&tr);
            tr.piece.template = "side_chair", tr.piece.seat = rows[i].seat;
            tr.piece.width_mm = 450, tr.piece.depth_mm = 400, tr.piece.height_mm = 900;
            CHECK(surfaces_of(&tr, &s, NULL) == OK);
            const struct surface *seat = row_of(&s, "seat");
            CHECK(seat && seat->part.treatment == rows[i].is);
            if (i == 0) wood_m2 = s.coated_m2, seat_m2 = seat->coated_m2;
            bool wood = rows[i].is == TREAT_PAINT;
            CHECK_NEAR(s.coated_m2, wood ? wood_m2 : wood_m2 - seat_m2, 1e-9);
            CHECK(!row_of(&s, "underside") == !wood);
            CHECK((seat->masked_m2 > .16) == (rows[i].masked_m2 > 0) &&
                  (seat->mask_edge_mm > 0) == !!rows[i].masked_m2);
            trade_close(&tr);
        }
        struct trade_room tr;
        struct surfaces s = {0};
        struct why why = {{0}, {0}};
        struct part said = part_unsaid("seat");
        said.treatment = TREAT_CLEAR;
        trade_open(&tr);
        tr.piece.template = "side_chair", tr.piece.seat = SEAT_WOVEN;
        tr.piece.width_mm = 450, tr.piece.depth_mm = 400, tr.piece.height_mm = 900;
        tr.piece.parts = &said, tr.piece.parts_n = 1;
        CHECK(surfaces_of(&tr, &s, NULL) == OK &&
              row_of(&s, "seat")->part.treatment == TREAT_CLEAR);
        tr.piece.parts_n = 0, tr.piece.template = "chest";
        CHECK(surfaces_of(&tr, &s, &why) == E_REFERENCE && strstr(why.field, "/seat") &&
              strstr(why.text, "side_chair"));
        trade_close(&tr);
    }
}

/* geometry: a mirror covers its own area of one face, a pane of both; nine tenths of a door at most
 */
static void glass_cases(void) {
    CASE("mirrors and panes in the doors of a wardrobe are not painted") {
        struct fitting_panel in[] = {
            {.kind = "mirror", .width_mm = 400, .height_mm = 1250, .count = 2}};
        double area[4];
        for (int k = 0; k < 4; k++) {
            struct trade_room tr;
            struct surfaces s = {0};
            trade_open(&tr);
            tr.piece.template = k == 3 ? "display_cabinet" : "wardrobe";
            tr.piece.width_mm = 1270, tr.piece.depth_mm = 584, tr.piece.height_mm = 2032;
            tr.piece.fittings.panels = in;
            tr.piece.fittings.panels_n = k > 0;
            if (k == 2) in[0].kind = "glass", in[0].height_mm = 90000;
            CHECK(surfaces_of(&tr, &s, NULL) == OK);
            const struct surface *door = row_of(&s, k == 3 ? "lower_door" : "door");
            CHECK(door != NULL);
            area[k] = door->coated_m2;
            if (k == 3) CHECK(door->glass_m2 == 0); /* its glass is a part of its own */
            groups_hold(&s);
            trade_close(&tr);
        }
        CHECK_NEAR(area[0] - area[1], 2 * .4 * 1.25, 1e-9);
        CHECK_NEAR(area[2], .1 * area[0], 1e-9);
    }
}

static void wanted_wood(void) {
    static const struct {
        const char *product, *color, *top;
        enum treatment side, lid;
        const char *tool; /* of the sides */
    } rows[] = {{"oil", NULL, NULL, TREAT_WAX, TREAT_WAX, "cloth"},
                {"lacquer", NULL, NULL, TREAT_CLEAR, TREAT_CLEAR, NULL},
                {"wood_stain", NULL, NULL, TREAT_STAIN, TREAT_STAIN, NULL},
                {"oil", NULL, "natural", TREAT_WAX, TREAT_WAX, "cloth"},
                {"wb_enamel", NULL, NULL, TREAT_PAINT, TREAT_PAINT, NULL},
                {"wb_enamel", "blue", "oiled", TREAT_PAINT, TREAT_WAX, NULL}};
    CASE("an oil, clear or stain as the product wanted keeps the wood; nothing is painted") {
        for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
            struct trade_room tr;
            struct surfaces s = {0};
            open_chest(&tr);
            tr.piece.wanted.product = rows[i].product, tr.piece.wanted.top = rows[i].top;
            tr.piece.wanted.color.text = rows[i].color;
            CHECK(surfaces_of(&tr, &s, NULL) == OK);
            const struct surface *side = row_of(&s, "sides"), *top = row_of(&s, "top");
            CHECK(side && side->part.treatment == rows[i].side);
            CHECK(top && top->part.treatment == rows[i].lid);
            if (rows[i].tool && side)
                for (size_t g = 0; g < s.groups_n; g++)
                    if (!strcmp(s.groups[g].id, side->part.group))
                        CHECK_TEXT(s.groups[g].tool, rows[i].tool);
            CHECK((s.coated_m2 > 0) == (rows[i].side == TREAT_PAINT));
            trade_close(&tr);
        }
    }
}

static void drawer_tape(void) {
    CASE("bare drawer sides are taped where they meet a painted front: width + 2 x height each "
         "(common practice, by hand: five drawers of a chest)") {
        struct trade_room tr;
        struct surfaces s = {0};
        trade_open(&tr);
        tr.piece.template = "bow_front_chest", tr.piece.drawers = 5;
        CHECK(surfaces_of(&tr, &s, NULL) == OK);
        const struct surface *box = row_of(&s, "drawer_box");
        CHECK(box && box->part.count == 5);
        if (box)
            CHECK_NEAR(box->mask_edge_mm, 5 * (box->part.size_mm[0] + 2 * box->part.size_mm[2]),
                       1e-9);
        trade_close(&tr);
    }
}

static void tools(void) {
    CASE("a gun where the shop has one, a brush on turned work, a roller on flats") {
        struct shop shop = {0};
        const char *gun[] = {"hvlp"};
        bool asked;
        double flat[METHOD_FORMS] = {[FORM_FLAT] = 1}, turned[METHOD_FORMS] = {[FORM_TURNED] = 1};
        double door[METHOD_FORMS] = {[FORM_PANEL] = 1};
        CHECK(!strcmp(method_choose(T, &shop, flat, NULL, &asked)->id, "foam_roller"));
        CHECK(!strcmp(method_choose(T, &shop, turned, NULL, &asked)->id, "brush"));
        CHECK(!strcmp(method_choose(T, &shop, door, NULL, &asked)->id, "roller_brush"));
        CHECK(!strcmp(method_choose(T, &shop, turned, "foam_roller", &asked)->id, "brush"));
        CHECK(!asked);
        shop.tools = gun, shop.tools_n = 1;
        CHECK(!strcmp(method_choose(T, &shop, turned, NULL, &asked)->id, "hvlp"));
        const struct methods_row *m = method_of(T, "hvlp");
        CHECK_NEAR(method_loss_frac(m, flat), .35, 1e-12);
        CHECK_NEAR(method_loss_frac(m, turned), .65, 1e-12);
        /* by hand: 1 L on the flats takes 1 / .65, 1 L on the turned work 1 / .35 */
        double half[METHOD_FORMS] = {[FORM_FLAT] = 1, [FORM_TURNED] = 1};
        CHECK_NEAR(2 / (1 - method_loss_frac(m, half)), 1 / .65 + 1 / .35, 1e-12);
    }
}

int main(void) {
    by_hand();
    said_parts();
    back_cases();
    seat_cases();
    glass_cases();
    wanted_wood();
    drawer_tape();
    tools();
    return check_done();
}
