/* Pictures, in this process and unprotected: a status with words, or an answer that holds together.
 */
#include "photo/picture.h"
#include "photo/raster.h"
#include "test/fuzz/fuzz.h"

#include <stdlib.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    const struct picture_rect rects[] = {{0, 0, 1, 1}, {2, 1, 5, 4}};
    struct picture_ask ask = {.rects = rects, .rects_n = 2, .preview_side = 8};
    struct picture_answer a;
    struct why why = {0};
    enum status s = picture_read_here(data, size, &ask, &a, &why);
    if (s != OK) {
        if (!why.text[0] || a.blocks || a.preview) abort();
        return 0;
    }
    if (a.blocks_n != 1 + 20 || !a.preview_n ||
        picture_format_of(a.preview, a.preview_n) != PICTURE_JPEG)
        abort();
    if ((int64_t)a.facts.width * a.facts.height > PICTURE_PIXELS_MAX) abort();
    for (size_t i = 0; i < a.blocks_n; i++)
        if (!block_sound(&a.blocks[i])) abort();
    picture_free(&a);
    return 0;
}
