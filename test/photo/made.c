#include "test/photo/made.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <jpeglib.h>
#include <lcms2.h>
#include <libheif/heif.h>
#include <png.h>
#include <webp/encode.h>
#include <webp/mux.h>

/* The encoder of HEIC keeps some memory for itself; under a sanitizer that is not ours to mend. */
const char *__lsan_default_suppressions(void);
const char *__lsan_default_suppressions(void) {
    return "leak:libx265\n";
}

/* Exif with the orientation alone; n is 26. */
static void exif(int orientation, uint8_t out[26]) {
    static const uint8_t block[26] = {'I', 'I', '*', 0, 8, 0, 0, 0, 1, 0, 0x12, 0x01, 3,
                                      0,   1,   0,   0, 0, 0, 0, 0, 0, 0, 0,    0,    0};
    memcpy(out, block, 26);
    out[18] = (uint8_t)orientation;
}

static uint8_t *jpeg(const struct made *m, size_t *out_n) {
    struct jpeg_compress_struct c;
    struct jpeg_error_mgr errors;
    unsigned char *out = NULL;
    unsigned long n = 0;
    c.err = jpeg_std_error(&errors);
    jpeg_create_compress(&c);
    jpeg_mem_dest(&c, &out, &n);
    c.image_width = (JDIMENSION)m->w;
    c.image_height = (JDIMENSION)m->h;
    c.input_components = 3;
    c.in_color_space = JCS_RGB;
    jpeg_set_defaults(&c);
    jpeg_set_quality(&c, m->quality ? m->quality : 95, TRUE);
    if (m->interlaced) jpeg_simple_progression(&c);
    jpeg_start_compress(&c, TRUE);
    if (m->orientation) {
        uint8_t app1[32] = "Exif\0";
        exif(m->orientation, app1 + 6);
        jpeg_write_marker(&c, JPEG_APP0 + 1, app1, sizeof app1);
    }
    if (m->icc) jpeg_write_icc_profile(&c, m->icc, (unsigned)m->icc_n);
    for (int y = 0; y < m->h; y++) {
        JSAMPROW row = (JSAMPROW)(uintptr_t)(m->rgb + (size_t)y * (size_t)m->w * 3);
        jpeg_write_scanlines(&c, &row, 1);
    }
    jpeg_finish_compress(&c);
    jpeg_destroy_compress(&c);
    *out_n = n;
    return out;
}

uint8_t *made_cmyk_jpeg(size_t *out_n) {
    struct jpeg_compress_struct c;
    struct jpeg_error_mgr errors;
    unsigned char *out = NULL;
    unsigned long n = 0;
    uint8_t row[64] = {0};
    JSAMPROW rows = row;
    c.err = jpeg_std_error(&errors);
    jpeg_create_compress(&c);
    jpeg_mem_dest(&c, &out, &n);
    c.image_width = c.image_height = 16;
    c.input_components = 4;
    c.in_color_space = JCS_CMYK;
    jpeg_set_defaults(&c);
    jpeg_start_compress(&c, TRUE);
    for (int y = 0; y < 16; y++) jpeg_write_scanlines(&c, &rows, 1);
    jpeg_finish_compress(&c);
    jpeg_destroy_compress(&c);
    *out_n = n;
    return out;
}

struct bytes {
    uint8_t *at;
    size_t n;
};

static void more(png_structp png, png_bytep p, size_t n) {
    struct bytes *b = png_get_io_ptr(png);
    b->at = realloc(b->at, b->n + n);
    memcpy(b->at + b->n, p, n);
    b->n += n;
}

static void nothing(png_structp png) {
    (void)png;
}

static uint8_t *png(const struct made *m, size_t *out_n) {
    struct bytes b = {0};
    png_structp p = png_create_write_struct(PNG_LIBPNG_VER_STRING, NULL, NULL, NULL);
    png_infop info = png_create_info_struct(p);
    uint8_t block[26];
    png_set_write_fn(p, &b, more, nothing);
    png_set_IHDR(p, info, (png_uint_32)m->w, (png_uint_32)m->h, m->rgb16 ? 16 : 8,
                 PNG_COLOR_TYPE_RGB, m->interlaced ? PNG_INTERLACE_ADAM7 : PNG_INTERLACE_NONE,
                 PNG_COMPRESSION_TYPE_DEFAULT, PNG_FILTER_TYPE_DEFAULT);
    if (m->icc) png_set_iCCP(p, info, "profile", 0, m->icc, (png_uint_32)m->icc_n);
    exif(m->orientation, block);
    if (m->orientation) png_set_eXIf_1(p, info, sizeof block, block);
    png_write_info(p, info);
    if (m->rgb16) png_set_swap(p);
    int passes = png_set_interlace_handling(p);
    for (int pass = 0; pass < passes; pass++)
        for (int y = 0; y < m->h; y++)
            png_write_row(p, m->rgb16 ? (const uint8_t *)(m->rgb16 + (size_t)y * (size_t)m->w * 3)
                                      : m->rgb + (size_t)y * (size_t)m->w * 3);
    png_write_end(p, info);
    png_destroy_write_struct(&p, &info);
    *out_n = b.n;
    return b.at;
}

/* Lossless, so that the numbers are the ones put in. */
static uint8_t *webp(const struct made *m, size_t *out_n) {
    uint8_t *plain = NULL, block[26];
    size_t n = WebPEncodeLosslessRGB(m->rgb, m->w, m->h, m->w * 3, &plain);
    WebPData data = {plain, n}, profile = {m->icc, m->icc_n}, exif_data = {block, sizeof block},
             whole = {0};
    WebPMux *mux = WebPMuxCreate(&data, 1);
    exif(m->orientation, block);
    if (m->icc) WebPMuxSetChunk(mux, "ICCP", &profile, 1);
    if (m->orientation) WebPMuxSetChunk(mux, "EXIF", &exif_data, 1);
    WebPMuxAssemble(mux, &whole);
    WebPMuxDelete(mux);
    WebPFree(plain);
    uint8_t *out = malloc(whole.size);
    memcpy(out, whole.bytes, whole.size);
    *out_n = whole.size;
    WebPDataClear(&whole);
    return out;
}

static struct heif_error take(struct heif_context *c, const void *p, size_t n, void *to) {
    struct bytes *b = to;
    (void)c;
    b->at = malloc(n);
    memcpy(b->at, p, n);
    b->n = n;
    return (struct heif_error){heif_error_Ok, heif_suberror_Unspecified, ""};
}

static uint8_t *heic(const struct made *m, size_t *out_n) {
    struct heif_context *c = heif_context_alloc();
    struct heif_encoder *e = NULL;
    struct heif_image *image = NULL;
    struct heif_encoding_options *options = NULL;
    struct bytes b = {0};
    struct heif_writer writer = {1, take};
    int stride;
    if (heif_context_get_encoder_for_format(c, heif_compression_HEVC, &e).code) goto out;
    heif_encoder_set_lossless(e, 1);
    heif_encoder_set_parameter_string(e, "chroma", "444");
    heif_image_create(m->w, m->h, heif_colorspace_RGB, heif_chroma_interleaved_RGB, &image);
    heif_image_add_plane(image, heif_channel_interleaved, m->w, m->h, 24);
    uint8_t *to = heif_image_get_plane(image, heif_channel_interleaved, &stride);
    for (int y = 0; y < m->h; y++)
        memcpy(to + y * stride, m->rgb + (size_t)y * (size_t)m->w * 3, (size_t)m->w * 3);
    if (m->icc) heif_image_set_raw_color_profile(image, "prof", m->icc, m->icc_n);
    options = heif_encoding_options_alloc(); /* turns and mirrors stand in the container */
    if (m->orientation) options->image_orientation = (enum heif_orientation)m->orientation;
    if (!heif_context_encode_image(c, image, e, options, NULL).code)
        heif_context_write(c, &writer, &b);
out:
    if (options) heif_encoding_options_free(options);
    heif_image_release(image);
    if (e) heif_encoder_release(e);
    heif_context_free(c);
    *out_n = b.n;
    return b.at;
}

uint8_t *made_file(enum picture_format format, const struct made *m, size_t *out_n) {
    switch (format) {
    case PICTURE_JPEG: return jpeg(m, out_n);
    case PICTURE_PNG: return png(m, out_n);
    case PICTURE_WEBP: return webp(m, out_n);
    case PICTURE_HEIC: return heic(m, out_n);
    case PICTURE_UNKNOWN: break;
    }
    return NULL;
}

static uint8_t *saved(cmsHPROFILE p, size_t *out_n) {
    cmsUInt32Number n = 0;
    cmsSaveProfileToMem(p, NULL, &n);
    uint8_t *out = malloc(n);
    cmsSaveProfileToMem(p, out, &n);
    cmsCloseProfile(p);
    *out_n = n;
    return out;
}

static uint8_t *rgb_profile(const cmsCIExyYTRIPLE *primaries, cmsToneCurve *curve, size_t *out_n) {
    cmsCIExyY d65 = {.3127, .3290, 1};
    cmsToneCurve *three[3] = {curve, curve, curve};
    cmsHPROFILE p = cmsCreateRGBProfile(&d65, primaries, three);
    cmsFreeToneCurve(curve);
    return saved(p, out_n);
}

static const cmsCIExyYTRIPLE p3 = {{.680, .320, 1}, {.265, .690, 1}, {.150, .060, 1}};

uint8_t *made_profile_p3(size_t *out_n) {
    static const double srgb[5] = {2.4, 1 / 1.055, .055 / 1.055, 1 / 12.92, .04045};
    return rgb_profile(&p3, cmsBuildParametricToneCurve(NULL, 4, srgb), out_n);
}

uint8_t *made_profile_p3_linear(size_t *out_n) {
    return rgb_profile(&p3, cmsBuildGamma(NULL, 1), out_n);
}

uint8_t *made_profile_gamma(double gamma, size_t *out_n) {
    static const cmsCIExyYTRIPLE wide = {{.7347, .2653, 1}, {.1596, .8404, 1}, {.0366, .0001, 1}};
    return rgb_profile(&wide, cmsBuildGamma(NULL, gamma), out_n);
}

uint8_t *made_profile_table(size_t *out_n) {
    cmsUInt16Number table[1024];
    for (int i = 0; i < 1024; i++) { /* L* of the value, roughly */
        double v = i / 1023.0;
        table[i] = (cmsUInt16Number)(65535 * (v < .08 ? v / 9.033 : pow((v + .16) / 1.16, 3)));
    }
    return rgb_profile(&p3, cmsBuildTabulatedToneCurve16(NULL, 1024, table), out_n);
}

/* Some device whose channels hang on each other: what one gives alone says little. */
static int grid_point(const cmsUInt16Number in[], cmsUInt16Number out[], void *ctx) {
    double r = in[0] / 65535.0, g = in[1] / 65535.0, b = in[2] / 65535.0;
    cmsCIELab lab = {100 * pow(.3 * r + .6 * g + .1 * b, .8), 90 * (r - g) * (1 - .4 * b),
                     80 * (g - b) * (.6 + .4 * r)};
    (void)ctx;
    cmsFloat2LabEncoded(out, &lab);
    return 1;
}

uint8_t *made_profile_grid(size_t *out_n) {
    cmsHPROFILE p = cmsCreateProfilePlaceholder(NULL);
    cmsPipeline *way = cmsPipelineAlloc(NULL, 3, 3);
    cmsStage *grid = cmsStageAllocCLut16bit(NULL, 9, 3, 3, NULL);
    cmsSetProfileVersion(p, 2.1);
    cmsSetDeviceClass(p, cmsSigInputClass);
    cmsSetColorSpace(p, cmsSigRgbData);
    cmsSetPCS(p, cmsSigLabData);
    cmsStageSampleCLut16bit(grid, grid_point, NULL, 0);
    cmsPipelineInsertStage(way, cmsAT_BEGIN, grid);
    cmsWriteTag(p, cmsSigAToB0Tag, way);
    cmsWriteTag(p, cmsSigMediaWhitePointTag, cmsD50_XYZ());
    cmsPipelineFree(way);
    return saved(p, out_n);
}
