#include "core/photo/check.h"

#include <math.h>
#include <stdio.h>

static bool in_range(double x, double low, double high) {
    return x >= low && x <= high; /* not for NAN */
}

static bool block_good(const struct photo_block *b) {
    for (int k = 0; k < 3; k++)
        if (!in_range(b->rgb[k], -1, 4) || !in_range(b->sd[k], 0, 4)) return false;
    return in_range(b->clipped_frac, 0, 1) && in_range(b->dark_frac, 0, 1) &&
           in_range(b->x, 0, 1) && in_range(b->y, 0, 1);
}

static enum status check_patch(const struct photo_patch *p, const char *list, size_t i,
                               struct why *why) {
    char at[48];
    snprintf(at, sizeof at, "/%s/%zu/rect", list, i);
    if (!p->blocks || p->blocks_n < 1)
        return why_say(why, E_MISSING, at,
                       "The rectangle of %s holds no pixel of the picture. Draw it inside.",
                       p->name ? p->name : "this patch");
    if (p->blocks_n > PHOTO_BLOCKS_MAX)
        return why_say(why, E_TOO_LARGE, at, "A patch has at most %d blocks, not %zu.",
                       PHOTO_BLOCKS_MAX, p->blocks_n);
    for (size_t b = 0; b < p->blocks_n; b++)
        if (!block_good(&p->blocks[b]))
            return why_say(why, E_DOMAIN, at, "Block %zu has a number outside its range.", b);
    return OK;
}

static enum status check_reference(const struct photo_reference *r, size_t i, struct why *why) {
    char at[48];
    enum status s = check_patch(&r->patch, "references", i, why);
    if (s != OK) return s;
    snprintf(at, sizeof at, "/references/%zu/kind", i);
    if ((unsigned)r->kind >= PHOTO_KINDS)
        return why_say(why, E_DOMAIN, at, "The kind is white, gray, chip or patch.");
    snprintf(at, sizeof at, "/references/%zu/lab", i);
    if (isnan(r->lab.l)) {
        if (r->kind == PHOTO_CHIP || r->kind == PHOTO_PATCH)
            return why_say(why, E_MISSING, at,
                           "The color of %s is missing. Only white and gray may do without.",
                           r->patch.name ? r->patch.name : "this chip");
    } else if (!in_range(r->lab.l, 0, 110) || !in_range(r->lab.a, -200, 200) ||
               !in_range(r->lab.b, -200, 200)) {
        return why_say(why, E_DOMAIN, at,
                       "Lab %g %g %g is no color of a surface. L is 0 to 110, a and b -200 to 200.",
                       r->lab.l, r->lab.a, r->lab.b);
    }
    if (!in_range(r->lab_sd, 0, 20))
        return why_say(why, E_DOMAIN, at, "The doubt of a color is 0 to 20.");
    return OK;
}

enum status photo_check(const struct photo_shot *shot, struct why *why) {
    if (shot->references_n < 1)
        return why_say(why, E_MISSING, "/references",
                       "There is no reference. One sheet of white paper is enough to begin.");
    if (shot->references_n > PHOTO_REFERENCES_MAX)
        return why_say(why, E_TOO_LARGE, "/references", "At most %d references, not %zu.",
                       PHOTO_REFERENCES_MAX, shot->references_n);
    if (shot->targets_n > PHOTO_TARGETS_MAX)
        return why_say(why, E_TOO_LARGE, "/targets", "At most %d targets, not %zu.",
                       PHOTO_TARGETS_MAX, shot->targets_n);
    if (!in_range(shot->width, 1e-4, 1) || !in_range(shot->height, 1e-4, 1))
        return why_say(why, E_DOMAIN, "/size",
                       "Width and height are divided by the longer of them: 0.0001 to 1.");
    for (size_t i = 0; i < shot->references_n; i++) {
        enum status s = check_reference(&shot->references[i], i, why);
        if (s != OK) return s;
    }
    for (size_t i = 0; i < shot->targets_n; i++) {
        enum status s = check_patch(&shot->targets[i], "targets", i, why);
        if (s != OK) return s;
    }
    return OK;
}
