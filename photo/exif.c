#include "photo/exif.h"

#include <string.h>

struct tiff {
    const uint8_t *p;
    size_t n;
    bool big; /* endian */
};

static uint32_t number(const struct tiff *t, size_t at, int bytes) {
    uint32_t v = 0;
    if (at > t->n || t->n - at < (size_t)bytes) return 0;
    for (int i = 0; i < bytes; i++)
        v |= (uint32_t)t->p[at + (size_t)i] << 8 * (t->big ? bytes - 1 - i : i);
    return v;
}

/* Where the entry of that tag stands in the directory; 0: it is not there. */
static size_t entry(const struct tiff *t, size_t directory, uint32_t tag) {
    uint32_t n = number(t, directory, 2);
    for (uint32_t i = 0; directory && i < n && i < 512; i++) {
        size_t at = directory + 2 + 12 * (size_t)i;
        if (at + 12 > t->n) return 0;
        if (number(t, at, 2) == tag) return at;
    }
    return 0;
}

int exif_orientation(const uint8_t *p, size_t n, bool *out_wide) {
    enum { ORIENTATION = 0x0112, EXIF = 0x8769, INTEROPERABILITY = 0xa005, INDEX = 1 };
    *out_wide = false;
    if (n >= 6 && !memcmp(p, "Exif\0\0", 6)) p += 6, n -= 6;
    if (n < 8 || (memcmp(p, "II*\0", 4) && memcmp(p, "MM\0*", 4))) return 1;
    struct tiff t = {p, n, p[0] == 'M'};
    size_t first = number(&t, 4, 4), at = entry(&t, first, EXIF);
    at = at ? entry(&t, number(&t, at + 8, 4), INTEROPERABILITY) : 0;
    at = at ? entry(&t, number(&t, at + 8, 4), INDEX) : 0;
    *out_wide = at && !memcmp(p + at + 8, "R03", 3);
    at = entry(&t, first, ORIENTATION);
    uint32_t o = at ? number(&t, at + 8, 2) : 1;
    return o >= 1 && o <= 8 ? (int)o : 1;
}

bool exif_swaps(int orientation) {
    return orientation >= 5;
}

/* Where the upright picture's rows and columns begin in the stored one, by Exif's definition. */
void exif_stored(int orientation, int w, int h, int x, int y, int *out_x, int *out_y) {
    int a = exif_swaps(orientation) ? y : x, b = exif_swaps(orientation) ? x : y;
    static const bool right[9] = {[2] = true, [3] = true, [7] = true, [8] = true},
                      bottom[9] = {[3] = true, [4] = true, [6] = true, [7] = true};
    *out_x = right[orientation] ? w - 1 - a : a;
    *out_y = bottom[orientation] ? h - 1 - b : b;
}

void exif_upright(int orientation, int w, int h, int x, int y, int *out_x, int *out_y) {
    int sx, sy; /* mirrors undo themselves; only then are the axes exchanged */
    exif_stored(orientation < 5 ? orientation : 1, w, h, x, y, &sx, &sy);
    if (orientation >= 5) {
        static const bool right[9] = {[7] = true, [8] = true}, bottom[9] = {[6] = true, [7] = true};
        int a = right[orientation] ? w - 1 - x : x, b = bottom[orientation] ? h - 1 - y : y;
        sx = b, sy = a;
    }
    *out_x = sx, *out_y = sy;
}
