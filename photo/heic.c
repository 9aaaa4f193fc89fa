/* HEIC as phones write it. The container's own turns and mirrors are done by the library; Exif's
 * orientation must then not be looked at (ISO/IEC 23008-12). */
#include "photo/heic_items.h"
#include "photo/raster.h"

#include <libheif/heif.h>
#include <stdlib.h>
#include <string.h>

void raster_prepare(void) {
    heif_init(NULL); /* loads its decoders from files */
    heif_context_free(heif_context_alloc());
}

static enum status broken(struct heif_error e, struct why *why) {
    if (e.code == heif_error_Memory_allocation_error)
        return why_say(why, E_MEMORY, "/photo", "The picture needs too much memory.");
    if (e.code == heif_error_Unsupported_filetype || e.code == heif_error_Unsupported_feature ||
        e.code == heif_error_Plugin_loading_error)
        return why_say(why, E_DOMAIN, "/photo",
                       "This kind of HEIC is not read here (%.80s). Send it as JPEG.", e.message);
    return why_say(why, E_SYNTAX, "/photo", "The HEIC is broken or cut off (%.80s).", e.message);
}

static enum status read_nclx(const struct heif_image_handle *h, struct raster_head *head,
                             struct why *why) {
    struct heif_color_profile_nclx *c = NULL;
    if (heif_image_handle_get_nclx_color_profile(h, &c).code != heif_error_Ok || !c) return OK;
    double xy[8] = {c->color_primary_red_x,   c->color_primary_red_y,  c->color_primary_green_x,
                    c->color_primary_green_y, c->color_primary_blue_x, c->color_primary_blue_y,
                    c->color_primary_white_x, c->color_primary_white_y};
    enum heif_transfer_characteristics curve = c->transfer_characteristics;
    enum heif_color_primaries primaries = c->color_primaries;
    heif_nclx_color_profile_free(c);
    if (curve == heif_transfer_characteristic_ITU_R_BT_2100_0_PQ ||
        curve == heif_transfer_characteristic_ITU_R_BT_2100_0_HLG)
        return why_say(why, E_DOMAIN, "/photo",
                       "The picture is coded for high dynamic range. Send it as JPEG.");
    if (primaries == heif_color_primaries_ITU_R_BT_709_5) head->space = SPACE_SRGB;
    if (primaries == heif_color_primaries_SMPTE_EG_432_1 ||
        primaries == heif_color_primaries_ITU_R_BT_2020_2_and_2100_0) {
        head->space = SPACE_GIVEN;
        memcpy(head->xy, xy, sizeof xy);
    }
    return OK;
}

struct heic {
    struct heif_context *context;
    struct heif_image_handle *handle;
    struct heif_image *image;
    uint8_t *icc;
};

static enum status read_all(struct heic *x, const uint8_t *p, size_t n, const struct raster *to,
                            struct why *why) {
    struct raster_head head = {.format = PICTURE_HEIC, .bits = 8, .orientation = 1};
    bool enough = false;
    if (!heic_items_end(p, n))
        return why_say(why, E_SYNTAX, "/photo",
                       "The HEIC is broken: an image in it is made of itself.");
    struct heif_error e = heif_context_read_from_memory_without_copy(x->context, p, n, NULL);
    if (e.code == heif_error_Ok) e = heif_context_get_primary_image_handle(x->context, &x->handle);
    if (e.code != heif_error_Ok) return broken(e, why);
    head.width = heif_image_handle_get_width(x->handle);
    head.height = heif_image_handle_get_height(x->handle);
    if (head.width < 0 || head.height < 0) return broken(e, why);
    enum status s = raster_bounds((uint64_t)head.width, (uint64_t)head.height, why);
    if (s) return s;
    size_t icc_n = heif_image_handle_get_raw_color_profile_size(x->handle);
    if (icc_n && icc_n < PICTURE_FILE_MAX && (x->icc = malloc(icc_n)) &&
        heif_image_handle_get_raw_color_profile(x->handle, x->icc).code == heif_error_Ok)
        head.icc = x->icc, head.icc_n = icc_n;
    else if ((s = read_nclx(x->handle, &head, why)))
        return s;
    s = to->head(to->ctx, &head, &enough, why);
    if (s || enough) return s;
    e = heif_decode_image(x->handle, &x->image, heif_colorspace_RGB, heif_chroma_interleaved_RGB,
                          NULL);
    if (e.code != heif_error_Ok) return broken(e, why);
    int stride = 0;
    const uint8_t *rows =
        heif_image_get_plane_readonly(x->image, heif_channel_interleaved, &stride);
    if (!rows || heif_image_get_width(x->image, heif_channel_interleaved) != head.width ||
        heif_image_get_height(x->image, heif_channel_interleaved) != head.height)
        return why_say(why, E_SYNTAX, "/photo",
                       "The HEIC says one size and holds another: it is broken.");
    for (int y = 0; y < head.height; y++) to->row(to->ctx, y, rows + (size_t)y * (size_t)stride);
    return OK;
}

enum status heic_decode(const uint8_t *p, size_t n, const struct raster *to, struct why *why) {
    struct heic x = {.context = heif_context_alloc()};
    if (!x.context) return why_say(why, E_MEMORY, "/photo", "There is not enough memory.");
    heif_context_set_max_decoding_threads(x.context, 0);
    enum status s = read_all(&x, p, n, to, why);
    heif_image_release(x.image);
    heif_image_handle_release(x.handle);
    heif_context_free(x.context);
    free(x.icc);
    return s;
}
