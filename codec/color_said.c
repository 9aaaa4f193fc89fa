#include "codec/color_said.h"

#include <math.h>
#include <stdbool.h>
#include <stdio.h>
#include <string.h>

/* Until the color text parser is joined in: #rrggbb and lab(L a b) alone. sRGB (IEC 61966-2-1) to
 * CIE XYZ D50 by the Bradford-adapted matrix of CSS Color 4, section 17, and CIE Lab. */
static const double d50[3] = {0.9642956764295677, 1, 0.8251046025104602};

static double linear(double c) {
    return c <= 0.04045 ? c / 12.92 : pow((c + 0.055) / 1.055, 2.4);
}
static double coded(double c) {
    return c <= 0.0031308 ? c * 12.92 : 1.055 * pow(c, 1 / 2.4) - 0.055;
}
static double root(double t) {
    return t > 216. / 24389 ? cbrt(t) : (24389. / 27 * t + 16) / 116;
}
static double cube(double f) {
    return f > 6. / 29 ? f * f * f : (116 * f - 16) * 27 / 24389;
}

enum status color_said_read(const char *text, struct arena *arena, struct color_said *out,
                            struct why *why) {
    static const double m[3][3] = {{0.4360657468, 0.3851515095, 0.1430784154},
                                   {0.2224931956, 0.7168870131, 0.0606169931},
                                   {0.0139239044, 0.0970813239, 0.7140993585}};
    unsigned r, g, b;
    double lab[3];
    int end = 0;
    if (sscanf(text, "lab(%lf %lf %lf)%n", &lab[0], &lab[1], &lab[2], &end) == 3 && end &&
        !text[end]) {
        if (!(lab[0] >= 0 && lab[0] <= 100 && fabs(lab[1]) <= 200 && fabs(lab[2]) <= 200))
            return why_say(why, E_DOMAIN, "",
                           "\"%.40s\" is no color: L is 0 to 100, a and b -200 to 200.", text);
    } else if (strlen(text) == 7 && sscanf(text, "#%2x%2x%2x%n", &r, &g, &b, &end) == 3 &&
               end == 7) {
        double rgb[3] = {linear(r / 255.), linear(g / 255.), linear(b / 255.)}, f[3];
        for (int i = 0; i < 3; i++)
            f[i] = root((m[i][0] * rgb[0] + m[i][1] * rgb[1] + m[i][2] * rgb[2]) / d50[i]);
        lab[0] = 116 * f[1] - 16;
        lab[1] = 500 * (f[0] - f[1]);
        lab[2] = 200 * (f[1] - f[2]);
    } else {
        return why_say(why, E_SYNTAX, "",
                       "\"%.40s\" is not a color I can read. Write #1f4e5a or lab(40 -12 "
                       "-9).",
                       text);
    }
    const char *copy = arena_text(arena, text);
    if (!copy) return why_say(why, E_MEMORY, "", "There is not enough memory.");
    *out = (struct color_said){copy, {lab[0], lab[1], lab[2]}};
    return OK;
}

bool color_said_hex(const struct color_said *c, char out[8]) {
    static const double m[3][3] = {{3.1341359569, -1.6173863321, -0.4906619460},
                                   {-0.9787954765, 1.9162543773, 0.0334427312},
                                   {0.0719553484, -0.2289768166, 1.4053860577}};
    double fy = (c->lab[0] + 16) / 116, xyz[3];
    if (!isfinite(c->lab[0]) || !isfinite(c->lab[1]) || !isfinite(c->lab[2])) return false;
    xyz[0] = cube(fy + c->lab[1] / 500) * d50[0];
    xyz[1] = cube(fy) * d50[1];
    xyz[2] = cube(fy - c->lab[2] / 200) * d50[2];
    unsigned v[3];
    for (int i = 0; i < 3; i++) {
        double x = coded(m[i][0] * xyz[0] + m[i][1] * xyz[1] + m[i][2] * xyz[2]);
        v[i] = (unsigned)lround(255 * fmin(1, fmax(0, x)));
    }
    snprintf(out, 8, "#%02x%02x%02x", v[0] & 255, v[1] & 255, v[2] & 255);
    return true;
}
