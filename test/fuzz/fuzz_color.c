/* Color text: a status or a finite color, and what is printed of it reads back. */
#include "codec/color_text.h"
#include "test/fuzz/fuzz.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    char text[256], again[96];
    struct why why = {0};
    struct lab c = {-7, -7, -7}, back;
    size_t n = size < sizeof text - 1 ? size : sizeof text - 1;
    memcpy(text, data, n);
    text[n] = 0;
    if (color_read(text, &c, &why) != OK) {
        if (c.l != -7 || c.a != -7 || !why.text[0]) abort();
        return 0;
    }
    if (!(isfinite(c.l) && isfinite(c.a) && isfinite(c.b))) abort();
    for (int k = 0; k < NOTATIONS; k++)
        if (!color_print((enum color_notation)k, c, again, sizeof again)) abort();
    color_print(NOTATION_LAB, c, again, sizeof again);
    if (color_read(again, &back, NULL) != OK) abort();
    if (fabs(back.l - c.l) + fabs(back.a - c.a) + fabs(back.b - c.b) > 0.002) abort();
    return 0;
}
