/* Marked things are found again in another picture of them: shifted, turned, nearer, other light.
 */
#include "core/base/random.h"
#include "core/photo/find.h"
#include "test/check.h"

enum { COLUMNS = 128, ROWS = 96, MARKS = 10 };

static double grid[ROWS * COLUMNS][3];

static const double COLORS[MARKS][3] = {
    {.85, .86, .84}, {.5, .1, .08},  {.1, .35, .15}, {.06, .1, .4}, {.7, .55, .08},
    {.2, .2, .2},    {.55, .3, .45}, {.12, .45, .5}, {.4, .22, .1}, {.3, .6, .2}};

/* Paints squares of the marks onto a wooden table, moved as said. */
static void paint(const struct photo_mark *marks, double scale, double turn, double dx, double dy,
                  const double gain[3], double (*out_place)[2]) {
    struct random r;
    random_seed(&r, 3);
    for (int i = 0; i < ROWS * COLUMNS; i++)
        for (int k = 0; k < 3; k++)
            grid[i][k] = gain[k] * (0.3 - 0.08 * k) * (1 + 0.1 * random_normal(&r));
    for (int m = 0; m < MARKS; m++) {
        double x = marks[m].x - 0.5, y = marks[m].y - 0.375;
        out_place[m][0] = 0.5 + dx + scale * (cos(turn) * x - sin(turn) * y);
        out_place[m][1] = 0.375 + dy + scale * (sin(turn) * x + cos(turn) * y);
    }
    for (int row = 0; row < ROWS; row++)
        for (int column = 0; column < COLUMNS; column++)
            for (int m = 0; m < MARKS; m++) {
                double x = (column + 0.5) / COLUMNS - out_place[m][0];
                double y = (row + 0.5) / ROWS * 0.75 - out_place[m][1];
                double u = cos(turn) * x + sin(turn) * y, v = -sin(turn) * x + cos(turn) * y;
                if (fmax(fabs(u), fabs(v)) > scale * marks[m].half) continue;
                for (int k = 0; k < 3; k++)
                    grid[row * COLUMNS + column][k] =
                        gain[k] * COLORS[m][k] * (1 + 0.02 * random_normal(&r));
            }
}

static double worst(const struct photo_found *found, double (*place)[2]) {
    double w = 0;
    for (int m = 0; m < MARKS; m++)
        w = fmax(w, hypot(found[m].x - place[m][0], found[m].y - place[m][1]));
    return w;
}

int main(void) {
    struct photo_mark marks[MARKS];
    struct photo_found found[MARKS];
    struct photo_coarse picture = {(const double(*)[3])grid, COLUMNS, ROWS, 1, 0.75};
    double place[MARKS][2], sure = -1;
    struct arena arena;
    struct why why;
    arena_init(&arena, alloc_heap(), 0);
    for (int m = 0; m < MARKS; m++) {
        marks[m] = (struct photo_mark){0.3 + 0.1 * (m % 5), 0.28 + 0.15 * (m / 5), 0.03, {0}};
        memcpy(marks[m].rgb, COLORS[m], sizeof marks[m].rgb);
    }
    const double same[3] = {1, 1, 1}, lamp[3] = {0.9, 0.7, 0.45};

    CASE("nothing moved") {
        paint(marks, 1, 0, 0, 0, same, place);
        CHECK(photo_find_again(marks, MARKS, &picture, NULL, 0, &arena, found, &sure, &why) == OK);
        CHECK(worst(found, place) < 0.015); /* half of a mark is 0.03 */
        CHECK_NEAR(sure, 1, 0);
    }
    CASE("shifted, turned, nearer, by lamplight, without a tap") {
        paint(marks, 1.3, 0.35, 0.08, -0.05, lamp, place);
        CHECK(photo_find_again(marks, MARKS, &picture, NULL, 0, &arena, found, &sure, &why) == OK);
        CHECK(worst(found, place) < 0.015); /* half of a mark is 0.039 */
        CHECK_NEAR(found[0].half, 0.039, 0.006);
    }
    CASE("on its head") {
        paint(marks, 0.8, 3.1, 0, 0, lamp, place);
        CHECK(photo_find_again(marks, MARKS, &picture, NULL, 0, &arena, found, &sure, &why) == OK);
        CHECK(worst(found, place) < 0.012);
    }
    CASE("one, two and three rough taps") {
        paint(marks, 1.05, 0.06, 0.1, 0.08, lamp, place);
        struct photo_tap taps[3] = {{0, place[0][0] + 0.01, place[0][1] - 0.01},
                                    {9, place[9][0] - 0.01, place[9][1] + 0.005},
                                    {4, place[4][0], place[4][1] + 0.01}};
        for (size_t n = 1; n <= 3; n++) {
            CHECK(photo_find_again(marks, MARKS, &picture, taps, n, &arena, found, &sure, &why) ==
                  OK);
            CHECK(worst(found, place) < 0.02);
        }
        taps[1] = taps[0];
        CHECK(photo_find_again(marks, MARKS, &picture, taps, 2, &arena, found, &sure, &why) ==
              E_DOMAIN);
    }
    CASE("not in the picture is said, and nothing is proposed") {
        const struct photo_found before = found[3];
        for (int i = 0; i < ROWS * COLUMNS; i++)
            for (int k = 0; k < 3; k++) grid[i][k] = 0.2 + 0.2 * k;
        sure = -1;
        CHECK(photo_find_again(marks, MARKS, &picture, NULL, 0, &arena, found, &sure, &why) ==
              E_NOT_FOUND);
        CHECK(memcmp(&before, &found[3], sizeof before) == 0 && sure < 0);
    }
    CASE("bad input") {
        CHECK(photo_find_again(marks, 2, &picture, NULL, 0, &arena, found, &sure, &why) ==
              E_MISSING);
        CHECK(photo_find_again(marks, PHOTO_MARKS_MAX + 1, &picture, NULL, 0, &arena, found, &sure,
                               &why) == E_TOO_LARGE);
        const struct photo_tap nowhere = {MARKS, 0, 0};
        CHECK(photo_find_again(marks, MARKS, &picture, &nowhere, 1, &arena, found, &sure, &why) ==
              E_DOMAIN);
        CHECK_TEXT(why.field, "/taps/0");
        grid[7][1] = NAN;
        CHECK(photo_find_again(marks, MARKS, &picture, NULL, 0, &arena, found, &sure, &why) ==
              E_DOMAIN);
    }
    arena_free(&arena);
    return check_done();
}
