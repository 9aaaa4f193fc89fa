/* Colors read in picture files: the command, its file of references, its errors. */
#include "test/check.h"
#include "test/photo/made.h"
#include "test/unit/ask.h"

#include "photo/picture.h"

#include <stdlib.h>

enum { W = 240, H = 120 };

/* White paper, two chips, what is between; stored turned by a quarter, as phones do. */
static const char *picture(struct asker *a, enum picture_format format, const char *name) {
    static uint8_t rgb[W * H * 3];
    static const uint8_t cells[3][3] = {{243, 241, 239}, {28, 106, 112}, {160, 64, 48}};
    struct made m = {.w = H, .h = W, .rgb = rgb, .orientation = 6};
    size_t n;
    for (int sy = 0; sy < W; sy++) /* row 0 is the right side, column 0 the top */
        for (int sx = 0; sx < H; sx++) {
            int x = W - 1 - sy;
            memcpy(rgb + 3 * (sy * H + sx), cells[x / (W / 3)], 3);
        }
    uint8_t *file = made_file(format, &m, &n);
    const char *path = arena_print(&a->arena, "%s/%s", a->temp.folder, name);
    FILE *f = fopen(path, "wb");
    if (fwrite(file, 1, n, f) != n) puts("the picture could not be written");
    fclose(f);
    free(file);
    return path;
}

static enum status measure(struct asker *a, const char *path, const char *refs, const char **out) {
    return ask(a, "measure", arena_print(&a->arena, "{\"photo\":\"%s\",\"refs\":%s}", path, refs),
               out);
}

static void contract(struct asker *a) {
    const char *out,
        *refs = "{\"note\":1,\"references\":[{\"name\":\"paper\",\"kind\":\"white\",\"rect\":[10,"
                "10,60,100],"
                "\"by\":[]}],\"targets\":[{\"name\":\"bowl\",\"rect\":[90,10,60,100],\"x\":{}},"
                "{\"name\":\"mix\",\"rect\":[170.4,10.2,60,100]}]}";
    const char *path = picture(a, PICTURE_PNG, "a.png");
    CASE("measure: the members that others read, and unknown members of the file passed over") {
        CHECK(measure(a, path, refs, &out) == OK);
        CHECK(!strncmp(out, "{\"targets\":[{\"name\":\"bowl\",\"lab\":[", 34));
        CHECK(count_of(out, "\"expected\":") == 3 && count_of(out, "\"limit90\":") == 3);
        CHECK(strstr(out, "\"difference\":{\"lab\":["));
        CHECK(count_of(out, "\"warnings\":[]") == 4);
        /* the chips' own colors: paper as bright as this is white to within what paper varies */
        const char *lab = strstr(out, "\"lab\":[") + 7;
        CHECK_NEAR(strtod(lab, NULL), 40.6, 2.5);
    }
    CASE("measure: one target has no difference") {
        CHECK(measure(a, path,
                      "{\"references\":[{\"kind\":\"white\",\"rect\":[10,10,60,100]}],"
                      "\"targets\":[{\"rect\":[90,10,60,100]}]}",
                      &out) == OK);
        CHECK(strstr(out, "\"difference\":null") && strstr(out, "\"name\":\"target 1\""));
    }
    CASE("measure: the first bytes count, a wrong suffix is told") {
        const char *wrong = picture(a, PICTURE_WEBP, "a.jpg");
        CHECK(measure(a, wrong, refs, &out) == OK);
        CHECK_TEXT(said(a, out, "format"), "WebP");
        CHECK(strstr(said(a, out, "note"), "JPEG"));
    }
}

static void errors(struct asker *a) {
    const char *out, *path = picture(a, PICTURE_PNG, "a.png");
    static const struct {
        const char *refs, *field;
        enum status s;
    } bad[] = {
        {"{\"targets\":[]}", "/references", E_MISSING},
        {"{\"references\":[],\"targets\":[]}", "/references", E_MISSING},
        {"{\"references\":[{\"kind\":\"whit\",\"rect\":[0,0,9,9]}],\"targets\":[]}",
         "/references/0/kind", E_DOMAIN},
        {"{\"references\":[{\"kind\":\"white\",\"rect\":[0,0,9]}],\"targets\":[]}",
         "/references/0/rect", E_TYPE},
        {"{\"references\":[{\"kind\":\"white\",\"rect\":[0,0,9,-9]}],\"targets\":[]}",
         "/references/0/rect/3", E_DOMAIN},
        {"{\"references\":[{\"kind\":\"white\",\"rect\":[0,0,9,0]}],\"targets\":[]}",
         "/references/0/rect", E_DOMAIN},
        {"{\"references\":[{\"kind\":\"white\",\"rect\":[0,0,9,9]}],\"targets\":[{\"rect\":[0,0,9,"
         "9]}"
         ",{\"rect\":[200,0,41,9]}]}",
         "/targets/1/rect", E_DOMAIN},
        {"{\"references\":[{\"kind\":\"chip\",\"rect\":[0,0,9,9]}],\"targets\":[]}",
         "/references/0/lab", E_MISSING},
        {"{\"references\":[{\"kind\":\"chip\",\"rect\":[0,0,9,9],\"lab\":[50,\"a\",0]}],"
         "\"targets\":[]}",
         "/references/0/lab/1", E_TYPE},
    };
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
        char name[80];
        snprintf(name, sizeof name, "measure: error %zu at %s", i, bad[i].field);
        CASE(name) {
            CHECK(measure(a, path, bad[i].refs, &out) == bad[i].s);
            CHECK_TEXT(a->why.field, bad[i].field);
            CHECK(strlen(a->why.text) > 20);
        }
    }
    CASE("measure: a picture that is not there") {
        CHECK(measure(a, "/nowhere/x.jpg",
                      "{\"references\":[{\"kind\":\"white\",\"rect\":[0,0,9,9]}],\"targets\":[]}",
                      &out) == E_NOT_FOUND);
        CHECK_TEXT(a->why.field, "/photo");
    }
}

int main(int argc, char **argv) {
    struct asker a;
    picture_worker(argc, argv);
    asker_open(&a);
    contract(&a);
    errors(&a);
    asker_close(&a);
    return check_done();
}
