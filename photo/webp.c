/* WebP, still pictures. The library wants the whole picture at once. */
#include "photo/exif.h"
#include "photo/raster.h"

#include <webp/decode.h>
#include <webp/demux.h>

static enum status broken(VP8StatusCode code, struct why *why) {
    if (code == VP8_STATUS_OUT_OF_MEMORY)
        return why_say(why, E_MEMORY, "/photo", "The picture needs too much memory.");
    return why_say(why, E_SYNTAX, "/photo", "The WebP is broken or cut off.");
}

static const uint8_t *chunk(WebPDemuxer *x, const char *name, size_t *out_n) {
    WebPChunkIterator it;
    const uint8_t *at = NULL;
    if (WebPDemuxGetChunk(x, name, 1, &it)) {
        at = it.chunk.bytes; /* part of the file's bytes */
        *out_n = it.chunk.size;
        WebPDemuxReleaseChunkIterator(&it);
    }
    return at;
}

static enum status read_all(const uint8_t *p, size_t n, WebPDemuxer *x, WebPDecoderConfig *c,
                            const struct raster *to, struct why *why) {
    struct raster_head head = {.format = PICTURE_WEBP, .bits = 8, .orientation = 1};
    bool enough = false, wide;
    size_t exif_n = 0;
    head.width = c->input.width;
    head.height = c->input.height;
    head.icc = chunk(x, "ICCP", &head.icc_n);
    const uint8_t *exif = chunk(x, "EXIF", &exif_n);
    if (exif) head.orientation = exif_orientation(exif, exif_n, &wide);
    enum status s = to->head(to->ctx, &head, &enough, why);
    if (s || enough) return s;
    c->output.colorspace = MODE_RGB;
    VP8StatusCode code = WebPDecode(p, n, c);
    if (code != VP8_STATUS_OK) return broken(code, why);
    for (int y = 0; y < head.height; y++)
        to->row(to->ctx, y, c->output.u.RGBA.rgba + (size_t)y * (size_t)c->output.u.RGBA.stride);
    return OK;
}

enum status webp_decode(const uint8_t *p, size_t n, const struct raster *to, struct why *why) {
    WebPDecoderConfig c;
    WebPData data = {p, n};
    if (!WebPInitDecoderConfig(&c)) return why_say(why, E_IO, "/photo", "WebP is not to be had.");
    VP8StatusCode code = WebPGetFeatures(p, n, &c.input);
    if (code != VP8_STATUS_OK) return broken(code, why);
    enum status s = raster_bounds((uint64_t)c.input.width, (uint64_t)c.input.height, why);
    if (s) return s;
    if (c.input.has_animation)
        return why_say(why, E_DOMAIN, "/photo",
                       "This is a moving picture. Save one of its frames.");
    WebPDemuxer *x = WebPDemux(&data);
    if (!x) return broken(VP8_STATUS_BITSTREAM_ERROR, why);
    s = read_all(p, n, x, &c, to, why);
    WebPFreeDecBuffer(&c.output);
    WebPDemuxDelete(x);
    return s;
}
