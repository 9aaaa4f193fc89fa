/* Charts in CGATS text, against Little CMS, which reads the same files. */
#include "codec/cgats_text.h"
#include "test/check.h"

#ifdef HAVE_LCMS2
#include <lcms2.h>
#endif

static const char chart[] = "CGATS.17\n"
                            "ORIGINATOR \"somebody, # of no matter\"\n"
                            "LGOROWLENGTH 2 # two in a row\n"
                            "NUMBER_OF_FIELDS 6\n"
                            "BEGIN_DATA_FORMAT\n"
                            "SAMPLE_ID SAMPLE_NAME RGB_R LAB_L LAB_A LAB_B\n"
                            "END_DATA_FORMAT\n"
                            "NUMBER_OF_SETS 3\r\n"
                            "BEGIN_DATA\r\n"
                            "1 \"dark skin\" 115 38.02 11.80 13.66\r\n"
                            "2 sky 98 50.7 -4.30e0 -24.1\r\n"
                            "3 white 243 96.54 -0.43 1.19\r\n"
                            "END_DATA\n";

static enum status read(const char *text, struct arena *a, struct cgats_patch **out, size_t *n,
                        int64_t *in_row, struct why *why) {
    memset(why, 0, sizeof *why);
    return cgats_read(text, a, out, n, in_row, why);
}

int main(void) {
    struct arena a;
    struct cgats_patch *p = NULL;
    struct why why;
    size_t n = 0;
    int64_t in_row = 0;
    arena_init(&a, alloc_heap(), 0);
    CASE("names, colors, length of a row") {
        CHECK(read(chart, &a, &p, &n, &in_row, &why) == OK);
        CHECK(n == 3 && in_row == 2);
        CHECK_TEXT(p[0].name, "dark skin");
        CHECK_NEAR(p[1].lab[1], -4.3, 1e-12);
    }
    CASE("the same as Little CMS reads") {
#ifdef HAVE_LCMS2
        cmsHANDLE it = cmsIT8LoadFromMem(NULL, chart, sizeof chart - 1);
        static const char *const columns[] = {"LAB_L", "LAB_A", "LAB_B"};
        char id[8];
        CHECK(it != NULL);
        for (int i = 0; it && i < 3; i++)
            for (int k = 0; k < 3; k++) {
                snprintf(id, sizeof id, "%d", i + 1);
                CHECK_NEAR(p[i].lab[k], cmsIT8GetDataDbl(it, id, columns[k]), 1e-9);
            }
        if (it) cmsIT8Free(it);
#else
        SKIP("liblcms2-dev is missing");
#endif
    }
    CASE("XYZ of D50, names from numbers") {
        CHECK(read("BEGIN_DATA_FORMAT XYZ_X XYZ_Y XYZ_Z END_DATA_FORMAT BEGIN_DATA 96.42 100 82.51 "
                   "48.21 50 41.255 END_DATA",
                   &a, &p, &n, &in_row, &why) == OK);
        CHECK(n == 2 && in_row == INT64_MIN);
        CHECK_NEAR(p[0].lab[0], 100, 0.01);
        CHECK_NEAR(p[1].lab[0], 76.069, 0.01); /* L* of Y 50 (CIE 15) */
        CHECK_TEXT(p[1].name, "patch 2");
    }
    static const struct {
        const char *text, *says;
        enum status s;
    } bad[] = {
        {"", "no BEGIN_DATA", E_SYNTAX},
        {"BEGIN_DATA 1 2 3 END_DATA", "before its columns", E_SYNTAX},
        {"BEGIN_DATA_FORMAT LAB_L LAB_A", "END_DATA_FORMAT", E_SYNTAX},
        {"BEGIN_DATA_FORMAT RGB_R END_DATA_FORMAT BEGIN_DATA 1 END_DATA", "no LAB_L", E_MISSING},
        {"BEGIN_DATA_FORMAT LAB_L LAB_A LAB_B END_DATA_FORMAT\nBEGIN_DATA\n50 x 0\nEND_DATA",
         "Line 3", E_SYNTAX},
        {"BEGIN_DATA_FORMAT LAB_L LAB_A LAB_B END_DATA_FORMAT BEGIN_DATA 50 0 END_DATA",
         "not complete", E_SYNTAX},
        {"BEGIN_DATA_FORMAT LAB_L LAB_A LAB_B END_DATA_FORMAT BEGIN_DATA 50 0 0", "END_DATA",
         E_SYNTAX},
        {"BEGIN_DATA_FORMAT LAB_L LAB_A LAB_B END_DATA_FORMAT BEGIN_DATA END_DATA", "no patches",
         E_MISSING},
    };
    for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) CASE(bad[i].says) {
            CHECK(read(bad[i].text, &a, &p, &n, &in_row, &why) == bad[i].s);
            CHECK(strstr(why.text, bad[i].says));
        }
    arena_free(&a);
    return check_done();
}
