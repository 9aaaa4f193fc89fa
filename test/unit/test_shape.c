/* Shapes against geometry computed another way (numerical integration, counting by hand) and the
 * laws that all of them keep. */
#include "core/work/shape.h"
#include "test/check.h"

static const double PI = 3.14159265358979323846;

/* Sizes that make sense for each kind, in the order of the table; counts stay what they are. */
struct usual {
    const char *id;
    double mm[PART_SIZES];
    int count_at; /* size that is a number and not a length; -1 none */
};

static const struct usual usual[] = {
    {"panel", {800, 300, 19, 40}, -1},
    {"drawer_front", {800, 150, 19, 0}, -1},
    {"door", {400, 700, 19, 0}, -1},
    {"frame_panel", {400, 700, 19, 60, 6, 40}, -1},
    {"frame", {500, 700, 19, 380, 580}, -1},
    {"box", {900, 450, 1000, 50}, -1},
    {"inside", {900, 450, 1000, 0}, -1},
    {"shelf", {800, 300, 19}, -1},
    {"top", {900, 450, 22, 30, 35}, -1},
    {"disc", {900, 22, 30}, -1},
    {"oval", {1200, 800, 22, 0}, -1},
    {"ring", {500, 420, 20}, -1},
    {"arch", {500, 600, 20, 120}, -1},
    {"seat", {450, 380, 420, 20}, -1},
    {"carved", {300, 80}, -1},
    {"square_leg", {60, 50, 700}, -1},
    {"rail", {60, 20, 700}, -1},
    {"taper_leg", {60, 30, 700, 100}, -1},
    {"taper_inside", {60, 30, 700, 100}, -1},
    {"turned_leg", {40, 60, 25, 500, 3, 12}, 4},
    {"spindle", {15, 25, 400}, -1},
    {"cylinder", {30, 600}, -1},
    {"cone", {40, 20, 300}, -1},
    {"ball_foot", {100, 80}, -1},
    {"knob", {32, 14, 10}, -1},
    {"cabriole", {450, 240, 120}, -1},
    {"molding", {1200, 75}, -1},
    {"slat", {500, 40, 12}, -1},
    {"louvers", {400, 900, 22, 50, 40, 90}, -1},
    {"lattice", {600, 900, 20, 6, 80}, -1},
};

static double area(const char *id, const double *mm, const char *faces) {
    double m2 = NAN, said[PART_SIZES] = {0};
    for (int i = 0; i < PART_SIZES; i++) said[i] = mm[i];
    CHECK(shape_area(shape_kind_of(id), said, faces, &m2, NULL) == OK);
    return m2 * 1e6;
}

static void laws(void) {
    size_t n = 0;
    while (shape_kind_at(n)) n++;
    CASE("every shape has its row of usual sizes here") {
        CHECK(n == sizeof usual / sizeof *usual);
        for (size_t i = 0; i < n && i < sizeof usual / sizeof *usual; i++)
            CHECK(!strcmp(shape_kind_at(i)->id, usual[i].id));
    }
    for (size_t i = 0; i < n; i++) {
        const struct usual *u = &usual[i];
        CASE(u->id) {
            double twice[PART_SIZES], all = area(u->id, u->mm, "fklrtb");
            for (int k = 0; k < PART_SIZES; k++)
                twice[k] = k == u->count_at ? u->mm[k] : 2 * u->mm[k];
            CHECK_NEAR(area(u->id, twice, "fklrtb") / all, 4, 1e-12);
            double body = area(u->id, u->mm, ""), sum = body;
            for (const char *f = "fklrtb"; *f; f++)
                sum += area(u->id, u->mm, (char[]){*f, 0}) - body;
            CHECK_NEAR(sum / all, 1, 1e-12);
            CHECK_NEAR(area(u->id, u->mm, "l"), area(u->id, u->mm, "r"), 1e-9);
            bool stick = shape_kind_at(i)->form != FORM_FLAT; /* it may taper */
            if (!stick && strcmp(u->id, "arch"))              /* round above, straight below */
                CHECK_NEAR(area(u->id, u->mm, "t"), area(u->id, u->mm, "b"), 1e-9);
            CHECK(area(u->id, u->mm, NULL) > 0 && isfinite(all));
            CHECK(shape_floor_m2(shape_kind_at(i), u->mm) > 0);
            CHECK(shape_outline_mm(shape_kind_at(i), u->mm) > 0);
            for (int k = 0; k < shape_kind_at(i)->needed; k++) {
                double lacks[PART_SIZES], m2 = -1;
                struct why why;
                memcpy(lacks, u->mm, sizeof lacks);
                lacks[k] = NAN;
                CHECK(shape_area(shape_kind_at(i), lacks, NULL, &m2, &why) == E_MISSING &&
                      m2 == -1);
                CHECK(strstr(why.field, shape_kind_at(i)->sizes[k]));
                lacks[k] = 20001;
                CHECK(shape_area(shape_kind_at(i), lacks, NULL, &m2, &why) == E_DOMAIN && m2 == -1);
                lacks[k] = -1;
                CHECK(shape_area(shape_kind_at(i), lacks, NULL, &m2, &why) == E_DOMAIN && m2 == -1);
            }
        }
    }
}

/* ---- numerical integration ---- */

/* Side of a turned body from its radius function, by the slant of many thin rings. */
static double turned(double (*radius)(double x, const double *mm), const double *mm, double from,
                     double to) {
    enum { STEPS = 200000 };
    double sum = 0, dx = (to - from) / STEPS;
    for (int i = 0; i < STEPS; i++) {
        double r0 = radius(from + i * dx, mm), r1 = radius(from + (i + 1) * dx, mm);
        sum += PI * (r0 + r1) * hypot(dx, r1 - r0);
    }
    return sum;
}

static double leg_radius(double x, const double *mm) {
    double half = mm[3] / 2;
    return x < half ? (mm[0] + (mm[1] - mm[0]) * x / half) / 2
                    : (mm[1] + (mm[2] - mm[1]) * (x - half) / half) / 2;
}
static double bead_radius(double x, const double *mm) {
    double r = mm[1] / 2;
    return mm[0] / 2 + sqrt(fmax(0, r * r - (x - r) * (x - r)));
}
static double ball_radius(double x, const double *mm) {
    return sqrt(fmax(0, mm[0] * mm[0] / 4 - x * x));
}

static void integrated(void) {
    CASE("turned leg, spindle and cone: rings summed") {
        double leg[PART_SIZES] = {40, 60, 25, 500};
        CHECK_NEAR(area("turned_leg", leg, ""), turned(leg_radius, leg, 0, 500), .05);
        double spindle[PART_SIZES] = {15, 25, 400}, as_leg[] = {15, 25, 15, 400};
        CHECK_NEAR(area("spindle", spindle, ""), turned(leg_radius, as_leg, 0, 400), .05);
        double cone[PART_SIZES] = {40, 20, 300}, cone_leg[] = {40, 30, 20, 300};
        CHECK_NEAR(area("cone", cone, ""), turned(leg_radius, cone_leg, 0, 300), .05);
    }
    CASE("bead: rings summed over the half round") {
        double bead[] = {50, 12};
        CHECK_NEAR(shape_bead_mm2(50, 12) / turned(bead_radius, bead, 0, 12), 1, 1e-6);
        double plain[PART_SIZES] = {50, 50, 50, 500}, beaded[PART_SIZES] = {50, 50, 50, 500, 3, 12};
        double more = 3 * (turned(bead_radius, bead, 0, 12) - PI * 50 * 12);
        CHECK_NEAR(area("turned_leg", beaded, "") - area("turned_leg", plain, ""), more, .5);
    }
    CASE("ball foot and knob: rings summed over the sphere") {
        double ball[PART_SIZES] = {100, 80};
        CHECK_NEAR(area("ball_foot", ball, "") / turned(ball_radius, ball, -40, 40), 1, 1e-6);
        double knob[PART_SIZES] = {32, 14, 10}, neck = sqrt(16 * 16 - 7 * 7);
        double want = turned(ball_radius, knob, -neck, 16) + PI * 14 * 10;
        CHECK_NEAR(area("knob", knob, "") / want, 1, 1e-5);
    }
    CASE("a step between two diameters counts its ring") {
        double at[] = {0, 10, 10, 20}, d[] = {20, 20, 40, 40};
        double want = PI * 20 * 10 + PI / 4 * (1600 - 400) + PI * 40 * 10;
        CHECK_NEAR(shape_turned_mm2(at, d, 4), want, 1e-9);
    }
    CASE("bowed front: arc and segment summed from the circle") {
        double chord = 800, rise = 50, r = (400. * 400 + 50 * 50) / 100, arc = 0, flat = 0;
        for (int i = 0; i < 400000; i++) {
            double x0 = -400 + i * .002, x1 = x0 + .002;
            double y0 = sqrt(r * r - x0 * x0) - (r - rise), y1 = sqrt(r * r - x1 * x1) - (r - rise);
            arc += hypot(x1 - x0, y1 - y0);
            flat += (y0 + y1) / 2 * (x1 - x0);
        }
        CHECK_NEAR(shape_arc_mm(chord, rise), arc, 1e-4);
        CHECK_NEAR(shape_segment_mm2(chord, rise), flat, 1e-2);
        CHECK(shape_arc_mm(chord, 0) == chord && shape_segment_mm2(chord, 0) == 0);
        CHECK_NEAR(shape_arc_mm(chord, 1e-6), chord, 1e-9);
        CHECK_NEAR(shape_arc_mm(800, 400), PI * 400, 1e-9);
    }
    CASE("ellipse: perimeter summed along the angle") {
        double sum = 0;
        for (int i = 0; i < 100000; i++) {
            double t = (i + .5) / 100000 * PI / 2;
            sum += hypot(600 * sin(t), 400 * cos(t));
        }
        CHECK_NEAR(shape_ellipse_mm(1200, 800), 4 * sum * PI / 2 / 100000, 1e-6);
        CHECK_NEAR(shape_ellipse_mm(800, 1200), shape_ellipse_mm(1200, 800), 1e-9);
        CHECK_NEAR(shape_ellipse_mm(100, 100), PI * 100, 1e-9);
        CHECK_NEAR(shape_ellipse_mm(100, 0), 200, 1e-9);
    }
}

/* ---- by hand ---- */

static void by_hand(void) {
    CASE("dresser carcass of 60 x 18 x 34 in: top, sides and front 4344 in2") {
        double mm[PART_SIZES] = {60 * 25.4, 18 * 25.4, 34 * 25.4};
        CHECK_NEAR(area("box", mm, "flrt") / 645.16, 4344, 1e-9);
    }
    CASE("nightstand of 24 x 16 x 26 in: 1840 in2") {
        double mm[PART_SIZES] = {24 * 25.4, 16 * 25.4, 26 * 25.4};
        CHECK_NEAR(area("box", mm, "flrt") / 645.16, 1840, 1e-9);
    }
    CASE("flat frame and panel is its rectangle and the walls of the recess") {
        double mm[PART_SIZES] = {400, 700, 19, 60, 6, 0};
        CHECK_NEAR(area("frame_panel", mm, "f"), 400 * 700 + 2 * (280 + 580) * 6, 1e-9);
    }
    CASE("a bevel of 3 in plan and 4 deep slopes by 5/3") {
        double mm[PART_SIZES] = {100, 100, 19, 0, 4, 3};
        double border = 100 * 100 - 94 * 94;
        CHECK_NEAR(area("frame_panel", mm, "f"), 94 * 94 + border * 5 / 3 + 400 * 4, 1e-9);
    }
    CASE("slat: around it; square leg: four sides; taper of nothing: the same leg") {
        double slat[PART_SIZES] = {500, 40, 12}, leg[PART_SIZES] = {60, 60, 700};
        double straight[PART_SIZES] = {60, 60, 700, 0};
        CHECK_NEAR(area("slat", slat, ""), 2 * (40 + 12) * 500, 1e-9);
        CHECK_NEAR(area("taper_leg", straight, ""), area("square_leg", leg, ""), 1e-9);
        CHECK_NEAR(area("taper_inside", straight, ""), area("square_leg", leg, ""), 1e-9);
    }
    CASE("lattice of 7 by 11 strips less the 77 places where they touch") {
        double mm[PART_SIZES] = {600, 900, 20, 6, 80};
        double want = 52 * (7 * 900 + 11 * 600) - 2 * 77 * 400;
        CHECK_NEAR(area("lattice", mm, ""), want, 1e-9);
    }
    CASE("louvers: 20 blades in the opening of 300 x 800") {
        double mm[PART_SIZES] = {400, 900, 22, 50, 40, 90};
        double want =
            2 * (400 * 900 - 300 * 800) + 2 * 22 * (400 + 900 + 300 + 800) + 20 * 90 * 300;
        CHECK_NEAR(area("louvers", mm, ""), want, 1e-9);
    }
    CASE("a bowed board's back is shorter than its front, its edges lie between") {
        double mm[PART_SIZES] = {800, 1, 19, 50};
        double front = area("panel", mm, "f"), back = area("panel", mm, "k");
        CHECK(back < front);
        CHECK_NEAR(area("panel", mm, "t"), 19 * (front + back) / 2, 1e-9);
    }
}

static void refused(void) {
    struct why why;
    double m2 = 7;
    CASE("faces are letters, each once") {
        double mm[PART_SIZES] = {1, 1, 1};
        CHECK(shape_area(shape_kind_of("box"), mm, "ff", &m2, &why) == E_SYNTAX);
        CHECK(shape_area(shape_kind_of("box"), mm, "x", &m2, &why) == E_SYNTAX && m2 == 7);
        CHECK(!strcmp(why.field, "/faces"));
    }
    CASE("sizes that contradict are named") {
        struct {
            const char *id;
            double mm[PART_SIZES];
        } bad[] = {{"frame", {100, 100, 10, 120, 50}},      {"ring", {100, 120, 5}},
                   {"taper_leg", {50, 30, 100, 200}},       {"panel", {100, 50, 10, 60}},
                   {"frame_panel", {100, 100, 10, 60, 5}},  {"knob", {20, 30, 5}},
                   {"lattice", {100, 100, 20, 5, 15}},      {"louvers", {100, 100, 20, 10, 0, 50}},
                   {"turned_leg", {9, 9, 9, 100, 20, 10}},  {"ball_foot", {50, 60}},
                   {"turned_leg", {9, 9, 9, 100, 1.5, 10}}, {"carved", {10, 10, 10}}};
        for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
            CHECK(shape_area(shape_kind_of(bad[i].id), bad[i].mm, NULL, &m2, &why) == E_DOMAIN);
            CHECK(m2 == 7 && *why.text);
        }
        CHECK(!shape_kind_of("no such shape") && !shape_kind_of(NULL));
    }
}

int main(void) {
    laws();
    integrated();
    by_hand();
    refused();
    return check_done();
}
