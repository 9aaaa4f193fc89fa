/* Curves and bodies of revolution that shapes are made of. */
#include "core/work/shape.h"

#include <math.h>

static const double PI = 3.14159265358979323846;

double shape_turned_mm2(const double *at_mm, const double *diameter_mm, size_t n) {
    double area = 0;
    for (size_t i = 1; i < n; i++) {
        double along = at_mm[i] - at_mm[i - 1];
        double out = (diameter_mm[i] - diameter_mm[i - 1]) / 2;
        area += PI * (diameter_mm[i] + diameter_mm[i - 1]) / 2 * hypot(along, out);
    }
    return area;
}

double shape_bead_mm2(double shaft_mm, double width_mm) {
    double r = shaft_mm / 2, bead = width_mm / 2;
    return 2 * PI * (PI * r * bead + 2 * bead * bead); /* Pappus on a half circle */
}

/* Half of the arc's angle; stays exact for a flat arc and goes past a half circle. */
static double half_angle(double chord_mm, double rise_mm) {
    return 2 * atan2(2 * rise_mm, chord_mm);
}

static double radius(double chord_mm, double rise_mm) {
    return (chord_mm * chord_mm / 4 + rise_mm * rise_mm) / (2 * rise_mm);
}

double shape_arc_mm(double chord_mm, double rise_mm) {
    if (rise_mm <= 0) return chord_mm;
    return 2 * radius(chord_mm, rise_mm) * half_angle(chord_mm, rise_mm);
}

double shape_segment_mm2(double chord_mm, double rise_mm) {
    if (rise_mm <= 0) return 0;
    double r = radius(chord_mm, rise_mm), angle = 2 * half_angle(chord_mm, rise_mm);
    return r * r / 2 * (angle - sin(angle));
}

double shape_ellipse_mm(double width_mm, double height_mm) {
    double a = fmax(width_mm, height_mm) / 2, b = fmin(width_mm, height_mm) / 2;
    if (b <= 0) return 4 * a;
    double sum = a * a - .5 * (a * a - b * b), weight = .5, mean = a, geometric = b;
    for (int i = 0; i < 12 && fabs(mean - geometric) > 1e-15 * mean; i++) {
        double half = (mean - geometric) / 2, next = (mean + geometric) / 2;
        geometric = sqrt(mean * geometric);
        mean = next;
        weight *= 2;
        sum -= weight * half * half;
    }
    return 2 * PI * sum / mean;
}
