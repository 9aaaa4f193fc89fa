#include "core/color/color.h"

#include <math.h>

static const double RAD = 0.017453292519943295;

const struct xyz XYZ_D50 = {0.3457 / 0.3585, 1, (1 - 0.3457 - 0.3585) / 0.3585};
const struct xyz XYZ_D65 = {0.3127 / 0.3290, 1, (1 - 0.3127 - 0.3290) / 0.3290};

static struct xyz multiply(const double m[3][3], double x, double y, double z) {
    return (struct xyz){m[0][0] * x + m[0][1] * y + m[0][2] * z,
                        m[1][0] * x + m[1][1] * y + m[1][2] * z,
                        m[2][0] * x + m[2][1] * y + m[2][2] * z};
}

/* ---- Lab ---- */

/* CIE 15: cube root above (6/29)^3, straight line below; the exact rational form. */
static const double EPSILON = 216.0 / 24389, KAPPA = 24389.0 / 27;

static double lab_curve(double t) {
    return t > EPSILON ? cbrt(t) : (KAPPA * t + 16) / 116;
}

static double lab_uncurve(double f) {
    double cube = f * f * f;
    return cube > EPSILON ? cube : (116 * f - 16) / KAPPA;
}

struct lab lab_of_xyz(struct xyz c, struct xyz white) {
    double x = lab_curve(c.x / white.x), y = lab_curve(c.y / white.y), z = lab_curve(c.z / white.z);
    return (struct lab){116 * y - 16, 500 * (x - y), 200 * (y - z)};
}

struct xyz xyz_of_lab(struct lab c, struct xyz white) {
    double y = (c.l + 16) / 116, x = y + c.a / 500, z = y - c.b / 200;
    return (struct xyz){lab_uncurve(x) * white.x, lab_uncurve(y) * white.y,
                        lab_uncurve(z) * white.z};
}

struct lch lch_of_lab(struct lab c) {
    double h = c.a == 0 && c.b == 0 ? 0 : atan2(c.b, c.a) / RAD;
    return (struct lch){c.l, hypot(c.a, c.b), h < 0 ? h + 360 : h};
}

struct lab lab_of_lch(struct lch c) {
    return (struct lab){c.l, c.c * cos(c.h * RAD), c.c * sin(c.h * RAD)};
}

/* ---- adaptation ---- */

struct xyz xyz_d50_of_d65(struct xyz c) {
    static const double m[3][3] = {
        {1.0479297925449969, 0.022946870601609652, -0.05019226628920524},
        {0.02962780877005599, 0.9904344267538799, -0.017073799063418826},
        {-0.009243040646204504, 0.015055191490298152, 0.7518742814281371}};
    return multiply(m, c.x, c.y, c.z);
}

struct xyz xyz_d65_of_d50(struct xyz c) {
    static const double m[3][3] = {
        {0.955473421488075, -0.02309845494876471, 0.06325924320057072},
        {-0.0283697093338637, 1.0099953980813041, 0.021041441191917323},
        {0.012314014864481998, -0.020507649298898964, 1.330365926242124}};
    return multiply(m, c.x, c.y, c.z);
}

struct xyz xyz_adapt(struct xyz c, struct xyz from_white, struct xyz to_white) {
    static const double cone[3][3] = {
        {0.8951, 0.2664, -0.1614}, {-0.7502, 1.7135, 0.0367}, {0.0389, -0.0685, 1.0296}};
    /* inverse of the above */
    static const double back[3][3] = {
        {0.9869929054667123, -0.14705425642099013, 0.15996265166373122},
        {0.43230526972339456, 0.5183602715367776, 0.0492912282128556},
        {-0.008528664575177328, 0.04004282165408487, 0.9684866957875502}};
    struct xyz a = multiply(cone, c.x, c.y, c.z);
    struct xyz f = multiply(cone, from_white.x, from_white.y, from_white.z);
    struct xyz t = multiply(cone, to_white.x, to_white.y, to_white.z);
    return multiply(back, a.x * t.x / f.x, a.y * t.y / f.y, a.z * t.z / f.z);
}

struct lab lab_d65_of_d50(struct lab c) {
    return lab_of_xyz(xyz_d65_of_d50(xyz_of_lab(c, XYZ_D50)), XYZ_D65);
}

struct lab lab_d50_of_d65(struct lab c) {
    return lab_of_xyz(xyz_d50_of_d65(xyz_of_lab(c, XYZ_D65)), XYZ_D50);
}

/* ---- OkLab ---- */

struct oklab oklab_of_xyz_d65(struct xyz c) {
    static const double lms[3][3] = {{0.8190224379967030, 0.3619062600528904, -0.1288737815209879},
                                     {0.0329836539323885, 0.9292868615863434, 0.0361446663506424},
                                     {0.0481771893596242, 0.2642395317527308, 0.6335478284694309}};
    static const double ok[3][3] = {{0.2104542683093140, 0.7936177747023054, -0.0040720430116193},
                                    {1.9779985324311684, -2.4285922420485799, 0.4505937096174110},
                                    {0.0259040424655478, 0.7827717124575296, -0.8086757549230774}};
    struct xyz v = multiply(lms, c.x, c.y, c.z);
    v = multiply(ok, cbrt(v.x), cbrt(v.y), cbrt(v.z));
    return (struct oklab){v.x, v.y, v.z};
}

struct xyz xyz_d65_of_oklab(struct oklab c) {
    static const double lms[3][3] = {{1, 0.3963377773761749, 0.2158037573099136},
                                     {1, -0.1055613458156586, -0.0638541728258133},
                                     {1, -0.0894841775298119, -1.2914855480194092}};
    static const double xyz[3][3] = {
        {1.2268798758459243, -0.5578149944602171, 0.2813910456659647},
        {-0.0405757452148008, 1.1122868032803170, -0.0717110580655164},
        {-0.0763729366746601, -0.4214933324022432, 1.5869240198367816}};
    struct xyz v = multiply(lms, c.l, c.a, c.b);
    return multiply(xyz, v.x * v.x * v.x, v.y * v.y * v.y, v.z * v.z * v.z);
}

struct lch oklch_of_oklab(struct oklab c) {
    return lch_of_lab((struct lab){c.l, c.a, c.b});
}

struct oklab oklab_of_oklch(struct lch c) {
    struct lab v = lab_of_lch(c);
    return (struct oklab){v.l, v.a, v.b};
}

/* ---- RGB ---- */

static double encode(double v) {
    double m = fabs(v);
    return copysign(m > 0.0031308 ? 1.055 * pow(m, 1 / 2.4) - 0.055 : 12.92 * m, v);
}

static double decode(double v) {
    double m = fabs(v);
    return copysign(m > 0.04045 ? pow((m + 0.055) / 1.055, 2.4) : m / 12.92, v);
}

struct rgb rgb_encode(struct rgb c) {
    return (struct rgb){encode(c.r), encode(c.g), encode(c.b)};
}
struct rgb rgb_decode(struct rgb c) {
    return (struct rgb){decode(c.r), decode(c.g), decode(c.b)};
}

/* Exact rationals of CSS Color 4, made from the primaries and the white (.3127, .3290). */
struct xyz xyz_d65_of_rgb(enum rgb_space space, struct rgb c) {
    static const double m[2][3][3] = {{{506752.0 / 1228815, 87881.0 / 245763, 12673.0 / 70218},
                                       {87098.0 / 409605, 175762.0 / 245763, 12673.0 / 175545},
                                       {7918.0 / 409605, 87881.0 / 737289, 1001167.0 / 1053270}},
                                      {{608311.0 / 1250200, 189793.0 / 714400, 198249.0 / 1000160},
                                       {35783.0 / 156275, 247089.0 / 357200, 198249.0 / 2500400},
                                       {0, 32229.0 / 714400, 5220557.0 / 5000800}}};
    return multiply(m[space], c.r, c.g, c.b);
}

struct rgb rgb_of_xyz_d65(enum rgb_space space, struct xyz c) {
    static const double m[2][3][3] = {{{12831.0 / 3959, -329.0 / 214, -1974.0 / 3959},
                                       {-851781.0 / 878810, 1648619.0 / 878810, 36519.0 / 878810},
                                       {705.0 / 12673, -2585.0 / 12673, 705.0 / 667}},
                                      {{446124.0 / 178915, -333277.0 / 357830, -72051.0 / 178915},
                                       {-14852.0 / 17905, 63121.0 / 35810, 423.0 / 17905},
                                       {11844.0 / 330415, -50337.0 / 660830, 316169.0 / 330415}}};
    struct xyz v = multiply(m[space], c.x, c.y, c.z);
    return (struct rgb){v.x, v.y, v.z};
}

struct lab lab_of_srgb(struct rgb encoded) {
    return lab_of_xyz(xyz_d50_of_d65(xyz_d65_of_rgb(RGB_SRGB, rgb_decode(encoded))), XYZ_D50);
}

/* ---- showing on a screen ---- */

static double clip(double v) {
    return fmin(fmax(v, 0), 1);
}

static bool inside(struct rgb c) {
    const double slack = 1e-6; /* rounding of the matrices, far below one step of 16 bits */
    return fmin(c.r, fmin(c.g, c.b)) >= -slack && fmax(c.r, fmax(c.g, c.b)) <= 1 + slack;
}

static double oklab_distance(struct oklab p, struct oklab q) {
    return hypot(hypot(p.l - q.l, p.a - q.a), p.b - q.b);
}

struct rgb rgb_show(enum rgb_space space, struct lab d50, bool *out_mapped) {
    struct xyz xyz = xyz_d65_of_d50(xyz_of_lab(d50, XYZ_D50));
    struct rgb linear = rgb_of_xyz_d65(space, xyz), shown = linear;
    bool mapped = !inside(linear);
    struct lch c = oklch_of_oklab(oklab_of_xyz_d65(xyz));
    if (mapped && c.l >= 1)
        shown = (struct rgb){1, 1, 1};
    else if (mapped && c.l <= 0)
        shown = (struct rgb){0, 0, 0};
    else if (mapped) {
        /* the largest chroma whose clipped color cannot be told from it */
        double lo = 0, hi = c.c;
        for (int i = 0; i < 40; i++) {
            struct lch t = {c.l, i ? (lo + hi) / 2 : c.c, c.h};
            struct oklab ok = oklab_of_oklch(t);
            shown = rgb_of_xyz_d65(space, xyz_d65_of_oklab(ok));
            struct rgb cut = {clip(shown.r), clip(shown.g), clip(shown.b)};
            double off = oklab_distance(ok, oklab_of_xyz_d65(xyz_d65_of_rgb(space, cut)));
            if (off < 0.02)
                lo = t.c;
            else
                hi = t.c;
            if (lo >= hi) break;
            shown = cut;
        }
    }
    if (out_mapped) *out_mapped = mapped;
    shown = rgb_encode((struct rgb){clip(shown.r), clip(shown.g), clip(shown.b)});
    return (struct rgb){clip(shown.r), clip(shown.g), clip(shown.b)};
}
