#include "bench/recipe_shelf.h"
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

const char *bench_data_dir(void) {
    const char *dir = getenv("SHARED_DATA");
    return dir ? dir : SOURCE_ROOT "/../shared/data";
}

static FILE *open_data(const char *file) {
    char path[1024];
    snprintf(path, sizeof path, "%s/color/%s", bench_data_dir(), file);
    return fopen(path, "r");
}

static void read_bands(const int *nm, int columns, char *text, double *out) {
    for (int c = 0; c < columns && text; c++) {
        double v = strtod(text, &text);
        if (nm[c] >= 380 && nm[c] <= 730) out[(nm[c] - 380) / 10] = v;
        text = strchr(text, ',');
        if (text) text++;
    }
}

bool bench_shelf_read(struct bench_shelf *shelf, const char *file) {
    char line[8192];
    FILE *f = open_data(file);
    if (!f) return false;
    int nm[128], columns = 0;
    if (!fgets(line, sizeof line, f)) return fclose(f), false;
    strtok(line, ",");
    strtok(NULL, ",");
    for (char *t; columns < 128 && (t = strtok(NULL, ",\n\r"));) nm[columns++] = atoi(t);
    while (fgets(line, sizeof line, f)) {
        char *name = strtok(line, ",\""), *kind = name ? strtok(NULL, ",\"") : NULL;
        if (!kind) continue;
        char *values = kind + 2;
        if (*kind == 'K') {
            if (shelf->n == BENCH_PAINTS_MAX) break;
            snprintf(shelf->names[shelf->n++], sizeof shelf->names[0], "%s", name);
        }
        struct pigment *p = &shelf->pigments[shelf->n - 1];
        read_bands(nm, columns, values, *kind == 'K' ? p->k : p->s);
    }
    fclose(f);
    return true;
}

size_t bench_surfaces_read(double (*out)[SPECTRUM_BANDS], size_t max) {
    char line[8192];
    FILE *f = open_data("mixtures.csv");
    size_t n = 0;
    if (!f || !fgets(line, sizeof line, f)) return 0;
    while (n < max && fgets(line, sizeof line, f)) {
        char *t = line;
        int quasi = 0;
        for (int c = 0; c < 6 && t; c++) {
            if (c == 4) quasi = atoi(t);
            t = strchr(t, ',');
            if (t) t++;
        }
        if (!t || !quasi) continue;
        int nm[SPECTRUM_BANDS];
        for (int b = 0; b < SPECTRUM_BANDS; b++) nm[b] = 380 + 10 * b;
        read_bands(nm, SPECTRUM_BANDS, t, out[n++]);
    }
    fclose(f);
    return n;
}

void bench_weights_read(struct weights *w, const char *illuminant) {
    char line[4096];
    double cmf[3][48] = {{0}}, spd[200] = {0};
    FILE *f = open_data("cmf_cie1931_2deg_10nm.csv");
    if (!f || !fgets(line, sizeof line, f)) exit(1);
    while (fgets(line, sizeof line, f)) {
        double nm, x, y, z;
        sscanf(line, "%lf,%lf,%lf,%lf", &nm, &x, &y, &z);
        int b = ((int)nm - 380) / 10;
        if (nm >= 380 && nm <= 730) cmf[0][b] = x, cmf[1][b] = y, cmf[2][b] = z;
    }
    fclose(f);
    f = open_data("illuminants_5nm.csv");
    if (!f || !fgets(line, sizeof line, f)) exit(1);
    int col = 0, i = 0;
    for (char *t = strtok(line, ",\n"); t; t = strtok(NULL, ",\n"), i++)
        if (!strcmp(t, illuminant)) col = i;
    while (fgets(line, sizeof line, f)) {
        int nm = atoi(line);
        char *t = line;
        for (int c = 0; c < col; c++) t = strchr(t, ',') + 1;
        if (nm >= 380 && nm <= 730 && nm % 10 == 0) spd[(nm - 380) / 10] = atof(t);
    }
    fclose(f);
    double y = 0;
    for (int b = 0; b < 36; b++) y += cmf[1][b] * spd[b];
    memset(w, 0, sizeof *w);
    for (int b = 0; b < 36; b++) {
        w->x[b] = cmf[0][b] * spd[b] / y;
        w->y[b] = cmf[1][b] * spd[b] / y;
        w->z[b] = cmf[2][b] * spd[b] / y;
        w->white.x += w->x[b], w->white.y += w->y[b], w->white.z += w->z[b];
    }
}
