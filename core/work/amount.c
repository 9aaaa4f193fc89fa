#include "core/work/amount.h"

#include "core/base/units.h"
#include "core/work/can_set.h"
#include "core/work/color_plan.h"
#include "core/work/fact.h"
#include "core/work/film.h"
#include "core/work/learn.h"
#include "core/work/pot.h"

#include <math.h>
#include <string.h>

static const double Z_90 = 1.2815515655446004;

/* ---- the arithmetic ---- */

struct amount_range amount_of(const struct amount_terms *t) {
    struct amount_range r;
    double log_sd = hypot(t->spread_log_sd, t->area_log_sd);
    double keep = (t->session_low_ml + t->session_high_ml) / 2 * t->sessions;
    double keep_off = (t->session_high_ml - t->session_low_ml) / 2 * t->sessions;
    r.film_ml = 1000 * t->area_m2 * t->coats / t->spread_m2_per_l;
    r.taken_ml = r.film_ml / (1 - t->loss_frac);
    r.need_ml = r.taken_ml + keep;
    r.high_ml = r.need_ml + hypot(r.taken_ml * (exp(Z_90 * log_sd) - 1), keep_off);
    r.low_ml = r.need_ml - hypot(r.taken_ml * (1 - exp(-Z_90 * log_sd)), keep_off);
    return r;
}

double amount_measured(double ml, double step_ml, int64_t parts) {
    double step = step_ml * (double)parts;
    return ceil(ml / step - 1e-9) * step;
}

/* ---- what a product is and costs ---- */

static double stock_of(const struct paint *can) {
    return can && can->stock_ml > 0 ? can->stock_ml : 0;
}

static double cent_per_ml(const struct paint *can, const struct product_classes_row *c) {
    if (can && can->cost_cent >= 0 && can->size_ml > 0) return can->cost_cent / can->size_ml;
    return can && can->leftover_of_n ? 0 : c->cent_per_l / 1000; /* a leftover is paid for */
}

static double class_spread(const struct product_classes_row *c) {
    return sqrt(c->spread_low_m2_per_l * c->spread_high_m2_per_l);
}

static double class_log_sd(const struct product_classes_row *c) {
    return log(c->spread_high_m2_per_l / c->spread_low_m2_per_l) / (2 * Z_90);
}

/* ---- one row of the result: all coats of one product in one role ---- */

struct gathering {
    struct amount *amount;
    struct amount_terms terms;
    const struct product_classes_row *class;
    const struct methods_row *method;   /* of the last group gathered */
    const struct learnt *learnt, *kept; /* of the spread, of the loss */
    double coat_area_m2;                /* sum of area x coats */
    double film_l, taken_l;             /* on the work; with what misses it */
    double sessions;                    /* of the lot at hand */
    uint64_t tools;                     /* rows of data/methods.tsv that laid some of it on */
    bool label, solids, bare;
};

static bool seals_inside(const struct coat *c) {
    return c->operation && !strcmp(c->operation, "seal_inside");
}

static bool merges(const struct amount *a, const struct coat *c) {
    bool product =
        a->product && c->product ? !strcmp(a->product, c->product) : !a->product && !c->product;
    bool color = c->role != ROLE_COLOR || a->color_row == c->color_row;
    return a->role == c->role && a->inside == seals_inside(c) && product && color &&
           !strcmp(a->class, c->class);
}

/* The first coat on bare wood goes in: the low end of the spread. */
static bool first_on_bare(const struct piece_plan *p, const struct coat *c) {
    if (seals_inside(c)) return true;
    bool bare = p->inspection.finish && !strcmp(p->inspection.finish, "bare");
    for (const struct coat *k = p->coats.rows; k < c; k++) {
        if (k->group && c->group && strcmp(k->group, c->group) != 0) continue;
        if (k->role == ROLE_STRIP) bare = true;
        if (k->class && k->role != ROLE_SPOT_SEAL && !seals_inside(k)) return false;
    }
    return bare;
}

static double coat_area(const struct piece_plan *p, const struct coat *c) {
    if (c->area_m2 > 0) return c->area_m2;
    return surface_role_m2(&p->surfaces, c->group, c->role);
}

/* What one more tool keeps; one that has laid on a group of it before is not washed out between. */
static void tool_add(const struct room *r, struct gathering *g, const struct methods_row *m) {
    const uint64_t bit = (uint64_t)1 << (m - r->t->methods);
    g->method = m;
    if (g->tools & bit) return;
    g->tools |= bit;
    g->terms.session_low_ml += m->session_low_ml;
    g->terms.session_high_ml += m->session_high_ml;
}

/* Liters add up, those on the work and those that are taken for it: so spread and loss of several
 * groups are such as give the sums. */
static void gather(const struct room *r, const struct piece_plan *p, const struct coat *c,
                   struct gathering *g) {
    double forms[METHOD_FORMS], area = coat_area(p, c), coats = c->coats > 0 ? (double)c->coats : 1;
    const struct paint *can = shelf_paint(r->shelf, c->product);
    const struct methods_row *m = method_of(r->t, c->tool);
    surface_forms(&p->surfaces, c->group, forms);
    if (!m) m = method_of(r->t, c->role == ROLE_STAIN || c->role == ROLE_WAX ? "cloth" : "brush");
    struct amount_terms *t = &g->terms;
    double loss = method_loss_frac(m, forms), spread = class_spread(g->class);
    double log_sd = class_log_sd(g->class);
    if (can && can->label_spread_m2_per_l > 0)
        spread = can->label_spread_m2_per_l, log_sd = figure(r->t, FIGURES_LABEL_LOG_SD),
        g->label = true;
    else if (can && can->label_solids_frac > 0 && g->class->film_um > 0) /* as thick as usual */
        spread = film_spread_m2_per_l(can->label_solids_frac, g->class->film_um), g->solids = true;
    g->learnt = learnt_of(r->shop, r->piece->id, "spread", c->class, m->id);
    if (g->learnt) spread *= g->learnt->factor, log_sd = g->learnt->log_sd;
    const struct learnt *kept = learnt_of(r->shop, r->piece->id, "loss", c->class, m->id);
    if (kept) loss = fmin(.9, loss * kept->factor), g->kept = kept;
    double film_l = area * coats / spread;
    if (first_on_bare(p,
                      c)) { /* never less than on a sealed surface, however little a label says */
        film_l += area * fmax(0, 1 / g->class->spread_low_m2_per_l - 1 / spread);
        g->bare = true;
    }
    g->film_l += film_l;
    g->taken_l += film_l / (1 - loss);
    g->coat_area_m2 += area * coats;
    if (c->again)
        g->amount->more_m2 += area, g->amount->more_coats = c->coats;
    else
        t->area_m2 += area;
    t->loss_frac = 1 - g->film_l / g->taken_l;
    t->spread_m2_per_l = g->coat_area_m2 / g->film_l;
    t->spread_log_sd = log_sd;
    /* the lot's coats, one after another; a pot that dies in the tray is left in it, coat or not */
    const double sessions = coats * pot_portions(r->t, r->shelf, p, c);
    g->sessions = c->again ? g->sessions + sessions : sessions;
    t->sessions = fmax(t->sessions, g->sessions);
    tool_add(r, g, m);
    if (!c->again && c->coats > g->amount->coats) g->amount->coats = c->coats;
}

static const char *amount_name(const struct room *r, struct piece_plan *p, const struct coat *c,
                               const struct product_classes_row *class) {
    const struct paint *can = shelf_paint(r->shelf, c->product);
    const char *called = can && can->name ? can->name : can ? can->id : NULL;
    if (can) return seals_inside(c) ? ROOM_TEXT(r, "%s, inside", called) : called;
    const struct color_plan *color =
        c->role == ROLE_COLOR ? color_plan_row(p, (size_t)c->color_row) : NULL;
    char *name =
        ROOM_TEXT(r, "%s%s%s%s", color && color->lines_n > 1 ? "the batch: " : "", class->name,
                  c->color.text ? ", " : "", c->color.text ? c->color.text : "");
    if (name && *name >= 'a' && *name <= 'z') *name = (char)(*name - 'a' + 'A');
    return name;
}

const struct color_plan *amount_mix(const struct piece_plan *p, const struct amount *a) {
    const struct color_plan *c = a->color_row > 0 ? &p->colors[a->color_row - 1] : &p->color;
    return a->role == ROLE_COLOR && !a->product && c->lines_n ? c : NULL;
}

size_t amount_pours(const struct piece_plan *p) {
    size_t n = 0;
    for (size_t i = 0; i < p->amounts.n; i++) {
        const struct color_plan *mix = amount_mix(p, &p->amounts.rows[i]);
        n += mix ? mix->lines_n : 1;
    }
    return n;
}

/* ---- buying and what it costs ---- */

struct purchase {
    double stock_ml, buy_ml, cost_cent, left_ml;
    int64_t cans;
    const char *cans_text;
    bool after_others;
};

/* What is left of one can, or of what is to be bought of a class, for the rows still to come: ends
 * and faces are primed out of the same can. */
struct pool {
    const struct paint *can;
    const struct product_classes_row *class; /* where there is no can on the shelf ... */
    int64_t color_row;                       /* ... and in which color; -1: it has none */
    double stock_ml, bought_ml;
    bool others; /* pieces before this one have taken of it */
};

struct pools {
    struct pool *rows;
    size_t n, cap;
    struct pool none; /* used when memory is out; the ledger says so */
};

struct taken {
    struct pools kept, last; /* after the pieces that are done; after the last amount_make */
};

struct taken *taken_make(struct arena *arena) {
    struct taken *t = arena_take(arena, sizeof *t);
    if (t) *t = (struct taken){0};
    return t;
}

void taken_keep(struct taken *taken) {
    if (taken) taken->kept = taken->last;
}

/* Amounts of a piece are reckoned more than once: each time from what the pieces before it left. */
static struct pools pools_begin(const struct room *r) {
    struct pools p = {0};
    if (!r->taken || !r->taken->kept.n) return p;
    p.n = p.cap = r->taken->kept.n;
    p.rows = arena_array(r->ledger->arena, p.n, sizeof *p.rows);
    if (!p.rows) {
        r->ledger->failed = true;
        return (struct pools){0};
    }
    for (size_t i = 0; i < p.n; i++) {
        p.rows[i] = r->taken->kept.rows[i];
        p.rows[i].others = true;
    }
    return p;
}

static struct pool *pool_of(const struct room *r, struct pools *all, const struct paint *can,
                            const struct product_classes_row *class, int64_t color_row) {
    for (size_t i = 0; i < all->n; i++)
        if (all->rows[i].can == can &&
            (can || (all->rows[i].class == class && all->rows[i].color_row == color_row)))
            return &all->rows[i];
    void *rows = ledger_grow(r->ledger, all->rows, all->n, &all->cap, sizeof *all->rows);
    if (!rows) return &all->none;
    all->rows = rows;
    all->rows[all->n] = (struct pool){
        .can = can, .class = class, .color_row = color_row, .stock_ml = stock_of(can)};
    return &all->rows[all->n++];
}

static int64_t color_of(const struct amount *a) {
    return a->role == ROLE_COLOR ? a->color_row : -1;
}

/* Takes want_ml at most and use_ml likeliest out of the pool; what is short is bought in cans. */
static struct purchase purchase_of(const struct room *r, struct pools *all, const struct paint *can,
                                   const struct gathering *g, double want_ml, double use_ml) {
    struct pool *pool = pool_of(r, all, can, g->class, color_of(g->amount));
    struct purchase b = {.stock_ml = pool->stock_ml + pool->bought_ml,
                         .after_others = pool->others};
    b.buy_ml = fmax(0, want_ml - b.stock_ml);
    struct can_set set =
        can_set_of(r->t, r->ledger->arena, r->shop->units, can, g->class->id, b.buy_ml);
    b.cans = set.cans;
    b.cans_text = set.text;
    b.cost_cent = use_ml * cent_per_ml(can, g->class);
    pool->bought_ml += set.ml;
    double from_stock = fmin(use_ml, pool->stock_ml);
    pool->stock_ml -= from_stock;
    pool->bought_ml = fmax(0, pool->bought_ml - (use_ml - from_stock));
    b.left_ml = pool->stock_ml + pool->bought_ml;
    return b;
}

enum { PARTS_WHOLE = 24 };

static int64_t divisor(int64_t a, int64_t b) {
    return b ? divisor(b, a % b) : a;
}

/* Parts of the whole recipe after what they have in common is taken out. Of many parts no whole
 * number of cups is wanted: that would pour a third too much; each pour is read to the next mark.
 */
static int64_t recipe_parts(const struct color_plan *c) {
    int64_t common = 0, sum = 0;
    for (size_t i = 0; i < c->lines_n; i++) {
        int64_t parts = (int64_t)llround(c->lines[i].parts);
        common = divisor(parts, common);
        sum += parts;
    }
    int64_t parts = common > 0 ? sum / common : 1;
    return parts > PARTS_WHOLE ? 1 : parts;
}

static void short_say(const struct room *r, struct amounts *to, const struct recipe_line *line,
                      const struct purchase *b) {
    const char *name = line->name ? line->name : line->paint;
    const char *text =
        b->cans_text ? ROOM_TEXT(r,
                                 "Buy %s of %s before mixing. The batch takes more of it than "
                                 "the shelf holds; two batches never match.",
                                 b->cans_text, name)
                     : ROOM_TEXT(r,
                                 "Do not start with %s: there is too little of it for the batch. A "
                                 "leftover cannot be bought again; two batches never match.",
                                 name);
    struct notice *n =
        notice_add(r->ledger, &to->notices, RANK_MIND, "stock", text, "CP", CERTAINTY_COMMON);
    if (n) n->remedy = "Choose a recipe that the shelf can fill.";
}

/* Mixed already, for it or for a sister whose cup it is painted from. */
static double batch_there_ml(const struct room *r, const struct color_plan *c) {
    if (!c->batch) return 0;
    return (r->piece->batch ? r->piece->batch->ml : 0) + r->cup_ml;
}

/* A batch is bought paint by paint; what is mixed and likely enough is not mixed again. */
static void batch_buy(const struct room *r, struct piece_plan *p, struct pools *pools,
                      struct gathering *g) {
    struct amount *a = g->amount;
    const struct color_plan *c = color_plan_row(p, (size_t)a->color_row);
    double all = 0;
    const double there_ml = batch_there_ml(r, c);
    a->mixed_ml = fmin(there_ml, a->mix_ml);
    const double more_ml = c->batch && there_ml >= a->need_ml ? 0 : a->mix_ml - a->mixed_ml;
    for (size_t i = 0; i < c->lines_n; i++) all += c->lines[i].parts;
    for (size_t i = 0; i < c->lines_n && all > 0; i++) {
        const struct paint *can = shelf_paint(r->shelf, c->lines[i].paint);
        double share = c->lines[i].parts / all, ml = more_ml * share;
        a->cost_cent += a->mixed_ml * share * cent_per_ml(can, g->class);
        struct purchase b = purchase_of(r, pools, can, g, ml, ml);
        a->stock_ml += fmin(ml, b.stock_ml);
        a->buy_ml += b.buy_ml;
        a->after_others |= b.after_others;
        a->cans += b.cans;
        a->cost_cent += b.cost_cent;
        if (c->lines_n == 1) a->cans_text = b.cans_text;
        if (b.buy_ml > 0) short_say(r, &p->amounts, &c->lines[i], &b);
    }
    a->left_ml = (more_ml > 0 ? fmax(there_ml, a->mix_ml) : there_ml) - a->need_ml;
}

static void can_buy(const struct room *r, struct pools *pools, struct gathering *g) {
    struct amount *a = g->amount;
    const struct paint *can = shelf_paint(r->shelf, a->product);
    struct purchase b = purchase_of(r, pools, can, g, a->mix_ml, a->need_ml);
    a->stock_ml = b.stock_ml;
    a->buy_ml = b.buy_ml;
    a->after_others = b.after_others;
    a->cans = b.cans;
    a->cans_text = b.cans_text;
    a->cost_cent = b.cost_cent;
    a->left_ml = b.left_ml;
}

/* ---- why ---- */

static void amount_explain(const struct room *r, const struct gathering *g, size_t row) {
    struct ledger *l = r->ledger;
    const struct amount *a = g->amount;
    const struct amount_terms *t = &g->terms;
    const char *whose = g->learnt   ? "the shop's own spread"
                        : g->label  ? "the label's spread"
                        : g->solids ? "spread by the label's solids"
                                    : "the class's spread";
    struct basis *b = ledger_basis(
        l, ROOM_TEXT(r, "%s/amounts/%zu/mix_ml", r->at, row),
        "area x coats / spread / (1 - loss) + what tool and tray keep each session; enough in 9 "
        "jobs of 10, rounded up to what can be measured",
        g->learnt  ? learnt_source(l->arena, g->learnt)
        : g->label ? "CP"
                   : g->class->source,
        g->learnt  ? CERTAINTY_MEASURED
        : g->label ? CERTAINTY_LABEL
                   : CERTAINTY_COMMON);
    basis_range(b, DIM_VOLUME, a->low_ml, a->high_ml);
    basis_number(l, b, "area of one coat", t->area_m2, DIM_AREA);
    basis_number(l, b, "coats", (double)a->coats, DIM_NONE);
    if (a->more_m2 > 0) basis_number(l, b, "of it under one coat more", a->more_m2, DIM_AREA);
    basis_number(l, b, whose, t->spread_m2_per_l, DIM_SPREAD);
    if (g->solids && !g->learnt)
        basis_number(l, b, "usual dry film, of which it leaves that", g->class->film_um, DIM_FILM);
    if (g->bare) basis_word(l, b, "bare wood", "the first coat goes in: low end of the spread");
    if (g->learnt) {
        basis_number(l, b, "your shop against what is usual", g->learnt->factor, DIM_NONE);
        basis_number(l, b, "records", (double)g->learnt->records, DIM_NONE);
    }
    basis_number(l, b, "loss", t->loss_frac, DIM_FRACTION);
    if (g->kept) {
        basis_number(l, b, "your shop's loss against what is usual", g->kept->factor, DIM_NONE);
        basis_number(l, b, "records of loss", (double)g->kept->records, DIM_NONE);
    }
    basis_word(l, b, "tool", method_name(g->method, l->metric));
    basis_number(l, b, "left in tool and tray, each session", a->session_ml, DIM_VOLUME);
    basis_number(l, b, "sessions", a->sessions, DIM_NONE);
    basis_number(l, b, "likeliest need", a->need_ml, DIM_VOLUME);
}

/* One can of what is used, and what a liter of it costs, from its own price or its class's. */
static void cost_add(const struct room *r, struct basis *b, const struct paint *can,
                     const struct product_classes_row *class, const char *name, double used_ml) {
    struct ledger *l = r->ledger;
    const bool own = can && can->cost_cent >= 0 && can->size_ml > 0;
    const bool paid = !own && can && can->leftover_of_n;
    if (name)
        basis_number(l, b, ROOM_TEXT(r, "of %s", name), used_ml, DIM_VOLUME);
    else
        basis_number(l, b, "likeliest need", used_ml, DIM_VOLUME);
    if (own) {
        basis_number(l, b, "its can cost", can->cost_cent, DIM_MONEY);
        basis_number(l, b, "and holds", can->size_ml, DIM_VOLUME);
    } else if (paid) {
        basis_word(l, b, "a leftover", "paid for by the job that it is left from");
    } else {
        basis_number(l, b, "a liter of its class usually costs", class->cent_per_l, DIM_MONEY);
        b->certainty = CERTAINTY_ASSUMED;
    }
}

static void cost_explain(const struct room *r, struct piece_plan *p, const struct gathering *g,
                         size_t row) {
    const struct amount *a = g->amount;
    const struct color_plan *c = amount_mix(p, a);
    struct basis *b =
        ledger_basis(r->ledger, ROOM_TEXT(r, "%s/amounts/%zu/cost_cent", r->at, row),
                     c ? "all that is mixed, each paint at what a can of it cost; where no cost "
                         "was given, at what its class usually costs"
                       : "what is used, at what the can cost; where no cost was given, at what its "
                         "class usually costs",
                     "CP", CERTAINTY_EXACT);
    double parts = 0, poured_ml = fmax(a->mix_ml, a->mixed_ml);
    if (!c) {
        cost_add(r, b, shelf_paint(r->shelf, a->product), g->class, NULL, a->need_ml);
        return;
    }
    if (c->batch && batch_there_ml(r, c) >= a->need_ml) poured_ml = a->mixed_ml;
    for (size_t i = 0; i < c->lines_n; i++) parts += c->lines[i].parts;
    for (size_t i = 0; i < c->lines_n && parts > 0; i++) {
        const struct recipe_line *line = &c->lines[i];
        cost_add(r, b, shelf_paint(r->shelf, line->paint), g->class,
                 line->name ? line->name : line->paint, poured_ml * line->parts / parts);
    }
}

/* ---- the whole ---- */

static double step_of(const struct room *r, const struct paint *can) {
    double step = r->shop->smallest_ml;
    return can && can->smallest_ml > step ? can->smallest_ml : step;
}

static void amount_close(const struct room *r, struct piece_plan *p, struct pools *pools,
                         struct gathering *g, size_t row) {
    struct amount *a = g->amount;
    struct amount_terms t = g->terms;
    const struct color_plan *batch = amount_mix(p, a);
    t.area_log_sd =
        figure(r->t, r->piece->template ? FIGURES_AREA_TEMPLATE_LOG_SD : FIGURES_AREA_SAID_LOG_SD);
    t.area_m2 = g->coat_area_m2; /* coats differ from group to group: they are in the area */
    t.coats = 1;
    struct amount_range range = amount_of(&t);
    a->area_m2 = g->terms.area_m2;
    a->spread_m2_per_l = t.spread_m2_per_l;
    a->loss_frac = t.loss_frac;
    a->session_ml = (t.session_low_ml + t.session_high_ml) / 2;
    a->sessions = t.sessions;
    a->film_ml = range.film_ml;
    a->need_ml = range.need_ml;
    a->low_ml = range.low_ml;
    a->high_ml = range.high_ml;
    a->mix_ml = amount_measured(range.high_ml, step_of(r, shelf_paint(r->shelf, a->product)),
                                batch ? recipe_parts(batch) : 1);
    if (batch)
        batch_buy(r, p, pools, g);
    else
        can_buy(r, pools, g);
    amount_explain(r, g, row);
    cost_explain(r, p, g, row);
}

static enum status amounts_gather(const struct room *r, struct piece_plan *p,
                                  struct gathering *rows, size_t *n) {
    for (size_t i = 0; i < p->coats.n; i++) {
        const struct coat *c = &p->coats.rows[i];
        const struct product_classes_row *class = product_class_of(r->t, c->class);
        if (!class || c->verdict == VERDICT_NEVER || !(coat_area(p, c) > 0)) continue;
        size_t k = 0;
        while (k < *n && !merges(rows[k].amount, c)) k++;
        if (k == *n) {
            struct amount *a = arena_take(r->ledger->arena, sizeof *a);
            if (!a) return E_MEMORY;
            *a = (struct amount){.product = c->product,
                                 .name = amount_name(r, p, c, class),
                                 .class = class->id,
                                 .color_row = c->role == ROLE_COLOR ? c->color_row : 0,
                                 .role = c->role,
                                 .inside = seals_inside(c)};
            rows[(*n)++] = (struct gathering){.amount = a, .class = class};
        }
        gather(r, p, c, &rows[k]);
    }
    return OK;
}

enum status amount_make(const struct room *r, struct piece_plan *p, struct why *why) {
    size_t n = 0;
    struct pools pools = pools_begin(r);
    struct gathering *rows =
        arena_array(r->ledger->arena, p->coats.n ? p->coats.n : 1, sizeof *rows);
    p->amounts = (struct amounts){0};
    enum status s = rows ? amounts_gather(r, p, rows, &n) : E_MEMORY;
    if (!s && n) {
        p->amounts.rows = arena_array(r->ledger->arena, n, sizeof *p->amounts.rows);
        if (!p->amounts.rows) s = E_MEMORY;
    }
    for (size_t i = 0; i < n && !s; i++) {
        amount_close(r, p, &pools, &rows[i], i);
        p->amounts.rows[p->amounts.n++] = *rows[i].amount;
    }
    p->amounts.cap = n;
    if (r->taken) r->taken->last = pools;
    if (s) return why_say(why, s, "", "%s", status_text(s));
    return r->ledger->failed ? E_MEMORY : OK;
}
