/* Parts that are otherwise than the piece: their own color, class, clear; and how many coats hide.
 */
#include "core/work/coats_build.h"
#include "core/work/surface.h"
#include "test/check.h"
#include "test/unit/trade_room.h"

static void open(struct trade_room *r) {
    trade_open(r);
    struct piece *p = &r->piece;
    p->id = "p", p->finish = "lacquer", p->year = 1995, p->wood = "hard_maple", p->knots = YN_NO;
    p->tests.wax_wipe = WIPE_CLEAN, p->tests.tape_removed_frac = 0.02;
    p->tests.moisture_frac = 0.08;
    p->wanted.product = "chalk", p->wanted.clear = "wb_clear";
    p->wanted.color = (struct color_said){"blue", {35, -5, -20}};
}

static const struct coat *row(const struct trade_room *r, const char *group, enum coat_role role) {
    for (size_t i = 0; i < r->plan.coats.n; i++)
        if (r->plan.coats.rows[i].role == role && !strcmp(r->plan.coats.rows[i].group, group))
            return &r->plan.coats.rows[i];
    return NULL;
}

static void system_cases(void) {
    struct trade_room r;
    CASE("a part's own color is a color of its own: a row, a batch, never the piece's can") {
        open(&r);
        trade_surface(&r, "case", "sides", TREAT_PAINT, 2, 2);
        trade_surface(&r, "drawers", "fronts", TREAT_PAINT, 1, 1)->part.color =
            (struct color_said){"cream", {92, 0, 9}};
        CHECK(trade_coats(&r, NULL) == OK);
        const struct coat *c = row(&r, "case", ROLE_COLOR), *d = row(&r, "drawers", ROLE_COLOR);
        CHECK(c && d && c->color_row == 0 && d->color_row == 1 && r.plan.colors_n == 1);
        CHECK(c && !c->color.text);
        CHECK_TEXT(d ? d->color.text : NULL, "cream");
        CHECK_TEXT(r.plan.colors[0].target.text, "cream");
        trade_close(&r);
    }
    CASE("painted body under clear, painted top under wax: each part its own last coat") {
        open(&r);
        trade_surface(&r, "case", "sides", TREAT_PAINT, 2, 2);
        trade_surface(&r, "top", "top", TREAT_PAINT, 1, 1)->part.clear = "wax";
        CHECK(trade_coats(&r, NULL) == OK);
        CHECK_TEXT(row(&r, "case", ROLE_CLEAR) ? row(&r, "case", ROLE_CLEAR)->class : NULL,
                   "wb_clear");
        CHECK(!row(&r, "case", ROLE_WAX) && !row(&r, "top", ROLE_CLEAR));
        CHECK_TEXT(row(&r, "top", ROLE_WAX) ? row(&r, "top", ROLE_WAX)->class : NULL, "wax");
        CHECK(r.plan.colors_n == 0); /* the same color, one batch */
        trade_close(&r);
    }
    CASE("an oil clear asked for the piece is taken on dark parts and not on light ones") {
        open(&r);
        r.piece.wanted.clear = "oil_clear";
        trade_surface(&r, "case", "sides", TREAT_PAINT, 2, 2);
        trade_surface(&r, "drawers", "fronts", TREAT_PAINT, 1, 1)->part.color =
            (struct color_said){"white", {97, 0, 2}};
        CHECK(trade_coats(&r, NULL) == OK);
        CHECK_TEXT(row(&r, "case", ROLE_CLEAR) ? row(&r, "case", ROLE_CLEAR)->class : NULL,
                   "oil_clear");
        CHECK_TEXT(row(&r, "drawers", ROLE_CLEAR) ? row(&r, "drawers", ROLE_CLEAR)->class : NULL,
                   "wb_clear");
        CHECK(r.plan.coats.refused.n > 0);
        trade_close(&r);
    }
    CASE("another class for one part is another batch, of the piece's color") {
        open(&r);
        trade_surface(&r, "case", "sides", TREAT_PAINT, 2, 2);
        trade_surface(&r, "base", "base", TREAT_PAINT, 1, 1)->part.product = "wb_enamel";
        CHECK(trade_coats(&r, NULL) == OK);
        CHECK_TEXT(row(&r, "base", ROLE_COLOR) ? row(&r, "base", ROLE_COLOR)->class : NULL,
                   "wb_enamel");
        CHECK(r.plan.colors_n == 1 && !strcmp(r.plan.colors[0].target.text, "blue"));
        trade_close(&r);
    }
    CASE("natural wood comes after the paint, wax last of all") {
        open(&r);
        trade_surface(&r, "top", "top", TREAT_WAX, 0, 1);
        trade_surface(&r, "case", "sides", TREAT_PAINT, 2, 2);
        CHECK(trade_coats(&r, NULL) == OK && r.plan.coats.n > 3);
        CHECK(r.plan.coats.rows[r.plan.coats.n - 1].role == ROLE_WAX);
        CHECK_TEXT(r.plan.coats.rows[0].group, "case");
        trade_close(&r);
    }
    CASE("a part of another product gets the clear that suits that: none over oil enamel") {
        open(&r);
        r.piece.wanted.product = "wb_enamel", r.piece.wanted.clear = NULL;
        trade_surface(&r, "case", "sides", TREAT_PAINT, 2, 2);
        trade_surface(&r, "top", "top", TREAT_PAINT, 1, 1)->part.product = "alkyd_enamel";
        CHECK(trade_coats(&r, NULL) == OK);
        const struct coat *top = row(&r, "top", ROLE_COLOR);
        CHECK_TEXT(top ? top->class : NULL, "alkyd_enamel");
        CHECK(row(&r, "case", ROLE_CLEAR) && !row(&r, "top", ROLE_CLEAR));
        trade_close(&r);
    }
    CASE("what gets no clear is no clear area") {
        open(&r);
        r.piece.wanted.product = "alkyd_enamel", r.piece.wanted.clear = "none";
        struct surface *s = trade_surface(&r, "case", "sides", TREAT_PAINT, 2, 2);
        CHECK(trade_coats(&r, NULL) == OK);
        CHECK(s->clear_m2 == 0 && r.plan.surfaces.clear_m2 == 0 && r.plan.surfaces.coated_m2 == 2);
        trade_close(&r);
    }
    CASE("a part's product must be a color and its clear a clear; the field is named") {
        struct why why;
        struct part part = {.id = "top", .product = "wb_clear"};
        open(&r);
        r.piece.parts = &part, r.piece.parts_n = 1;
        trade_surface(&r, "case", "sides", TREAT_PAINT, 2, 2);
        CHECK(trade_coats(&r, &why) == E_REFERENCE);
        CHECK_TEXT(why.field, "/pieces/0/parts/0/product");
        part = (struct part){.id = "top", .clear = "wb_enamel"};
        CHECK(trade_coats(&r, &why) == E_REFERENCE);
        CHECK_TEXT(why.field, "/pieces/0/parts/0/clear");
        part.clear = "none";
        CHECK(trade_coats(&r, &why) == OK);
        trade_close(&r);
    }
}

static const double WHITE[3] = {97, 0, 2}, DARK[3] = {30, 12, 15}, PRIMER[3] = {95, 0, 2},
                    NAVY[3] = {22, 0, -25};

static int coats(const double color[3], const double ground[3]) {
    return coats_hide(&tables_builtin, "wb_enamel", color, INT64_MIN, ground, 8).coats;
}

static void hiding_cases(void) {
    struct trade_room r;
    CASE("white hides in two coats over a white primer, in three over dark wood; dark in one") {
        /* common practice: light over dark without a white primer wants a coat more */
        CHECK(coats(WHITE, PRIMER) <= 2);
        CHECK(coats(WHITE, DARK) == 3);
        CHECK(coats(NAVY, PRIMER) == 1 && coats(NAVY, DARK) == 1);
    }
    CASE("the nearer the ground is to the color, the fewer coats; contrast ends above 0.98") {
        int before = 99;
        for (double l = 5; l <= 95; l += 10) {
            double ground[3] = {l, 0, 0};
            struct hides h = coats_hide(&tables_builtin, "wb_enamel", WHITE, INT64_MIN, ground, 20);
            CHECK(h.coats <= before && h.contrast >= .98); /* ISO 6504-3 */
            before = h.coats;
        }
    }
    CASE("what does not hide within the limit says so") {
        struct hides h = coats_hide(&tables_builtin, "wb_enamel", WHITE, INT64_MIN, DARK, 1);
        CHECK(h.coats == 2 && h.contrast < .98);
    }
    CASE("a jar that was tried over black and white takes as many coats over dark as it took "
         "there") {
        const double black[3] = {5, 0, 0}; /* L* 5: as dark as the chart's black and darker */
        for (int tried = 2; tried <= 6; tried++)
            CHECK(coats_hide(&tables_builtin, "wb_enamel", WHITE, tried, black, 20).coats == tried);
        CHECK(coats_hide(&tables_builtin, "wb_enamel", WHITE, 2, DARK, 8).scale >
              coats_hide(&tables_builtin, "wb_enamel", WHITE, 4, DARK, 8).scale);
    }
    CASE("the plan counts with it: dark ground, light color, with and without a primer") {
        open(&r);
        r.piece.wanted.product = "wb_enamel", r.piece.wanted.clear = "none";
        r.piece.wanted.primer = "shellac_clear";
        r.piece.finish = "shellac", r.piece.tests.rag = RAG_CLEAN;
        r.piece.now_color = (struct color_said){"dark", {30, 12, 15}};
        r.piece.wanted.color = (struct color_said){"white", {97, 0, 2}};
        trade_surface(&r, "case", "sides", TREAT_PAINT, 2, 2);
        CHECK(trade_coats(&r, NULL) == OK);
        const struct coat *c = row(&r, "case", ROLE_COLOR);
        CHECK(c && c->coats == 3 && strstr(c->why, "3 coats until"));
        r.piece.wanted.primer = "wb_primer";
        CHECK(trade_coats(&r, NULL) == OK);
        c = row(&r, "case", ROLE_COLOR);
        CHECK(c && c->coats == 2);
        r.piece.wanted.primer = "shellac_clear", r.piece.wanted.color_coats = 2;
        CHECK(trade_coats(&r, NULL) == OK);
        c = row(&r, "case", ROLE_COLOR);
        CHECK(c && c->coats == 2 && strstr(c->why, "will show through"));
        trade_close(&r);
    }
    CASE("a dark film that is stripped no longer shows through: pale wood does not") {
        open(&r);
        r.piece.wanted.product = "wb_enamel", r.piece.wanted.clear = "none";
        r.piece.wanted.primer = "shellac_clear";
        r.piece.finish = "oil_varnish", r.piece.tests.rag = RAG_CLEAN;
        r.piece.tests.tape_removed_frac = .4;
        r.piece.now_color = (struct color_said){"dark", {30, 12, 15}};
        r.piece.wanted.color = (struct color_said){"white", {97, 0, 2}};
        trade_surface(&r, "case", "sides", TREAT_PAINT, 2, 2);
        CHECK(trade_coats(&r, NULL) == OK);
        const struct coat *c = row(&r, "case", ROLE_COLOR);
        CHECK(row(&r, "case", ROLE_STRIP) && c && c->coats == 2);
        trade_close(&r);
    }
}

static size_t rows_of(const struct trade_room *r, const char *operation) {
    size_t n = 0;
    for (size_t i = 0; i < r->plan.coats.n; i++)
        n += !strcmp(r->plan.coats.rows[i].operation, operation);
    return n;
}

static void edges(void) {
    CASE("the effect \"second color\" is not counted beside parts that have a color of their own") {
        static const char *two_tone[] = {"two_tone"};
        for (int own = 0; own < 2; own++) {
            struct trade_room r;
            open(&r);
            r.piece.wanted.effects = two_tone, r.piece.wanted.effects_n = 1;
            trade_surface(&r, "case", "sides", TREAT_PAINT, 2, 2);
            struct surface *s = trade_surface(&r, "top", "top", TREAT_PAINT, 1, 1);
            if (own) s->part.color = (struct color_said){"cream", {92, 0, 9}};
            CHECK(trade_coats(&r, NULL) == OK);
            CHECK(rows_of(&r, "two_tone") == (own ? 0 : 2) && rows_of(&r, "color") == 2);
            trade_close(&r);
        }
    }
    CASE("two colors in one group: washed and primed once for both, both colored, then cleared "
         "once; "
         "nothing is primed or taped beside a clear that is done (common practice)") {
        struct trade_room r;
        open(&r);
        r.piece.wanted.product = "wb_enamel";
        trade_surface(&r, "case", "sides", TREAT_PAINT, 2, 2);
        trade_surface(&r, "case", "frame", TREAT_PAINT, 1, 1)->part.color =
            (struct color_said){"brick", {40, 35, 25}};
        CHECK(trade_coats(&r, NULL) == OK);
        CHECK(rows_of(&r, "clean") == 1 && rows_of(&r, "scuff") == 1 && rows_of(&r, "primer") == 1);
        CHECK(rows_of(&r, "color") == 2 && rows_of(&r, "clear") == 1);
        bool cleared = false;
        double primed = 0, clear = 0;
        for (size_t i = 0; i < r.plan.coats.n; i++) {
            const struct coat *c = &r.plan.coats.rows[i];
            if (c->role == ROLE_PRIMER) primed += c->area_m2;
            if (c->role == ROLE_CLEAR) cleared = true, clear += c->area_m2;
            CHECK(!cleared || c->role == ROLE_CLEAR);
        }
        CHECK_NEAR(primed, 3, 1e-9);
        CHECK_NEAR(clear, 3, 1e-9);
        trade_close(&r);
    }
    CASE("a top of its own color is taped before that color: 2 x (40 + 18) in of edge, 5 min and "
         "1.5 min a meter, and the tape is bought (common practice, by hand: 2.946 m)") {
        struct trade_room r;
        struct surfaces s = {0};
        struct part top = {.id = "top", .count = INT64_MIN, .color = {"cream", {92, 0, 9}}};
        for (int i = 0; i < PART_SIZES; i++) top.size_mm[i] = NAN;
        open(&r);
        struct piece *p = &r.piece;
        p->template = "chest", p->width_mm = 40 * 25.4, p->depth_mm = 18 * 25.4,
        p->height_mm = 40 * 25.4, p->parts = &top, p->parts_n = 1;
        CHECK(surface_make(&r.room, &s, NULL) == OK);
        r.plan.surfaces = s;
        CHECK(trade_coats(&r, NULL) == OK);
        double edge = 0;
        for (size_t i = 0; i < s.rows_n; i++)
            if (s.rows[i].part.treatment != TREAT_BARE) edge += s.rows[i].mask_edge_mm;
        CHECK_NEAR(edge, 2 * (40 + 18) * 25.4, 1e-6);
        CHECK(rows_of(&r, "mask_edge") == 1);
        for (size_t i = 1; i < r.plan.coats.n; i++) {
            const struct coat *c = &r.plan.coats.rows[i];
            if (strcmp(c->operation, "mask_edge")) continue;
            CHECK(c->hands_min > 1.5 * 2.946 && c->hands_min < 5 + 1.5 * 2.947);
            CHECK(i + 1 < r.plan.coats.n && c[1].role == ROLE_COLOR && c[1].color.text);
        }
        trade_close(&r);
    }
}

int main(void) {
    edges();
    system_cases();
    hiding_cases();
    return check_done();
}
