/* One pass over the rows of a picture for all that was asked. */
#include "photo/exif.h"
#include "photo/picture.h"
#include "photo/preview.h"
#include "photo/profile.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct reading {
    const struct picture_ask *ask;
    struct picture_answer *out;
    struct profile *profile;
    struct preview *preview;
    struct blocks *blocks;
};

static enum status no_memory(struct why *why) {
    return why_say(why, E_MEMORY, "/photo", "There is not enough memory.");
}

static enum status check_rects(const struct picture_ask *ask, int w, int h, struct why *why) {
    if (ask->rects_n > PICTURE_RECTS_MAX)
        return why_say(why, E_TOO_LARGE, "/rects", "At most %d rectangles are read at once.",
                       PICTURE_RECTS_MAX);
    for (size_t i = 0; i < ask->rects_n; i++) {
        const struct picture_rect *r = &ask->rects[i];
        char field[40];
        snprintf(field, sizeof field, "/rects/%zu", i);
        if (!rect_inside(*r, w, h))
            return why_say(why, E_DOMAIN, field,
                           "[%d, %d, %d, %d] is not inside the upright picture of %d x %d pixels.",
                           r->x, r->y, r->w, r->h, w, h);
    }
    return OK;
}

static enum status head(void *ctx, const struct raster_head *h, bool *out_enough, struct why *why) {
    struct reading *r = ctx;
    struct picture_facts *f = &r->out->facts;
    bool swaps = exif_swaps(h->orientation);
    f->format = h->format;
    f->width = swaps ? h->height : h->width;
    f->height = swaps ? h->width : h->height;
    f->orientation = h->orientation;
    f->bits = h->bits;
    f->profile_embedded = h->icc != NULL;
    enum status s = check_rects(r->ask, f->width, f->height, why);
    if (!s) s = profile_make(h, &r->profile, why);
    if (s) return s;
    snprintf(f->profile, sizeof f->profile, "%s", profile_name(r->profile));
    *out_enough = !r->ask->rects_n && !r->ask->preview_side;
    if (*out_enough) return OK;
    if (r->ask->preview_side) {
        struct picture_rect all = {0, 0, f->width, f->height},
                            crop = r->ask->crop.w ? r->ask->crop : all;
        if (!rect_inside(crop, f->width, f->height))
            return why_say(why, E_DOMAIN, "/crop",
                           "That part is not inside the picture of %d x %d pixels.", f->width,
                           f->height);
        int side =
            r->ask->preview_side < PICTURE_SIDE_MAX ? r->ask->preview_side : PICTURE_SIDE_MAX;
        r->preview = preview_make(h, crop, side < 1 ? 1 : side);
        if (!r->preview) return no_memory(why);
    }
    r->blocks = blocks_make(h, r->ask->rects, r->ask->rects_n);
    return r->blocks ? OK : no_memory(why);
}

static void row(void *ctx, int y, const void *rgb) {
    struct reading *r = ctx;
    if (r->preview) preview_row(r->preview, y, rgb);
    blocks_row(r->blocks, r->profile, y, rgb);
}

enum status picture_read_here(const void *bytes, size_t n, const struct picture_ask *ask,
                              struct picture_answer *out, struct why *why) {
    struct reading r = {.ask = ask, .out = out};
    struct raster to = {head, row, &r};
    uint8_t *jpeg = NULL;
    memset(out, 0, sizeof *out);
    enum status s = raster_decode(bytes, n, &to, why);
    if (!s && r.preview) s = preview_end(r.preview, r.profile, &jpeg, &out->preview_n, why);
    out->preview = jpeg;
    if (!s && r.blocks) s = blocks_end(r.blocks, &out->blocks, &out->blocks_n, why);
    blocks_free(r.blocks);
    preview_free(r.preview);
    profile_free(r.profile);
    if (s) picture_free(out);
    return s;
}

void picture_free(struct picture_answer *a) {
    free(a->blocks);
    free(a->preview);
    memset(a, 0, sizeof *a);
}
