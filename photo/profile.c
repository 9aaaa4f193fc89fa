#include "photo/profile.h"

#include <lcms2.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

struct profile {
    cmsHTRANSFORM linear, show;
    bool gray;
    int bits;
    /* Nearly all profiles are a curve a channel and a matrix, so that what the channels give alone
     * adds up: then 8 bits are three tables, twenty times as fast. */
    bool additive;
    float table[3][256][3];
    char name[64];
};

static const cmsCIExyYTRIPLE p3_primaries = {{.680, .320, 1}, {.265, .690, 1}, {.150, .060, 1}},
                             wide_primaries = {{.64, .33, 1}, {.21, .71, 1}, {.15, .06, 1}};
static const cmsCIExyY d65 = {.3127, .3290, 1};

static cmsHPROFILE rgb_profile(const cmsCIExyY *white, const cmsCIExyYTRIPLE *primaries,
                               cmsToneCurve *curve) {
    cmsToneCurve *three[3] = {curve, curve, curve};
    cmsHPROFILE p = curve ? cmsCreateRGBProfile(white, primaries, three) : NULL;
    cmsFreeToneCurve(curve);
    return p;
}

/* IEC 61966-2-1 as a curve of type 4 of ICC.1 */
static cmsToneCurve *srgb_curve(void) {
    static const double p[5] = {2.4, 1 / 1.055, .055 / 1.055, 1 / 12.92, .04045};
    return cmsBuildParametricToneCurve(NULL, 4, p);
}

static cmsHPROFILE source(const struct raster_head *h, struct profile *p) {
    if (h->icc) return cmsOpenProfileFromMem(h->icc, (cmsUInt32Number)h->icc_n);
    switch (h->space) {
    case SPACE_UNSAID: strcpy(p->name, "sRGB (not said)"); break;
    case SPACE_SRGB: strcpy(p->name, "sRGB"); break;
    case SPACE_WIDE:
        strcpy(p->name, "wide RGB of DCF");
        return rgb_profile(&d65, &wide_primaries, cmsBuildGamma(NULL, 563.0 / 256));
    case SPACE_GIVEN: {
        cmsCIExyY white = {h->xy[6], h->xy[7], 1};
        cmsCIExyYTRIPLE primaries = {
            {h->xy[0], h->xy[1], 1}, {h->xy[2], h->xy[3], 1}, {h->xy[4], h->xy[5], 1}};
        strcpy(p->name, "said by primaries");
        return rgb_profile(&white, &primaries,
                           h->gamma > 0 ? cmsBuildGamma(NULL, h->gamma) : srgb_curve());
    }
    }
    return cmsCreate_sRGBProfile();
}

/* The profile's own name, its control and other signs left out. */
static void take_name(cmsHPROFILE from, struct profile *p) {
    char name[64] = "";
    size_t n = 0;
    if (p->name[0]) return;
    cmsGetProfileInfoASCII(from, cmsInfoDescription, "en", "US", name, sizeof name);
    name[sizeof name - 1] = 0;
    for (size_t i = 0; name[i]; i++)
        if (name[i] >= 0x20 && name[i] < 0x7f) p->name[n++] = name[i];
    p->name[n] = 0;
    if (!n) strcpy(p->name, "a profile without a name");
}

static enum status transforms(cmsHPROFILE from, struct profile *p, struct why *why) {
    const cmsUInt32Number exact = cmsFLAGS_NOOPTIMIZE | cmsFLAGS_NOCACHE;
    cmsHPROFILE linear = rgb_profile(&d65, &p3_primaries, cmsBuildGamma(NULL, 1)),
                screen = cmsCreate_sRGBProfile();
    p->linear = cmsCreateTransform(from, p->gray ? TYPE_GRAY_FLT : TYPE_RGB_FLT, linear,
                                   TYPE_RGB_FLT, INTENT_RELATIVE_COLORIMETRIC, exact);
    p->show = cmsCreateTransform(from, p->gray ? TYPE_GRAY_8 : TYPE_RGB_8, screen, TYPE_RGB_8,
                                 INTENT_RELATIVE_COLORIMETRIC, 0);
    cmsCloseProfile(linear);
    cmsCloseProfile(screen);
    if (p->linear && p->show) return OK;
    return why_say(why, E_SYNTAX, "/photo",
                   "The picture's color profile cannot be used. Save the picture as sRGB.");
}

static void convert(const struct profile *p, float r, float g, float b, float out[3]) {
    const float in[3] = {r, g, b};
    cmsDoTransform(p->linear, in, out, 1);
}

/* Fills the tables and looks whether they say the same as the transform. */
static bool tabulate(struct profile *p) {
    float none[3], full[3];
    uint32_t seed = 1;
    if (p->gray || p->bits != 8) return false;
    convert(p, 0, 0, 0, none);
    for (int v = 0; v < 256; v++)
        for (int c = 0; c < 3; c++) {
            float x = (float)v / 255, *t = p->table[c][v];
            convert(p, c == 0 ? x : 0, c == 1 ? x : 0, c == 2 ? x : 0, t);
            for (int k = 0; c > 0 && k < 3; k++) t[k] -= none[k];
        }
    for (int i = 0; i < 500; i++) {
        int v[3];
        for (int c = 0; c < 3; c++) {
            seed = seed * 1664525 + 1013904223;
            v[c] = (int)(seed >> 24);
        }
        convert(p, (float)v[0] / 255, (float)v[1] / 255, (float)v[2] / 255, full);
        for (int k = 0; k < 3; k++) {
            float sum = p->table[0][v[0]][k] + p->table[1][v[1]][k] + p->table[2][v[2]][k];
            if (!(fabsf(sum - full[k]) < 2e-6f)) return false;
        }
    }
    return true;
}

enum status profile_make(const struct raster_head *head, struct profile **out_profile,
                         struct why *why) {
    struct profile *p = calloc(1, sizeof *p);
    if (!p) return why_say(why, E_MEMORY, "/photo", "There is not enough memory.");
    p->bits = head->bits;
    cmsHPROFILE from = source(head, p);
    cmsColorSpaceSignature space = from ? cmsGetColorSpace(from) : cmsSigRgbData;
    enum status s = OK;
    if (!from)
        s = why_say(why, E_SYNTAX, "/photo",
                    "The color profile inside the picture is broken. Save the picture as sRGB.");
    else if (space != cmsSigRgbData && space != cmsSigGrayData)
        s = why_say(why, E_DOMAIN, "/photo",
                    "The color profile inside the picture is not for RGB. Save it as sRGB.");
    if (!s) {
        p->gray = space == cmsSigGrayData;
        take_name(from, p);
        s = transforms(from, p, why);
    }
    if (!s) p->additive = tabulate(p);
    if (from) cmsCloseProfile(from);
    if (s)
        profile_free(p);
    else
        *out_profile = p;
    return s;
}

void profile_free(struct profile *p) {
    if (!p) return;
    if (p->linear) cmsDeleteTransform(p->linear);
    if (p->show) cmsDeleteTransform(p->show);
    free(p);
}

enum { RUN = 256 };

static float value(const struct profile *p, const void *rgb, size_t i) {
    return p->bits == 16 ? (float)((const uint16_t *)rgb)[i] / 65535.0f
                         : (float)((const uint8_t *)rgb)[i] / 255.0f;
}

void profile_linear(const struct profile *p, const void *rgb, size_t n, float *out_rgb) {
    float in[RUN * 3];
    const uint8_t *narrow = rgb;
    for (size_t i = 0; p->additive && i < n; i++)
        for (size_t k = 0; k < 3; k++)
            out_rgb[3 * i + k] = p->table[0][narrow[3 * i]][k] + p->table[1][narrow[3 * i + 1]][k] +
                                 p->table[2][narrow[3 * i + 2]][k];
    for (size_t from = p->additive ? n : 0; from < n; from += RUN) {
        size_t k = n - from < RUN ? n - from : RUN;
        for (size_t i = 0; i < (p->gray ? k : 3 * k); i++)
            in[i] = value(p, rgb, p->gray ? 3 * (from + i) : 3 * from + i);
        cmsDoTransform(p->linear, in, out_rgb + 3 * from, (cmsUInt32Number)k);
    }
}

void profile_show(const struct profile *p, const uint8_t *rgb, size_t n, uint8_t *out_rgb) {
    uint8_t in[RUN];
    if (!p->gray) {
        cmsDoTransform(p->show, rgb, out_rgb, (cmsUInt32Number)n);
        return;
    }
    for (size_t from = 0; from < n; from += RUN) {
        size_t k = n - from < RUN ? n - from : RUN;
        for (size_t i = 0; i < k; i++) in[i] = rgb[3 * (from + i)];
        cmsDoTransform(p->show, in, out_rgb + 3 * from, (cmsUInt32Number)k);
    }
}

const char *profile_name(const struct profile *p) {
    return p->name;
}
