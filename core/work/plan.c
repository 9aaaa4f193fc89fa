#include "core/work/plan.h"

#include "core/base/units.h"
#include "core/work/amount.h"
#include "core/work/batch_share.h"
#include "core/work/color_plan.h"
#include "core/work/complete.h"
#include "core/work/day_hours.h"
#include "core/work/day_plan.h"
#include "core/work/fact.h"
#include "core/work/lookup.h"
#include "core/work/mix_film.h"
#include "core/work/names.h"
#include "core/work/palette.h"
#include "core/work/room.h"
#include "core/work/template.h"
#include "core/work/unsaid_class.h"

#include <math.h>
#include <string.h>

static int64_t day_of(int64_t local_min) {
    return local_min >= 0 ? local_min / 1440 : -((1439 - local_min) / 1440);
}

static enum status ids_differ(const struct job *job, struct arena *arena, struct why *why) {
    for (size_t i = 0; i < job->pieces_n; i++)
        for (size_t k = 0; k < i; k++)
            if (job->pieces[i].id && job->pieces[k].id &&
                !strcmp(job->pieces[i].id, job->pieces[k].id))
                return why_say(why, E_DUPLICATE, arena_print(arena, "/pieces/%zu/id", i),
                               "\"%s\" is the id of /pieces/%zu too. Give each piece its own.",
                               job->pieces[i].id, k);
    return OK;
}

/* A refused piece keeps what explains the refusal and nothing that would help to do it anyway. */
static void silence(struct piece_plan *p) {
    p->coats = (struct coats){.refused = p->coats.refused};
    p->takedown = p->repairs = p->finish = (struct steps){0};
    p->color = (struct color_plan){0};
    p->colors_n = 0;
    p->amounts = (struct amounts){0};
    p->supplies_n = 0;
    p->fittings = (struct fitting_plan){0};
    p->price = (struct price){.labor_cent = NAN,
                              .material_cent = NAN,
                              .overhead_cent = NAN,
                              .cost_cent = NAN,
                              .fee_cent = NAN,
                              .minimum_cent = NAN,
                              .price_cent = NAN,
                              .deposit_cent = NAN,
                              .hour_cent = NAN,
                              .best_offer_cent = NAN,
                              .hours = NAN};
    p->care_n = 0;
}

/* Colors and amounts as they were before any recipe. */
static void colors_reset(struct piece_plan *p, const struct color_plan *named) {
    p->color = (struct color_plan){0};
    for (size_t i = 0; i < p->colors_n; i++) p->colors[i] = named[i];
    p->amounts = (struct amounts){0};
}

/* Recipe and amounts hang on each other: how fine can be measured and how many parts of a leftover
 * there are depends on the batch, the batch is rounded to the recipe's parts. So: how much first,
 * then the recipe; one more round should a leftover be short of the rounded batch. */
static enum status color_and_amounts(struct room *r, struct piece_plan *p, const struct plan *plan,
                                     const struct limit *limit, struct why *why) {
    struct ledger before = *r->ledger;
    struct arena *arena = r->ledger->arena;
    double *batch_ml = arena_array(arena, p->colors_n + 1, sizeof *batch_ml);
    struct color_plan *named = arena_array(arena, p->colors_n + 1, sizeof *named);
    if (!batch_ml || !named) return why_no_memory(why);
    for (size_t i = 0; i < p->colors_n; i++) named[i] = p->colors[i];
    colors_reset(p, named);
    enum status s = amount_make(r, p, why);
    if (!s) batch_cup(plan, p, r);
    color_plan_short(p, r->shelf, batch_ml);
    for (int round = 0; round < 2 && !s; round++) {
        r->ledger->bases_n = before.bases_n;
        r->ledger->assumed_n = before.assumed_n;
        colors_reset(p, named);
        if ((s = color_plan_make(r, p, batch_ml, limit, why)) || (s = amount_make(r, p, why)))
            break;
        if (!color_plan_short(p, r->shelf, batch_ml)) break;
    }
    return s ? s : color_plan_pour(r, p, why);
}

static enum status coats_and_color(struct room *r, struct piece_plan *p, const struct plan *plan,
                                   const struct limit *limit, struct why *why) {
    enum status s;
    if ((s = coats_make(r, p, why))) return s;
    if ((s = hazard_of_coats(r, p, why))) return s;
    if ((s = agreement_make(r, &p->coats, &p->agreement, why))) return s;
    if ((s = repair_make(r, p, why))) return s;
    if ((s = color_and_amounts(r, p, plan, limit, why))) return s;
    return hazard_of_coats(r, p, why); /* the recipe may have taken a paint of two parts */
}

/* Surfaces that may be changed without changing those of *p; false: no memory. */
static bool surfaces_copy(const struct surfaces *from, struct arena *a, struct surfaces *out) {
    struct surfaces s = *from;
    s.rows = arena_array(a, from->rows_n + 1, sizeof *s.rows);
    s.groups = arena_array(a, from->groups_n + 1, sizeof *s.groups);
    if (!s.rows || !s.groups) return false;
    if (s.rows_n) memcpy(s.rows, from->rows, s.rows_n * sizeof *s.rows);
    if (s.groups_n) memcpy(s.groups, from->groups, s.groups_n * sizeof *s.groups);
    *out = s;
    return true;
}

static bool same_films(const struct room *r, const struct mix_film *films, size_t n) {
    if (!films || !r->mixes || n != r->mixes_n) return !films && !r->mixes;
    for (size_t i = 0; i < n; i++)
        if (films[i].jars != r->mixes[i].jars || films[i].scale != r->mixes[i].scale ||
            memcmp(&films[i].paint, &r->mixes[i].paint, sizeof films[i].paint) != 0)
            return false;
    return true;
}

/* How many coats a mix takes hangs on what is in it, if one of its jars was tried, and the recipe
 * on how much is wanted. So: coats as the color alone tells, then the recipe, then all again with
 * what it is mixed of; a third time should the new batch want another recipe. */
static enum status coats_settle(const struct room *r, struct piece_plan *p, const struct plan *plan,
                                const struct limit *limit, struct why *why) {
    enum { ROUNDS = 3 };
    const struct piece_plan clean = *p;
    const struct ledger before = *r->ledger;
    struct room with = *r;
    for (int round = 1;; round++) {
        const struct mix_film *films;
        struct surfaces own;
        if (!surfaces_copy(&clean.surfaces, r->ledger->arena, &own)) return why_no_memory(why);
        *p = clean;
        p->surfaces = own;
        r->ledger->bases_n = before.bases_n;
        r->ledger->assumed_n = before.assumed_n;
        enum status s = coats_and_color(&with, p, plan, limit, why);
        if (s || round == ROUNDS) return s;
        if ((s = color_plan_films(&with, p, &films, why))) return s;
        if (same_films(&with, films, p->colors_n + 1)) return OK;
        with.mixes = films;
        with.mixes_n = films ? p->colors_n + 1 : 0;
    }
}

static enum status rooms(const struct room *r, struct piece_plan *p, const struct plan *plan,
                         const struct limit *limit, struct why *why) {
    enum status s;
    if ((s = inspection_make(r, &p->inspection, why))) return s;
    if ((s = hazard_make(r, &p->inspection, &p->hazards, why))) return s;
    if ((s = surface_make(r, &p->surfaces, why))) return s;
    if ((s = names_check(r, p, why))) return s;
    if (p->hazards.refused) return agreement_make(r, NULL, &p->agreement, why);
    if ((s = coats_settle(r, p, plan, limit, why))) return s;
    if ((s = fitting_make(r, p, why))) return s;
    if ((s = supply_make(r, p))) return why_say(why, s, "", "%s", status_text(s));
    return OK;
}

/* What stands in the way of starting at all, over all pieces, hardest first. */
static void settle_collect(struct plan *plan, struct ledger *l) {
    for (enum rank rank = RANK_STOP; rank >= RANK_MIND; rank--)
        for (size_t i = 0; i < plan->pieces_n; i++) {
            const struct piece_plan *p = &plan->pieces[i];
            for (size_t k = 0; k < p->hazards.notices.n; k++) {
                const struct notice *n = &p->hazards.notices.rows[k];
                if (n->rank != rank || (rank == RANK_MIND && !n->blocks)) continue;
                struct notice *to = notice_add(l, &plan->settle, n->rank, n->topic, n->text,
                                               n->source, n->certainty);
                if (to) to->remedy = n->remedy, to->blocks = n->blocks;
            }
        }
}

/* A name from a table, as a title. */
static const char *capital(const char *name, struct arena *arena) {
    char *title = arena_text(arena, name);
    if (title && title[0] >= 'a' && title[0] <= 'z') title[0] = (char)(title[0] - 'a' + 'A');
    return title ? title : name;
}

/* ---- prices: what several pieces share is charged once ---- */

static enum status prices_pass(const struct tables *t, const struct job *job, struct ledger *l,
                               struct plan *plan, struct why *why) {
    for (size_t i = 0; i < plan->pieces_n; i++) {
        struct piece_plan *p = &plan->pieces[i];
        struct room r = {.t = t,
                         .shop = &plan->shop,
                         .shelf = &job->shelf,
                         .piece = &p->piece,
                         .at = arena_print(l->arena, "/pieces/%zu", i),
                         .ledger = l};
        if (p->hazards.refused) continue;
        enum status s = r.at ? price_make(&r, p, why) : why_no_memory(why);
        if (s) return s;
    }
    return OK;
}

/* One client's pieces are one job: the least that it is done for is shared by what each would cost
 * without it. */
static void minimum_share(struct plan *plan) {
    for (size_t i = 0; i < plan->pieces_n; i++) {
        struct piece_plan *p = &plan->pieces[i];
        const char *client = p->piece.agreement.client;
        double all = 0;
        for (size_t k = 0; client && k < plan->pieces_n; k++)
            if (!plan->pieces[k].hazards.refused && plan->pieces[k].piece.agreement.client &&
                !strcmp(client, plan->pieces[k].piece.agreement.client))
                all += plan->pieces[k].price.cost_cent;
        p->minimum_others_frac = all > p->price.cost_cent ? 1 - p->price.cost_cent / all : 0;
    }
}

static enum status prices_make(const struct tables *t, const struct job *job, struct ledger *l,
                               struct plan *plan, struct why *why) {
    size_t bases_n = l->bases_n, assumed_n = l->assumed_n;
    enum status s = prices_pass(t, job, l, plan, why);
    if (s) return s;
    l->bases_n = bases_n, l->assumed_n = assumed_n;
    minimum_share(plan);
    return prices_pass(t, job, l, plan, why);
}

/* Wood shows through a stain: its color is bought with it, not mixed to be seen. */
static void tint_take(const struct tables *t, const struct shelf *shelf, struct wanted *w) {
    const struct coat_kinds_row *k = coat_kind_of(t, class_wanted(shelf, w->product));
    if (!k || !w->color.text || strcmp(k->role, "stain") != 0) return;
    w->tint = w->color.text;
    w->color = (struct color_said){NULL, {NAN, NAN, NAN}};
}

static enum status pieces_make(const struct tables *t, const struct job *job,
                               const struct plan_options *o, struct ledger *l, struct plan *plan,
                               struct why *why) {
    int64_t local = o->now_utc_min + day_offset(o, o->now_utc_min);
    struct palettes *palettes = arena_take(l->arena, sizeof *palettes);
    /* in the book the shopping list adds up what all pieces want */
    struct taken *taken = o->recipes_of ? NULL : taken_make(l->arena);
    size_t *order = batch_order(job, o, l->arena);
    if (!palettes || !order || (!taken && !o->recipes_of)) return why_no_memory(why);
    for (size_t turn = 0; turn < job->pieces_n; turn++) {
        const size_t i = order[turn];
        struct piece_plan *p = &plan->pieces[i];
        const char *at = arena_print(l->arena, "/pieces/%zu", i);
        if (!at) return E_MEMORY;
        enum status s = complete_piece(t, &job->pieces[i], at, l, &p->piece, why);
        tint_take(t, &job->shelf, &p->piece.wanted);
        if (!s) s = template_fill(t, plan->shop.units, at, l, &p->piece, why);
        if (s) return s;
        p->id = p->piece.id ? p->piece.id : arena_print(l->arena, "piece-%zu", i + 1);
        const struct piece_templates_row *usual = template_of(t, p->piece.template);
        if (!job->pieces[i].title && usual) p->piece.title = capital(usual->name, l->arena);
        p->title = p->piece.title;
        p->handle_utc_min = p->deliver_utc_min = p->cured_utc_min = INT64_MIN;
        struct room r = {.t = t,
                         .shop = &plan->shop,
                         .shelf = &job->shelf,
                         .piece = &p->piece,
                         .at = at,
                         .ledger = l,
                         .no_recipe = o->recipes_of && strcmp(o->recipes_of, p->id) != 0,
                         .palettes = palettes,
                         .taken = taken,
                         .now_utc_min = o->now_utc_min,
                         .today = day_of(local)};
        l->wanted = o->want_basis && !r.no_recipe;
        s = rooms(&r, p, plan, &o->limit, why);
        l->wanted = o->want_basis;
        if (s) return s;
        if (p->hazards.refused)
            silence(p);
        else
            taken_keep(taken);
    }
    batches_join(plan, o, l);
    return prices_make(t, job, l, plan, why);
}

static enum status care_all(const struct tables *t, const struct job *job,
                            const struct plan_options *o, struct ledger *l, struct plan *plan,
                            struct why *why) {
    for (size_t i = 0; i < plan->pieces_n; i++) {
        struct piece_plan *p = &plan->pieces[i];
        if (p->hazards.refused) continue;
        struct room r = {.t = t,
                         .shop = &plan->shop,
                         .shelf = &job->shelf,
                         .piece = &p->piece,
                         .at = arena_print(l->arena, "/pieces/%zu", i),
                         .ledger = l,
                         .now_utc_min = o->now_utc_min,
                         .today = day_of(o->now_utc_min)};
        enum status s = care_make(&r, p, why);
        if (s) return s;
    }
    return OK;
}

enum status plan_make(const struct tables *t, const struct job *job,
                      const struct plan_options *options, struct arena *arena,
                      struct plan *out_plan, struct why *why) {
    if (!job->pieces_n)
        return why_say(why, E_MISSING, "/pieces",
                       "There is no piece. Write at least one with a template, its size and the "
                       "wanted color.");
    enum status s = ids_differ(job, arena, why);
    if (s) return s;
    struct ledger l;
    ledger_init(&l, arena, options->want_basis);
    l.metric = (options->units ? options->units : job->shop.units) == UNITS_METRIC;
    struct plan plan = {.title = job->title, .now_utc_min = options->now_utc_min};
    plan.pieces_n = job->pieces_n;
    plan.pieces = arena_array(arena, job->pieces_n, sizeof *plan.pieces);
    if (!plan.pieces) return why_no_memory(why);
    for (size_t i = 0; i < plan.pieces_n; i++) plan.pieces[i] = (struct piece_plan){0};
    unsaid_classes_list(t, &job->shelf, &l);
    if (!(s = complete_shop(t, &job->shop, &l, &plan.shop, why)) &&
        !(s = pieces_make(t, job, options, &l, &plan, why)) &&
        (options->no_days || !(s = day_plan_make(t, job, options, &l, &plan, why))))
        s = care_all(t, job, options, &l, &plan, why);
    if (s) return s;
    if (!plan.title) plan.title = plan.pieces[0].title;
    settle_collect(&plan, &l);
    plan.bases = l.bases;
    plan.bases_n = l.bases_n;
    plan.assumed = l.assumed;
    plan.assumed_n = l.assumed_n;
    if (l.failed) return why_no_memory(why);
    *out_plan = plan;
    return OK;
}
