#include "bench/photo_scene.h"

#include "bench/recipe_shelf.h"

#include <math.h>
#include <string.h>

enum { CELL = 60, INSET = 10, COLUMNS = PICTURE_W / CELL, ROWS = PICTURE_H / CELL };

const char *reference_set_name(enum reference_set s) {
    static const char *const name[SETS] = {"white paper",      "gray card", "gray strip of 3",
                                           "6 chips",          "12 chips",  "24 patches",
                                           "paper and 6 chips"};
    return name[s];
}

static size_t members(enum reference_set set, size_t out[32]) {
    size_t n = 0;
    if (set == SET_WHITE || set == SET_PAPER6) out[n++] = SCENE_PAPER;
    if (set == SET_GRAY) out[n++] = SCENE_GRAY;
    if (set == SET_STRIP)
        for (size_t i = 0; i < 3; i++) out[n++] = SCENE_STRIP + i;
    size_t chips = set == SET_CHIPS12 ? 12 : set == SET_CHIPS6 || set == SET_PAPER6 ? 6 : 0;
    for (size_t i = 0; i < chips; i++) out[n++] = SCENE_CHIPS + i;
    if (set == SET_CHART24)
        for (size_t i = 0; i < 24; i++) out[n++] = SCENE_CHART + i;
    return n;
}

/* Paper takes two by two cells, everything else one. */
void scene_deal(struct scene *s, struct random *r) {
    bool taken[ROWS][COLUMNS] = {{false}};
    int px = (int)random_below(r, COLUMNS - 1), py = (int)random_below(r, ROWS - 1);
    for (int i = 0; i < 4; i++) taken[py + i / 2][px + i % 2] = true;
    for (size_t i = 0; i < SCENE_PATCHES; i++) {
        struct picture_patch *p = &s->patch[i];
        if (i == SCENE_PAPER) {
            p->x = px * CELL + INSET, p->y = py * CELL + INSET;
            p->w = p->h = 2 * CELL - 2 * INSET;
            continue;
        }
        int x, y;
        do {
            x = (int)random_below(r, COLUMNS), y = (int)random_below(r, ROWS);
        } while (taken[y][x]);
        taken[y][x] = true;
        p->x = x * CELL + INSET, p->y = y * CELL + INSET;
        p->w = p->h = CELL - 2 * INSET;
    }
}

void scene_swap(struct scene *s) {
    for (size_t t = SCENE_TARGET; t <= SCENE_TARGET + 3; t += 3) {
        struct surface one = s->patch[t].surface;
        s->patch[t].surface = s->patch[t + 1].surface;
        s->patch[t + 1].surface = one;
    }
}

/* Chips as a person would choose them: spread out. Each next one is the best of ten by its distance
 * to those that are there. */
static void choose_chips(const struct photo_world *w, struct random *r, struct scene *s) {
    int shelf = (int)random_below(r, WORLD_SHELVES);
    for (size_t i = 0; i < 12; i++) {
        double best = -1;
        for (int k = 0; k < 10; k++) {
            const struct surface *c = &photo_world_pool(w, shelf)[random_below(r, WORLD_POOL)];
            double near = 1e9;
            for (size_t j = 0; j < i; j++)
                near = fmin(near, ciede2000(c->lab, s->patch[SCENE_CHIPS + j].surface.lab));
            if (near > best) best = near, s->patch[SCENE_CHIPS + i].surface = *c;
        }
    }
}

static struct surface other_pigments(const struct photo_world *w, const struct surface *s) {
    const struct surface *pool = photo_world_pool(w, s->shelf == 0 ? 1 : 0);
    size_t best = 0;
    for (size_t i = 1; i < WORLD_POOL; i++)
        if (ciede2000(pool[i].lab, s->lab) < ciede2000(pool[best].lab, s->lab)) best = i;
    return pool[best];
}

void scene_make(const struct photo_world *w, struct random *r, struct scene *out) {
    memset(out, 0, sizeof *out);
    static const double strip[3] = {0.75, 0.25, 0.06};
    out->patch[SCENE_PAPER].surface = photo_world_paper(w);
    out->patch[SCENE_GRAY].surface = photo_world_flat(w, 0.18);
    for (int i = 0; i < 3; i++) out->patch[SCENE_STRIP + i].surface = photo_world_flat(w, strip[i]);
    choose_chips(w, r, out);
    for (int i = 0; i < WORLD_CHART; i++)
        out->patch[SCENE_CHART + i].surface = photo_world_chart(w)[i];
    for (size_t t = 0; t < SCENE_TARGETS; t++) {
        struct surface *s = &out->patch[SCENE_TARGET + t].surface;
        if (t % 3 == 0 || t == 7) *s = photo_world_mix(w, (int)random_below(r, WORLD_SHELVES), r);
        if (t % 3 == 1 && t < 6)
            *s = photo_world_neighbor(w, &out->patch[SCENE_TARGET + t - 1].surface, 8, r);
        if (t % 3 == 2 && t < 6) *s = other_pigments(w, &out->patch[SCENE_TARGET + t - 2].surface);
    }
    out->patch[SCENE_TARGET + 6].surface = photo_world_watercolor(w, r);
    for (size_t i = 0; i < SCENE_TARGET; i++) {
        out->stated[i] = out->patch[i].surface.lab;
        out->stated[i].l += 0.5 * random_normal(r);
        out->stated[i].a += 0.5 * random_normal(r);
        out->stated[i].b += 0.5 * random_normal(r);
    }
    scene_deal(out, r);
}

struct picture_setup scene_setup(size_t camera, size_t light, struct random *r) {
    struct picture_setup s = {.camera = camera, .light = light, .light2 = light};
    s.space = random_unit(r) < 0.5 ? RGB_SRGB : RGB_DISPLAY_P3;
    s.balance[0] = exp(0.06 * random_normal(r));
    s.balance[1] = 1;
    s.balance[2] = exp(0.06 * random_normal(r));
    s.exposure = 0.68 + 0.26 * random_unit(r);
    s.curve = random_unit(r) < 0.5 ? 0 : 1 + 3 * random_unit(r);
    s.saturation = 0.92 + 0.2 * random_unit(r);
    /* half of the cameras know daylight only */
    s.lamp = random_unit(r) < 0.5 ? 0 : photo_world_lamp(light);
    double size = 0.3 * random_unit(r), angle = 6.283185307 * random_unit(r);
    s.slope[0] = size * cos(angle);
    s.slope[1] = size * sin(angle);
    s.vignette = 0.22 * random_unit(r);
    s.noise = 0.01 + 0.02 * random_unit(r);
    s.seed = random_bits(r);
    return s;
}

const char *picture_fault_name(enum picture_fault f) {
    static const char *const name[FAULTS] = {"none",      "clipped", "dark",  "glare",
                                             "reference", "mixed",   "shadow"};
    return name[f];
}

/* One reference of a group gets the true color of another one of the group, far enough away. */
static void wrong_label(struct scene *s, struct random *r, size_t first, uint32_t n, uint32_t of) {
    for (int i = 0; i < 200; i++) {
        size_t p = first + random_below(r, n), q = first + random_below(r, of);
        if (ciede2000(s->stated[p], s->patch[q].surface.lab) < 12) continue;
        s->stated[p] = s->patch[q].surface.lab;
        return;
    }
}

void scene_fault(const struct photo_world *w, struct scene *s, struct picture_setup *setup,
                 enum picture_fault fault, struct random *r) {
    const struct picture_patch *t = &s->patch[SCENE_TARGET];
    double x = (t->x + t->w / 2.0) / PICTURE_W, y = (t->y + t->h / 2.0) / PICTURE_W;
    double off = 0.3 * t->w / PICTURE_W, seen[3];
    switch (fault) {
    case FAULT_CLIP:
        photo_world_see(w, setup->camera, setup->light, setup->lamp, &t->surface.reflectance,
                        setup->space, setup->balance, seen);
        setup->exposure = (1.5 + random_unit(r)) / fmax(seen[0], fmax(seen[1], seen[2]));
        break;
    case FAULT_DARK: setup->exposure *= exp2(-3.5 - 2 * random_unit(r)); break;
    case FAULT_GLARE:
        setup->glare = 0.3 + 0.5 * random_unit(r);
        setup->glare_at[0] = x + off * (2 * random_unit(r) - 1);
        setup->glare_at[1] = y + off * (2 * random_unit(r) - 1);
        setup->glare_radius = t->w * (0.15 + 0.3 * random_unit(r)) / PICTURE_W;
        break;
    case FAULT_WRONG:
        wrong_label(s, r, SCENE_STRIP, 3, 3);
        wrong_label(s, r, SCENE_CHIPS, 6, 12);
        wrong_label(s, r, SCENE_CHART, WORLD_CHART, WORLD_CHART);
        break;
    case FAULT_MIXED:
        setup->light2 = setup->light == 2 ? random_below(r, 2) : 2; /* lamp and daylight */
        setup->exposure *= 0.6; /* the lamp's red must not clip */
        setup->mixed = 0.7 + 0.3 * random_unit(r);
        setup->mixed_direction = 6.283185307 * random_unit(r);
        break;
    case FAULT_SHADOW:
        setup->shadow = 0.3 + 0.3 * random_unit(r);
        setup->shadow_direction = 6.283185307 * random_unit(r);
        setup->shadow_at[0] = x + off * (2 * random_unit(r) - 1);
        setup->shadow_at[1] = y + off * (2 * random_unit(r) - 1);
        setup->shadow_soft = 0.01 + 0.06 * random_unit(r);
        break;
    default: break;
    }
}

void scene_read(const struct scene *s, const struct picture *p, struct scene_blocks *out) {
    for (size_t i = 0; i < SCENE_PATCHES; i++)
        out->n[i] = picture_blocks(p, s->patch[i].x, s->patch[i].y, s->patch[i].w, s->patch[i].h,
                                   out->block[i]);
}

void scene_shot(const struct scene *s, const struct scene_blocks *b, enum reference_set set,
                struct scene_shot *out) {
    size_t n = members(set, out->index);
    for (size_t i = 0; i < n; i++) {
        size_t p = out->index[i];
        enum photo_kind kind = p == SCENE_PAPER  ? PHOTO_WHITE
                               : p < SCENE_CHIPS ? PHOTO_GRAY
                               : p < SCENE_CHART ? PHOTO_CHIP
                                                 : PHOTO_PATCH;
        out->reference[i] =
            (struct photo_reference){{"reference", b->block[p], b->n[p]}, kind, s->stated[p], 0};
    }
    for (size_t t = 0; t < SCENE_TARGETS; t++)
        out->target[t] =
            (struct photo_patch){"target", b->block[SCENE_TARGET + t], b->n[SCENE_TARGET + t]};
    out->shot = (struct photo_shot){.references = out->reference,
                                    .references_n = n,
                                    .targets = out->target,
                                    .targets_n = SCENE_TARGETS,
                                    .width = 1,
                                    .height = 0.75};
}
