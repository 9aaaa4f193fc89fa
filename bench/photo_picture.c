#include "bench/photo_picture.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
/* after stdio */
#include <jpeglib.h>

enum { NORMALS = 8192 };

static const float *normals(void) {
    static float table[NORMALS];
    if (table[0] == 0) {
        struct random r;
        random_seed(&r, 99);
        for (int i = 0; i < NORMALS; i++) table[i] = (float)random_normal(&r);
    }
    return table;
}

static double encode(double v) {
    return v <= 0.0031308 ? 12.92 * v : 1.055 * pow(v, 1 / 2.4) - 0.055;
}

/* A maker's curve on encoded values: a logistic through (0, 0) and (1, 1). */
static double curve(double e, double k) {
    if (k < 0.01) return e;
    double low = 1 / (1 + exp(k / 2)), high = 1 / (1 + exp(-k / 2));
    return (1 / (1 + exp(-k * (e - 0.5))) - low) / (high - low);
}

/* linear 0..1 in 4096 steps of the square root -> encoded 0..255 with the curve */
static void make_table(double k, float out[4097]) {
    for (int i = 0; i <= 4096; i++) {
        double v = (double)i / 4096;
        out[i] = (float)(255 * curve(encode(v * v), k));
    }
}

struct lit {
    double one[3], two[3]; /* under each light */
};

static void saturate(double c[3], double by) {
    double gray = 0.25 * c[0] + 0.65 * c[1] + 0.1 * c[2];
    for (int k = 0; k < 3; k++) c[k] = gray + (c[k] - gray) * by;
}

static struct lit lit_of(const struct photo_world *w, const struct picture_setup *s,
                         const struct spectrum *r) {
    struct lit out;
    double tint[3], balance2[3];
    photo_world_see(w, s->camera, s->light, s->lamp, r, s->space, s->balance, out.one);
    photo_world_tint(w, s->camera, s->light2, s->light, tint);
    for (int k = 0; k < 3; k++) balance2[k] = s->balance[k] * tint[k];
    photo_world_see(w, s->camera, s->light2, s->lamp, r, s->space, balance2, out.two);
    saturate(out.one, s->saturation);
    saturate(out.two, s->saturation);
    return out;
}

static double smooth_step(double x) {
    x = fmin(fmax(x, 0), 1);
    return x * x * (3 - 2 * x);
}

/* Amount of light at a place, and the second light's share. */
static double light_at(const struct picture_setup *s, double x, double y, double *out_share) {
    double dx = x - 0.5, dy = y - 0.375, r2 = (dx * dx + dy * dy) / (0.25 + 0.140625);
    double v = (1 + s->slope[0] * dx + s->slope[1] * dy) * (1 - s->vignette * r2);
    *out_share = 0;
    if (s->mixed > 0) {
        double along = dx * cos(s->mixed_direction) + dy * sin(s->mixed_direction);
        *out_share = s->mixed * smooth_step(0.5 + along);
    }
    if (s->shadow > 0) {
        double across = (x - s->shadow_at[0]) * cos(s->shadow_direction) +
                        (y - s->shadow_at[1]) * sin(s->shadow_direction);
        v *= 1 - (1 - s->shadow) * smooth_step(0.5 + across / s->shadow_soft);
    }
    return v;
}

struct painter {
    const struct picture_setup *setup;
    const float *normal;
    float table[4097];
    struct random r;
    struct picture *out;
};

static void paint(struct painter *p, const struct lit *c, int x0, int y0, int w, int h) {
    const struct picture_setup *s = p->setup;
    uint32_t at = random_below(&p->r, NORMALS);
    for (int y = y0; y < y0 + h; y++) {
        at = random_below(&p->r, NORMALS);
        for (int x = x0; x < x0 + w; x++) {
            unsigned char *pixel = p->out->rgb + 3 * (y * PICTURE_W + x);
            double px = (x + 0.5) / PICTURE_W, py = (y + 0.5) / PICTURE_W, t;
            double v = s->exposure * light_at(s, px, py, &t), extra = 0;
            if (s->glare > 0) {
                double gx = px - s->glare_at[0], gy = py - s->glare_at[1];
                extra =
                    s->glare * exp(-(gx * gx + gy * gy) / (2 * s->glare_radius * s->glare_radius));
            }
            for (int k = 0; k < 3; k++) {
                double e = v * ((1 - t) * c->one[k] + t * c->two[k]) + extra;
                e += s->noise * sqrt(fmax(e, 0) + 0.003) * p->normal[at++ % NORMALS];
                double i = 4096 * sqrt(fmin(fmax(e, 0), 1));
                int j = (int)i < 4096 ? (int)i : 4095;
                pixel[k] = (unsigned char)(p->table[j] +
                                           (p->table[j + 1] - p->table[j]) * (float)(i - j) + 0.5f);
            }
        }
        at += 7;
    }
}

unsigned char *picture_jpeg(const struct picture *p, unsigned long *out_bytes) {
    struct jpeg_compress_struct c;
    struct jpeg_error_mgr error;
    unsigned char *out = NULL;
    c.err = jpeg_std_error(&error);
    jpeg_create_compress(&c);
    jpeg_mem_dest(&c, &out, out_bytes);
    c.image_width = PICTURE_W;
    c.image_height = PICTURE_H;
    c.input_components = 3;
    c.in_color_space = JCS_RGB;
    jpeg_set_defaults(&c);
    jpeg_set_quality(&c, PICTURE_QUALITY, TRUE);
    jpeg_start_compress(&c, TRUE);
    while (c.next_scanline < PICTURE_H) {
        JSAMPROW row = (JSAMPROW)(p->rgb + 3 * PICTURE_W * c.next_scanline);
        jpeg_write_scanlines(&c, &row, 1);
    }
    jpeg_finish_compress(&c);
    jpeg_destroy_compress(&c);
    return out;
}

static void jpeg_back(const unsigned char *data, unsigned long bytes, struct picture *p) {
    struct jpeg_decompress_struct d;
    struct jpeg_error_mgr error;
    d.err = jpeg_std_error(&error);
    jpeg_create_decompress(&d);
    jpeg_mem_src(&d, data, bytes);
    jpeg_read_header(&d, TRUE);
    d.out_color_space = JCS_RGB;
    jpeg_start_decompress(&d);
    while (d.output_scanline < PICTURE_H) {
        JSAMPROW row = p->rgb + 3 * PICTURE_W * d.output_scanline;
        jpeg_read_scanlines(&d, &row, 1);
    }
    jpeg_finish_decompress(&d);
    jpeg_destroy_decompress(&d);
}

void picture_take(const struct photo_world *w, const struct picture_setup *s,
                  const struct picture_patch *patches, size_t n, bool jpeg, struct picture *out) {
    static struct surface table_top;
    if (table_top.lab.l == 0) table_top = photo_world_flat(w, 0.35);
    struct painter p = {.setup = s, .normal = normals(), .out = out};
    random_seed(&p.r, s->seed);
    make_table(s->curve, p.table);
    out->space = s->space;
    /* the table matters at the patches' edges alone (JPEG); a strip around each is enough */
    struct lit around = lit_of(w, s, &table_top.reflectance);
    memset(out->rgb, 150, sizeof out->rgb);
    for (size_t i = 0; i < n; i++) {
        int x0 = patches[i].x - 6, y0 = patches[i].y - 6;
        int x1 = patches[i].x + patches[i].w + 6, y1 = patches[i].y + patches[i].h + 6;
        x0 = x0 < 0 ? 0 : x0, y0 = y0 < 0 ? 0 : y0;
        x1 = x1 > PICTURE_W ? PICTURE_W : x1, y1 = y1 > PICTURE_H ? PICTURE_H : y1;
        int px = patches[i].x, py = patches[i].y, pw = patches[i].w, ph = patches[i].h;
        paint(&p, &around, x0, y0, x1 - x0, py - y0);
        paint(&p, &around, x0, py + ph, x1 - x0, y1 - py - ph);
        paint(&p, &around, x0, py, px - x0, ph);
        paint(&p, &around, px + pw, py, x1 - px - pw, ph);
        struct lit c = lit_of(w, s, &patches[i].surface.reflectance);
        paint(&p, &c, px, py, pw, ph);
    }
    if (jpeg) {
        unsigned long bytes = 0;
        unsigned char *data = picture_jpeg(out, &bytes);
        jpeg_back(data, bytes, out);
        free(data);
    }
}

void picture_convert(const struct picture *p, enum rgb_space space, struct picture *out) {
    out->space = space;
    for (size_t i = 0; i < sizeof p->rgb; i += 3) {
        struct rgb c = {p->rgb[i] / 255.0, p->rgb[i + 1] / 255.0, p->rgb[i + 2] / 255.0};
        c = rgb_encode(rgb_of_xyz_d65(space, xyz_d65_of_rgb(p->space, rgb_decode(c))));
        const double v[3] = {c.r, c.g, c.b};
        for (int k = 0; k < 3; k++)
            out->rgb[i + (size_t)k] = (unsigned char)(255 * fmin(fmax(v[k], 0), 1) + 0.5);
    }
}

struct sums {
    double one[3], two[3], clipped, dark, n;
};

static void add_pixel(struct sums *s, const unsigned char *p, const double *linear,
                      const double to_p3[3][3]) {
    double v[3];
    for (int k = 0; k < 3; k++) {
        v[k] = 0;
        for (int j = 0; j < 3; j++) v[k] += to_p3[k][j] * linear[p[j]];
        s->one[k] += v[k];
        s->two[k] += v[k] * v[k];
    }
    s->clipped += p[0] >= 254 || p[1] >= 254 || p[2] >= 254;
    s->dark += p[0] <= 8 && p[1] <= 8 && p[2] <= 8;
    s->n++;
}

size_t picture_blocks(const struct picture *p, int x, int y, int w, int h,
                      struct photo_block *out) {
    static double linear[256], to_p3[2][3][3];
    if (linear[255] == 0) {
        for (int k = 0; k < 3; k++) {
            const struct rgb unit = {k == 0, k == 1, k == 2};
            struct rgb c = rgb_of_xyz_d65(RGB_DISPLAY_P3, xyz_d65_of_rgb(RGB_SRGB, unit));
            const double column[3] = {c.r, c.g, c.b};
            for (int j = 0; j < 3; j++) {
                to_p3[RGB_SRGB][j][k] = column[j];
                to_p3[RGB_DISPLAY_P3][j][k] = j == k;
            }
        }
        for (int i = 0; i < 256; i++) linear[i] = rgb_decode((struct rgb){i / 255.0, 0, 0}).r;
    }
    int nx = w < 16 ? w : 16, ny = h < 16 ? h : 16;
    size_t n = 0;
    for (int j = 0; j < ny; j++)
        for (int i = 0; i < nx; i++) {
            int x0 = x + w * i / nx, x1 = x + w * (i + 1) / nx;
            int y0 = y + h * j / ny, y1 = y + h * (j + 1) / ny;
            struct sums s = {0};
            for (int v = y0; v < y1; v++)
                for (int u = x0; u < x1; u++)
                    add_pixel(&s, p->rgb + 3 * (v * PICTURE_W + u), linear, to_p3[p->space]);
            struct photo_block *b = &out[n++];
            *b = (struct photo_block){.clipped_frac = s.clipped / s.n,
                                      .dark_frac = s.dark / s.n,
                                      .x = (x0 + x1) / 2.0 / PICTURE_W,
                                      .y = (y0 + y1) / 2.0 / PICTURE_W};
            for (int k = 0; k < 3; k++) {
                b->rgb[k] = s.one[k] / s.n;
                b->sd[k] = sqrt(fmax(s.two[k] / s.n - b->rgb[k] * b->rgb[k], 0));
            }
        }
    return n;
}
