/* Spectrum files: a status with words, or samples whose every number is finite and within 0..1. */
#include "codec/spectrum_text.h"
#include "test/fuzz/fuzz.h"

#include <math.h>
#include <stdlib.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    struct spectrum_text got = {.n = 77};
    struct why why = {0};
    struct arena arena;
    arena_init(&arena, alloc_heap(), 64u << 20);
    enum status s = spectrum_text_read((const char *)data, size, SCALE_UNSAID, &arena, &got, &why);
    if (s != OK && (got.n != 77 || !why.text[0])) abort();
    for (size_t i = 0; s == OK && i < got.n; i++) {
        const struct spectrum_read *r = &got.samples[i];
        if (!r->name || !(r->values.values_n ? isnan(r->lab.l) : isfinite(r->lab.l))) abort();
        for (int k = 0; r->values.values_n && k < SPECTRUM_BANDS; k++)
            if (!(r->grid.at[k] >= 0 && r->grid.at[k] <= 1)) abort();
    }
    arena_free(&arena);
    return 0;
}
