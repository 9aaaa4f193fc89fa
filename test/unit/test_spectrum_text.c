/* Spectra from files: the layouts of CGATS.17 / ISO 28178 and CSV, what is wrong named by line and
 * field, everything bounded. The files are our own; names of keywords and fields are the
 * standards'. */
#include "codec/document.h"
#include "codec/spectrum_text.h"
#include "core/color/color.h"
#include "tables.h"
#include "test/check.h"

#ifdef HAVE_LCMS2
#include <lcms2.h>
#endif
#include <stdlib.h>
#include <string.h>

static struct arena arena;
static struct spectrum_text got;
static struct why why;

static enum status read_as(const char *text, enum spectrum_scale scale) {
    memset(&why, 0, sizeof why);
    memset(&got, 0, sizeof got);
    return spectrum_text_read(text, strlen(text), scale, &arena, &got, &why);
}

/* A file with the given head, field names `stem`nnn from 400 to 700 by 10, two samples. */
static const char *file_of(const char *head, const char *stem, double unit, const char *eol) {
    static struct text t;
    text_free(&t);
    t = (struct text){0};
    text_print(&t, "%s", head);
    text_print(&t, "NUMBER_OF_FIELDS 33%sBEGIN_DATA_FORMAT%sSAMPLE_ID SAMPLE_NAME", eol, eol);
    for (int nm = 400; nm <= 700; nm += 10) text_print(&t, "\t%s%d", stem, nm);
    text_print(&t, "%sEND_DATA_FORMAT%sNUMBER_OF_SETS 2%sBEGIN_DATA%s", eol, eol, eol, eol);
    for (int row = 1; row <= 2; row++) {
        text_print(&t, "%d \"Say \"\"%s\"\" # %d\"", row, row == 1 ? "blue" : "white", row);
        for (int nm = 400; nm <= 700; nm += 10)
            text_print(&t, " %.4f", unit * (row == 1 ? 0.2 - (nm - 400) / 2000.0 : 0.85));
        text_print(&t, "%s", eol);
    }
    text_print(&t, "END_DATA%s", eol);
    return t.at;
}

static void cgats(void) {
    static const char *const stems[] = {"SPECTRAL_NM", "SPECTRAL_NM_", "SPECTRAL_", "SPEC_",
                                        "nm",          "NM_",          "R_"};
    static const char head[] = "CGATS.17\n# made by hand\nORIGINATOR \"a shop\"\n"
                               "KEYWORD \"SURFACE\"\nSURFACE \"matte # not a comment\"\n";
    CASE("every usual name of a spectral field, percent or fraction, any line end") {
        for (size_t i = 0; i < sizeof stems / sizeof *stems; i++) {
            const bool percent = i % 2;
            CHECK(read_as(file_of(head, stems[i], percent ? 100 : 1, i % 3 ? "\n" : "\r\n"),
                          SCALE_UNSAID) == OK);
            CHECK_TEXT(got.format, "CGATS");
            CHECK(got.n == 2 && got.scale == (percent ? SCALE_PERCENT : SCALE_FRACTION));
            CHECK_TEXT(got.samples[0].name, "Say \"blue\" # 1");
            CHECK_NEAR(got.samples[0].values.first_nm, 400, 1e-12);
            CHECK_NEAR(got.samples[0].values.step_nm, 10, 1e-12);
            CHECK(got.samples[0].values.values_n == 31);
            CHECK_NEAR(got.samples[0].values.values[10], 0.15, 1e-9);
            CHECK_NEAR(got.samples[0].grid.at[12], 0.15, 1e-9); /* 500 nm */
            CHECK_NEAR(got.samples[1].grid.at[0], 0.85, 1e-9);  /* the end value goes on */
        }
        CHECK(read_as(file_of("ISO28178\r", "SPECTRAL_NM", 1, "\r"), SCALE_UNSAID) == OK);
        CHECK(got.n == 2);
    }
    CASE("a gray of 20 % is Lab 51.84 0 0 under any light (CIE 15: L* = 116 Y^(1/3) - 16)") {
        struct text t = {0};
        text_print(&t, "nm,gray\r\n");
        for (int nm = 380; nm <= 730; nm += 5) text_print(&t, "%d,0.20\r\n", nm);
        CHECK(read_as(t.at, SCALE_UNSAID) == OK);
        const struct weights w = weights_make(&tables_builtin, OBSERVER_2, LIGHT_D50);
        struct lab c = lab_of_xyz(xyz_of_spectrum(&w, &got.samples[0].grid), w.white);
        CHECK_NEAR(c.l, 51.837, 0.001);
        CHECK(fabs(c.a) + fabs(c.b) < 1e-9);
        text_free(&t);
    }
    CASE("pairs of wavelength and value, in several tables") {
        struct text t = {0};
        text_print(&t, "CGATS.17\nBEGIN_DATA_FORMAT SAMPLE_ID");
        for (int i = 0; i < 16; i++) text_print(&t, " SPECTRAL_NM SPECTRAL_PCT");
        text_print(&t, " END_DATA_FORMAT\n");
        for (int table = 0; table < 2; table++) {
            text_print(&t, "BEGIN_DATA\nA%d", table);
            for (int i = 0; i < 16; i++) text_print(&t, " %d %d", 700 - 20 * i, 10 + i);
            text_print(&t, "\nEND_DATA\n");
        }
        CHECK(read_as(t.at, SCALE_UNSAID) == OK && got.n == 2);
        CHECK_TEXT(got.samples[1].name, "A1");
        CHECK_NEAR(got.samples[1].values.first_nm, 400, 0); /* falling wavelengths are turned */
        CHECK_NEAR(got.samples[1].values.values[0], 0.25, 1e-12);
        text_free(&t);
    }
    CASE("Lab without reflectance is a color alone; D65 is adapted where the file says so") {
        CHECK(read_as("CGATS.17\nBEGIN_DATA_FORMAT\nSAMPLE_ID LAB_L LAB_A LAB_B\nEND_DATA_FORMAT\n"
                      "BEGIN_DATA\nP1 50 10 -20\nEND_DATA\n",
                      SCALE_UNSAID) == OK);
        CHECK(got.n == 1 && got.samples[0].values.values_n == 0);
        CHECK_NEAR(got.samples[0].lab.b, -20, 1e-12);
        CHECK(read_as("CGATS.17\nWEIGHTING_FUNCTION \"ILLUMINANT, D65\"\nBEGIN_DATA_FORMAT\n"
                      "SAMPLE_ID LAB_L LAB_A LAB_B\nEND_DATA_FORMAT\nBEGIN_DATA\n"
                      "P1 50 10 -20\nEND_DATA\n",
                      SCALE_UNSAID) == OK);
        CHECK(fabs(got.samples[0].lab.b + 20) > 0.1);
    }
    CASE("what is wrong is named by its line and field") {
        char *text = strdup(file_of(head, "SPEC_", 1, "\n"));
        char *value = strstr(text, "0.1500");
        memcpy(value, "0,1500", 6);
        CHECK(read_as(text, SCALE_UNSAID) == E_SYNTAX);
        CHECK_TEXT(why.field, "/lines/12");
        CHECK(strstr(why.text, "SPEC_500") && strstr(why.text, "0,1500"));
        memcpy(value, "1.7000", 6);
        CHECK(read_as(text, SCALE_UNSAID) == E_DOMAIN);
        CHECK(strstr(why.text, "500 nm") && strstr(why.text, "blue"));
        memcpy(value, "      ", 6); /* one value short */
        CHECK(read_as(text, SCALE_UNSAID) == E_SYNTAX);
        memcpy(strstr(text, "END_DATA\n"), "        \n", 9);
        CHECK(read_as(text, SCALE_UNSAID) == E_SYNTAX && strstr(why.text, "END_DATA"));
        free(text);
        CHECK(read_as("CGATS.17\nBEGIN_DATA\n1 2\nEND_DATA\n", SCALE_UNSAID) == E_SYNTAX);
        CHECK(
            read_as("CGATS.17\nNUMBER_OF_SETS 2\nBEGIN_DATA_FORMAT\nnm400 nm410\nEND_DATA_FORMAT\n"
                    "BEGIN_DATA\n1 2\nEND_DATA\n",
                    SCALE_UNSAID) == E_SYNTAX &&
            strstr(why.text, "NUMBER_OF_SETS"));
        CHECK(read_as("CGATS.17\nBEGIN_DATA_FORMAT\nRGB_R RGB_G\nEND_DATA_FORMAT\nBEGIN_DATA\n1 2\n"
                      "END_DATA\n",
                      SCALE_UNSAID) == E_MISSING &&
              strstr(why.text, "SPECTRAL_NM400"));
        CHECK(read_as("CGATS.17\nORIGINATOR \"open\nBEGIN_DATA\n", SCALE_UNSAID) == E_SYNTAX);
        CHECK_TEXT(why.field, "/lines/2");
    }
}

static void csv(void) {
    struct text rows = {0}, columns = {0};
    text_print(&rows, "\xef\xbb\xbf"
                      "name");
    for (int nm = 400; nm <= 700; nm += 20) text_print(&rows, ";%d nm", nm);
    text_print(&rows, "\r\n\"Sea; blue\"");
    for (int nm = 400; nm <= 700; nm += 20) text_print(&rows, ";%d", 20);
    text_print(&rows, "\r\n");
    text_print(&columns, "# read by hand\nwavelength\twhite\tdark\n");
    for (int nm = 400; nm <= 700; nm += 10) text_print(&columns, "%d\t0.9\t0.04\n", nm);
    CASE("a row a sample, a row a wavelength") {
        CHECK(read_as(rows.at, SCALE_UNSAID) == OK && got.n == 1);
        CHECK_TEXT(got.format, "CSV");
        CHECK_TEXT(got.samples[0].name, "Sea; blue");
        CHECK(got.scale == SCALE_PERCENT && got.samples[0].values.step_nm == 20);
        CHECK_NEAR(got.samples[0].grid.at[5], 0.2, 1e-12);
        CHECK(read_as(columns.at, SCALE_UNSAID) == OK && got.n == 2);
        CHECK_TEXT(got.samples[1].name, "dark");
        CHECK_NEAR(got.samples[1].grid.at[20], 0.04, 1e-12);
    }
    CASE("wavelengths may say nm where no line names the columns") {
        struct text bare = {0};
        for (int nm = 400; nm <= 700; nm += 20)
            text_print(&bare, "%dnm,0.1,%d.5e-2\n", nm, nm / 20);
        CHECK(read_as(bare.at, SCALE_UNSAID) == OK && got.n == 2);
        CHECK_TEXT(got.samples[1].name, "2");
        CHECK_NEAR(got.samples[1].values.values[0], 0.205, 1e-12);
        CHECK(read_as("400nm,0.1\n", SCALE_UNSAID) == E_DOMAIN); /* one value is no spectrum */
        text_free(&bare);
    }
    CASE("a scale that is said wins over the guess") {
        CHECK(read_as(columns.at, SCALE_PERCENT) == OK);
        CHECK_NEAR(got.samples[0].grid.at[20], 0.009, 1e-12);
        CHECK(read_as(rows.at, SCALE_FRACTION) == E_DOMAIN);
    }
    CASE("three points are no spectrum; uneven, doubled and missing ones are named") {
        CHECK(read_as("nm,r\n450,0.1\n550,0.2\n650,0.3\n", SCALE_UNSAID) == E_DOMAIN);
        CHECK(read_as("nm,r\n400,0.1\n410,0.2\n420,0.3\n", SCALE_UNSAID) == E_MISSING);
        CHECK(strstr(why.text, "3 values"));
        CHECK(read_as("nm,r\n400,0.1\n410,0.2\n410,0.3\n", SCALE_UNSAID) == E_DUPLICATE);
        CHECK(read_as("nm,r\n400,0.1\n410,0.2\n500,0.3\n", SCALE_UNSAID) == E_DOMAIN);
        CHECK(strstr(why.text, "evenly"));
        CHECK(read_as("nm,r\n400,0.1\n410\n", SCALE_UNSAID) == E_SYNTAX);
        CHECK_TEXT(why.field, "/lines/3");
        CHECK(read_as("", SCALE_UNSAID) == E_MISSING);
        CHECK(read_as("hello\nworld\n", SCALE_UNSAID) == E_SYNTAX);
        CHECK(read_as("nm,\"r\n", SCALE_UNSAID) == E_SYNTAX);
        CHECK(read_as("nm,r\n400,inf\n", SCALE_UNSAID) == E_SYNTAX);
    }
    text_free(&rows);
    text_free(&columns);
}

/* ---- charts: a color alone a patch ---- */

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

static void charts(void) {
    CASE("names, colors, length of a row") {
        CHECK(read_as(chart, SCALE_UNSAID) == OK);
        CHECK(got.n == 3 && got.in_row == 2);
        CHECK_TEXT(got.samples[0].name, "dark skin");
        CHECK_NEAR(got.samples[1].lab.a, -4.3, 1e-12);
    }
    CASE("the same as Little CMS reads") {
#ifdef HAVE_LCMS2
        cmsHANDLE it = cmsIT8LoadFromMem(NULL, chart, sizeof chart - 1);
        char id[8];
        CHECK(it != NULL && read_as(chart, SCALE_UNSAID) == OK);
        for (int i = 0; it && i < 3; i++) {
            snprintf(id, sizeof id, "%d", i + 1);
            CHECK_NEAR(got.samples[i].lab.l, cmsIT8GetDataDbl(it, id, "LAB_L"), 1e-9);
            CHECK_NEAR(got.samples[i].lab.a, cmsIT8GetDataDbl(it, id, "LAB_A"), 1e-9);
            CHECK_NEAR(got.samples[i].lab.b, cmsIT8GetDataDbl(it, id, "LAB_B"), 1e-9);
        }
        if (it) cmsIT8Free(it);
#else
        SKIP("liblcms2-dev is missing");
#endif
    }
    CASE("XYZ of D50, names from numbers") {
        CHECK(read_as("BEGIN_DATA_FORMAT XYZ_X XYZ_Y XYZ_Z END_DATA_FORMAT BEGIN_DATA 96.42 100 "
                      "82.51 48.21 50 41.255 END_DATA",
                      SCALE_UNSAID) == OK);
        CHECK(got.n == 2 && got.in_row == INT64_MIN);
        CHECK_NEAR(got.samples[0].lab.l, 100, 0.01);
        CHECK_NEAR(got.samples[1].lab.l, 76.069, 0.01); /* L* of Y 50 (CIE 15) */
        CHECK_TEXT(got.samples[1].name, "2");
    }
    CASE("what is missing in a chart is said") {
        CHECK(read_as("BEGIN_DATA_FORMAT LAB_L LAB_A", SCALE_UNSAID) == E_SYNTAX);
        CHECK(read_as("BEGIN_DATA_FORMAT LAB_L LAB_A LAB_B END_DATA_FORMAT\nBEGIN_DATA\n50 x "
                      "0\nEND_DATA",
                      SCALE_UNSAID) == E_SYNTAX &&
              strstr(why.text, "Line 3") && strstr(why.text, "LAB_A"));
        CHECK(
            read_as("BEGIN_DATA_FORMAT LAB_L LAB_A LAB_B END_DATA_FORMAT BEGIN_DATA 50 0 END_DATA",
                    SCALE_UNSAID) == E_SYNTAX &&
            strstr(why.text, "LAB_B is the first that is missing"));
        CHECK(read_as("BEGIN_DATA_FORMAT LAB_L LAB_A LAB_B END_DATA_FORMAT BEGIN_DATA END_DATA",
                      SCALE_UNSAID) == E_MISSING);
        CHECK(read_as("BEGIN_DATA_FORMAT LAB_L LAB_A LAB_B END_DATA_FORMAT BEGIN_DATA 150 0 0 "
                      "END_DATA",
                      SCALE_UNSAID) == E_DOMAIN);
    }
}

int main(void) {
    arena_init(&arena, alloc_heap(), 0);
    cgats();
    csv();
    charts();
    CASE("the output is untouched where memory runs out") {
        const char *text = file_of("CGATS.17\n", "SPEC_", 1, "\n");
        for (size_t bytes = 256; bytes < 40000; bytes += 3000) {
            struct arena tight;
            struct spectrum_text out = {.n = 7};
            arena_init(&tight, alloc_heap(), bytes);
            enum status s =
                spectrum_text_read(text, strlen(text), SCALE_UNSAID, &tight, &out, NULL);
            CHECK(s == OK ? out.n == 2 : s == E_MEMORY && out.n == 7);
            arena_free(&tight);
        }
    }
    arena_free(&arena);
    return check_done();
}
