#include "bench/photo_world.h"

#include "bench/recipe_shelf.h"
#include "core/base/linear.h"
#include "core/color/munsell.h"
#include "core/color/pigment.h"
#include "tables.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { FIRST = 2, BANDS = 33 }; /* 400..720 nm of the grid 380..730 */

static const char *const LIGHT_NAME[WORLD_LIGHTS] = {"D65", "D50", "A", "FL2", "FL11", "LED-B3"};
/* 0: the camera computes as for daylight, 1: as for a lamp; by color temperature, in mired */
static const double LAMP_SHARE[WORLD_LIGHTS] = {0, 0.23, 1, 0.42, 0.48, 0.48};

struct photo_world {
    struct weights eye;
    size_t cameras_n;
    char camera_name[WORLD_CAMERAS_MAX][32];
    double camera[WORLD_CAMERAS_MAX][3][BANDS];
    double light[WORLD_LIGHTS][BANDS];
    double matrix[WORLD_CAMERAS_MAX][2][3][3]; /* balanced camera -> XYZ D65 / white: day, lamp */
    struct bench_shelf shelf[WORLD_SHELVES];
    struct surface pool[WORLD_SHELVES][WORLD_POOL];
    struct surface chart[WORLD_CHART];
    struct spectrum watercolor[600];
    size_t watercolors_n;
};

static FILE *open_shared(const char *file) {
    char path[1024];
    snprintf(path, sizeof path, "%s/%s", bench_data_dir(), file);
    return fopen(path, "r");
}

static bool read_cameras(struct photo_world *w) {
    char line[4096];
    /* another file of the same form may be given, to check on cameras never seen */
    const char *other = getenv("PHOTO_CAMERAS");
    FILE *f = other ? fopen(other, "r") : open_shared("photo/camera_sensitivity.csv");
    if (!f || !fgets(line, sizeof line, f)) return false;
    while (w->cameras_n < WORLD_CAMERAS_MAX) {
        for (int k = 0; k < 3; k++) {
            if (!fgets(line, sizeof line, f)) return fclose(f), w->cameras_n > 0;
            char *name = strtok(line, ","), *t;
            snprintf(w->camera_name[w->cameras_n], sizeof w->camera_name[0], "%s", name);
            strtok(NULL, ",");
            for (int b = 0; b < BANDS && (t = strtok(NULL, ",")); b++)
                w->camera[w->cameras_n][k][b] = atof(t);
        }
        w->cameras_n++;
    }
    return fclose(f), true;
}

/* 5 nm summed to the 10-nm grid with a triangle. */
static bool read_lights(struct photo_world *w) {
    char line[4096];
    int column[32], columns = 0;
    FILE *f = open_shared("color/illuminants_5nm.csv");
    if (!f || !fgets(line, sizeof line, f)) return false;
    for (char *t = strtok(line, ",\r\n"); t && columns < 32; t = strtok(NULL, ",\r\n")) {
        column[columns] = -1;
        for (int l = 0; l < WORLD_LIGHTS; l++)
            if (!strcmp(t, LIGHT_NAME[l])) column[columns] = l;
        columns++;
    }
    while (fgets(line, sizeof line, f)) {
        int nm = atoi(line), c = 0;
        for (char *t = line; t && c < columns; c++) {
            if (column[c] >= 0)
                for (int b = 0; b < BANDS; b++) {
                    int off = abs(nm - (400 + 10 * b));
                    if (off < 10) w->light[column[c]][b] += atof(t) * (off ? 0.25 : 0.5);
                }
            t = strchr(t, ',');
            if (t) t++;
        }
    }
    return fclose(f), true;
}

static struct lab true_lab(const struct photo_world *w, const struct spectrum *s) {
    return lab_of_xyz(xyz_of_spectrum(&w->eye, s), w->eye.white);
}

static void sense(const struct photo_world *w, size_t camera, size_t light,
                  const struct spectrum *s, double out[3]) {
    for (int k = 0; k < 3; k++) {
        double sum = 0, white = 0;
        for (int b = 0; b < BANDS; b++) {
            double weight = w->camera[camera][k][b] * w->light[light][b];
            white += weight;
            sum += weight * s->at[FIRST + b];
        }
        out[k] = sum / white;
    }
}

/* The maker's matrix: balanced sensor to XYZ relative to white, white kept, least squares over
 * surfaces of many colors under one light. The colors wanted are those of D50 adapted to D65. */
static void make_matrix(struct photo_world *w, size_t camera, size_t light, double out[3][3]) {
    double a[4] = {0}, b[3][2] = {{0}};
    for (int i = 0; i < 600; i++) {
        const struct surface *s = &w->pool[i % WORLD_SHELVES][i];
        double v[3];
        sense(w, camera, light, &s->reflectance, v);
        struct xyz c = xyz_d65_of_d50(xyz_of_lab(s->lab, XYZ_D50));
        const double want[3] = {c.x / XYZ_D65.x, c.y / XYZ_D65.y, c.z / XYZ_D65.z};
        double p = v[0] - v[1], q = v[2] - v[1];
        /* relative errors count: dark colors are as many as light ones */
        double weight = 1 / (0.02 + c.y);
        a[0] += weight * p * p;
        a[1] += weight * p * q;
        a[3] += weight * q * q;
        for (int k = 0; k < 3; k++) {
            b[k][0] += weight * p * (want[k] - v[1]);
            b[k][1] += weight * q * (want[k] - v[1]);
        }
    }
    double det = a[0] * a[3] - a[1] * a[1];
    for (int k = 0; k < 3; k++) {
        double r = (b[k][0] * a[3] - b[k][1] * a[1]) / det;
        double bl = (b[k][1] * a[0] - b[k][0] * a[1]) / det;
        out[k][0] = r;
        out[k][1] = 1 - r - bl;
        out[k][2] = bl;
    }
}

double photo_world_lamp(size_t light) {
    return LAMP_SHARE[light];
}

void photo_world_see(const struct photo_world *w, size_t camera, size_t light, double lamp,
                     const struct spectrum *s, enum rgb_space space, const double balance[3],
                     double out[3]) {
    double v[3], x[3] = {0};
    sense(w, camera, light, s, v);
    for (int k = 0; k < 3; k++)
        for (int j = 0; j < 3; j++) {
            double m = (1 - lamp) * w->matrix[camera][0][k][j] + lamp * w->matrix[camera][1][k][j];
            x[k] += m * v[j] * balance[j];
        }
    struct rgb c =
        rgb_of_xyz_d65(space, (struct xyz){x[0] * XYZ_D65.x, x[1] * XYZ_D65.y, x[2] * XYZ_D65.z});
    out[0] = c.r;
    out[1] = c.g;
    out[2] = c.b;
}

void photo_world_tint(const struct photo_world *w, size_t camera, size_t light, size_t balanced_for,
                      double out[3]) {
    double seen[3] = {0}, white[3] = {0};
    for (int k = 0; k < 3; k++)
        for (int b = 0; b < BANDS; b++) {
            seen[k] += w->camera[camera][k][b] * w->light[light][b];
            white[k] += w->camera[camera][k][b] * w->light[balanced_for][b];
        }
    for (int k = 0; k < 3; k++) out[k] = seen[k] / white[k] / (seen[1] / white[1]);
}

static struct surface of_spectrum(const struct photo_world *w, const struct spectrum *s) {
    return (struct surface){*s, true_lab(w, s), -1, {-1, -1, -1}};
}

static struct surface mix_of(const struct photo_world *w, int shelf, const int paint[3],
                             const double *volume) {
    /* the second family's K and S belong to a layer behind its own surface */
    static const double k1 = 0.03, k2 = 0.65; /* SAUNDERSON1942 */
    struct pigment p = pigment_mix(w->shelf[shelf].pigments, volume, w->shelf[shelf].n);
    struct spectrum s = pigment_reflectance(&p);
    for (int b = 0; b < BANDS && shelf; b++)
        s.at[b] = (1 - k1) * (1 - k2) * s.at[b] / (1 - k2 * s.at[b]);
    struct surface out = of_spectrum(w, &s);
    out.shelf = shelf;
    memcpy(out.paint, paint, sizeof out.paint);
    return out;
}

struct surface photo_world_watercolor(const struct photo_world *w, struct random *r) {
    return of_spectrum(w, &w->watercolor[random_below(r, (uint32_t)w->watercolors_n)]);
}

static int white_of(const struct bench_shelf *s) {
    for (size_t i = 0; i < s->n; i++)
        if (!strcmp(s->names[i], "Titanium White")) return (int)i;
    return 0;
}

struct surface photo_world_mix(const struct photo_world *w, int shelf, struct random *r) {
    const struct bench_shelf *s = &w->shelf[shelf];
    double volume[BENCH_PAINTS_MAX] = {0};
    int paint[3] = {white_of(s), -1, -1};
    paint[1] = (int)random_below(r, (uint32_t)s->n);
    if (random_unit(r) < 0.6) paint[2] = (int)random_below(r, (uint32_t)s->n);
    for (int i = 0; i < 3; i++)
        if (paint[i] >= 0) volume[paint[i]] += pow(random_unit(r), 2) + 0.01;
    if (random_unit(r) < 0.7) volume[paint[0]] += 3 * random_unit(r);
    return mix_of(w, shelf, paint, volume);
}

struct surface photo_world_neighbor(const struct photo_world *w, const struct surface *s,
                                    double near, struct random *r) {
    struct surface best = *s;
    double off = 1e9;
    for (int i = 0; i < 60 && !(off >= 1 && off <= near); i++) {
        double volume[BENCH_PAINTS_MAX] = {0};
        for (int k = 0; k < 3; k++)
            if (s->paint[k] >= 0) volume[s->paint[k]] += pow(random_unit(r), 2) + 0.01;
        volume[s->paint[0]] += 3 * random_unit(r);
        struct surface t = mix_of(w, s->shelf, s->paint, volume);
        double d = ciede2000(t.lab, s->lab);
        if (fabs(d - near / 2) < fabs(off - near / 2)) best = t, off = d;
    }
    return best;
}

struct surface photo_world_flat(const struct photo_world *w, double reflectance) {
    struct spectrum s;
    for (int b = 0; b < SPECTRUM_BANDS; b++) s.at[b] = reflectance;
    return of_spectrum(w, &s);
}

/* Coated white paper without brightener: nearly flat, falling in the violet. */
struct surface photo_world_paper(const struct photo_world *w) {
    struct spectrum s;
    for (int b = 0; b < SPECTRUM_BANDS; b++)
        s.at[b] = 0.88 - 0.06 * exp(-(double)(b * b) / 20) + 0.0004 * b;
    return of_spectrum(w, &s);
}

/* 18 colors spread over hue in three lightnesses, and 6 grays. */
static void make_chart(struct photo_world *w) {
    for (int i = 0; i < WORLD_CHART; i++) {
        int ring = i / 6;
        struct lch c = {35 + 20.0 * ring, 25 + 12.0 * ((i * 7) % 3),
                        20 + 60.0 * (i % 6) + 20 * ring};
        if (ring == 3) c = (struct lch){20 + 15.0 * (i % 6), 0.5, 90};
        struct upsampled u = upsample_color(&w->eye, lab_of_lch(c));
        w->chart[i] = of_spectrum(w, &u.spectrum);
    }
}

struct photo_world *photo_world_make(void) {
    struct photo_world *w = calloc(1, sizeof *w);
    if (!w) return NULL;
    w->eye = weights_make(&tables_builtin, OBSERVER_2, LIGHT_D50);
    if (!read_cameras(w) || !read_lights(w) ||
        !bench_shelf_read(&w->shelf[0], "okumura2005_acrylic27_KS.csv") ||
        !bench_shelf_read(&w->shelf[1], "rit2016_acrylic_KS.csv"))
        return free(w), NULL;
    struct random r;
    random_seed(&r, 7);
    for (int s = 0; s < WORLD_SHELVES; s++)
        for (int i = 0; i < WORLD_POOL; i++) w->pool[s][i] = photo_world_mix(w, s, &r);
    make_chart(w);
    w->watercolors_n = bench_surfaces_read(w->watercolor, 600);
    if (!w->watercolors_n) return free(w), NULL;
    for (size_t c = 0; c < w->cameras_n; c++) {
        make_matrix(w, c, 0, w->matrix[c][0]);
        make_matrix(w, c, 2, w->matrix[c][1]);
    }
    return w;
}

void photo_world_free(struct photo_world *w) {
    free(w);
}

size_t photo_world_cameras(const struct photo_world *w) {
    return w->cameras_n;
}
const char *photo_world_camera(const struct photo_world *w, size_t camera) {
    return w->camera_name[camera];
}
const char *photo_world_light(size_t light) {
    return LIGHT_NAME[light];
}
const struct surface *photo_world_pool(const struct photo_world *w, int shelf) {
    return w->pool[shelf];
}
const struct surface *photo_world_chart(const struct photo_world *w) {
    return w->chart;
}
