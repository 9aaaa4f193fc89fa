/* Pictures that are cut off, too large, or made to hurt their library: refused with a sentence. */
#include "photo/heic_items.h"
#include "test/unit/picture_room.h"

static void put32(uint8_t *p, uint32_t v) {
    for (int i = 0; i < 4; i++) p[i] = (uint8_t)(v >> 8 * (3 - i));
}

static uint32_t crc(const uint8_t *p, size_t n) { /* PNG, annex D */
    uint32_t c = 0xffffffffu;
    for (size_t i = 0; i < n; i++) {
        c ^= p[i];
        for (int k = 0; k < 8; k++) c = c & 1 ? 0xedb88320u ^ c >> 1 : c >> 1;
    }
    return ~c;
}

static void bad_ones(void) {
    static uint8_t rgb[W * H * 3];
    struct picture_ask ask = {.preview_side = 64};
    struct picture_answer a;
    struct why why;
    size_t n;
    paint(rgb);
    for (int f = 0; f < 4; f++)
        for (int interlaced = 0; interlaced < 2; interlaced++) {
            char name[60];
            if (interlaced && f > 1) continue;
            snprintf(name, sizeof name, "cut off: %s%s", picture_format_said(all[f]),
                     interlaced ? ", in passes" : "");
            CASE(name) {
                struct made m = {.w = W, .h = H, .rgb = rgb, .interlaced = interlaced};
                uint8_t *file = made_file(all[f], &m, &n);
                if (!file) {
                    SKIP("it cannot be written here");
                    continue;
                }
                for (int k = 0; k < 12; k++) {
                    size_t cut = n * (size_t)k / 12;
                    uint8_t *part = malloc(cut + 1);
                    memcpy(part, file, cut);
                    enum status s = read_file(part, cut, &ask, &a, &why);
                    CHECK(s == E_SYNTAX || s == E_TYPE || s == E_DOMAIN);
                    CHECK(why.text[0]);
                    if (!s) picture_free(&a);
                }
                free(file);
            }
        }
    CASE("dimensions beyond all bounds are refused before memory is taken") {
        struct made m = {.w = W, .h = H, .rgb = rgb};
        uint8_t *file = made_file(PICTURE_PNG, &m, &n);
        put32(file + 16, 60000), put32(file + 20, 60000);
        put32(file + 29, crc(file + 12, 17));
        CHECK(read_file(file, n, &ask, &a, &why) == E_TOO_LARGE);
        CHECK(strstr(why.text, "60000 x 60000"));
        file = made_file(PICTURE_JPEG, &m, &n);
        for (size_t i = 2; i + 9 < n; i++)
            if (file[i] == 0xff && file[i + 1] == 0xc0)
                file[i + 5] = file[i + 7] = 0xff; /* 65,3xx each way */
        CHECK(read_file(file, n, &ask, &a, &why) == E_TOO_LARGE);
        file = made_file(PICTURE_WEBP, &m, &n); /* a lossless one: 14 bits each, all ones */
        for (size_t i = 12; i + 13 < n; i++)
            if (!memcmp(file + i, "VP8L", 4)) {
                memset(file + i + 9, 0xff, 3);
                file[i + 12] |= 0x0f;
                break;
            }
        CHECK(read_file(file, n, &ask, &a, &why) == E_TOO_LARGE);
    }
    CASE("a file of few bytes that unpacks to the most that is read") {
        int w = 7000, h = 7000;
        uint8_t *black = calloc((size_t)w * (size_t)h, 3);
        struct made m = {.w = w, .h = h, .rgb = black};
        uint8_t *file = made_file(PICTURE_PNG, &m, &n);
        free(black);
        CHECK(n < 2000000);
        struct picture_rect rect = {6000, 6000, 100, 100};
        struct picture_ask one = {.rects = &rect, .rects_n = 1};
        CHECK(read_file(file, n, &one, &a, &why) == OK);
        CHECK_NEAR(a.blocks[0].dark_frac, 1, 0);
        picture_free(&a);
    }
    CASE("what is no picture") {
        uint8_t *big = calloc(PICTURE_FILE_MAX + 1, 1);
        memcpy(big, "\xff\xd8\xff", 3);
        CHECK(read_file(big, PICTURE_FILE_MAX + 1, &ask, &a, &why) == E_TOO_LARGE);
        CHECK(read_file(calloc(1, 1), 0, &ask, &a, &why) == E_TYPE);
        CHECK(strstr(why.text, "empty"));
        uint8_t *text = calloc(64, 1);
        strcpy((char *)text, "<svg xmlns='http://www.w3.org/2000/svg'/>");
        CHECK(read_file(text, 41, &ask, &a, &why) == E_TYPE);
        CHECK_TEXT(why.field, "/photo");
        uint8_t *cmyk = made_cmyk_jpeg(&n);
        CHECK(read_file(cmyk, n, &ask, &a, &why) == E_DOMAIN);
        CHECK(strstr(why.text, "CMYK"));
    }
    CASE("HEIC is told from other pictures in the same container") {
        static const char avif[] = "\0\0\0\x1c"
                                   "ftypavif\0\0\0\0mif1avifmiaf",
                          heic[] = "\0\0\0\x18"
                                   "ftypmif1\0\0\0\0mif1heic";
        CHECK(picture_format_of(avif, sizeof avif - 1) == PICTURE_UNKNOWN);
        CHECK(picture_format_of(heic, sizeof heic - 1) == PICTURE_HEIC);
    }
    CASE("a HEIC that is made of itself is refused, which its library would follow without end") {
#define FTYP                                                                                       \
    "\0\0\0\x18"                                                                                   \
    "ftypheic\0\0\0\0mif1heic"
#define META(size, refs) "\0\0\0" size "meta\0\0\0\0" refs
#define IREF(size, version, made) "\0\0\0" size "iref" version "\0\0\0" made
        static const char tiles[] = FTYP META("\x28", IREF("\x1c", "\0",
                                                           "\0\0\0\x10"
                                                           "dimg\0\3\0\2\0\1\0\2")),
                          itself[] = FTYP META("\x26", IREF("\x1a", "\0",
                                                            "\0\0\0\x0e"
                                                            "dimg\0\2\0\1\0\2")),
                          each_other[] = FTYP META("\x3c", IREF("\x30", "\1",
                                                                "\0\0\0\x12"
                                                                "dimg\0\0\0\2\0\1\0\0\0\1"
                                                                "\0\0\0\x12"
                                                                "dimg\0\0\0\1\0\1\0\0\0\2"));
#undef FTYP
#undef META
#undef IREF
        const struct {
            const char *p;
            size_t n;
            bool ends;
        } all_of[] = {{tiles, sizeof tiles - 1, true},
                      {itself, sizeof itself - 1, false},
                      {each_other, sizeof each_other - 1, false}};
        for (size_t i = 0; i < sizeof all_of / sizeof *all_of; i++) {
            CHECK(heic_items_end((const uint8_t *)all_of[i].p, all_of[i].n) == all_of[i].ends);
            uint8_t *file = malloc(all_of[i].n);
            memcpy(file, all_of[i].p, all_of[i].n);
            CHECK(read_file(file, all_of[i].n, &ask, &a, &why) == E_SYNTAX);
            CHECK(!strstr(why.text, "made of itself") == all_of[i].ends);
            for (size_t cut = 0; cut < all_of[i].n; cut++)
                heic_items_end((const uint8_t *)all_of[i].p, cut);
        }
    }
    CASE("names") {
        CHECK(picture_format_named("a/b.JPG") == PICTURE_JPEG);
        CHECK(picture_format_named("x.heif") == PICTURE_HEIC);
        CHECK(picture_format_named("x.jpg/y") == PICTURE_UNKNOWN);
        CHECK(picture_format_named("x.tiff") == PICTURE_UNKNOWN);
    }
}

int main(int argc, char **argv) {
    picture_worker(argc, argv);
    bad_ones();
    return check_done();
}
