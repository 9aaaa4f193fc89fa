/* Take-down and repairs, coats, surfaces. */
#include "app/sheet/pen.h"
#include "core/work/fact.h"

#include <string.h>

static void steps(struct pen *p, const struct steps *s, const char *where) {
    for (size_t i = 0; i < s->n; i++) {
        const struct work_step *w = &s->rows[i];
        const char *detail = w->why;
        if (w->wait_min > 0)
            detail = pen_print(p, "%s%sThen wait %s.", w->why ? w->why : "", w->why ? " " : "",
                               pen_span(p, w->wait_min));
        if (w->bag)
            detail = pen_print(p, "%s%sBag: %s.", detail ? detail : "", detail ? " " : "", w->bag);
        struct sheet_row *r = pen_step(p, w->hands_min > 0 ? pen_span(p, w->hands_min) : NULL,
                                       w->text, detail, pen_known(p, w->certainty, w->source));
        r->task = w->id;
        r->pointer = pen_pointer(p, "/%s/%zu/hands_min", where, i);
        if (!pen_basis(p, r->pointer)) r->pointer = NULL;
    }
}

void sheet_takedown(struct pen *p) {
    if (p->piece->takedown.n) pen_row(p, SHEET_HEAD, NULL, "Take-down", NULL, NULL);
    steps(p, &p->piece->takedown, "takedown");
    if (p->piece->repairs.n) pen_row(p, SHEET_HEAD, NULL, "Repairs, when it is clean", NULL, NULL);
    steps(p, &p->piece->repairs, "repairs");
    if (!p->piece->takedown.n && !p->piece->repairs.n)
        pen_row(p, SHEET_TEXT, NULL, NULL, "Nothing to take off and nothing to repair.", NULL);
}

static const char *group_name(const struct pen *p, const char *id) {
    if (!id) return "All parts";
    for (size_t i = 0; i < p->piece->surfaces.groups_n; i++)
        if (!strcmp(p->piece->surfaces.groups[i].id, id)) return p->piece->surfaces.groups[i].name;
    return id;
}

static const char *with_what(struct pen *p, const struct coat *c) {
    const char *tool = pen_tool(p, c->tool), *curves = pen_tool(p, c->tool_curves);
    if (!tool || !curves || !strcmp(tool, curves)) return tool;
    if (c->grit_curves > 0 && c->grit_curves != c->grit)
        return pen_print(p, "%s; curves and slats %lld grit, %s", tool, (long long)c->grit_curves,
                         curves);
    return pen_print(p, "%s; on curves and slats %s", tool, curves);
}

static const char *coat_name(struct pen *p, const struct coat *c) {
    return c->coats > 1 ? pen_print(p, "%s, %lld coats", c->text, (long long)c->coats) : c->text;
}

/* Another film follows in the same group: only then is the time to the next coat of interest. */
static bool film_follows(const struct coats *c, size_t i) {
    for (size_t k = i + 1; k < c->n; k++)
        if (c->rows[k].class && c->rows[k].group && c->rows[i].group &&
            !strcmp(c->rows[k].group, c->rows[i].group))
            return true;
    return c->rows[i].coats > 1;
}

static const char *sentence(struct pen *p, const char *a, const char *b) {
    if (!a || !*a) return b;
    if (!b || !*b) return a;
    size_t n = strlen(a);
    return pen_print(p, "%s%s %s", a, strchr(".;:", a[n - 1]) ? "" : ".", b);
}

void sheet_coats(struct pen *p) {
    const struct coats *c = &p->piece->coats;
    if (c->test_board && !p->closed && !pen_done(p, "test_board"))
        pen_row(p, SHEET_MIND, NULL, "Test board first.",
                sentence(p, c->test_board_why,
                         c->test_first ? "On the old film, in a hidden place: every coat waits "
                                         "two days for it, color until all of it has "
                                         "passed."
                                       : "Color coats wait until it has passed."),
                NULL);
    pen_notices(p, &c->refused);
    const char *group = "";
    for (size_t i = 0; i < c->n; i++) {
        const struct coat *k = &c->rows[i];
        const char *g = k->group ? k->group : "*";
        if (strcmp(group, g)) {
            pen_row(p, SHEET_HEAD, NULL, group_name(p, k->group), NULL, NULL);
            group = g;
        }
        const char *detail = sentence(p, pen_capital(p, with_what(p, k)), k->why);
        if (k->verdict == VERDICT_PREPARE || k->verdict == VERDICT_WAIT)
            detail = sentence(p, detail, k->remedy);
        if (k->recoat_min > 0 && k->class && film_follows(c, i))
            detail = sentence(
                p, detail,
                pen_print(p, "Next coat after %s%s%s.", pen_span(p, k->recoat_min),
                          k->recoat_until_min > 0 ? ", unscuffed until " : "",
                          k->recoat_until_min > 0 ? pen_span(p, k->recoat_until_min) : ""));
        const char *figure = pen_span(p, k->hands_min * (double)(k->coats > 1 ? k->coats : 1));
        struct sheet_row *r =
            pen_step(p, figure, coat_name(p, k), detail, pen_known(p, k->certainty, k->source));
        r->task = k->id;
        r->pointer = pen_pointer(p, "/coats/rows/%zu/hands_min", i);
        if (!pen_basis(p, r->pointer)) r->pointer = NULL;
    }
    if (!c->n) pen_row(p, SHEET_TEXT, NULL, NULL, "No coat is planned.", NULL);
}

/* Wood that stays to be seen is called by what is planned for it, not by what was asked. */
static const char *natural_text(struct pen *p, const struct surface *u) {
    const struct coats *c = &p->piece->coats;
    const char *names = NULL;
    for (size_t i = 0; i < c->n; i++) {
        const struct coat *k = &c->rows[i];
        bool natural = k->role == ROLE_STAIN ||
                       k->role == (u->part.treatment == TREAT_WAX ? ROLE_WAX : ROLE_CLEAR);
        if (!natural || k->again || !k->class || !k->group || !u->part.group ||
            strcmp(k->group, u->part.group) != 0)
            continue;
        const struct coat_kinds_row *kind = coat_kind_of(p->t, k->class);
        if (!kind || (names && strstr(names, kind->name))) continue;
        names = names ? pen_print(p, "%s, then %s", names, kind->name)
                      : pen_print(p, "natural, %s", kind->name);
    }
    return names;
}

static const char *treatment_text(struct pen *p, const struct surface *u) {
    const char *natural = natural_text(p, u);
    switch (u->part.treatment) {
    case TREAT_PAINT: return u->clear_m2 > 0 ? "color and clear" : "color, no clear";
    case TREAT_PAINT_NO_CLEAR: return "color, no clear";
    case TREAT_CLEAR: return "natural, clear only";
    case TREAT_STAIN:
        return natural ? natural : u->clear_m2 > 0 ? "stained, then clear" : "stained";
    case TREAT_WAX: return natural ? natural : "wax or oil only";
    case TREAT_BARE: return "stays bare";
    case TREAT_MASK: return u->masked_m2 > 0 ? "masked" : "taken out";
    case TREAT_SEAL: return "sealed with shellac, wood to see";
    case TREAT_UNSAID: break;
    }
    return "as it is";
}

static void parts_of(struct pen *p, const struct surface_group *g) {
    const struct surfaces *s = &p->piece->surfaces;
    for (size_t i = g->first; i < g->first + g->n && i < s->rows_n; i++) {
        const struct surface *u = &s->rows[i];
        double area = u->coated_m2 + (u->coated_m2 > 0 ? 0 : u->clear_m2);
        if (area <= 0) area = u->bare_m2 + u->masked_m2 + u->sealed_m2;
        if (area <= 0) area = u->each_m2 * (double)u->part.count; /* taken out */
        const char *name = pen_capital(p, u->part.name ? u->part.name : u->part.id);
        const char *what = u->part.count > 1
                               ? pen_print(p, "%s, %lld of them", name, (long long)u->part.count)
                               : name;
        const char *detail = pen_capital(p, treatment_text(p, u));
        if (u->factor > 1.0001)
            detail = pen_print(p, "%s. Profile factor %.2f.", detail, u->factor);
        if (u->coated_m2 > 0 && u->bare_m2 > 0)
            detail =
                pen_print(p, "%s; %s stays bare", detail, pen_quantity(p, DIM_AREA, u->bare_m2));
        if (u->glass_m2 > 0)
            detail = pen_print(p, "%s; %s under glass taken off", detail,
                               pen_quantity(p, DIM_AREA, u->glass_m2));
        if (u->inset_m2 > 0)
            detail = pen_print(p, "%s; %s let in taken off", detail,
                               pen_quantity(p, DIM_AREA, u->inset_m2));
        struct sheet_row *r = pen_figure(p, pen_pointer(p, "/surfaces/rows/%zu/each_m2", i),
                                         pen_quantity(p, DIM_AREA, area), what, detail);
        r->known = NULL; /* the sum above says it once */
        r->task = u->part.id;
    }
}

void sheet_surfaces(struct pen *p) {
    const struct surfaces *s = &p->piece->surfaces;
    bool color = s->coated_m2 > 0;
    const char *clear = color && s->clear_m2 > 0 ? pen_print(p, "%s of clear coat; ",
                                                             pen_quantity(p, DIM_AREA, s->clear_m2))
                                                 : "";
    const char *sealed = s->sealed_m2 > 0 ? pen_print(p, "%s sealed with shellac; ",
                                                      pen_quantity(p, DIM_AREA, s->sealed_m2))
                                          : "";
    const char *masked = s->masked_m2 > 0
                             ? pen_print(p, "; masked %s", pen_quantity(p, DIM_AREA, s->masked_m2))
                             : "";
    pen_figure(p, pen_pointer(p, color ? "/surfaces/coated_m2" : "/surfaces/clear_m2"),
               pen_quantity(p, DIM_AREA, color ? s->coated_m2 : s->clear_m2),
               color ? "Under color, one coat" : "Wood that stays to be seen, one coat",
               pen_print(p, "%s%s%s stays bare%s.", clear, sealed,
                         s->bare_m2 > 0      ? pen_quantity(p, DIM_AREA, s->bare_m2)
                         : *clear || *sealed ? "nothing"
                                             : "Nothing",
                         masked));
    for (size_t i = 0; i < s->groups_n; i++) {
        const struct surface_group *g = &s->groups[i];
        pen_row(p, SHEET_HEAD, NULL, g->name, NULL, NULL);
        if (g->coated_m2 + g->clear_m2 > 0 && g->tool)
            pen_figure(p,
                       pen_pointer(p, "/surfaces/groups/%zu/%s", i,
                                   g->coated_m2 > 0 ? "coated_m2" : "clear_m2"),
                       pen_quantity(p, DIM_AREA, g->coated_m2 > 0 ? g->coated_m2 : g->clear_m2),
                       pen_print(p, "%s%s", pen_capital(p, pen_tool(p, g->tool)),
                                 g->lies_flat ? ", lying flat" : ""),
                       g->tool_why)
                ->known = pen_known(p, CERTAINTY_UNSAID, g->tool_source);
        parts_of(p, g);
    }
}
