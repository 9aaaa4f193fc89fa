#include "core/color/rgb_wide.h"

#include <math.h>

static struct xyz multiply(const double m[3][3], const double v[3]) {
    double out[3];
    for (int i = 0; i < 3; i++) out[i] = m[i][0] * v[0] + m[i][1] * v[1] + m[i][2] * v[2];
    return (struct xyz){out[0], out[1], out[2]};
}

static double a98(double v) {
    return copysign(pow(fabs(v), 563.0 / 256), v);
}

static double rec2020(double v) {
    const double alpha = 1.09929682680944, beta = 0.018053968510807, m = fabs(v);
    return copysign(m < 4.5 * beta ? m / 4.5 : pow((m + alpha - 1) / alpha, 1 / 0.45), v);
}

static double prophoto(double v) {
    const double m = fabs(v);
    return copysign(m <= 16.0 / 512 ? m / 16 : pow(m, 1.8), v);
}

struct xyz xyz_d65_of_a98(struct rgb c) {
    static const double m[3][3] = {{573536.0 / 994567, 263643.0 / 1420810, 187206.0 / 994567},
                                   {591459.0 / 1989134, 6239551.0 / 9945670, 374412.0 / 4972835},
                                   {53769.0 / 1989134, 351524.0 / 4972835, 4929758.0 / 4972835}};
    return multiply(m, (const double[]){a98(c.r), a98(c.g), a98(c.b)});
}

struct xyz xyz_d65_of_rec2020(struct rgb c) {
    static const double m[3][3] = {
        {63426534.0 / 99577255, 20160776.0 / 139408157, 47086771.0 / 278816314},
        {26158966.0 / 99577255, 472592308.0 / 697040785, 8267143.0 / 139408157},
        {0, 19567812.0 / 697040785, 295819943.0 / 278816314}};
    return multiply(m, (const double[]){rec2020(c.r), rec2020(c.g), rec2020(c.b)});
}

struct xyz xyz_d50_of_prophoto(struct rgb c) {
    static const double m[3][3] = {{0.79776664490064230, 0.13518129740053308, 0.03134773412839220},
                                   {0.28807482881940130, 0.71183523424187300, 0.00008993693872564},
                                   {0, 0, 0.82510460251046020}};
    return multiply(m, (const double[]){prophoto(c.r), prophoto(c.g), prophoto(c.b)});
}
