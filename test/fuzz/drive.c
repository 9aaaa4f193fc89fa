/* Runs a fuzz target without coverage guidance: every file of the corpus, each cut at every length
 * and with bytes changed by a seeded generator. What a plain build can do in a second. */
#include "core/base/random.h"
#include "test/fuzz/fuzz.h"

#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { BYTES_MAX = 65536, CHANGED = 400, CUTS_MAX = 600 };

static size_t load(const char *dir, const char *name, uint8_t *out) {
    char path[1024];
    snprintf(path, sizeof path, "%s/%s", dir, name);
    FILE *f = fopen(path, "rb");
    size_t n = f ? fread(out, 1, BYTES_MAX, f) : 0;
    if (f) fclose(f);
    return n;
}

static void try_all(const uint8_t *data, size_t n, struct random *r) {
    static const char spice[] = "\"{}[],:/\\0123456789.-+eE \t\n'$%\x80\xff\xc2";
    uint8_t *copy = malloc(n + 1);
    LLVMFuzzerTestOneInput(data, n);
    for (size_t k = 0; k < n && k < CUTS_MAX; k++) LLVMFuzzerTestOneInput(data, k);
    for (int k = 0; n && k < CHANGED; k++) {
        memcpy(copy, data, n);
        for (uint32_t c = 1 + random_below(r, 4); c; c--)
            copy[random_below(r, (uint32_t)n)] =
                (uint8_t)(random_below(r, 2) ? spice[random_below(r, sizeof spice - 1)]
                                             : (char)random_below(r, 256));
        LLVMFuzzerTestOneInput(copy, n);
    }
    free(copy);
}

int main(int argc, char **argv) {
    uint8_t *data = malloc(BYTES_MAX);
    struct random r;
    int passed = 0;
    DIR *dir = argc > 1 ? opendir(argv[1]) : NULL;
    random_seed(&r, 1);
    for (struct dirent *e; dir && (e = readdir(dir));) {
        if (e->d_name[0] == '.') continue;
        try_all(data, load(argv[1], e->d_name, data), &r);
        passed++;
    }
    if (dir) closedir(dir);
    free(data);
    printf("%d passed, %d failed, 0 skipped\n", passed, passed == 0);
    return passed == 0;
}
