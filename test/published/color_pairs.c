/* Random colors and what this program makes of them, a line each, for a comparison with another
 * library (test/e2e/color_library.mjs): two Lab D65 and their CIEDE2000; an encoded sRGB color, its
 * Lab D50, OkLab and Display P3. */
#include "core/base/random.h"
#include "core/color/color.h"

#include <stdio.h>
#include <stdlib.h>

static struct lab any(struct random *r) {
    return (struct lab){100 * random_unit(r), 200 * random_unit(r) - 100,
                        200 * random_unit(r) - 100};
}

int main(int argc, char **argv) {
    struct random r;
    random_seed(&r, 2005);
    for (int i = argc > 1 ? atoi(argv[1]) : 1000; i > 0; i--) {
        struct lab p = any(&r), q = any(&r);
        struct rgb s = {random_unit(&r), random_unit(&r), random_unit(&r)};
        struct xyz x = xyz_d65_of_rgb(RGB_SRGB, rgb_decode(s));
        struct lab c = lab_of_srgb(s);
        struct oklab o = oklab_of_xyz_d65(x);
        struct rgb w = rgb_encode(rgb_of_xyz_d65(RGB_DISPLAY_P3, x));
        printf("%.17g %.17g %.17g %.17g %.17g %.17g %.17g", p.l, p.a, p.b, q.l, q.a, q.b,
               ciede2000(p, q));
        printf(" %.17g %.17g %.17g %.17g %.17g %.17g", s.r, s.g, s.b, c.l, c.a, c.b);
        printf(" %.17g %.17g %.17g %.17g %.17g %.17g\n", o.l, o.a, o.b, w.r, w.g, w.b);
    }
    return 0;
}
