#include "core/work/surface.h"

#include "core/work/fact.h"
#include "core/work/shape.h"
#include "core/work/template.h"

#include <math.h>
#include <string.h>

const struct profile_factors_row *profile_of(const struct tables *t, const char *id) {
    for (size_t i = 0; id && i < t->profile_factors_n; i++)
        if (!strcmp(t->profile_factors[i].id, id)) return &t->profile_factors[i];
    return NULL;
}

static const struct part_groups_row *group_row(const struct tables *t, const char *id) {
    for (size_t i = 0; i < t->part_groups_n; i++)
        if (!strcmp(t->part_groups[i].id, id)) return &t->part_groups[i];
    return NULL;
}

/* ---- one part ---- */

static bool paints(enum treatment t) {
    return t == TREAT_PAINT || t == TREAT_PAINT_NO_CLEAR;
}
static bool natural(enum treatment t) {
    return t == TREAT_CLEAR || t == TREAT_STAIN || t == TREAT_WAX;
}

/* Where in the document a part was said, or the piece when it is the template's. */
static const char *part_at(const struct room *r, const char *id) {
    for (size_t i = 0; i < r->piece->parts_n; i++)
        if (r->piece->parts[i].id && id && !strcmp(r->piece->parts[i].id, id))
            return ROOM_TEXT(r, "%s/parts/%zu", r->at, i);
    return NULL;
}

/* A shape calls its sizes by name, the document by letter. */
static const char *size_said(const struct shape_kind *kind, const char *field) {
    static const char *const letters[] = {"/a", "/b", "/c", "/d", "/e", "/f"};
    if (strncmp(field, "/sizes", 6) != 0) return field;
    for (int i = 0; i < PART_SIZES && kind->sizes[i] && field[6]; i++)
        if (!strcmp(field + 7, kind->sizes[i])) return letters[i];
    return "";
}

/* A size of a usual part comes out below nothing: one of the piece's is too small or too large for
 * the others, as far as one alone is. */
static enum status too_little(const struct room *r, const struct part *part, struct why *why) {
    const struct piece_templates_row *row = template_of(r->t, r->piece->template);
    double usual, said;
    const char *field = template_at_fault(r, part->id, &usual, &said);
    const char *leg = row && *row->leg_is ? ROOM_TEXT(r, ", leg (%s)", row->leg_is) : "";
    const char *opening =
        row && *row->opening_is ? ROOM_TEXT(r, ", opening (%s)", row->opening_is) : "";
    if (!field)
        return why_say(why, E_DOMAIN, r->at,
                       "With these sizes nothing is left for the %s. Check width, depth, height, "
                       "thickness%s%s and the counts.",
                       part->name, leg, opening);
    const char *at = ROOM_TEXT(r, "%s/%s", r->at, field);
    size_t letters = strlen(field);
    bool count = field[letters - 1] == 's' && strcmp(field, "thickness") != 0;
    if (count)
        return why_say(why, E_DOMAIN, at,
                       "%.0f %.*s leave nothing for the %s; the usual %s has %.0f. Write fewer, or "
                       "a larger piece.",
                       said, (int)(said == 1 ? letters - 1 : letters), field, part->name, row->name,
                       usual);
    return why_say(
        why, E_DOMAIN, at,
        "%s %s of %s leaves nothing for the %s; the usual %s has %s. Measure it again, or "
        "check width, depth, height, thickness%s%s and the counts.",
        strchr("aeiou", *field) ? "An" : "A", field, ledger_length(r->ledger, said), part->name,
        row->name, ledger_length(r->ledger, usual), leg, opening);
}

static enum status part_area(const struct room *r, const struct part *part, double *out_m2,
                             struct why *why) {
    const struct shape_kind *kind = shape_kind_of(part->shape);
    const char *said = part_at(r, part->id);
    if (!kind)
        return why_say(why, E_REFERENCE, ROOM_TEXT(r, "%s/shape", said ? said : r->at),
                       "\"%.60s\" is no shape I know. Write panel, box, frame_panel, square_leg, "
                       "turned_leg, molding, slat or another of the shapes.",
                       part->shape);
    struct why inner;
    enum status s = shape_area(kind, part->size_mm, part->faces, out_m2, &inner);
    if (!s) return OK;
    if (said)
        return why_say(why, s, ROOM_TEXT(r, "%s%s", said, size_said(kind, inner.field)), "%s",
                       inner.text);
    for (int i = 0; i < PART_SIZES && kind->sizes[i]; i++)
        if (part->size_mm[i] < 0) return too_little(r, part, why);
    return why_say(why, E_DOMAIN, r->at,
                   "With these sizes the %s cannot be: %s Check width, depth, height, thickness, "
                   "leg, opening and the counts.",
                   part->name, inner.text);
}

static enum status factor_of(const struct room *r, const struct part *part, double *out,
                             struct why *why) {
    const struct profile_factors_row *row = profile_of(r->t, part->profile);
    const char *said = part_at(r, part->id);
    if (part->profile && !row)
        return why_say(why, E_REFERENCE, ROOM_TEXT(r, "%s/profile", said ? said : r->at),
                       "\"%.60s\" is no profile I know. Write panelled, louvered, carved, beaded "
                       "or another row of the profile factors, or leave it out.",
                       part->profile);
    *out = row ? row->factor : 1;
    return OK;
}

/* Glass that is said among the fittings comes out before the sanding: there is nothing to mask. */
static bool taken_out(const struct room *r, const struct part *part) {
    const struct fittings *f = &r->piece->fittings;
    bool glass = part->id && !strcmp(part->id, "glass");
    for (size_t i = 0; i < f->panels_n && glass; i++)
        if (f->panels[i].kind &&
            (!strcmp(f->panels[i].kind, "glass") || !strcmp(f->panels[i].kind, "mirror")))
            return true;
    return false;
}

static enum status surface_fill(const struct room *r, const struct part *part, struct surface *out,
                                struct why *why) {
    struct surface s = {.part = *part};
    enum status st = part_area(r, part, &s.each_m2, why);
    if (!st) st = factor_of(r, part, &s.factor, why);
    if (st) return st;
    int64_t pieces = r->piece->count > 0 ? r->piece->count : 1;
    s.part.count *= pieces;
    double count = (double)s.part.count, all = s.each_m2 * s.factor * count;
    const struct shape_kind *kind = shape_kind_of(part->shape);
    double outline = shape_outline_mm(kind, part->size_mm) * count;
    switch (part->treatment) {
    case TREAT_PAINT: s.coated_m2 = s.clear_m2 = all; break;
    case TREAT_PAINT_NO_CLEAR: s.coated_m2 = all; break;
    case TREAT_CLEAR:
    case TREAT_STAIN:
    case TREAT_WAX: s.clear_m2 = all; break;
    case TREAT_MASK:
        if (taken_out(r, part)) break;
        s.masked_m2 = all;
        s.mask_edge_mm = outline;
        break;
    case TREAT_SEAL: s.sealed_m2 = all; break;
    case TREAT_UNSAID:
    case TREAT_BARE: s.bare_m2 = all; break;
    }
    *out = s;
    return OK;
}

/* Area under glass that is said among the fittings: a mirror stands before wood, a pane in a hole.
 */
static double glazed_m2(const struct fittings *f) {
    double m2 = 0;
    for (size_t i = 0; i < f->panels_n; i++) {
        const struct fitting_panel *p = &f->panels[i];
        bool mirror = p->kind && !strcmp(p->kind, "mirror");
        bool pane = p->kind && !strcmp(p->kind, "glass");
        if ((mirror || pane) && p->width_mm > 0 && p->height_mm > 0)
            m2 += p->width_mm * p->height_mm * 1e-6 * (mirror ? 1 : 2) *
                  (double)(p->count > 0 ? p->count : 1);
    }
    return m2;
}

/* No part is opening alone; a frame of a tenth of it stays. */
static double opening_take(struct surface *s, double m2) {
    const double most_frac = .9;
    double whole = s->each_m2 * (double)s->part.count;
    if (!(whole > 0)) return 0;
    double taken = fmin(m2, most_frac * whole), stays = 1 - taken / whole;
    double *areas[] = {&s->each_m2, &s->coated_m2, &s->clear_m2,
                       &s->bare_m2, &s->masked_m2, &s->sealed_m2};
    for (size_t i = 0; i < sizeof areas / sizeof *areas; i++) *areas[i] *= stays;
    return taken;
}

/* A frame that was said as one, with an opening for this pane: its wood is counted without it. */
static bool framed(const struct room *r, const struct surface *s) {
    const struct fittings *f = &r->piece->fittings;
    if (!part_at(r, s->part.id) || !s->part.shape || strcmp(s->part.shape, "frame") != 0)
        return false;
    for (size_t i = 0; i < f->panels_n; i++) {
        const struct fitting_panel *p = &f->panels[i];
        bool pane = p->kind && !strcmp(p->kind, "glass");
        const double lap_mm = figure(r->t, FIGURES_GLASS_LAP_MM);
        if (pane && p->width_mm <= s->part.size_mm[3] + lap_mm &&
            p->height_mm <= s->part.size_mm[4] + lap_mm)
            return true;
    }
    return false;
}

/* Glass of a piece whose template has none sits in its doors: what it covers is not coated. */
static void glass_take(const struct room *r, struct surface *rows, size_t n) {
    double m2 = glazed_m2(&r->piece->fittings);
    struct surface *door = NULL;
    for (size_t i = 0; i < n; i++) {
        if ((rows[i].part.id && !strcmp(rows[i].part.id, "glass")) || framed(r, &rows[i])) return;
        bool leaf =
            !strcmp(rows[i].part.shape, "frame_panel") || !strcmp(rows[i].part.shape, "door");
        if (leaf && !door) door = &rows[i];
    }
    if (door && m2 > 0) door->glass_m2 = opening_take(door, m2);
}

/* A cane panel that bears the id of a part is an opening in it, and in the underside below it;
 * a frame was measured with its opening. */
static void cane_take(const struct room *r, struct surface *rows, size_t n) {
    const struct fittings *f = &r->piece->fittings;
    for (size_t i = 0; i < f->panels_n; i++) {
        const struct fitting_panel *p = &f->panels[i];
        if (!p->kind || strcmp(p->kind, "cane") != 0 || !p->id || !(p->width_mm > 0)) continue;
        double m2 = p->width_mm * p->height_mm * 1e-6 * (double)(p->count > 0 ? p->count : 1);
        for (size_t k = 0; k < n && m2 > 0; k++) {
            bool seat = !strcmp(p->id, "seat") && !strcmp(rows[k].part.id, "underside");
            bool said = rows[k].part.shape && !strcmp(rows[k].part.shape, "frame");
            if (!said && (seat || !strcmp(rows[k].part.id, p->id)))
                rows[k].inset_m2 = opening_take(&rows[k], m2);
        }
    }
}

/* What was added to the template as a masked panel, leather or tile, and fits into the top is let
 * into that. */
static void inset_take(const struct room *r, struct surface *rows, size_t n) {
    struct surface *top = NULL;
    for (size_t i = 0; i < n; i++)
        if (!strcmp(rows[i].part.id, "top") && rows[i].coated_m2 + rows[i].clear_m2 > 0)
            top = &rows[i];
    for (size_t i = 0; i < n && top; i++) {
        const struct part *p = &rows[i].part;
        if (p->treatment != TREAT_MASK || strcmp(p->shape, "panel") != 0 ||
            !strcmp(p->id, "glass") || template_part_row(r->t, r->piece->template, p->id))
            continue;
        double w = fmax(p->size_mm[0], p->size_mm[1]), d = fmin(p->size_mm[0], p->size_mm[1]);
        const double *of = top->part.size_mm;
        if (w <= fmax(of[0], of[1]) && d <= fmin(of[0], of[1]))
            top->inset_m2 += opening_take(top, w * d * 1e-6 * (double)p->count);
    }
}

/* "flr" -> "front, left, right" */
static const char *faces_words(const struct room *r, const char *faces) {
    static const char letters[] = "fklrtb";
    static const char *const names[] = {"front", "back", "left", "right", "top", "bottom"};
    const char *words = NULL;
    for (; *faces; faces++) {
        const char *at = strchr(letters, *faces);
        if (at)
            words =
                words ? ROOM_TEXT(r, "%s, %s", words, names[at - letters]) : names[at - letters];
    }
    return words ? words : "all around";
}

static void part_explain(const struct room *r, size_t row, const struct surface *s) {
    if (!r->ledger->wanted) return;
    const struct shape_kind *kind = shape_kind_of(s->part.shape);
    bool said = part_at(r, s->part.id) != NULL;
    struct basis *b = ledger_basis(
        r->ledger, ROOM_TEXT(r, "%s/surfaces/rows/%zu/each_m2", r->at, row),
        ROOM_TEXT(r, "area of the %s by plane and solid geometry (%s) x how many x profile factor",
                  kind->name, faces_words(r, s->part.faces ? s->part.faces : kind->faces)),
        said ? "SP811, geometry" : "CP, geometry of the usual piece",
        said ? CERTAINTY_EXACT : CERTAINTY_COMMON);
    basis_number(r->ledger, b, "one of them", s->each_m2, DIM_AREA);
    basis_number(r->ledger, b, "how many", (double)s->part.count, DIM_NONE);
    if (s->factor > 1.0001) basis_number(r->ledger, b, "profile factor", s->factor, DIM_NONE);
    for (int i = 0; i < PART_SIZES && kind->sizes[i]; i++)
        if (s->part.size_mm[i] > 0) /* 0: it has none */
            basis_number(r->ledger, b, ledger_words(r->ledger, kind->sizes[i]), s->part.size_mm[i],
                         strcmp(kind->sizes[i], "beads") ? DIM_LENGTH : DIM_NONE);
    if (s->glass_m2 > 0)
        basis_number(r->ledger, b, "glass in all of them, taken off", s->glass_m2, DIM_AREA);
    if (s->inset_m2 > 0)
        basis_number(r->ledger, b, "let in, cane or masked, taken off", s->inset_m2, DIM_AREA);
    if (!s->part.profile) return;
    const struct profile_factors_row *p = profile_of(r->t, s->part.profile);
    ledger_basis(r->ledger, ROOM_TEXT(r, "%s/surfaces/rows/%zu/factor", r->at, row),
                 ROOM_TEXT(r, "equivalent plain area of %s", p->name), p->source,
                 !strncmp(p->source, "CP", 2) ? CERTAINTY_COMMON : CERTAINTY_PUBLISHED);
}

/* ---- groups ---- */

/* Rows of one group stand together, groups in the order in which they first come. */
static void sort_by_group(struct surface *rows, const struct surface *from, size_t n) {
    size_t to = 0;
    for (size_t i = 0; i < n; i++) {
        bool before = false;
        for (size_t k = 0; k < i && !before; k++)
            before = !strcmp(from[k].part.group, from[i].part.group);
        for (size_t k = i; k < n && !before; k++)
            if (!strcmp(from[k].part.group, from[i].part.group)) rows[to++] = from[k];
    }
}

static const char *group_name(const struct room *r, const char *id) {
    const struct part_groups_row *row = group_row(r->t, id);
    if (row) return row->name;
    char *name = arena_text(r->ledger->arena, id);
    if (name && *name >= 'a' && *name <= 'z') *name = (char)(*name - 'a' + 'A');
    for (char *c = name; c && *c; c++)
        if (*c == '_') *c = ' ';
    return name;
}

static bool worked(const struct surface *s) {
    return s->coated_m2 > 0 || s->clear_m2 > 0;
}

static bool removable(const struct room *r, const struct surface *s) {
    if (s->part.removable) return s->part.removable == YN_YES;
    const struct part_groups_row *row = group_row(r->t, s->part.group);
    return row && row->lies_flat;
}

static double lying_m2(const struct tables *t, const struct surface *s) {
    const struct shape_kind *kind = shape_kind_of(s->part.shape);
    return shape_floor_m2(kind, s->part.size_mm) * figure(t, FIGURES_LYING_SHARE) *
           (double)s->part.count;
}

static double standing_m2(const struct tables *t, const struct piece *p) {
    const double around_mm = 2 * figure(t, FIGURES_AROUND_MM);
    double wide = isnan(p->width_mm) ? 500 : p->width_mm,
           deep = isnan(p->depth_mm) ? 500 : p->depth_mm;
    double each = (wide + around_mm) * (deep + around_mm) * 1e-6;
    return each * (double)(p->count > 0 ? p->count : 1);
}

static void group_sum(const struct room *r, const struct surfaces *s, struct surface_group *g) {
    bool flat = true;
    double lying = 0;
    for (size_t i = g->first; i < g->first + g->n; i++) {
        const struct surface *row = &s->rows[i];
        g->coated_m2 += row->coated_m2;
        g->clear_m2 += row->clear_m2;
        g->bare_m2 += row->bare_m2;
        g->sealed_m2 += row->sealed_m2;
        if (!worked(row)) continue;
        flat = flat && removable(r, row);
        lying += lying_m2(r->t, row);
    }
    g->lies_flat = flat && lying > 0;
    g->floor_m2 = g->lies_flat ? lying : 0;
}

/* What stays together stands on the floor once: the group with the most work takes the place. */
static void floor_stand(const struct room *r, struct surfaces *s) {
    struct surface_group *most = NULL;
    for (size_t i = 0; i < s->groups_n; i++) {
        struct surface_group *g = &s->groups[i];
        if (g->lies_flat || !(g->coated_m2 + g->clear_m2 > 0)) continue;
        if (!most || g->coated_m2 + g->clear_m2 > most->coated_m2 + most->clear_m2) most = g;
    }
    if (most) most->floor_m2 = standing_m2(r->t, r->piece);
}

static bool only_wiped(const struct surfaces *s, const struct surface_group *g) {
    bool some = false;
    for (size_t i = g->first; i < g->first + g->n; i++) {
        const struct surface *row = &s->rows[i];
        if (!(fmax(row->coated_m2, row->clear_m2) > 0)) continue;
        if (row->part.treatment != TREAT_WAX) return false;
        some = true;
    }
    return some;
}

/* All that is seen of the group is wood under a clear that a roller spoils. */
static bool only_brushed(const struct room *r, const struct surfaces *s,
                         const struct surface_group *g) {
    const struct wanted *w = &r->piece->wanted;
    bool some = false;
    for (size_t i = g->first; i < g->first + g->n; i++) {
        const struct part *part = &s->rows[i].part;
        if (!(fmax(s->rows[i].coated_m2, s->rows[i].clear_m2) > 0)) continue;
        const char *asked = part->clear ? part->clear : w->clear ? w->clear : w->product;
        const struct coat_kinds_row *k = coat_kind_of(r->t, class_wanted(r->shelf, asked));
        if (!natural(part->treatment) || !k || strcmp(k->tool, "brush") != 0) return false;
        some = true;
    }
    return some;
}

static bool is_lacquer(const struct room *r, const char *asked) {
    const char *class = class_wanted(r->shelf, asked);
    return class && !strcmp(class, "lacquer");
}

static void tool_choose(const struct room *r, const struct surfaces *s, struct surface_group *g) {
    double forms[METHOD_FORMS];
    bool asked;
    const struct wanted *w = &r->piece->wanted;
    const char *wanted = w->method;
    bool lacquer = !wanted && (is_lacquer(r, w->product) || is_lacquer(r, w->clear));
    if (lacquer) wanted = "hvlp";
    surface_forms(s, g->id, forms);
    const struct methods_row *m = method_choose(r->t, r->shop, forms, wanted, &asked);
    if (!asked && only_wiped(s, g)) { /* oil and wax are rubbed in, whatever the form */
        m = method_of(r->t, "cloth");
        g->tool = m->id, g->tool_source = m->source, g->tool_why = m->why;
        return;
    }
    if (!m->mist && !asked && only_brushed(r, s, g)) {
        m = method_of(r->t, "brush");
        g->tool = m->id, g->tool_source = m->source;
        g->tool_why = "Thin, with a good brush along the grain: a roller leaves bubbles in it.";
        return;
    }
    g->tool = m->id;
    g->tool_source = m->source;
    g->tool_why = asked && lacquer
                      ? "Lacquer wants a gun: a roller melts in it, and a brush drags what is on."
                  : asked ? ROOM_TEXT(r, "As asked. Leaves: %s.", m->texture)
                          : ROOM_TEXT(r, "%s Mostly %s here; leaves: %s.", m->why,
                                      method_form_name(forms), m->texture);
    if (wanted && !asked)
        g->tool_why = ROOM_TEXT(r, "%s cannot do %s. %s", method_of(r->t, wanted)->name,
                                method_form_name(forms), m->why);
}

void surface_tools(const struct room *r, struct surfaces *s) {
    for (size_t i = 0; i < s->groups_n; i++) tool_choose(r, s, &s->groups[i]);
}

static enum status groups_make(const struct room *r, struct surfaces *s, struct why *why) {
    s->groups = arena_array(r->ledger->arena, s->rows_n ? s->rows_n : 1, sizeof *s->groups);
    if (!s->groups) return why_no_memory(why);
    for (size_t i = 0; i < s->rows_n; i++) {
        const char *id = s->rows[i].part.group;
        if (!i || strcmp(id, s->rows[i - 1].part.group) != 0)
            s->groups[s->groups_n++] =
                (struct surface_group){.id = id, .name = group_name(r, id), .first = i};
        s->groups[s->groups_n - 1].n++;
    }
    for (size_t i = 0; i < s->groups_n; i++) group_sum(r, s, &s->groups[i]);
    surface_tools(r, s);
    floor_stand(r, s);
    return OK;
}

/* ---- the whole ---- */

/* Painted in another color than the piece. */
static bool own_color(const struct room *r, const struct part *part) {
    const char *piece = r->piece->wanted.color.text;
    return paints(part->treatment) && part->color.text &&
           !(piece && !strcmp(part->color.text, piece));
}

/* Bare sides of drawers behind fronts that are worked: taped where they meet the front. */
static double drawer_tape_mm(const struct surfaces *s, const struct surface *box) {
    bool plain = box->part.treatment == TREAT_BARE || box->part.treatment == TREAT_SEAL;
    bool is_box = !strcmp(box->part.group, "drawers") && !strcmp(box->part.shape, "inside");
    if (!plain || !is_box) return 0;
    for (size_t i = 0; i < s->rows_n; i++)
        if (!strcmp(s->rows[i].part.group, box->part.group) && s->rows[i].coated_m2 > 0)
            return (box->part.size_mm[0] + 2 * box->part.size_mm[2]) * (double)box->part.count;
    return 0;
}

/* Wood that stays beside paint, and paint beside paint of another color, is taped around its
 * outline, unless it comes off. */
static void edges_mask(const struct room *r, struct surfaces *s) {
    double painted = 0, other = 0; /* other: in the piece's own color */
    for (size_t i = 0; i < s->rows_n; i++) {
        painted += s->rows[i].coated_m2;
        if (!own_color(r, &s->rows[i].part)) other += s->rows[i].coated_m2;
    }
    for (size_t i = 0; i < s->rows_n && painted > 0; i++) {
        struct surface *row = &s->rows[i];
        row->mask_edge_mm += drawer_tape_mm(s, row);
        bool beside = natural(row->part.treatment) || (own_color(r, &row->part) && other > 0);
        if (!beside || removable(r, row)) continue;
        const struct shape_kind *kind = shape_kind_of(row->part.shape);
        row->mask_edge_mm = shape_outline_mm(kind, row->part.size_mm) * (double)row->part.count;
    }
}

static void group_explain(const struct room *r, const struct surfaces *s, size_t row) {
    const struct surface_group *g = &s->groups[row];
    if (!r->ledger->wanted || !(g->coated_m2 + g->clear_m2 > 0)) return;
    enum { MOST = 12 }; /* a list of a hundred parts explains nothing */
    struct basis *b = ledger_basis(r->ledger,
                                   ROOM_TEXT(r, "%s/surfaces/groups/%zu/%s", r->at, row,
                                             g->coated_m2 > 0 ? "coated_m2" : "clear_m2"),
                                   "sum over its parts; the tool by what most of that area is like",
                                   g->tool_source, CERTAINTY_COMMON);
    for (size_t i = g->first; i < g->first + g->n && i < g->first + MOST; i++) {
        const struct surface *u = &s->rows[i];
        double m2 = g->coated_m2 > 0 ? u->coated_m2 : u->clear_m2;
        if (m2 > 0)
            basis_number(r->ledger, b, u->part.name ? u->part.name : u->part.id, m2, DIM_AREA);
    }
}

static void totals_make(const struct room *r, struct surfaces *s) {
    for (size_t i = 0; i < s->groups_n; i++) group_explain(r, s, i);
    for (size_t i = 0; i < s->rows_n; i++) {
        s->coated_m2 += s->rows[i].coated_m2;
        s->clear_m2 += s->rows[i].clear_m2;
        s->bare_m2 += s->rows[i].bare_m2;
        s->sealed_m2 += s->rows[i].sealed_m2;
        s->masked_m2 += s->rows[i].masked_m2;
        part_explain(r, i, &s->rows[i]);
    }
    struct basis *b =
        ledger_basis(r->ledger, ROOM_TEXT(r, "%s/surfaces/coated_m2", r->at),
                     "sum over the painted parts: area of one x profile factor x count x pieces",
                     r->piece->template ? "CP, geometry of the usual piece" : "SP811, geometry",
                     r->piece->template ? CERTAINTY_COMMON : CERTAINTY_EXACT);
    if (r->piece->template) basis_range(b, DIM_AREA, .9 * s->coated_m2, 1.1 * s->coated_m2);
    for (size_t i = 0; i < s->groups_n; i++)
        basis_number(r->ledger, b, s->groups[i].name, s->groups[i].coated_m2, DIM_AREA);
}

static enum status rows_make(const struct room *r, struct surfaces *s, struct why *why) {
    struct part *parts;
    size_t n;
    enum status st = template_parts(r, &parts, &n, why);
    if (st) return st;
    struct surface *rows = arena_array(r->ledger->arena, n ? n : 1, sizeof *rows);
    s->rows = arena_array(r->ledger->arena, n ? n : 1, sizeof *s->rows);
    if (!rows || !s->rows) return why_no_memory(why);
    for (size_t i = 0; i < n && !st; i++) st = surface_fill(r, &parts[i], &rows[i], why);
    if (st) return st;
    glass_take(r, rows, n);
    cane_take(r, rows, n);
    inset_take(r, rows, n);
    s->rows_n = n;
    sort_by_group(s->rows, rows, n);
    edges_mask(r, s);
    return OK;
}

enum status surface_make(const struct room *r, struct surfaces *out, struct why *why) {
    struct piece piece = *r->piece; /* the template's sizes, should the piece still lack them */
    struct room filled = *r;
    struct surfaces s = {0};
    enum status st = template_fill(r->t, r->shop->units, r->at, r->ledger, &piece, why);
    filled.piece = &piece;
    if (!st) st = method_check(&filled, why);
    if (!st) st = rows_make(&filled, &s, why);
    if (!st) st = groups_make(&filled, &s, why);
    if (st) return st;
    totals_make(&filled, &s);
    *out = s;
    return r->ledger->failed ? E_MEMORY : OK;
}

/* ---- asked by others ---- */

static bool in_group(const struct surface *s, const char *group) {
    return !group || !strcmp(s->part.group, group);
}

/* A strip is no broad flat, whatever it was cut from. */
static enum shape_form form_of(const struct surface *row) {
    const double strip_mm = 50;
    const struct shape_kind *kind = shape_kind_of(row->part.shape);
    double least = fmin(row->part.size_mm[0], row->part.size_mm[1]);
    return kind->form == FORM_FLAT && least < strip_mm ? FORM_NARROW : kind->form;
}

void surface_forms(const struct surfaces *s, const char *group, double form_m2[METHOD_FORMS]) {
    for (int f = 0; f < METHOD_FORMS; f++) form_m2[f] = 0;
    for (size_t i = 0; i < s->rows_n; i++) {
        const struct surface *row = &s->rows[i];
        if (in_group(row, group)) form_m2[form_of(row)] += fmax(row->coated_m2, row->clear_m2);
    }
}

static double treated_m2(const struct surfaces *s, const char *group, enum treatment t) {
    double m2 = 0;
    for (size_t i = 0; i < s->rows_n; i++)
        if (s->rows[i].part.treatment == t && in_group(&s->rows[i], group))
            m2 += s->rows[i].clear_m2;
    return m2;
}

double surface_role_m2(const struct surfaces *s, const char *group, enum coat_role role) {
    double painted = 0, clear = 0, wood = 0;
    for (size_t i = 0; i < s->rows_n; i++) {
        const struct surface *row = &s->rows[i];
        if (!in_group(row, group)) continue;
        painted += paints(row->part.treatment) ? row->coated_m2 : 0;
        wood += natural(row->part.treatment) ? row->clear_m2 : 0;
        clear += row->clear_m2;
    }
    double waxed = treated_m2(s, group, TREAT_WAX);
    switch (role) {
    case ROLE_STAIN: return treated_m2(s, group, TREAT_STAIN);
    case ROLE_WAX: return waxed > 0 ? waxed : clear;
    case ROLE_CLEAR: return clear - waxed;
    case ROLE_CLEAN:
    case ROLE_STRIP:
    case ROLE_SCUFF: return painted + wood;
    default: return painted;
    }
}
