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

size_t bench_surfaces_read(struct spectrum *out, size_t max) {
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
        read_bands(nm, SPECTRUM_BANDS, t, out[n++].at);
    }
    fclose(f);
    return n;
}
