#include "app/find_again.h"

#include "app/measure.h"
#include "core/photo/find.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* The new picture is cut into tiles, and those into blocks: squares of about 1/128 of its longer
 * side. */
enum { TILES = 8, TILE_BLOCKS = 16, SIDE_LEAST = TILES * TILE_BLOCKS };

static const struct field place_fields[] = {
    F_FIXED(struct found_place, rect, 4, "[x, y, width, height] in pixels of the upright picture"),
    F_NUM(struct found_place, difference, 0, 1e3,
          "of its color there, CIEDE2000, after the common change of light"),
};
static DESC(desc_place, struct found_place, "found_place", "Where a thing lies now.", place_fields);
static const struct field answer_fields[] = {
    F_LIST(struct find_answer, places, &desc_place, PHOTO_MARKS_MAX, "in the order of the things"),
    F_NUM(struct find_answer, sure, 0, 1, "share of the things that see their color"),
};
DESC(desc_find_answer, struct find_answer, "found_places", "Where marked things lie now.",
     answer_fields);

/* What the things were in the first picture. */
static enum status marks_of(struct op_call *call, struct find_picture then,
                            const struct find_thing *things, size_t n, struct photo_mark *out,
                            struct why *why) {
    struct picture_answer seen;
    struct picture_rect *rects = arena_array(call->arena, n, sizeof *rects);
    char field[64];
    if (!rects) return why_no_memory(why);
    for (size_t i = 0; i < n; i++) {
        snprintf(field, sizeof field, "/things/%zu/rect", i);
        if (!(things[i].rect[2] > 0 && things[i].rect[3] > 0))
            return why_say(why, E_DOMAIN, field,
                           "The rectangle has no area. Write [x, y, width, height] in pixels.");
        rects[i] = measure_whole(things[i].rect);
    }
    struct picture_ask ask = {.rects = rects, .rects_n = n};
    enum status s = picture_read(then.bytes, then.n, &ask, &call->limit, &seen, why);
    if (s && why) {
        bool rect = !strncmp(why->field, "/rects/", 7);
        snprintf(field, sizeof field, "/things/%.20s/rect", rect ? why->field + 7 : "0");
        snprintf(why->field, sizeof why->field, "%s", rect ? field : "/from");
    }
    if (s) return s;
    const struct photo_block *next = seen.blocks;
    double longer = fmax(seen.facts.width, seen.facts.height);
    for (size_t i = 0; i < n; i++) {
        size_t blocks = blocks_in(rects[i]);
        const struct picture_rect *r = &rects[i];
        out[i] = (struct photo_mark){.x = (r->x + r->w / 2.0) / longer,
                                     .y = (r->y + r->h / 2.0) / longer,
                                     .half = fmin(r->w, r->h) / 2.0 / longer};
        for (size_t b = 0; b < blocks; b++)
            for (int k = 0; k < 3; k++) out[i].rgb[k] += next[b].rgb[k] / (double)blocks;
        next += blocks;
    }
    picture_free(&seen);
    return OK;
}

static void tiles_of(int width, int height, int across, int down, struct picture_rect *out) {
    for (int y = 0; y < down; y++)
        for (int x = 0; x < across; x++) {
            int left = width * x / across, top = height * y / down;
            *out++ = (struct picture_rect){left, top, width * (x + 1) / across - left,
                                           height * (y + 1) / down - top};
        }
}

/* The new picture in squares; *out_longer is its longer side in pixels. */
static enum status coarse_of(struct op_call *call, struct find_picture now,
                             struct photo_coarse *out, double *out_longer, struct why *why) {
    struct picture_answer seen;
    struct picture_rect tiles[TILES * TILES];
    struct picture_ask ask = {0};
    enum status s = picture_read(now.bytes, now.n, &ask, &call->limit, &seen, why);
    if (s) return s;
    int width = seen.facts.width, height = seen.facts.height;
    picture_free(&seen);
    int longer = width > height ? width : height, shorter = width > height ? height : width;
    int few = (TILES * shorter + longer / 2) / longer;
    if (few < 1 || longer < SIDE_LEAST || shorter < few * TILE_BLOCKS)
        return why_say(why, E_DOMAIN, "",
                       "The picture is too small or too narrow to find things in: %d x %d pixels.",
                       width, height);
    int across = width > height ? TILES : few, down = width > height ? few : TILES;
    tiles_of(width, height, across, down, tiles);
    ask = (struct picture_ask){.rects = tiles, .rects_n = (size_t)(across * down)};
    double(*rgb)[3] =
        arena_array(call->arena, ask.rects_n * TILE_BLOCKS * TILE_BLOCKS, sizeof *rgb);
    if (!rgb) return why_no_memory(why);
    s = picture_read(now.bytes, now.n, &ask, &call->limit, &seen, why);
    if (s) return s;
    const struct photo_block *next = seen.blocks;
    for (int t = 0; t < across * down; t++)
        for (int b = 0; b < TILE_BLOCKS * TILE_BLOCKS; b++) {
            int row = t / across * TILE_BLOCKS + b / TILE_BLOCKS;
            int column = t % across * TILE_BLOCKS + b % TILE_BLOCKS;
            memcpy(rgb[row * across * TILE_BLOCKS + column], (next++)->rgb, sizeof *rgb);
        }
    picture_free(&seen);
    *out = (struct photo_coarse){.rgb = (const double(*)[3])rgb,
                                 .columns = (size_t)(across * TILE_BLOCKS),
                                 .rows = (size_t)(down * TILE_BLOCKS),
                                 .width = (double)width / longer,
                                 .height = (double)height / longer};
    *out_longer = longer;
    return OK;
}

enum status find_again(struct op_call *call, struct find_picture then, struct find_picture now,
                       const struct find_thing *things, size_t n, struct find_answer *out,
                       struct why *why) {
    if (n < 1) return why_say(why, E_MISSING, "/things", "Say what is to be found.");
    struct photo_mark *marks = arena_array(call->arena, n, sizeof *marks);
    struct photo_tap *taps = arena_array(call->arena, n, sizeof *taps);
    struct photo_found *found = arena_array(call->arena, n, sizeof *found);
    struct found_place *places = arena_array(call->arena, n, sizeof *places);
    struct photo_coarse coarse;
    size_t taps_n = 0;
    double longer, sure;
    if (!marks || !taps || !found || !places) return why_no_memory(why);
    enum status s = marks_of(call, then, things, n, marks, why);
    if (s) return s;
    s = coarse_of(call, now, &coarse, &longer, why);
    if (s && why) snprintf(why->field, sizeof why->field, "/id");
    if (s) return s;
    for (size_t i = 0; i < n; i++)
        if (!isnan(things[i].at[0]) && !isnan(things[i].at[1]))
            taps[taps_n++] =
                (struct photo_tap){i, things[i].at[0] / longer, things[i].at[1] / longer};
    s = photo_find_again(marks, n, &coarse, taps, taps_n, call->arena, found, &sure, why);
    if (s) return s;
    for (size_t i = 0; i < n; i++) {
        double half = found[i].half * longer;
        places[i] = (struct found_place){
            {found[i].x * longer - half, found[i].y * longer - half, 2 * half, 2 * half},
            found[i].difference};
    }
    *out = (struct find_answer){places, n, sure};
    return OK;
}
