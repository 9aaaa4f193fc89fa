/* Pictures from outside: what they show, which way up, and what becomes of bad ones. */
#include "core/color/color.h"
#include "test/unit/picture_room.h"

#include <sys/resource.h>
#include <time.h>

/* The upright picture as a file of that orientation stores it, by the words of Exif's table: where
 * the stored picture's row 0 and column 0 lie in the upright one. */
static void store(const uint8_t *upright, int orientation, uint8_t *out, int *out_w, int *out_h) {
    static const char *const row0[9] = {"",     "top",   "top",   "bottom", "bottom",
                                        "left", "right", "right", "left"};
    static const char *const column0[9] = {"",    "left", "right",  "right", "left",
                                           "top", "top",  "bottom", "bottom"};
    bool turned = orientation >= 5;
    int w = turned ? H : W, h = turned ? W : H;
    for (int sy = 0; sy < h; sy++)
        for (int sx = 0; sx < w; sx++) {
            int x = 0, y = 0;
            const char *r = row0[orientation], *c = column0[orientation];
            if (!strcmp(r, "top")) y = sy;
            if (!strcmp(r, "bottom")) y = H - 1 - sy;
            if (!strcmp(r, "left")) x = sy;
            if (!strcmp(r, "right")) x = W - 1 - sy;
            if (!strcmp(c, "top")) y = sx;
            if (!strcmp(c, "bottom")) y = H - 1 - sx;
            if (!strcmp(c, "left")) x = sx;
            if (!strcmp(c, "right")) x = W - 1 - sx;
            memcpy(out + 3 * (sy * w + sx), upright + 3 * (y * W + x), 3);
        }
    *out_w = w;
    *out_h = h;
}

static struct rgb linear_of(const struct photo_block *b, size_t n) {
    struct rgb sum = {0, 0, 0};
    for (size_t i = 0; i < n; i++)
        sum.r += b[i].rgb[0] / (double)n, sum.g += b[i].rgb[1] / (double)n,
            sum.b += b[i].rgb[2] / (double)n;
    return sum;
}

static struct lab lab_of_p3(struct rgb linear) {
    return lab_of_xyz(xyz_d50_of_d65(xyz_d65_of_rgb(RGB_DISPLAY_P3, linear)), XYZ_D50);
}

static struct lab lab_of_cell(const uint8_t c[3]) {
    return lab_of_srgb((struct rgb){c[0] / 255.0, c[1] / 255.0, c[2] / 255.0});
}

/* The middles of the six cells, in order. */
static void middles(struct picture_rect out[6]) {
    for (int i = 0; i < 6; i++)
        out[i] = (struct picture_rect){i % 3 * CELL + 5, i / 3 * CELL + 5, 10, 10};
}

static double worst_cell(const struct picture_answer *a) {
    double worst = 0;
    for (int i = 0; i < 6; i++) {
        struct lab got = lab_of_p3(linear_of(a->blocks + 100 * i, 100)),
                   want = lab_of_cell(cells[i / 3][i % 3]);
        worst = fmax(worst, ciede2000(got, want));
    }
    return worst;
}

static void each_format(void) {
    static uint8_t rgb[W * H * 3];
    struct picture_rect rects[6];
    struct picture_ask ask = {.rects = rects, .rects_n = 6};
    struct why why;
    paint(rgb);
    middles(rects);
    for (int f = 0; f < 4; f++) {
        struct made m = {.w = W, .h = H, .rgb = rgb};
        struct picture_answer a;
        size_t n;
        CASE(picture_format_said(all[f])) {
            uint8_t *file = made_file(all[f], &m, &n);
            if (!file) {
                SKIP("it cannot be written here");
                continue;
            }
            CHECK(picture_format_of(file, n) == all[f]);
            enum status s = read_file(file, n, &ask, &a, &why);
            CHECK(s == OK);
            if (s) printf("%s %s\n", why.field, why.text);
            if (s) continue;
            CHECK(a.facts.format == all[f] && a.facts.width == W && a.facts.height == H);
            CHECK(a.blocks_n == 600 && !a.preview);
            /* exact where nothing is lost; JPEG and HEIC round their planes to 8 bits */
            double worst = worst_cell(&a),
                   most = all[f] == PICTURE_PNG || all[f] == PICTURE_WEBP ? 0.01 : 1.5;
            if (!(worst < most)) printf("worst %.3f\n", worst);
            CHECK(worst < most);
            CHECK_NEAR(a.blocks[0].x, 5.5 / W, 1e-12);
            CHECK_NEAR(a.blocks[599].y, 34.5 / W, 1e-12);
            picture_free(&a);
        }
    }
}

static void each_orientation(void) {
    static uint8_t rgb[W * H * 3], stored[W * H * 3];
    struct picture_rect rects[6];
    struct picture_ask ask = {.rects = rects, .rects_n = 6, .preview_side = 30};
    paint(rgb);
    middles(rects);
    for (int f = 0; f < 4; f++)
        for (int o = 1; o <= 8; o++) {
            char name[60];
            snprintf(name, sizeof name, "%s of orientation %d", picture_format_said(all[f]), o);
            CASE(name) {
                struct made m = {.rgb = stored, .orientation = o};
                struct picture_answer a, small;
                struct why why;
                size_t n;
                store(rgb, o, stored, &m.w, &m.h);
                uint8_t *file = made_file(all[f], &m, &n);
                if (!file) {
                    SKIP("it cannot be written here");
                    continue;
                }
                CHECK(read_file(file, n, &ask, &a, &why) == OK);
                CHECK(a.facts.orientation == (all[f] == PICTURE_HEIC ? 1 : o) &&
                      a.facts.width == W && a.facts.height == H);
                CHECK(worst_cell(&a) < 1.5);
                /* the preview is upright by itself */
                struct picture_rect corner[2] = {{2, 2, 6, 6}, {22, 12, 6, 6}};
                struct picture_ask again = {.rects = corner, .rects_n = 2};
                CHECK(picture_read(a.preview, a.preview_n, &again, NULL, &small, &why) == OK);
                CHECK(small.facts.width == 30 && small.facts.height == 20);
                CHECK(small.facts.orientation == 1);
                CHECK(ciede2000(lab_of_p3(linear_of(small.blocks, 36)), lab_of_cell(cells[0][0])) <
                      3);
                CHECK(ciede2000(lab_of_p3(linear_of(small.blocks + 36, 36)),
                                lab_of_cell(cells[1][2])) < 3);
                picture_free(&small);
                picture_free(&a);
            }
        }
}

/* Encoded color to bytes with a sensor's grain of some steps: without it an even patch is off by up
 * to half a step of 8 bits, in JPEG by more. */
static void grain(struct rgb c, uint8_t *out, size_t n) {
    uint32_t seed = 7;
    for (size_t i = 0; i < 3 * n; i++) {
        double v = (i % 3 == 0 ? c.r : i % 3 == 1 ? c.g : c.b) * 255;
        seed = seed * 1664525 + 1013904223;
        out[i] = (uint8_t)floor(v + 0.5 + 6 * ((seed >> 8) / 16777216.0 - 0.5));
    }
}

static void profiles(void) {
    size_t icc_n, n;
    struct picture_rect rect = {0, 0, 64, 64}, small = {4, 4, 24, 24};
    struct picture_ask ask = {.rects = &rect, .rects_n = 1};
    struct why why;
    CASE("the same color through sRGB and Display P3 files differs by less than 0.5") {
        static uint8_t a8[64 * 64 * 3], b8[64 * 64 * 3];
        uint8_t *icc = made_profile_p3(&icc_n);
        double worst = 0;
        for (int k = 0; k < 27; k++) { /* in sRGB's gamut, nothing clipped */
            struct rgb srgb = {.15 + k % 3 * .35, .15 + k / 3 % 3 * .35, .15 + k / 9 * .35};
            struct rgb p3 = rgb_encode(
                rgb_of_xyz_d65(RGB_DISPLAY_P3, xyz_d65_of_rgb(RGB_SRGB, rgb_decode(srgb))));
            struct picture_answer a, b;
            grain(srgb, a8, 64 * 64);
            grain(p3, b8, 64 * 64);
            struct made plain = {.w = 64, .h = 64, .rgb = a8},
                        wide = {.w = 64, .h = 64, .rgb = b8, .icc = icc, .icc_n = icc_n};
            for (int f = 0; f < 2; f++) {
                uint8_t *file = made_file(all[f], &plain, &n);
                CHECK(read_file(file, n, &ask, &a, &why) == OK);
                file = made_file(all[f], &wide, &n);
                CHECK(read_file(file, n, &ask, &b, &why) == OK);
                CHECK(b.facts.profile_embedded && !a.facts.profile_embedded);
                worst = fmax(worst, ciede2000(lab_of_p3(linear_of(a.blocks, 256)),
                                              lab_of_p3(linear_of(b.blocks, 256))));
                picture_free(&a);
                picture_free(&b);
            }
        }
        printf("worst difference between sRGB and P3 files %.3f\n", worst);
        CHECK(worst < 0.5);
        free(icc);
    }
    CASE("16 bits in interlaced rows") {
        ask.rects = &small;
        static uint16_t deep[32 * 32 * 3];
        struct picture_answer a;
        for (int i = 0; i < 32 * 32 * 3; i++) deep[i] = 16384;
        struct made m = {.w = 32, .h = 32, .rgb16 = deep, .interlaced = true};
        uint8_t *file = made_file(PICTURE_PNG, &m, &n);
        CHECK(read_file(file, n, &ask, &a, &why) == OK);
        CHECK(a.facts.bits == 16);
        double v = 16384 / 65535.0, want = pow((v + .055) / 1.055, 2.4);
        CHECK_NEAR(a.blocks[7].rgb[1], want, 1e-5);
        CHECK_NEAR(a.blocks[7].sd[1], 0, 1e-6);
        picture_free(&a);
    }
    CASE("a broken profile is refused") {
        uint8_t rgb[8 * 8 * 3] = {0}, junk[200] = "not a profile";
        struct made m = {.w = 8, .h = 8, .rgb = rgb, .icc = junk, .icc_n = sizeof junk};
        struct picture_answer a;
        struct picture_ask nothing = {0};
        uint8_t *file = made_file(PICTURE_JPEG, &m, &n);
        CHECK(read_file(file, n, &nothing, &a, &why) == E_SYNTAX);
        CHECK(strstr(why.text, "profile"));
    }
}

static void statistics(void) {
    CASE("clipped, dark, mean over linear light and its deviation") {
        static uint8_t rgb[64 * 16 * 3];
        struct picture_rect rects[4] = {
            {0, 0, 16, 16}, {16, 0, 16, 16}, {32, 0, 16, 16}, {48, 0, 1, 1}};
        struct picture_ask ask = {.rects = rects, .rects_n = 4};
        struct picture_answer a;
        struct why why;
        size_t n;
        for (int y = 0; y < 16; y++)
            for (int x = 0; x < 64; x++) {
                uint8_t *p = rgb + 3 * (y * 64 + x);
                p[0] = x < 16 ? 254 : x < 32 ? 8 : (x + y) % 2 ? 200 : 100;
                p[1] = x < 16 ? 100 : x < 32 ? 8 : p[0];
                p[2] = x < 16 ? 100 : x < 32 ? 8 : p[0];
            }
        struct made m = {.w = 64, .h = 16, .rgb = rgb};
        uint8_t *file = made_file(PICTURE_PNG, &m, &n);
        CHECK(read_file(file, n, &ask, &a, &why) == OK);
        CHECK(a.blocks_n == 256 * 3 + 1);
        CHECK_NEAR(a.blocks[0].clipped_frac, 1, 0);
        CHECK_NEAR(a.blocks[0].dark_frac, 0, 0);
        CHECK_NEAR(a.blocks[256].dark_frac, 1, 0);
        CHECK_NEAR(a.blocks[256].clipped_frac, 0, 0);
        picture_free(&a);
        rects[2].w = 8, rects[2].h = 2;              /* blocks of one pixel each, 8 x 2 */
        struct picture_rect whole = {32, 0, 32, 16}; /* blocks of 2 x 1: one of each value */
        ask.rects = &whole, ask.rects_n = 1;
        file = made_file(PICTURE_PNG, &m, &n);
        CHECK(read_file(file, n, &ask, &a, &why) == OK);
        struct rgb lo = rgb_decode((struct rgb){100 / 255.0, 0, 0}),
                   hi = rgb_decode((struct rgb){200 / 255.0, 0, 0});
        CHECK_NEAR(a.blocks[0].rgb[0], (lo.r + hi.r) / 2, 1e-5);
        CHECK_NEAR(a.blocks[0].sd[0], (hi.r - lo.r) / 2, 1e-5);
        picture_free(&a);
    }
    CASE("a rectangle outside is named") {
        uint8_t rgb[8 * 8 * 3] = {0};
        struct picture_rect rects[2] = {{0, 0, 8, 8}, {4, 4, 5, 1}};
        struct picture_ask ask = {.rects = rects, .rects_n = 2};
        struct made m = {.w = 8, .h = 8, .rgb = rgb};
        struct picture_answer a;
        struct why why;
        size_t n;
        uint8_t *file = made_file(PICTURE_PNG, &m, &n);
        CHECK(read_file(file, n, &ask, &a, &why) == E_DOMAIN);
        CHECK_TEXT(why.field, "/rects/1");
    }
}

static bool at_once(void *ctx) {
    (void)ctx;
    return true;
}

static void process(void) {
    CASE("the process that reads has no file, no network, no program") {
        const char *leak = picture_worker_leak();
        CHECK_TEXT(leak, "");
    }
    CASE("it is stopped when nobody waits any more") {
        uint8_t rgb[8 * 8 * 3] = {0};
        struct made m = {.w = 8, .h = 8, .rgb = rgb};
        struct limit limit = {.stop = at_once};
        struct picture_ask ask = {.preview_side = 8};
        struct picture_answer a = {0};
        struct why why = {0};
        size_t n;
        uint8_t *file = made_file(PICTURE_PNG, &m, &n);
        CHECK(picture_read(file, n, &ask, &limit, &a, &why) == E_LIMIT);
        CHECK(why.text[0] && !a.blocks);
        free(file);
    }
    CASE("12 megapixels of JPEG in 150 MB") {
        int w = 4000, h = 3000;
        struct rusage before, after;
        struct picture_rect rect = {1000, 1000, 400, 300};
        struct picture_ask ask = {.rects = &rect, .rects_n = 1, .preview_side = 1600};
        struct picture_answer a;
        struct why why;
        size_t n;
        uint8_t *rgb = malloc((size_t)w * (size_t)h * 3);
        uint32_t seed = 1; /* grain, so that it does not compress like a drawing */
        for (int y = 0; y < h; y++)
            for (int x = 0; x < w * 3; x++) {
                seed = seed * 1664525 + 1013904223;
                rgb[(size_t)y * (size_t)w * 3 + (size_t)x] =
                    (uint8_t)(x / 3 * 200 / w + y * 40 / h + (int)(seed >> 27));
            }
        struct made m = {.w = w, .h = h, .rgb = rgb, .quality = 90};
        uint8_t *file = made_file(PICTURE_JPEG, &m, &n);
        free(rgb);
        getrusage(RUSAGE_CHILDREN, &before);
        CHECK(picture_read(file, n, &ask, NULL, &a, &why) == OK);
        getrusage(RUSAGE_CHILDREN, &after);
        double ms = (double)(after.ru_utime.tv_sec + after.ru_stime.tv_sec -
                             before.ru_utime.tv_sec - before.ru_stime.tv_sec) *
                        1e3 +
                    (double)(after.ru_utime.tv_usec + after.ru_stime.tv_usec -
                             before.ru_utime.tv_usec - before.ru_stime.tv_usec) /
                        1e3;
        double mb = (double)after.ru_maxrss / 1024;
        printf("12 MP JPEG of %.1f MB: %.0f ms of processor, %.0f MB at most\n", (double)n / 1e6,
               ms, mb);
        CHECK(mb < 150);
        picture_free(&a);
        free(file);
    }
}

int main(int argc, char **argv) {
    picture_worker(argc, argv);
    process(); /* first: the most memory of any child so far is looked at */
    each_format();
    each_orientation();
    profiles();
    statistics();
    return check_done();
}
