/* Templates: their rows agree, each expands for usual and for edge sizes, and what cannot be is
 * named. */
#include "test/unit/surface_room.h"

static const struct tables *T = &tables_builtin;

/* Width, depth, height times these. */
static void every_template(double wide, double deep, double high, int counts) {
    for (size_t i = 0; i < T->piece_templates_n; i++) {
        const struct piece_templates_row *row = &T->piece_templates[i];
        CASE(row->id) {
            struct trade_room tr;
            struct surfaces s = {0};
            struct why why = {0};
            trade_open(&tr);
            tr.piece.template = row->id;
            tr.piece.width_mm = row->width_mm * wide;
            tr.piece.depth_mm = row->depth_mm * deep;
            tr.piece.height_mm = row->height_mm * high;
            if (counts >= 0) {
                tr.piece.drawers = tr.piece.doors = tr.piece.shelves = counts;
                tr.piece.slats = tr.piece.legs = counts;
            }
            enum status st = surfaces_of(&tr, &s, &why);
            if (st) printf("%s: %s %s\n", row->id, why.field, why.text);
            CHECK(st == OK);
            bool only = !strcmp(row->id, "kitchen_doors") || !strcmp(row->id, "louvered_doors");
            if (counts != 0 || !only) {
                CHECK(s.coated_m2 > .05 * wide * high && s.coated_m2 < 40);
                groups_hold(&s);
            }
            trade_close(&tr);
        }
    }
}

static void tables_agree(void) {
    CASE("every row of the parts names a template, a shape, a group, faces that are") {
        CHECK(T->piece_templates_n >= 20);
        for (size_t i = 0; i < T->template_parts_n; i++) {
            const struct template_parts_row *p = &T->template_parts[i];
            CHECK(template_of(T, p->template) && shape_kind_of(p->shape));
            bool group = false;
            for (size_t k = 0; k < T->part_groups_n; k++)
                group = group || !strcmp(T->part_groups[k].id, p->group);
            CHECK(group);
            CHECK(!*p->profile || profile_of(T, p->profile));
            for (size_t k = 0; k < i; k++)
                CHECK(strcmp(T->template_parts[k].template, p->template) ||
                      strcmp(T->template_parts[k].part, p->part));
        }
    }
}

/* A front without a box would leave its inside out of area, tape and what is promised of it. */
static void boxes_behind_fronts(void) {
    CASE("every drawer front of a template has its box; fronts alone are only kitchen fronts") {
        for (size_t i = 0; i < T->piece_templates_n; i++)
            for (int64_t drawers = 0; drawers <= 5; drawers++) {
                struct trade_room tr;
                struct surfaces s = {0};
                int64_t fronts = 0, boxes = 0;
                trade_open(&tr);
                tr.piece.template = T->piece_templates[i].id;
                tr.piece.drawers = drawers;
                struct why why = {0};
                enum status st = surfaces_of(&tr, &s, &why);
                if (st)
                    printf("%s, %lld drawers: %s\n", tr.piece.template, (long long)drawers,
                           why.text);
                CHECK(st == OK);
                for (size_t k = 0; k < s.rows_n; k++) {
                    const struct part *p = &s.rows[k].part;
                    if (strcmp(p->group, "drawers")) continue;
                    fronts += strcmp(p->shape, "drawer_front") ? 0 : p->count;
                    boxes += strcmp(p->shape, "inside") ? 0 : p->count;
                }
                bool only = !strcmp(tr.piece.template, "kitchen_doors");
                if (boxes != (only ? 0 : fronts))
                    printf("%s, %lld drawers: %lld fronts, %lld boxes\n", tr.piece.template,
                           (long long)drawers, (long long)fronts, (long long)boxes);
                CHECK(boxes == (only ? 0 : fronts));
                trade_close(&tr);
            }
    }
    CASE("a desk's middle drawer is taped like the others (by hand: 1200 - 400 - 19 + 2 x 75 mm)") {
        struct trade_room tr;
        struct surfaces s = {0};
        trade_open(&tr);
        tr.shop.units = UNITS_METRIC;
        tr.piece.template = "desk";
        CHECK(surfaces_of(&tr, &s, NULL) == OK);
        const struct surface *box = row_of(&s, "pencil_box");
        CHECK(box && box->part.count == 1);
        if (box) CHECK_NEAR(box->mask_edge_mm, 1200 - 400 - 19 + 2 * 75, 1e-9);
        trade_close(&tr);
    }
}

static void board_doors(void) {
    CASE("doors of board are slabs, of wood frame and panel; what is said of a part counts first "
         "(common practice)") {
        static const char *const templates[] = {"sideboard", "wardrobe", "cupboard", "media_stand",
                                                "kitchen_doors"};
        for (size_t i = 0; i < 3 * sizeof templates / sizeof *templates; i++) {
            struct trade_room tr;
            struct surfaces s = {0};
            struct why why = {0};
            struct part said = part_unsaid("door");
            said.shape = "frame_panel";
            for (int k = 0; k < 5; k++) said.size_mm[k] = (const double[]){400, 500, 19, 50, 6}[k];
            trade_open(&tr);
            tr.piece.template = templates[i / 3];
            tr.piece.doors = 2;
            tr.piece.finish = i % 3 ? "laminate" : "lacquer";
            if (i % 3 == 2) tr.piece.parts = &said, tr.piece.parts_n = 1;
            enum status st = surfaces_of(&tr, &s, &why);
            if (st) printf("%s: %s %s\n", templates[i / 3], why.field, why.text);
            CHECK(st == OK);
            const struct surface *door = row_of(&s, "door");
            CHECK(door && !strcmp(door->part.shape, i % 3 == 1 ? "door" : "frame_panel"));
            if (i % 3 == 1) {
                CHECK_TEXT(door->part.name, "doors");
                double w = door->part.size_mm[0], h = door->part.size_mm[1],
                       t = door->part.size_mm[2];
                CHECK_NEAR(door->each_m2, 1e-6 * (2 * w * h + 2 * (w + h) * t), 1e-9);
            }
            trade_close(&tr);
        }
    }
}

static void refused(void) {
    struct trade_room tr;
    struct surfaces s = {.rows_n = 7};
    struct why why;
    CASE("what cannot be is named, and the result is untouched") {
        trade_open(&tr);
        tr.piece.template = "chest";
        tr.piece.template = "spaceship";
        CHECK(surfaces_of(&tr, &s, &why) == E_REFERENCE &&
              !strcmp(why.field, "/pieces/0/template"));
        tr.piece.template = "chest", tr.piece.drawers = 90;
        CHECK(surfaces_of(&tr, &s, &why) == E_DOMAIN && !strcmp(why.field, "/pieces/0/drawers"));
        tr.piece.drawers = 501;
        CHECK(surfaces_of(&tr, &s, &why) == E_DOMAIN && !strcmp(why.field, "/pieces/0/drawers"));
        tr.piece.drawers = 4, tr.piece.width_mm = 0;
        CHECK(surfaces_of(&tr, &s, &why) == E_DOMAIN && !strcmp(why.field, "/pieces/0/width"));
        tr.piece.width_mm = 900, tr.piece.wanted.method = "spoon";
        CHECK(surfaces_of(&tr, &s, &why) == E_REFERENCE &&
              !strcmp(why.field, "/pieces/0/wanted/method"));
        CHECK(s.rows_n == 7);
        trade_close(&tr);
    }
    CASE("every default of the template is listed once") {
        trade_open(&tr);
        tr.piece.template = "sideboard";
        CHECK(template_fill(T, UNITS_US, "/pieces/0", &tr.ledger, &tr.piece, NULL) == OK);
        size_t n = tr.ledger.assumed_n;
        CHECK(n == 10);
        CHECK(template_fill(T, UNITS_US, "/pieces/0", &tr.ledger, &tr.piece, NULL) == OK);
        CHECK(tr.ledger.assumed_n == n && tr.piece.drawers == 3 && tr.piece.legs == 4);
        trade_close(&tr);
    }
}

int main(void) {
    tables_agree();
    boxes_behind_fronts();
    board_doors();
    every_template(1, 1, 1, -1);
    every_template(.7, .7, .8, -1);
    every_template(1.6, 1.5, 1.3, -1);
    every_template(1, 1, 1, 0);
    every_template(1, 1, 1, 1);
    refused();
    return check_done();
}
