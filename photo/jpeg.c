/* JPEG: row by row, so that a picture of 12 megapixels needs a few hundred kilobytes. */
#include "photo/exif.h"
#include "photo/raster.h"

#include <setjmp.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <jerror.h>
#include <jpeglib.h>

/* A progressive file may ask for any number of passes over all of it; real ones have about ten. */
enum { SCANS_MAX = 100 };

struct jpeg {
    struct jpeg_decompress_struct d;
    struct jpeg_error_mgr errors;
    struct jpeg_progress_mgr progress;
    jmp_buf out;
    char text[JMSG_LENGTH_MAX];
    bool memory;
    uint8_t *icc, *row;
};

static void fail(j_common_ptr c) {
    struct jpeg *j = c->client_data;
    j->memory = c->err->msg_code == JERR_OUT_OF_MEMORY;
    c->err->format_message(c, j->text);
    longjmp(j->out, 1);
}

/* The library fills what is missing with gray and goes on; here that would be measured. */
static void warn(j_common_ptr c, int level) {
    if (level >= 0) return;
    int code = c->err->msg_code;
    if (code == JWRN_JPEG_EOF || code == JWRN_HIT_MARKER || code == JWRN_HUFF_BAD_CODE ||
        code == JWRN_BOGUS_PROGRESSION || code == JWRN_MUST_RESYNC)
        fail(c);
}

static void watch(j_common_ptr c) {
    if (c->is_decompressor && ((j_decompress_ptr)c)->input_scan_number > SCANS_MAX) {
        c->err->msg_code = JERR_BAD_PROGRESSION;
        fail(c);
    }
}

static enum status broken(const struct jpeg *j, struct why *why) {
    if (j->memory) return why_say(why, E_MEMORY, "/photo", "The picture needs too much memory.");
    return why_say(why, E_SYNTAX, "/photo", "The JPEG is broken or cut off (%.100s).", j->text);
}

static void read_exif(const struct jpeg *j, struct raster_head *head) {
    bool wide;
    for (jpeg_saved_marker_ptr m = j->d.marker_list; m; m = m->next)
        if (m->marker == JPEG_APP0 + 1 && m->data_length > 6 && !memcmp(m->data, "Exif\0\0", 6)) {
            head->orientation = exif_orientation(m->data, m->data_length, &wide);
            if (wide) head->space = SPACE_WIDE;
            return;
        }
}

static enum status read_all(struct jpeg *j, const uint8_t *p, size_t n, const struct raster *to,
                            struct why *why) {
    struct raster_head head = {.format = PICTURE_JPEG, .orientation = 1, .bits = 8};
    unsigned icc_n = 0;
    bool enough = false;
    jpeg_create_decompress(&j->d);
    j->d.progress = &j->progress;
    jpeg_mem_src(&j->d, p, (unsigned long)n);
    jpeg_save_markers(&j->d, JPEG_APP0 + 1, 0xffff);
    jpeg_save_markers(&j->d, JPEG_APP0 + 2, 0xffff);
    jpeg_read_header(&j->d, TRUE);
    enum status s = raster_bounds(j->d.image_width, j->d.image_height, why);
    if (s) return s;
    if (j->d.jpeg_color_space == JCS_CMYK || j->d.jpeg_color_space == JCS_YCCK)
        return why_say(why, E_DOMAIN, "/photo",
                       "The picture is in printing inks (CMYK). Save it as RGB.");
    head.width = (int)j->d.image_width;
    head.height = (int)j->d.image_height;
    if (jpeg_read_icc_profile(&j->d, &j->icc, &icc_n)) head.icc = j->icc, head.icc_n = icc_n;
    read_exif(j, &head);
    s = to->head(to->ctx, &head, &enough, why);
    if (s || enough) return s;
    j->d.out_color_space = JCS_RGB;
    j->d.dct_method = JDCT_ISLOW;
    j->row = malloc((size_t)head.width * 3);
    if (!j->row) return why_say(why, E_MEMORY, "/photo", "There is not enough memory.");
    jpeg_start_decompress(&j->d);
    while (j->d.output_scanline < j->d.output_height) {
        int y = (int)j->d.output_scanline;
        if (jpeg_read_scanlines(&j->d, &j->row, 1)) to->row(to->ctx, y, j->row);
    }
    jpeg_finish_decompress(&j->d);
    return OK;
}

enum status jpeg_decode(const uint8_t *p, size_t n, const struct raster *to, struct why *why) {
    struct jpeg *j = calloc(1, sizeof *j); /* not on the stack: it must outlive the jump */
    enum status s;
    if (!j) return why_say(why, E_MEMORY, "/photo", "There is not enough memory.");
    j->d.err = jpeg_std_error(&j->errors);
    j->d.client_data = j;
    j->errors.error_exit = fail;
    j->errors.emit_message = warn;
    j->progress.progress_monitor = watch;
    s = setjmp(j->out) ? broken(j, why) : read_all(j, p, n, to, why);
    jpeg_destroy_decompress(&j->d);
    free(j->icc);
    free(j->row);
    free(j);
    return s;
}
