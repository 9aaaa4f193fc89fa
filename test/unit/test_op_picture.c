/* Pictures in the book: kept as they came, shown small, read by things of the shelf. */
#include "test/check.h"
#include "test/photo/made.h"
#include "test/unit/ask.h"

#include "photo/picture.h"

#include <stdlib.h>

enum { W = 240, H = 120 };

/* White paper, the chip of a paint, something unknown. */
static const char *picture(struct asker *a) {
    static uint8_t rgb[W * H * 3];
    static const uint8_t cells[3][3] = {{243, 241, 239}, {28, 106, 112}, {160, 64, 48}};
    struct made m = {.w = W, .h = H, .rgb = rgb};
    size_t n;
    for (int i = 0; i < W * H; i++) memcpy(rgb + 3 * i, cells[i % W / (W / 3)], 3);
    uint8_t *file = made_file(PICTURE_PNG, &m, &n);
    const char *path = arena_print(&a->arena, "%s/seen.jpg", a->temp.folder);
    FILE *f = fopen(path, "wb");
    if (fwrite(file, 1, n, f) != n) puts("the picture could not be written");
    fclose(f);
    free(file);
    return path;
}

static int shell(struct asker *a, const char *line) {
    return system(arena_print(&a->arena, line, a->temp.folder));
}

static void keeping(struct asker *a, const char *path) {
    const char *out, *id;
    const char *args = arena_print(&a->arena, "{\"photo\":\"%s\",\"kind\":\"sample\"}", path);
    CASE("a picture is kept as it came") {
        CHECK(ask(a, "picture add", args, &out) == OK);
        id = said(a, out, "id");
        CHECK(!strncmp(id, "picture-", 8));
        CHECK_TEXT(said(a, out, "type"), "image/png");
        CHECK(strstr(said(a, out, "odd"), "JPEG")); /* its name says so */
        CHECK(said_int(a, out, "width") == W);
        CHECK(shell(a, "cmp -s %1$s/seen.jpg %1$s/shop.book-pictures/*.png") == 0);
        CHECK(ask(a, "picture show", arena_print(&a->arena, "{\"id\":\"%s\"}", id), &out) == OK);
        CHECK(said_int(a, out, "height") == H && said_int(a, out, "bytes") > 100);
    }
    CASE("a picture that cannot be read, or of a piece that is not there, is not kept") {
        const char *cut = arena_print(&a->arena, "%s/cut.png", a->temp.folder);
        CHECK(shell(a, "head -c 300 %1$s/seen.jpg > %1$s/cut.png") == 0);
        CHECK(ask(a, "picture add", arena_print(&a->arena, "{\"photo\":\"%s\"}", cut), &out) ==
              E_SYNTAX);
        CHECK_TEXT(a->why.field, "/photo");
        CHECK(ask(a, "picture add",
                  arena_print(&a->arena, "{\"photo\":\"%s\",\"piece\":\"desk\"}", path),
                  &out) == E_REFERENCE);
        CHECK(ask(a, "pictures", "{}", &out) == OK);
        CHECK(count_of(out, "\"id\":") == 1);
        CHECK(ask(a, "pictures", "{\"kind\":\"before\"}", &out) == OK);
        CHECK(count_of(out, "\"id\":") == 0);
    }
}

static void reading(struct asker *a, const char *path) {
    const char *out, *id,
        *read = "{\"shots\":[{\"picture\":\"%s\",\"references\":[{\"kind\":\"white\",\"rect\":[5,5,"
                "70,110]},"
                "{\"kind\":\"chip\",\"paint\":\"%s\",\"rect\":[85,5,70,110]}],"
                "\"targets\":[{\"name\":\"fabric\",\"rect\":[165,5,70,110]}]}]}";
    CHECK(ask(a, "picture add", arena_print(&a->arena, "{\"photo\":\"%s\"}", path), &out) == OK);
    id = said(a, out, "id");
    CASE("a color is read by paper and a paint of the shelf") {
        CHECK(ask(a, "paint add",
                  "{\"paint\":{\"id\":\"teal\",\"class\":\"wb_enamel\",\"color\":\"#1c6a70\"}}",
                  &out) == OK);
        CHECK(ask(a, "picture read", arena_print(&a->arena, read, id, "teal"), &out) == OK);
        CHECK(strstr(out, "\"targets\":[{\"name\":\"fabric\",\"lab\":["));
        CHECK(strstr(out, "\"name\":\"teal\""));
        CHECK(count_of(out, "\"stated\":") == 2);
        CHECK_NEAR(strtod(strstr(out, "\"lab\":[") + 7, NULL), 40.6, 3);
    }
    CASE("two pictures of it are one reading") {
        const char *shot = "{\"picture\":\"%1$s\",\"references\":[{\"kind\":\"white\","
                           "\"rect\":[5,5,70,110]}],\"targets\":[{\"rect\":[165,5,70,110]}]}";
        const char *one = arena_print(&a->arena, shot, id);
        CHECK(ask(a, "picture read", arena_print(&a->arena, "{\"shots\":[%s,%s]}", one, one),
                  &out) == OK);
        CHECK(said_int(a, out, "shots") == 2);
    }
    CASE("a gray of known lightness says how much light there is, by text as by Lab") {
        const char *gray = "{\"shots\":[{\"picture\":\"%s\",\"references\":[{\"kind\":\"gray\",%s,"
                           "\"rect\":[5,5,70,"
                           "110]}],\"targets\":[{\"rect\":[85,5,70,110]}]}]}";
        char seen[2][60];
        for (int k = 0; k < 2; k++) {
            CHECK(ask(a, "picture read",
                      arena_print(&a->arena, gray, id,
                                  k ? "\"color\":\"lab(95 0 0)\"" : "\"lab\":[95,0,0]"),
                      &out) == OK);
            snprintf(seen[k], sizeof seen[k], "%.50s", strstr(out, "\"lab\":["));
        }
        CHECK_TEXT(seen[0], seen[1]);
        CHECK_NEAR(strtod(seen[0] + 7, NULL), 40.6, 3);
    }
    CASE("references that are not in the book, or have no color, are named") {
        CHECK(ask(a, "picture read", arena_print(&a->arena, read, id, "nothing"), &out) ==
              E_REFERENCE);
        CHECK_TEXT(a->why.field, "/shots/0/references/1/paint");
        CHECK(ask(a, "paint add", "{\"paint\":{\"id\":\"grey\",\"class\":\"wb_enamel\"}}", &out) ==
              OK);
        CHECK(ask(a, "picture read", arena_print(&a->arena, read, id, "grey"), &out) == E_MISSING);
        CHECK(ask(a, "picture read", arena_print(&a->arena, read, "gone", "teal"), &out) ==
              E_NOT_FOUND);
        CHECK_TEXT(a->why.field, "/shots/0/picture");
    }
    CASE("a part of a picture is asked for whole") {
        CHECK(ask(a, "picture look", arena_print(&a->arena, "{\"id\":\"%s\",\"w\":20}", id),
                  &out) == E_MISSING);
        CHECK_TEXT(a->why.field, "/h");
        CHECK(ask(a, "picture look", arena_print(&a->arena, "{\"id\":\"%s\",\"x\":20}", id),
                  &out) == E_MISSING);
        CHECK_TEXT(a->why.field, "/w");
        CHECK(ask(a, "picture look",
                  arena_print(&a->arena, "{\"id\":\"%s\",\"w\":20,\"h\":30}", id), &out) == OK);
    }
    CASE("a file that was changed or is gone is told") {
        const char *one = arena_print(&a->arena, "{\"id\":\"%s\"}", id);
        CHECK(shell(a, "for f in %1$s/shop.book-pictures/*.png; do printf x >> $f; done") == 0);
        CHECK(ask(a, "picture file", one, &out) == E_DAMAGED);
        CHECK(shell(a, "rm %1$s/shop.book-pictures/*.png") == 0);
        CHECK(ask(a, "picture look", one, &out) == E_NOT_FOUND);
        CHECK(ask(a, "picture add", arena_print(&a->arena, "{\"photo\":\"%s\"}", path), &out) ==
              OK); /* brings it back */
        CHECK(ask(a, "picture look", one, &out) == OK);
        CHECK(ask(a, "picture remove", one, &out) == OK);
        CHECK(ask(a, "picture look", one, &out) == E_NOT_FOUND);
        CHECK(ask(a, "undo", "{}", &out) == OK);
        CHECK(ask(a, "picture look", one, &out) == OK);
    }
}

/* Six colors on a table, further right and lower in the second picture, by a lamp. */
static const char *six(struct asker *a, const char *name, int dx, int dy, const double light[3]) {
    static uint8_t rgb[W * H * 3];
    static const uint8_t colors[6][3] = {{240, 240, 236}, {180, 50, 40},  {40, 110, 60},
                                         {40, 60, 150},   {200, 170, 40}, {90, 90, 90}};
    struct made m = {.w = W, .h = H, .rgb = rgb};
    size_t n;
    for (int i = 0; i < W * H; i++) {
        int x = i % W - 20 - dx, y = i / W - 15 - dy, column = x / 50, row = y / 45;
        bool on = x >= 0 && y >= 0 && x % 50 < 30 && y % 45 < 30 && column < 3 && row < 2;
        const uint8_t table[3] = {150, 120, 95}, *c = on ? colors[3 * row + column] : table;
        for (int k = 0; k < 3; k++) rgb[3 * i + k] = (uint8_t)(c[k] * light[k]);
    }
    uint8_t *file = made_file(PICTURE_PNG, &m, &n);
    const char *out, *path = arena_print(&a->arena, "%s/%s", a->temp.folder, name);
    FILE *f = fopen(path, "wb");
    CHECK(f && fwrite(file, 1, n, f) == n && !fclose(f));
    free(file);
    CHECK(ask(a, "picture add", arena_print(&a->arena, "{\"photo\":\"%s\"}", path), &out) == OK);
    return arena_print(&a->arena, "%s", said(a, out, "id"));
}

static void finding(struct asker *a) {
    static const double day[3] = {1, 1, 1}, lamp[3] = {1, 0.85, 0.7};
    CASE("marked things are found again in the next picture, and what is not there is told") {
        const char *first = six(a, "first.png", 0, 0, day),
                   *next = six(a, "next.png", 40, 12, lamp);
        const char *find = "{\"id\":\"%s\",\"from\":\"%s\",\"things\":[{\"rect\":[25,20,20,20]},"
                           "{\"rect\":[75,20,20,20]},{\"rect\":[125,20,20,20]},"
                           "{\"rect\":[25,65,20,20]},{\"rect\":[75,65,20,20]}]}";
        const char *out;
        CHECK(ask(a, "picture find", arena_print(&a->arena, find, next, first), &out) == OK);
        CHECK(said_real(a, out, "sure") >= 0.8);
        const char *at = strstr(out, "\"rect\":[");
        CHECK(at != NULL);
        if (at) {
            char *rest;
            CHECK_NEAR(strtod(at + 8, &rest), 65, 6);
            CHECK_NEAR(strtod(rest + 1, NULL), 32, 6);
        }
        CHECK(ask(a, "picture find", arena_print(&a->arena, find, next, "gone"), &out) ==
              E_NOT_FOUND);
        CHECK_TEXT(a->why.field, "/from");
        CHECK(ask(a, "picture find",
                  arena_print(&a->arena,
                              "{\"id\":\"%s\",\"from\":\"%s\",\"things\":["
                              "{\"rect\":[25,20,20,20]},{\"rect\":[230,20,20,20]}]}",
                              next, first),
                  &out) == E_DOMAIN);
        CHECK_TEXT(a->why.field, "/things/1/rect");
        CHECK(ask(a, "picture find",
                  arena_print(&a->arena,
                              "{\"id\":\"%s\",\"from\":\"%s\",\"things\":["
                              "{\"rect\":[25,20,20,20]}]}",
                              next, first),
                  &out) == E_MISSING);
    }
}

int main(int argc, char **argv) {
    struct asker a;
    picture_worker(argc, argv);
    asker_open(&a);
    const char *path = picture(&a);
    keeping(&a, path);
    reading(&a, path);
    finding(&a);
    asker_close(&a);
    return check_done();
}
