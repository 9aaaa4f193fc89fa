/* Tape, abrasive, rollers, rags, and what stays on the piece: cane, pulls, anchor. Counted from the
 * coats, surfaces and fittings by rows of supplies.tsv. */
#include "core/work/amount.h"
#include "core/work/cane.h"
#include "core/work/lookup.h"
#include "core/work/repair.h"

#include <math.h>
#include <string.h>

enum driver {
    MASK_M,
    MASK_M2,
    SAND_COARSE_M2,
    SAND_MEDIUM_M2,
    SAND_FINE_M2,
    SAND_FINER_M2,
    ROLL_SESSIONS,
    BRUSH_SESSIONS,
    WIPE_M2,
    BATCHES,
    WET_SESSIONS,
    CANE_M2,
    SPLINE_M,
    NEW_PULLS,
    ANCHORS,
    GLASS_M2,
    REMOVER_M2,
    SHELLAC_M2,
    DEWAX_M2,
    DRIVERS
};

/* What a row of supplies.tsv goes by, and what that is called where somebody asks. */
static const struct {
    const char *id, *name;
    enum dimension unit;
} drivers[DRIVERS] = {
    [MASK_M] = {"mask_m", "edge to tape", DIM_LENGTH},
    [MASK_M2] = {"mask_m2", "area to cover", DIM_AREA},
    [SAND_COARSE_M2] = {"sand_coarse_m2", "area to sand, all passes", DIM_AREA},
    [SAND_MEDIUM_M2] = {"sand_medium_m2", "area to sand, all passes", DIM_AREA},
    [SAND_FINE_M2] = {"sand_fine_m2", "area to sand, all passes", DIM_AREA},
    [SAND_FINER_M2] = {"sand_finer_m2", "area to rub down, all passes", DIM_AREA},
    [ROLL_SESSIONS] = {"roll_sessions", "coats with a roller", DIM_NONE},
    [BRUSH_SESSIONS] = {"brush_sessions", "coats with a brush", DIM_NONE},
    [WIPE_M2] = {"wipe_m2", "area to wipe", DIM_AREA},
    [BATCHES] = {"batches", "batches to mix", DIM_NONE},
    [WET_SESSIONS] = {"wet_sessions", "sessions with wet hands", DIM_NONE},
    [CANE_M2] = {"cane_m2", "area of cane, cut", DIM_AREA},
    [SPLINE_M] = {"spline_m", "length of spline", DIM_LENGTH},
    [NEW_PULLS] = {"new_pulls", "new pulls", DIM_NONE},
    [ANCHORS] = {"anchors", "pieces to anchor", DIM_NONE},
    [GLASS_M2] = {"glass_m2", "area of glass", DIM_AREA},
    [REMOVER_M2] = {"remover_m2", "area to strip", DIM_AREA},
    [SHELLAC_M2] = {"shellac_m2", "area to wash shellac off", DIM_AREA},
    [DEWAX_M2] = {"dewax_m2", "area to wipe with spirits", DIM_AREA},
};

static void sand_count(const struct coat *c, double *by) {
    if (c->grit <= 0) return;
    enum driver d = c->grit < 150   ? SAND_COARSE_M2
                    : c->grit < 220 ? SAND_MEDIUM_M2
                    : c->grit < 320 ? SAND_FINE_M2
                                    : SAND_FINER_M2;
    by[d] += c->area_m2 * (double)(c->coats > 0 ? c->coats : 1);
}

static bool wiped(enum coat_role role) {
    return role == ROLE_CLEAN || role == ROLE_STRIP || role == ROLE_STAIN || role == ROLE_WAX ||
           role == ROLE_SCUFF;
}

/* Groups of one product are coated one after the other with the same tool: one session a coat. */
static void sessions_count(const struct piece_plan *p, double *by) {
    for (size_t i = 0; i < p->coats.n; i++) {
        const struct coat *c = &p->coats.rows[i];
        double most = c->coats > 0 ? (double)c->coats : 1;
        bool before = false;
        if (!c->class || !c->tool) continue;
        if (c->again) { /* a session of its own after the lot's last coat, once for all lots */
            for (size_t k = 0; k < i; k++)
                if (p->coats.rows[k].again && !strcmp(p->coats.rows[k].class, c->class)) most = 0;
        }
        for (size_t k = 0; k < i && !before && !c->again; k++)
            before = p->coats.rows[k].class && p->coats.rows[k].tool &&
                     p->coats.rows[k].role == c->role &&
                     !strcmp(p->coats.rows[k].class, c->class) &&
                     !strcmp(p->coats.rows[k].tool, c->tool);
        if (before) continue;
        if (strstr(c->tool, "roller")) by[ROLL_SESSIONS] += most;
        if (strstr(c->tool, "brush")) by[BRUSH_SESSIONS] += most;
        by[WET_SESSIONS] += most;
    }
}

static double of_all(int64_t n) {
    return n > 0 ? (double)n : 1;
}

/* Glass is bought only where a repair replaces it, and by area only while nobody has said what it
 * costs. */
static bool glass_replaced(const struct piece *q, const struct fitting_panel *x) {
    bool mirror = !strcmp(x->kind, "mirror");
    for (size_t i = 0; i < q->repairs_n; i++)
        if (q->repairs[i].kind && isnan(q->repairs[i].cost_cent) &&
            !strcmp(q->repairs[i].kind, mirror ? "mirror_silver" : "glass"))
            return true;
    return false;
}

static void panels_count(const struct room *r, const struct piece_plan *p, double *by) {
    const struct fittings *x = &r->piece->fittings;
    for (size_t i = 0; i < x->panels_n; i++) {
        const struct fitting_panel *f = &x->panels[i];
        if (!f->kind || !(f->width_mm > 0 && f->height_mm > 0)) continue;
        bool spline = f->hold ? !strcmp(f->hold, "spline") : f->groove_mm > 0;
        if (!strcmp(f->kind, "cane") && spline)
            by[SPLINE_M] += cane_spline_mm(f->width_mm, f->height_mm) / 1000 * of_all(f->count);
        if ((!strcmp(f->kind, "glass") || !strcmp(f->kind, "mirror")) &&
            glass_replaced(r->piece, f))
            by[GLASS_M2] += f->width_mm * f->height_mm * 1e-6 * of_all(f->count);
    }
    for (size_t i = 0; i < p->fittings.n; i++)
        if (!strcmp(p->fittings.rows[i].id, "cane_roll"))
            by[CANE_M2] += p->fittings.rows[i].size_mm * p->fittings.rows[i].other_mm * 1e-6;
}

static void hardware_count(const struct room *r, const struct piece_plan *p, double *by) {
    if (pulls_new(r->piece)) by[NEW_PULLS] = (double)pulls_count(r->t, r->piece, &p->surfaces);
    for (size_t i = 0; i < p->fittings.n; i++)
        by[ANCHORS] += !strcmp(p->fittings.rows[i].id, "anchor");
    by[ANCHORS] *= of_all(r->piece->count);
}

static void drivers_make(const struct room *r, const struct piece_plan *p, double *by) {
    const double slack = figure(r->t, FIGURES_TAPE_SLACK);
    for (size_t i = 0; i < p->surfaces.rows_n; i++) {
        by[MASK_M] += p->surfaces.rows[i].mask_edge_mm / 1000 * slack;
        by[MASK_M2] += p->surfaces.rows[i].masked_m2;
    }
    for (size_t i = 0; i < p->coats.n; i++) {
        sand_count(&p->coats.rows[i], by);
        const struct coat *c = &p->coats.rows[i];
        if (wiped(c->role)) by[WIPE_M2] += c->area_m2;
        /* nobody said which parts get the second color: one square field is taped around */
        if (c->operation && !strcmp(c->operation, "two_tone"))
            by[MASK_M] += 4 * sqrt(c->area_m2) * slack;
        if (c->operation && !strcmp(c->operation, "strip")) by[REMOVER_M2] += c->area_m2;
        if (c->operation && !strcmp(c->operation, "wash_shellac")) by[SHELLAC_M2] += c->area_m2;
        if (c->operation &&
            (!strcmp(c->operation, "dewax") || !strcmp(c->operation, "wipe_spirits")))
            by[DEWAX_M2] += c->area_m2;
    }
    sessions_count(p, by);
    for (size_t i = 0; i < p->amounts.n; i++) by[BATCHES] += p->amounts.rows[i].role == ROLE_COLOR;
    panels_count(r, p, by);
    hardware_count(r, p, by);
}

static enum supply_kind kind_of(const char *word) {
    static const struct {
        const char *word;
        enum supply_kind kind;
    } kinds[] = {{"tape", SUPPLY_TAPE},        {"abrasive", SUPPLY_ABRASIVE},
                 {"roller", SUPPLY_ROLLER},    {"brush", SUPPLY_BRUSH},
                 {"rag", SUPPLY_RAG},          {"cane", SUPPLY_CANE},
                 {"hardware", SUPPLY_HARDWARE}};
    for (size_t i = 0; i < sizeof kinds / sizeof *kinds; i++)
        if (!strcmp(kinds[i].word, word)) return kinds[i].kind;
    return SUPPLY_UNSAID;
}

/* Cost of one from the shelf, where the shelf has such a thing. */
static double shelf_cost(const struct room *r, const struct supplies_row *row) {
    enum supply_kind kind = kind_of(row->kind);
    for (size_t i = 0; kind && i < r->shelf->supplies_n; i++)
        if (r->shelf->supplies[i].kind == kind && r->shelf->supplies[i].cost_cent >= 0)
            return r->shelf->supplies[i].cost_cent;
    return NAN;
}

/* Whole ones, but wear: a part of a roll, of a brush, counts as that part of its cost. */
static struct supply_need need_of(const struct room *r, const struct supplies_row *row,
                                  double driver) {
    double count = driver / row->per, cost = shelf_cost(r, row);
    bool part = !strcmp(row->kind, "tape") || !strcmp(row->kind, "brush") ||
                !strcmp(row->kind, "cane") || !strcmp(row->kind, "liquid") ||
                !strcmp(row->unit, "m");
    count = part ? ceil(count * 10 - 1e-9) / 10 : ceil(count - 1e-9);
    count = fmax(count, row->least);
    return (struct supply_need){.id = row->id,
                                .name = row->name,
                                .kind = row->kind,
                                .count = count,
                                .unit = row->unit,
                                .cost_cent = count * (isnan(cost) ? row->cost_cent : cost),
                                .stays = row->stays,
                                .source = row->source};
}

enum status supply_make(const struct room *r, struct piece_plan *p) {
    double by[DRIVERS] = {0};
    drivers_make(r, p, by);
    p->supplies_n = 0;
    p->supplies = arena_array(r->ledger->arena, r->t->supplies_n, sizeof *p->supplies);
    if (!p->supplies) return E_MEMORY;
    for (size_t i = 0; i < r->t->supplies_n; i++) {
        const struct supplies_row *row = &r->t->supplies[i];
        for (int d = 0; d < DRIVERS; d++) {
            if (strcmp(row->driver, drivers[d].id) || !(by[d] > 0)) continue;
            struct supply_need need = need_of(r, row, by[d]);
            struct basis *b =
                ledger_basis(r->ledger, ROOM_TEXT(r, "%s/supplies/%zu/count", r->at, p->supplies_n),
                             "what the work takes, divided by what one does, rounded up",
                             row->source, CERTAINTY_COMMON);
            double to_unit = drivers[d].unit == DIM_LENGTH ? 1000 : 1; /* m to mm */
            basis_number(r->ledger, b, drivers[d].name, by[d] * to_unit, drivers[d].unit);
            basis_number(r->ledger, b, "one does", row->per * to_unit, drivers[d].unit);
            if (row->least > 0)
                basis_number(r->ledger, b, "never fewer than", row->least, DIM_NONE);
            p->supplies[p->supplies_n++] = need;
        }
    }
    return OK;
}
