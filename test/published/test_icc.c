/* Color profiles inside pictures, against the converter that comes with Little CMS (transicc of
 * Debian's liblcms2-utils): relative colorimetric, no black point compensation, to linear P3. */
#include "photo/profile.h"
#include "test/check.h"
#include "test/photo/made.h"

#include <stdlib.h>
#include <unistd.h>

enum { COLORS = 200 };

static bool save(const char *path, const void *p, size_t n) {
    FILE *f = fopen(path, "wb");
    bool good = f && fwrite(p, 1, n, f) == n;
    return f && !fclose(f) && good;
}

/* The worst difference of a channel, of 1; NAN where the tool did not answer. */
static double worst(const char *dir, const void *icc, size_t icc_n) {
    static uint8_t rgb[COLORS * 3];
    static float ours[COLORS * 3];
    char from[200], to[200], in[200], command[1000];
    size_t n;
    uint8_t *linear = made_profile_p3_linear(&n);
    snprintf(from, sizeof from, "%s/from.icc", dir);
    snprintf(to, sizeof to, "%s/to.icc", dir);
    snprintf(in, sizeof in, "%s/in", dir);
    bool good = save(to, linear, n) && (!icc || save(from, icc, icc_n));
    free(linear);
    FILE *f = fopen(in, "w");
    uint32_t seed = 3;
    for (int i = 0; i < COLORS * 3; i++) {
        seed = seed * 1664525 + 1013904223;
        rgb[i] = (uint8_t)(i < 3 ? 0 : i < 6 ? 255 : seed >> 24);
        fprintf(f, i % 3 == 2 ? "%d\n" : "%d ", rgb[i]);
    }
    fclose(f);
    struct raster_head head = {.bits = 8, .icc = icc, .icc_n = icc_n};
    struct profile *profile = NULL;
    good = good && profile_make(&head, &profile, NULL) == OK;
    if (!good) return (double)NAN;
    profile_linear(profile, rgb, COLORS, ours);
    profile_free(profile);
    snprintf(command, sizeof command, "transicc -n -c0 -t1 -i%s -o%s <%s 2>/dev/null",
             icc ? from : "*sRGB", to, in);
    FILE *tool = popen(command, "r");
    double most = 0, v;
    int k = 0;
    for (; k < COLORS * 3 && fscanf(tool, "%lf", &v) == 1; k++)
        most = fmax(most, fabs(v / 255 - (double)ours[k]));
    pclose(tool);
    return k == COLORS * 3 ? most : (double)NAN;
}

static void against_tool(const char *dir) {
    size_t n;
    /* ours is not rounded to the file's s15Fixed16 numbers (1.5e-5), the tool's profile is */
    const double rounding = 3e-5;
    CASE("no profile is sRGB") CHECK_NEAR(worst(dir, NULL, 0), 0, rounding);
    CASE("Display P3") {
        uint8_t *icc = made_profile_p3(&n);
        CHECK_NEAR(worst(dir, icc, n), 0, rounding);
        free(icc);
    }
    CASE("other primaries and one power") {
        uint8_t *icc = made_profile_gamma(1.8, &n);
        CHECK_NEAR(worst(dir, icc, n), 0, rounding);
        free(icc);
    }
    CASE("curves as tables") {
        uint8_t *icc = made_profile_table(&n);
        CHECK_NEAR(worst(dir, icc, n), 0, rounding);
        free(icc);
    }
    CASE("a grid of colors whose channels mix") {
        uint8_t *icc = made_profile_grid(&n);
        CHECK_NEAR(worst(dir, icc, n), 0, rounding);
        free(icc);
    }
    static const char *const others[] = {"a98", "rommrgb", "esrgb"};
    for (int i = 0; i < 3; i++) {
        char path[100];
        static uint8_t icc[100000];
        snprintf(path, sizeof path, "/usr/share/color/icc/ghostscript/%s.icc", others[i]);
        CASE(others[i]) {
            FILE *f = fopen(path, "rb");
            n = f ? fread(icc, 1, sizeof icc, f) : 0;
            if (f) fclose(f);
            if (n)
                CHECK_NEAR(worst(dir, icc, n), 0, rounding);
            else
                SKIP("the profile is not on this machine (libgs-common)");
        }
    }
}

int main(void) {
    char dir[] = "/tmp/coatwright-icc-XXXXXX", command[100];
    if (!mkdtemp(dir)) return 1;
    if (system("command -v transicc >/dev/null")) {
        CASE("profiles against transicc") SKIP("it is not installed (liblcms2-utils)");
    } else {
        against_tool(dir);
    }
    snprintf(command, sizeof command, "rm -rf %s", dir);
    if (system(command)) puts("the folder of this test is still there");
    return check_done();
}
