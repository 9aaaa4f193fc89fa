/* Reading colors by references in the same picture: laws that hold whatever the camera, faults that
 * must be named, and nothing touched on failure. */
#include "core/base/random.h"
#include "core/color/color.h"
#include "core/photo/photo.h"
#include "test/check.h"

#include <stdlib.h>

enum { SIDE = 16, REFERENCES = 12 };

/* A camera and its light: factors per channel, a plane of light, a second light from one side. */
struct lamp {
    double gain[3], slope_x, slope_y, warm; /* warm: ln red against blue over the width */
};

struct patch {
    struct photo_block block[SIDE * SIDE];
    struct photo_patch patch;
};

static void value_of(const struct lamp *l, struct lab c, double x, double y, double out[3]) {
    struct rgb p = rgb_of_xyz_d65(RGB_DISPLAY_P3, xyz_d65_of_d50(xyz_of_lab(c, XYZ_D50)));
    double amount = exp(l->slope_x * (x - 0.5) + l->slope_y * (y - 0.375));
    double warm = exp(l->warm * (x - 0.5) / 2);
    out[0] = p.r * l->gain[0] * amount * warm;
    out[1] = p.g * l->gain[1] * amount;
    out[2] = p.b * l->gain[2] * amount / warm;
}

static void patch_at(struct patch *p, const char *name, const struct lamp *l, struct lab c,
                     double x, double y) {
    const double width = 0.06;
    for (int i = 0; i < SIDE * SIDE; i++) {
        struct photo_block *b = &p->block[i];
        *b = (struct photo_block){.x = x + width * ((i % SIDE + 0.5) / SIDE - 0.5),
                                  .y = y + width * ((i / SIDE + 0.5) / SIDE - 0.5)};
        value_of(l, c, b->x, b->y, b->rgb);
    }
    p->patch = (struct photo_patch){name, p->block, SIDE * SIDE};
}

/* Twelve chips and paper on the left, two targets on the right. */
struct scene {
    struct patch patch[REFERENCES], target[2];
    struct photo_reference reference[REFERENCES];
    struct photo_patch targets[2];
    struct photo_shot shot;
};

static const struct lab COLORS[REFERENCES] = {
    {95, 0, 1},   {60, 35, 25}, {55, -30, 10}, {40, 10, -35},  {75, 5, 55},   {30, 5, 5},
    {70, -15, 5}, {50, 0, 0},   {80, 15, -5},  {45, -20, -20}, {65, 25, -15}, {35, 20, 15}};
static const struct lab WANTED[2] = {{58, 22, 18}, {62, 18, 24}};

static void scene_make(struct scene *s, const struct lamp *l, size_t n) {
    for (size_t i = 0; i < n; i++) {
        patch_at(&s->patch[i], "chip", l, COLORS[i], 0.1 + 0.12 * (double)(i % 4),
                 0.1 + 0.2 * (double)(i / 4));
        s->reference[i] =
            (struct photo_reference){s->patch[i].patch, i ? PHOTO_CHIP : PHOTO_WHITE, COLORS[i], 0};
    }
    for (int t = 0; t < 2; t++) {
        patch_at(&s->target[t], t ? "mix" : "wall", l, WANTED[t], 0.75, 0.2 + 0.2 * t);
        s->targets[t] = s->target[t].patch;
    }
    s->shot = (struct photo_shot){s->reference, n, s->targets, 2, 1, 0.75};
}

static const struct lamp DAY = {{0.6, 0.75, 0.5}, 0, 0, 0};

static double off(const struct photo_reading *r, int t) {
    return ciede2000(r->targets[t].lab, WANTED[t]);
}

/* The n-th request for memory fails. */
struct scarce {
    int left;
};
static void *scarce_get(void *ctx, size_t bytes) {
    struct scarce *s = ctx;
    return s->left-- > 0 ? malloc(bytes) : NULL;
}
static void scarce_put(void *ctx, void *block) {
    (void)ctx;
    free(block);
}

int main(void) {
    static struct scene s, other;
    struct arena arena;
    struct photo_reading r = {0}, q = {0};
    struct why why;
    arena_init(&arena, alloc_heap(), 0);

    CASE("one white undoes the colors of light and camera") {
        scene_make(&s, &DAY, 1);
        CHECK(photo_read(&s.shot, &arena, &r, &why) == OK);
        CHECK(r.references[0].difference < 1e-3);
        /* a tone curve is expected and not there: */
        CHECK(off(&r, 0) < 1.2 && off(&r, 1) < 1.2);
        CHECK(r.warnings == 0);
        CHECK(r.targets[0].expected > 0.5 && r.targets[0].limit90 > 1.3 * r.targets[0].expected);
    }
    CASE("twelve chips do so too, and are surer") {
        scene_make(&other, &DAY, REFERENCES);
        CHECK(photo_read(&other.shot, &arena, &q, &why) == OK);
        CHECK(off(&q, 0) < 0.3 && off(&q, 1) < 0.3);
        for (int i = 0; i < REFERENCES; i++) CHECK(q.references[i].difference < 0.5);
        CHECK(q.targets[0].expected < 0.7 * r.targets[0].expected);
    }
    CASE("a camera's matrix, gamma and uneven light are found by twelve chips") {
        const struct lamp evening = {{0.8, 0.6, 0.35}, 0.25, -0.2, 0};
        scene_make(&s, &evening, REFERENCES);
        for (int i = 0; i < REFERENCES + 2; i++)
            for (int b = 0; b < SIDE * SIDE; b++) {
                double *v =
                    (i < REFERENCES ? &s.patch[i] : &s.target[i - REFERENCES])->block[b].rgb;
                const double c[3] = {v[0] / 0.8, v[1] / 0.6, v[2] / 0.35};
                v[0] = 0.8 * pow(1.1 * c[0] - 0.08 * c[1] - 0.02 * c[2], 1.08);
                v[1] = 0.6 * pow(-0.05 * c[0] + 1.1 * c[1] - 0.05 * c[2], 1.08);
                v[2] = 0.35 * pow(0.05 * c[0] - 0.15 * c[1] + 1.1 * c[2], 1.08);
            }
        CHECK(photo_read(&s.shot, &arena, &q, &why) == OK);
        CHECK(off(&q, 0) < 1 && off(&q, 1) < 1);
        s.shot.references_n = 1;
        CHECK(photo_read(&s.shot, &arena, &r, &why) == OK);
        CHECK(off(&r, 0) > 1.5 * off(&q, 0));
    }
    CASE("uneven light is seen inside the patches, by one white alone") {
        const struct lamp bulb = {{0.6, 0.75, 0.5}, -0.3, 0.1, 0};
        scene_make(&s, &bulb, 1);
        CHECK(photo_read(&s.shot, &arena, &r, &why) == OK);
        CHECK(off(&r, 0) < 1.5);
    }
    CASE("how bright the picture was taken does not matter") {
        const struct lamp half = {{0.3, 0.375, 0.25}, 0, 0, 0};
        scene_make(&s, &DAY, REFERENCES);
        scene_make(&other, &half, REFERENCES);
        CHECK(photo_read(&s.shot, &arena, &r, &why) == OK);
        CHECK(photo_read(&other.shot, &arena, &q, &why) == OK);
        CHECK(ciede2000(r.targets[0].lab, q.targets[0].lab) < 0.3);
    }
    CASE("a mirrored picture reads the same, so do references in another order") {
        const struct lamp bulb = {{0.6, 0.75, 0.5}, -0.2, 0.1, 0};
        scene_make(&s, &bulb, REFERENCES);
        scene_make(&other, &bulb, REFERENCES);
        for (int i = 0; i < REFERENCES + 2; i++)
            for (int b = 0; b < SIDE * SIDE; b++) {
                struct patch *p = i < REFERENCES ? &other.patch[i] : &other.target[i - REFERENCES];
                p->block[b].x = 1 - p->block[b].x;
            }
        struct photo_reference first = other.reference[0];
        other.reference[0] = other.reference[7];
        other.reference[7] = first;
        CHECK(photo_read(&s.shot, &arena, &r, &why) == OK);
        CHECK(photo_read(&other.shot, &arena, &q, &why) == OK);
        CHECK(ciede2000(r.targets[0].lab, q.targets[0].lab) < 1e-3);
        CHECK_NEAR(r.targets[0].expected, q.targets[0].expected, 1e-3);
    }
    CASE("the difference turns round with the targets, and is surer than either color") {
        scene_make(&s, &DAY, REFERENCES);
        CHECK(photo_read(&s.shot, &arena, &r, &why) == OK);
        struct photo_patch first = s.targets[0];
        s.targets[0] = s.targets[1];
        s.targets[1] = first;
        CHECK(photo_read(&s.shot, &arena, &q, &why) == OK);
        CHECK(r.has_difference && q.has_difference);
        for (int k = 0; k < 3; k++) CHECK_NEAR(r.difference.lab[k], -q.difference.lab[k], 1e-6);
        CHECK_NEAR(r.difference.lab[0], 4, 0.3);
        CHECK_NEAR(r.difference.ciede2000, ciede2000(WANTED[0], WANTED[1]), 0.3);
        CHECK(r.difference.expected < r.targets[0].expected);
    }
    CASE("white and gray may do without their color; that is said, and costs certainty") {
        scene_make(&s, &DAY, 1);
        CHECK(photo_read(&s.shot, &arena, &r, &why) == OK);
        s.reference[0].lab.l = NAN;
        CHECK(photo_read(&s.shot, &arena, &q, &why) == OK);
        CHECK(!r.references[0].assumed && q.references[0].assumed);
        CHECK(q.targets[0].expected > r.targets[0].expected);
        s.reference[0].kind = PHOTO_CHIP;
        CHECK(photo_read(&s.shot, &arena, &q, &why) == E_MISSING);
        CHECK_TEXT(why.field, "/references/0/lab");
    }
    CASE("the same reference again and again is no more than one") {
        scene_make(&s, &DAY, 1);
        CHECK(photo_read(&s.shot, &arena, &r, &why) == OK);
        for (int i = 1; i < REFERENCES; i++) s.reference[i] = s.reference[0];
        s.shot.references_n = REFERENCES;
        CHECK(photo_read(&s.shot, &arena, &q, &why) == OK);
        CHECK(ciede2000(r.targets[0].lab, q.targets[0].lab) < 0.5 && q.warnings == 0);
        CHECK(q.targets[0].expected > 0.5 * r.targets[0].expected);
    }
    CASE("a wrong color of a reference is named and hardly moves the result") {
        scene_make(&s, &DAY, REFERENCES);
        s.reference[3].lab = COLORS[4];
        CHECK(photo_read(&s.shot, &arena, &r, &why) == OK);
        CHECK(r.warnings == PHOTO_REFERENCE && r.references[3].warnings == PHOTO_REFERENCE);
        CHECK(r.references[3].weight < 0.2 && r.references[2].warnings == 0);
        CHECK(off(&r, 0) < 1);
    }
    CASE("clipped, dark") {
        scene_make(&s, &DAY, REFERENCES);
        for (int b = 0; b < SIDE * SIDE; b++) s.target[0].block[b].clipped_frac = 1;
        CHECK(photo_read(&s.shot, &arena, &r, &why) == OK);
        CHECK(r.targets[0].warnings & PHOTO_CLIPPED && !(r.targets[1].warnings & PHOTO_CLIPPED));
        const struct lamp night = {{0.03, 0.04, 0.025}, 0, 0, 0};
        scene_make(&s, &night, REFERENCES);
        CHECK(photo_read(&s.shot, &arena, &r, &why) == OK);
        CHECK(r.warnings & PHOTO_DARK);
    }
    CASE("a reflection adds white, a shadow takes a part: told apart on a colored patch") {
        scene_make(&s, &DAY, 1);
        scene_make(&other, &DAY, 1);
        for (int b = 0; b < SIDE * SIDE; b++) {
            double dx = b % SIDE - 7.5, dy = b / SIDE - 6;
            for (int k = 0; k < 3; k++) {
                s.target[0].block[b].rgb[k] += 0.3 * DAY.gain[k] * exp(-(dx * dx + dy * dy) / 20);
                if (b % SIDE + b / SIDE > 14) other.target[0].block[b].rgb[k] *= 0.5;
            }
        }
        CHECK(photo_read(&s.shot, &arena, &r, &why) == OK);
        CHECK(photo_read(&other.shot, &arena, &q, &why) == OK);
        CHECK(r.warnings == PHOTO_GLARE && q.warnings == PHOTO_SHADOW);
        CHECK(off(&r, 0) < 4); /* the middle of the spot is left out, its skirt is not */
        CHECK(r.targets[0].expected > 1.2 * r.targets[1].expected);
    }
    CASE("light of two colors is named, and undone") {
        const struct lamp mixed = {{0.6, 0.75, 0.5}, 0, 0, 0.5};
        scene_make(&s, &mixed, REFERENCES);
        CHECK(photo_read(&s.shot, &arena, &r, &why) == OK);
        CHECK(r.warnings == PHOTO_MIXED && off(&r, 0) < 1);
    }
    CASE("several shots: surer than one, never surer than what all have in common") {
        struct photo_reading shots[4], all;
        for (int i = 0; i < 4; i++) {
            const struct lamp l = {
                {0.6, 0.75, 0.5}, 0.2 * cos(i * 1.5708), 0.2 * sin(i * 1.5708), 0};
            scene_make(&s, &l, 6);
            CHECK(photo_read(&s.shot, &arena, &shots[i], &why) == OK);
        }
        CHECK(photo_average(shots, 4, &arena, &all, &why) == OK);
        CHECK(all.shots == 4 && all.targets_n == 2 && all.has_difference);
        CHECK(all.targets[0].expected < shots[0].targets[0].expected);
        CHECK_NEAR(all.targets[0].shared_sd, shots[0].targets[0].shared_sd, 0.1);
        CHECK_NEAR(all.targets[0].shot_sd, shots[0].targets[0].shot_sd / 2,
                   0.2 * shots[0].targets[0].shot_sd);
        CHECK(photo_average(shots, 1, &arena, &all, &why) == OK);
        CHECK_NEAR(all.targets[0].expected, shots[0].targets[0].expected, 1e-9);
        CHECK_NEAR(all.targets[0].lab.a, shots[0].targets[0].lab.a, 1e-9);
        shots[1].targets_n = 1;
        CHECK(photo_average(shots, 2, &arena, &all, &why) == E_DOMAIN);
        CHECK(photo_average(shots, 0, &arena, &all, &why) == E_MISSING);
        CHECK(photo_average(shots, PHOTO_SHOTS_MAX + 1, &arena, &all, &why) == E_TOO_LARGE);
    }
    CASE("bad input is named, and the reading stays as it was") {
        const struct photo_reading before = r;
        scene_make(&s, &DAY, 2);
        s.shot.references_n = 0;
        CHECK(photo_read(&s.shot, &arena, &r, &why) == E_MISSING);
        CHECK_TEXT(why.field, "/references");
        s.shot.references_n = PHOTO_REFERENCES_MAX + 1;
        CHECK(photo_read(&s.shot, &arena, &r, &why) == E_TOO_LARGE);
        s.shot.references_n = 2;
        s.targets[1].blocks_n = 0;
        CHECK(photo_read(&s.shot, &arena, &r, &why) == E_MISSING);
        CHECK_TEXT(why.field, "/targets/1/rect");
        s.targets[1].blocks_n = 1;
        s.target[1].block[0].rgb[1] = NAN;
        CHECK(photo_read(&s.shot, &arena, &r, &why) == E_DOMAIN);
        scene_make(&s, &DAY, 2);
        s.reference[1].lab.a = 900;
        CHECK(photo_read(&s.shot, &arena, &r, &why) == E_DOMAIN);
        CHECK_TEXT(why.field, "/references/1/lab");
        scene_make(&s, &DAY, 2);
        s.reference[1].lab_sd = 20.5; /* the header: 0 to 20 */
        CHECK(photo_read(&s.shot, &arena, &r, &why) == E_DOMAIN);
        CHECK(strstr(why.field, "/references/1") && strstr(why.text, "0 to 20"));
        scene_make(&s, &DAY, 2);
        s.shot.height = 0;
        CHECK(photo_read(&s.shot, &arena, &r, &why) == E_DOMAIN);
        const struct lamp none = {{0, 0, 0}, 0, 0, 0};
        scene_make(&s, &none, 2);
        CHECK(photo_read(&s.shot, &arena, &r, &why) == E_REFUSED);
        CHECK(memcmp(&r, &before, sizeof r) == 0);
    }
    CASE("memory that ends at any place is an error, nothing more") {
        scene_make(&s, &DAY, REFERENCES);
        struct photo_reading out = {.shots = 99};
        enum status last = E_MEMORY;
        int n = 0;
        for (; n < 50 && last != OK; n++) {
            struct scarce scarce = {n};
            struct arena small;
            arena_init(&small, (struct alloc){scarce_get, scarce_put, &scarce}, 0);
            last = photo_read(&s.shot, &small, &out, &why);
            CHECK(last == OK || (last == E_MEMORY && out.shots == 99));
            arena_free(&small);
        }
        CHECK(n > 1 && last == OK);
    }
    CASE("any numbers within their ranges give finite colors or a status") {
        struct random rnd;
        random_seed(&rnd, 5);
        for (int round = 0; round < 100; round++) {
            scene_make(&s, &DAY, 1 + random_below(&rnd, REFERENCES));
            for (size_t i = 0; i < s.shot.references_n + 2; i++) {
                struct patch *p =
                    i < s.shot.references_n ? &s.patch[i] : &s.target[i - s.shot.references_n];
                size_t n = 1 + random_below(&rnd, SIDE * SIDE);
                for (size_t b = 0; b < n; b++)
                    for (int k = 0; k < 3; k++)
                        p->block[b].rgb[k] =
                            random_below(&rnd, 3) ? random_unit(&rnd) : 5 * random_unit(&rnd) - 1;
                if (i < s.shot.references_n) {
                    s.reference[i].patch.blocks_n = n;
                    s.reference[i].lab =
                        (struct lab){110 * random_unit(&rnd), 400 * random_unit(&rnd) - 200,
                                     400 * random_unit(&rnd) - 200};
                } else {
                    s.targets[i - s.shot.references_n].blocks_n = n;
                }
            }
            if (photo_read(&s.shot, &arena, &r, &why) != OK) continue;
            for (int t = 0; t < 2; t++)
                CHECK(isfinite(r.targets[t].lab.l + r.targets[t].lab.a + r.targets[t].lab.b) &&
                      isfinite(r.targets[t].expected + r.targets[t].limit90));
            CHECK(isfinite(r.difference.expected + r.difference.ciede2000));
        }
    }
    CASE("every warning has its word and a sentence") {
        for (unsigned bit = 1; bit <= 32; bit <<= 1)
            CHECK(photo_warning_word(bit) && photo_warning_text(bit));
        CHECK(!photo_warning_word(0) && !photo_warning_word(3) && !photo_warning_text(64));
    }
    arena_free(&arena);
    return check_done();
}
