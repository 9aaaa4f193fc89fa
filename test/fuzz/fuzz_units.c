/* Quantities and times: a status or a finite number, and what is printed reads back. */
#include "codec/time_text.h"
#include "codec/units_text.h"
#include "test/fuzz/fuzz.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static void quantity(enum dimension d, const char *text) {
    struct why why = {0};
    char again[96], shown[96];
    double v = 77, back;
    enum status s = units_read(d, text, &v, &why);
    if (s != OK) {
        if (v != 77 || !why.text[0]) abort();
        return;
    }
    if (!isfinite(v)) abort();
    units_print(d, UNITS_US, v, shown, sizeof shown);
    units_print(d, UNITS_METRIC, v, shown, sizeof shown);
    units_print_exact(d, v, again, sizeof again);
    if (units_read(d, again, &back, NULL) != OK) abort();
    if (fabs(back - v) > 1e-15 * fabs(v) + 1e-6) abort();
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    char text[256];
    int64_t v = 77;
    if (size < 1) return 0;
    size_t n = size - 1 < sizeof text - 1 ? size - 1 : sizeof text - 1;
    memcpy(text, data + 1, n);
    text[n] = 0;
    quantity((enum dimension)(data[0] % DIMENSION_COUNT), text);
    if (clock_read(text, &v, NULL) == OK && (v < 0 || v > 1440)) abort();
    if (day_read(text, &v, NULL) == OK) {
        char day[24];
        int64_t back;
        day_print(v, day, sizeof day);
        if (day_read(day, &back, NULL) != OK || back != v) abort();
    }
    local_read(text, &v, NULL);
    instant_read(text, &v, NULL);
    return 0;
}
