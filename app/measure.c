#include "app/measure.h"

#include "codec/color_text.h"
#include "core/photo/photo.h"

#include <errno.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { WARNINGS_MAX = 8 };

/* ---- rectangles -> pixels ---- */

/* Whole pixels whose edges are nearest to what was said; at least one. */
struct picture_rect measure_whole(const double r[4]) {
    int x = (int)lround(r[0]), y = (int)lround(r[1]), right = (int)lround(r[0] + r[2]),
        bottom = (int)lround(r[1] + r[3]);
    return (struct picture_rect){x, y, right > x ? right - x : 1, bottom > y ? bottom - y : 1};
}

static void rect_field(const struct measure_rects *m, size_t i, char out[64]) {
    bool reference = i < m->references_n;
    snprintf(out, 64, "/%s/%zu/rect", reference ? "references" : "targets",
             reference ? i : i - m->references_n);
}

static enum status rects_of(const struct measure_rects *m, struct arena *a,
                            struct picture_rect **out, size_t *out_n, struct why *why) {
    size_t n = m->references_n + m->targets_n;
    struct picture_rect *rects = arena_array(a, n + 1, sizeof *rects);
    char field[64];
    if (!rects) return why_no_memory(why);
    for (size_t i = 0; i < n; i++) {
        const double *r =
            i < m->references_n ? m->references[i].rect : m->targets[i - m->references_n].rect;
        rect_field(m, i, field);
        if (!(r[2] > 0 && r[3] > 0))
            return why_say(why, E_DOMAIN, field,
                           "The rectangle has no area. Write [x, y, width, height] in pixels of "
                           "the upright picture.");
        rects[i] = measure_whole(r);
    }
    *out = rects;
    *out_n = n;
    return OK;
}

/* The worker counts rectangles; people know references and targets. */
static void name_rect(const struct measure_rects *m, struct why *why) {
    char field[64];
    if (!why || strncmp(why->field, "/rects/", 7)) return;
    size_t i = (size_t)strtoull(why->field + 7, NULL, 10);
    if (i >= m->references_n + m->targets_n) return;
    rect_field(m, i, field);
    snprintf(why->field, sizeof why->field, "%s", field);
}

/* ---- one shot ---- */

static const char *named(struct arena *a, const char *name, const char *what, size_t i) {
    return name && *name ? name : arena_print(a, "%s %zu", what, i + 1);
}

static enum status shot_of(const struct measure_rects *m, const struct picture_answer *pixels,
                           const struct picture_rect *rects, struct arena *a,
                           struct photo_shot *out, struct why *why) {
    struct photo_reference *references = arena_array(a, m->references_n + 1, sizeof *references);
    struct photo_patch *targets = arena_array(a, m->targets_n + 1, sizeof *targets);
    const struct photo_block *next = pixels->blocks;
    double w = pixels->facts.width, h = pixels->facts.height;
    if (!references || !targets) return why_no_memory(why);
    for (size_t i = 0; i < m->references_n; i++) {
        const struct measure_reference *r = &m->references[i];
        references[i] = (struct photo_reference){
            .patch = {named(a, r->name, words_photo_kind[r->kind], i), next, blocks_in(rects[i])},
            .kind = (enum photo_kind)(r->kind - 1),
            .lab = {r->lab[0], r->lab[1], r->lab[2]}};
        next += references[i].patch.blocks_n;
    }
    for (size_t i = 0; i < m->targets_n; i++) {
        targets[i] = (struct photo_patch){named(a, m->targets[i].name, "target", i), next,
                                          blocks_in(rects[m->references_n + i])};
        next += targets[i].blocks_n;
    }
    *out = (struct photo_shot){.references = references,
                               .references_n = m->references_n,
                               .targets = targets,
                               .targets_n = m->targets_n,
                               .width = w / fmax(w, h),
                               .height = h / fmax(w, h)};
    return OK;
}

enum status measure_tell(const char *name, const struct picture_facts *f, struct arena *a,
                         struct measured_picture *out, struct why *why) {
    enum picture_format promised = name ? picture_format_named(name) : PICTURE_UNKNOWN;
    out->name = name;
    out->format = picture_format_said(f->format);
    out->width = f->width;
    out->height = f->height;
    out->profile = arena_text(a, f->profile);
    if (promised && promised != f->format)
        out->note = arena_print(a, "It is named like %s and is %s.", picture_format_said(promised),
                                picture_format_said(f->format));
    return out->profile ? OK : why_no_memory(why);
}

static enum status read_shot(struct op_call *call, const struct measure_shot *shot,
                             struct photo_reading *out, struct measured_picture *out_picture,
                             struct why *why) {
    struct picture_answer pixels;
    struct picture_ask ask = {0};
    struct picture_rect *rects = NULL;
    struct photo_shot asked;
    enum status s = OK;
    if (!shot->rects->references_n)
        return why_say(why, E_MISSING, "/references",
                       "Mark something of known color: white paper, a gray card, a dried chip.");
    s = rects_of(shot->rects, call->arena, &rects, &ask.rects_n, why);
    ask.rects = rects;
    if (!s) s = picture_read(shot->bytes, shot->n, &ask, &call->limit, &pixels, why);
    if (s) {
        name_rect(shot->rects, why);
        return s;
    }
    s = shot_of(shot->rects, &pixels, rects, call->arena, &asked, why);
    if (!s) s = photo_read(&asked, call->arena, out, why);
    if (!s && out_picture)
        s = measure_tell(shot->name, &pixels.facts, call->arena, out_picture, why);
    picture_free(&pixels);
    return s;
}

/* ---- the answer ---- */

static bool words_of(unsigned warnings, bool sentences, struct arena *a, const char ***out,
                     size_t *out_n) {
    *out = arena_array(a, WARNINGS_MAX, sizeof **out);
    *out_n = 0;
    for (unsigned bit = 1; *out && bit && *out_n < WARNINGS_MAX; bit <<= 1)
        if (warnings & bit)
            (*out)[(*out_n)++] = sentences ? photo_warning_text(bit) : photo_warning_word(bit);
    return *out != NULL;
}

/* Four decimals: more than any camera sees, and no noise of the arithmetic. */
static void put_lab(double out[3], struct lab c) {
    const double v[3] = {c.l, c.a, c.b};
    for (int i = 0; i < 3; i++) out[i] = round(v[i] * 1e4) / 1e4 + 0.0;
}

static bool tell_target(const struct photo_color *c, const char *name, struct arena *a,
                        struct measured_target *out) {
    char hex[8], text[96];
    /* what is kept of it is what is seen of it */
    struct lab rounded = {round(c->lab.l * 100) / 100, round(c->lab.a * 100) / 100,
                          round(c->lab.b * 100) / 100};
    color_print_hex(c->lab, hex);
    color_print(NOTATION_LAB, rounded, text, sizeof text);
    *out = (struct measured_target){.name = name,
                                    .hex = arena_text(a, hex),
                                    .color = arena_text(a, text),
                                    .expected = c->expected,
                                    .limit90 = c->limit90};
    put_lab(out->lab, c->lab);
    return out->name && out->hex && out->color &&
           words_of(c->warnings, false, a, &out->warnings, &out->warnings_n);
}

static bool tell_reference(const struct photo_residual *r, const struct measure_reference *said,
                           const char *name, struct arena *a, struct measured_reference *out) {
    *out = (struct measured_reference){.name = name,
                                       .kind = said->kind,
                                       .difference = r->difference,
                                       .weight = r->weight,
                                       .assumed = r->assumed};
    put_lab(out->stated, r->stated);
    put_lab(out->read, r->read);
    return out->name && words_of(r->warnings, false, a, &out->warnings, &out->warnings_n);
}

static enum status answer_of(const struct photo_reading *r, const struct photo_reading *first,
                             const struct measure_rects *m, struct arena *a,
                             struct measure_answer *out, struct why *why) {
    bool good = words_of(r->warnings, false, a, &out->warnings, &out->warnings_n) &&
                words_of(r->warnings, true, a, &out->advice, &out->advice_n);
    out->targets = arena_array(a, r->targets_n + 1, sizeof *out->targets);
    out->references = arena_array(a, first->references_n + 1, sizeof *out->references);
    if (!good || !out->targets || !out->references) return why_no_memory(why);
    for (size_t i = 0; good && i < r->targets_n; i++)
        good = tell_target(&r->targets[i], named(a, m->targets[i].name, "target", i), a,
                           &out->targets[i]);
    for (size_t i = 0; good && i < first->references_n; i++)
        good = tell_reference(
            &first->references[i], &m->references[i],
            named(a, m->references[i].name, words_photo_kind[m->references[i].kind], i), a,
            &out->references[i]);
    out->targets_n = r->targets_n;
    out->references_n = first->references_n;
    out->shots = (int64_t)r->shots;
    if (r->has_difference) {
        out->difference = (struct measured_difference){.expected = r->difference.expected,
                                                       .limit90 = r->difference.limit90,
                                                       .ciede2000 = r->difference.ciede2000};
        put_lab(out->difference.lab,
                (struct lab){r->difference.lab[0], r->difference.lab[1], r->difference.lab[2]});
    }
    return good ? OK : why_no_memory(why);
}

enum status measure_read(struct op_call *call, const struct measure_shot *shots, size_t n,
                         const char *member, struct measure_answer *out, struct why *why) {
    struct photo_reading *readings = arena_array(call->arena, n + 1, sizeof *readings), mean;
    char field[64];
    if (!readings) return why_no_memory(why);
    for (size_t i = 0; i < n; i++) {
        enum status s = read_shot(call, &shots[i], &readings[i], i ? NULL : &out->picture, why);
        if (s) {
            snprintf(field, sizeof field, "%s/%zu", member, i);
            if (why && *member) why_under(why, field);
            return s;
        }
    }
    mean = readings[0];
    if (n > 1) {
        enum status s = photo_average(readings, n, call->arena, &mean, why);
        if (s) return s;
    }
    return answer_of(&mean, &readings[0], shots[0].rects, call->arena, out, why);
}

enum status picture_load(const char *path, void **out, size_t *out_n, struct why *why) {
    FILE *f = fopen(path, "rb");
    size_t most = PICTURE_FILE_MAX + 1 /* so that too much is noticed */, n = 0, cap = 0, k;
    char *at = NULL, *more;
    if (!f)
        return why_say(why, errno == ENOENT ? E_NOT_FOUND : E_IO, "/photo",
                       "%.200s cannot be opened: %s.", path, strerror(errno));
    do {
        if (n == cap) {
            cap = cap ? cap * 2 : 1 << 20;
            if (cap > most) cap = most;
            if (!(more = realloc(at, cap))) {
                free(at);
                fclose(f);
                return why_no_memory(why);
            }
            at = more;
        }
        k = fread(at + n, 1, cap - n, f);
        n += k;
    } while (k && n < most);
    bool bad = ferror(f);
    int e = errno;
    fclose(f);
    if (bad) {
        free(at);
        return why_say(why, E_IO, "/photo", "%.200s cannot be read: %s.", path, strerror(e));
    }
    *out = at;
    *out_n = n;
    return OK;
}
