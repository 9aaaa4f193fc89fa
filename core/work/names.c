#include "core/work/names.h"

#include "core/base/name.h"
#include "core/work/cans.h"

#include <math.h>
#include <stddef.h>
#include <stdio.h>
#include <string.h>

enum { LISTED_MAX = 600 };

/* The ids of a table: `size` bytes a row, the id `at` bytes into it. Messages list them, or what
 * stands `name_at` bytes into a row: names, for what people read by name. */
struct ids {
    const void *rows;
    size_t n, size, at, name_at; /* 0: ids have no other name */
};
#define IDS_OF(owner, table)                                                                       \
    (struct ids) {                                                                                 \
        (owner)->table, (owner)->table##_n, sizeof *(owner)->table,                                \
            offsetof(struct table##_row, id), 0                                                    \
    }

static const char *text_at(const struct ids *ids, size_t i, size_t at) {
    const char *text;
    memcpy(&text, (const char *)ids->rows + i * ids->size + at, sizeof text);
    return text;
}

static const char *id_at(const struct ids *ids, size_t i) {
    return text_at(ids, i, ids->at);
}

static bool has(const struct ids *ids, const char *id) {
    for (size_t i = 0; i < ids->n; i++) {
        const char *row = id_at(ids, i);
        if (row && !strcmp(row, id)) return true;
    }
    return false;
}

/* "a, b, c", as many as fit; names hold commas of their own. */
static const char *listed(const struct ids *ids, char list[LISTED_MAX]) {
    size_t n = 0;
    list[0] = 0;
    for (size_t i = 0; i < ids->n; i++) {
        const char *id = ids->name_at ? text_at(ids, i, ids->name_at) : id_at(ids, i);
        if (!id || n + strlen(id) + 3 > LISTED_MAX) continue;
        const char *between = !n ? "" : ids->name_at ? "; " : ", ";
        n += (size_t)snprintf(list + n, LISTED_MAX - n, "%s%s", between, id);
    }
    return n ? list : "nothing";
}

static enum status unknown(struct why *why, const char *field, const char *id, const char *what,
                           const struct ids *ids) {
    char list[LISTED_MAX];
    if (!ids->n)
        return why_say(why, E_REFERENCE, field, "\"%.60s\" is no %s I know: there is none.", id,
                       what);
    return why_say(why, E_REFERENCE, field, "\"%.60s\" is no %s I know. Write one of %s.", id, what,
                   listed(ids, list));
}

/* The id that a slip of the pen is nearest to; NULL: none is near. */
static const char *meant(const struct ids *ids, const char *id) {
    const char *best = NULL;
    size_t least = strlen(id) / 3 + 1;
    for (size_t i = 0; i < ids->n; i++) {
        size_t apart = name_apart(id_at(ids, i), id);
        if (apart < least) best = id_at(ids, i), least = apart;
    }
    return best;
}

static enum status unknown_of_piece(struct why *why, const char *field, const char *id,
                                    const char *what, const struct ids *ids, const char *or_else) {
    char list[LISTED_MAX];
    const char *near = meant(ids, id);
    return why_say(why, E_REFERENCE, field, "\"%.60s\" is no %s I know. %s%s%sWrite one of %s%s.",
                   id, what, near ? "Did you mean " : "", near ? near : "", near ? "? " : "",
                   listed(ids, list), or_else);
}

enum status names_piece_check(const struct tables *t, const struct piece *p, const char *at,
                              struct arena *arena, struct why *why) {
    const struct ids templates = IDS_OF(t, piece_templates), finishes = IDS_OF(t, materials);
    if (p->template && !has(&templates, p->template))
        return unknown_of_piece(why, arena_print(arena, "%s/template", at), p->template, "piece",
                                &templates, ", or list its parts");
    if (p->finish && !has(&finishes, p->finish))
        return unknown_of_piece(why, arena_print(arena, "%s/finish", at), p->finish, "finish",
                                &finishes, "");
    return OK;
}

static enum status parts_check(const struct room *r, struct why *why) {
    const struct ids materials = IDS_OF(r->t, materials);
    for (size_t i = 0; i < r->piece->parts_n; i++) {
        const char *id = r->piece->parts[i].material;
        if (id && !has(&materials, id))
            return unknown(why, ROOM_TEXT(r, "%s/parts/%zu/material", r->at, i), id, "material",
                           &materials);
    }
    return OK;
}

static enum status effects_check(const struct room *r, struct why *why) {
    const struct ids effects = IDS_OF(r->t, effects);
    const struct wanted *w = &r->piece->wanted;
    for (size_t i = 0; i < w->effects_n; i++)
        if (!has(&effects, w->effects[i]))
            return unknown_of_piece(why, ROOM_TEXT(r, "%s/wanted/effects/%zu", r->at, i),
                                    w->effects[i], "effect", &effects, "");
    return OK;
}

static struct ids parts_of(const struct piece_plan *p) {
    return (struct ids){p->surfaces.rows, p->surfaces.rows_n, sizeof *p->surfaces.rows,
                        offsetof(struct surface, part) + offsetof(struct part, id), 0};
}

static enum status repairs_check(const struct room *r, const struct piece_plan *p,
                                 struct why *why) {
    const struct ids parts = parts_of(p);
    for (size_t i = 0; i < r->piece->repairs_n; i++)
        if (r->piece->repairs[i].part && !has(&parts, r->piece->repairs[i].part))
            return unknown(why, ROOM_TEXT(r, "%s/repairs/%zu/part", r->at, i),
                           r->piece->repairs[i].part, "part of this piece", &parts);
    return OK;
}

/* What a piece is made of may be a wood that no table knows; a metal is none. */
static enum status wood_check(const struct room *r, struct why *why) {
    const struct ids metals = IDS_OF(r->t, hardware_metals);
    const char *wood = r->piece->wood;
    if (!wood || !has(&metals, wood)) return OK;
    return why_say(why, E_REFERENCE, ROOM_TEXT(r, "%s/wood", r->at),
                   "\"%.60s\" is no wood. Write metal where the piece is made of it.", wood);
}

/* An opening lies within the piece, whichever way it is turned. */
static enum status openings_check(const struct room *r, struct why *why) {
    const struct piece *p = r->piece;
    double sizes[] = {p->width_mm, p->depth_mm, p->height_mm}, most = 0, second = 0;
    for (int i = 0; i < 3; i++) {
        if (isnan(sizes[i])) continue;
        second = fmax(second, fmin(most, sizes[i]));
        most = fmax(most, sizes[i]);
    }
    for (size_t i = 0; i < p->fittings.panels_n; i++) {
        const struct fitting_panel *f = &p->fittings.panels[i];
        bool wide = fmax(f->width_mm, f->height_mm) > most + 1;
        if (!(second > 0) || !(wide || fmin(f->width_mm, f->height_mm) > second + 1)) continue;
        bool width = wide ? f->width_mm >= f->height_mm : f->width_mm < f->height_mm;
        return why_say(
            why, E_DOMAIN,
            ROOM_TEXT(r, "%s/fittings/panels/%zu/%s", r->at, i, width ? "width" : "height"),
            "This opening is larger than the piece itself. Measure the opening, inside "
            "its frame.");
    }
    return OK;
}

/* Pulls lie along drawer fronts and upright on doors. */
static enum status pulls_check(const struct room *r, const struct piece_plan *p, struct why *why) {
    double spacing = r->piece->fittings.pulls.new_spacing_mm;
    if (r->piece->fittings.pulls.holes == 1 && spacing > 0)
        return why_say(why, E_DOMAIN, ROOM_TEXT(r, "%s/fittings/pulls/new_spacing", r->at),
                       "A new knob has one hole, so nothing is so far apart. For new pulls in the "
                       "place of knobs write \"holes\": 2 and no \"old_spacing\"; for knobs leave "
                       "\"new_spacing\" out.");
    for (size_t i = 0; i < p->surfaces.rows_n && spacing > 0; i++) {
        const struct part *part = &p->surfaces.rows[i].part;
        bool front = part->shape && !strcmp(part->shape, "drawer_front");
        bool door =
            part->shape && (!strcmp(part->shape, "door") || !strcmp(part->shape, "frame_panel"));
        if ((front && spacing > part->size_mm[0]) || (door && spacing > part->size_mm[1]))
            return why_say(why, E_DOMAIN, ROOM_TEXT(r, "%s/fittings/pulls/new_spacing", r->at),
                           "Pulls with holes so far apart do not go on the %s. Measure from the "
                           "middle of one hole to the middle of the other.",
                           part->name);
    }
    return OK;
}

static enum status slides_check(const struct room *r, const struct piece_plan *p, struct why *why) {
    const struct fittings *f = &r->piece->fittings;
    const struct ids parts = parts_of(p);
    for (size_t i = 0; i < f->slides_n; i++)
        if (f->slides[i].part && !has(&parts, f->slides[i].part))
            return unknown(why, ROOM_TEXT(r, "%s/fittings/slides/%zu/part", r->at, i),
                           f->slides[i].part, "part of this piece", &parts);
    return OK;
}

static enum status skipped_check(const struct room *r, struct why *why) {
    const struct piece_tests *tests = &r->piece->tests;
    const struct ids known = IDS_OF(r->t, tests);
    for (size_t i = 0; i < tests->skipped_n; i++)
        if (!has(&known, tests->skipped[i]))
            return unknown(why, ROOM_TEXT(r, "%s/tests/skipped/%zu", r->at, i), tests->skipped[i],
                           "test", &known);
    return OK;
}

enum status names_check(const struct room *r, const struct piece_plan *p, struct why *why) {
    enum status s = parts_check(r, why);
    if (!s) s = skipped_check(r, why);
    if (!s) s = repairs_check(r, p, why);
    if (!s) s = effects_check(r, why);
    if (!s) s = wood_check(r, why);
    if (!s) s = openings_check(r, why);
    if (!s) s = pulls_check(r, p, why);
    return s ? s : slides_check(r, p, why);
}

/* ---- the shelf of a document ---- */

/* at: the mix's pointer. */
static enum status mix_check(const struct mix_item *items, size_t n, const struct ids *paints,
                             const char *at, struct arena *arena, struct why *why) {
    if (!n)
        return why_say(why, E_MISSING, at,
                       "Say what was mixed: paints, and parts of each by "
                       "volume.");
    for (size_t i = 0; i < n; i++) {
        const char *paint = items[i].paint;
        if (!has(paints, paint))
            return unknown(why, arena_print(arena, "%s/%zu/paint", at, i), paint,
                           "paint on this shelf", paints);
        if (!(items[i].parts > 0))
            return why_say(why, E_DOMAIN, arena_print(arena, "%s/%zu/parts", at, i),
                           "No part of \"%.64s\": write how many, or leave it out.", paint);
        for (size_t k = 0; k < i; k++)
            if (!strcmp(items[k].paint, paint))
                return why_say(why, E_DOMAIN, arena_print(arena, "%s/%zu/paint", at, i),
                               "\"%.64s\" is in it twice: write all its parts once.", paint);
    }
    return OK;
}

static size_t paint_row(const struct shelf *s, const char *id) {
    size_t i = 0;
    while (i < s->paints_n && strcmp(s->paints[i].id, id)) i++;
    return i;
}

/* Nothing was mixed from itself: leftovers are taken as known one after the other, those first
 * whose paints all are; who is left was mixed from each other. */
static enum status leftovers_check(const struct shelf *s, const char *at, struct arena *arena,
                                   struct why *why) {
    size_t mixed = 0, n = 0;
    for (size_t i = 0; i < s->paints_n; i++) mixed += s->paints[i].leftover_of_n;
    size_t *of = arena_array(arena, mixed + 1, sizeof *of); /* rows of all mixes, one by one */
    bool *known = arena_array(arena, s->paints_n + 1, sizeof *known);
    if (!of || !known) return why_no_memory(why);
    for (size_t i = 0; i < s->paints_n; i++)
        for (size_t k = 0; k < s->paints[i].leftover_of_n; k++)
            of[n++] = paint_row(s, s->paints[i].leftover_of[k].paint);
    for (bool more = true; more;) {
        const size_t *row = of;
        more = false;
        for (size_t i = 0; i < s->paints_n; i++) {
            bool all = !known[i];
            for (size_t k = 0; k < s->paints[i].leftover_of_n; k++) all &= known[*row++];
            if (all) known[i] = more = true;
        }
    }
    for (size_t i = 0; i < s->paints_n; i++)
        if (!known[i])
            return why_say(why, E_DOMAIN, arena_print(arena, "%s/paints/%zu/leftover_of", at, i),
                           "\"%.64s\" would be mixed from itself. Name the paints that were "
                           "poured together.",
                           s->paints[i].id);
    return OK;
}

enum status names_shelf_check(const struct tables *t, const struct shelf *s, const char *at,
                              struct arena *arena, struct why *why) {
    struct ids classes = IDS_OF(t, product_classes);
    classes.name_at = offsetof(struct product_classes_row, name);
    const struct ids paints = {s->paints, s->paints_n, sizeof *s->paints,
                               offsetof(struct paint, id), 0};
    for (size_t i = 0; i < s->paints_n; i++) {
        const struct paint *p = &s->paints[i];
        if (p->class && !has(&classes, p->class))
            return unknown(why, arena_print(arena, "%s/paints/%zu/class", at, i), p->class,
                           "class of product", &classes);
        enum status st = OK;
        if (p->leftover_of_n)
            st = mix_check(p->leftover_of, p->leftover_of_n, &paints,
                           arena_print(arena, "%s/paints/%zu/leftover_of", at, i), arena, why);
        if (!st) st = cans_check(s, p, arena_print(arena, "%s/paints/%zu", at, i), why);
        if (st) return st;
    }
    for (size_t i = 0; i < s->samples_n; i++) {
        const struct sample *sample = &s->samples[i];
        enum status st = mix_check(sample->items, sample->items_n, &paints,
                                   arena_print(arena, "%s/samples/%zu/items", at, i), arena, why);
        if (st) return st;
        if (!sample->color.text)
            return why_say(why, E_MISSING, arena_print(arena, "%s/samples/%zu/color", at, i),
                           "Say what color it dried to: #2f5d62 or lab(36 -14 -8).");
    }
    return leftovers_check(s, at, arena, why);
}
