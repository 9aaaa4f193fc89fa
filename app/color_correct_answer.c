/* What is advised for a batch that dried to another color, in figures and words
 * (app/color_correct.h). */
#include "app/color_correct_inside.h"
#include "codec/units_text.h"
#include "core/color/color.h"

#include <math.h>
#include <string.h>

static const char *name_of(const struct palette *p, size_t row) {
    const struct paint *q = p->paints[row].paint;
    return q->name ? q->name : q->id;
}

static enum status pours_fill(const struct correcting *c, const struct recipe *r, double part_ml,
                              struct arena *a, struct add_row **out, size_t *out_n) {
    *out = arena_array(a, r->items_n, sizeof **out);
    if (!*out) return E_MEMORY;
    for (size_t i = 0; i < r->items_n; i++) {
        const struct paint *p = c->palette.paints[r->items[i].paint].paint;
        double ml = r->items[i].parts * part_ml;
        const char *text = measuring_text(&c->ask->measuring, c->t, p, ml, a);
        if (!text) return E_MEMORY;
        (*out)[(*out_n)++] =
            (struct add_row){p->id, name_of(&c->palette, r->items[i].paint), text, ml};
    }
    return OK;
}

static const char *pours_text(const struct add_row *rows, size_t n, struct arena *a) {
    const char *text = "";
    for (size_t i = 0; i < n && text; i++)
        text = arena_print(a, "%s%s%s of %s", text, i ? ", " : "", rows[i].text, rows[i].name);
    return text;
}

/* Did somebody say what each of its paints costs? What is left over costs nothing more. */
static bool all_priced(const struct correcting *c, const struct recipe *r) {
    bool all = true;
    for (size_t i = 0; i < r->items_n; i++) {
        const struct paint *p = c->palette.paints[r->items[i].paint].paint;
        all = all && (p->leftover_of_n || (p->size_ml > 0 && !isnan(p->cost_cent)));
    }
    return all;
}

static const char *money_text(double cent, struct arena *a) {
    return units_text(a, DIM_MONEY, UNITS_US, cent);
}

static const char *advice_text(const struct correct_answer *r, bool spoils, struct arena *a) {
    const char *adds = pours_text(r->add, r->add_n, a),
               *fresh = pours_text(r->fresh, r->fresh_n, a);
    if (!adds || !fresh) return NULL;
    switch (r->kind) {
    case CORRECT_LEAVE: return "Leave it: it is near enough, and there is enough of it.";
    case CORRECT_ADD:
        return arena_print(a, "Add %s. Stir, paint a card and let it dry before going on.", adds);
    case CORRECT_RESTART:
        return r->fresh_cent < r->add_cent
                   ? arena_print(a,
                                 "Start again with %s: that costs %s, the addition would cost %s. "
                                 "Keep the old batch as a leftover.",
                                 fresh, money_text(r->fresh_cent, a), money_text(r->add_cent, a))
                   : arena_print(a,
                                 "Start again with %s: adding cannot bring it near enough. Keep "
                                 "the old batch as a leftover.",
                                 fresh);
    case CORRECT_NEITHER:
        if (spoils)
            return arena_print(a,
                               "On paper adding %s would do, but too little is learned of these "
                               "paints: it may well end farther off than it is. Paint a card of "
                               "them first, or leave it.",
                               adds);
        return r->add_n
                   ? arena_print(
                         a, "Nothing on the shelf brings it near enough; nearest is to add %s.",
                         adds)
                   : "Nothing on the shelf brings it nearer than it is.";
    }
    return "";
}

/* Parts of what is in it then, in the parts that were said. */
static enum status contents_fill(const struct correcting *c, struct arena *a,
                                 struct correct_answer *out) {
    const struct palette *p = &c->palette;
    out->batch = arena_array(a, p->n, sizeof *out->batch);
    if (!out->batch) return E_MEMORY;
    for (size_t i = 0; i < p->n; i++) {
        double parts = c->volume[i];
        for (size_t k = 0; k < c->found.add.items_n && out->add_n; k++)
            if (c->found.add.items[k].paint == i)
                parts += c->found.add.items[k].parts * c->sum / c->held;
        if (parts > 0)
            out->batch[out->batch_n++] = (struct mix_item){p->paints[i].paint->id, parts};
    }
    return OK;
}

/* Where it will really dry: what the model says, and what it is known to miss. */
static struct lab carried_over(const struct correcting *c, struct lab predicted) {
    return (struct lab){fmin(fmax(predicted.l + c->carried.l, 0), 100), predicted.a + c->carried.a,
                        predicted.b + c->carried.b};
}

/* The doubt in a batch that was read and then changed a little is less than in one that was never
 * seen: what stays of it is the reading's own doubt, and twice the share that was added. Measured
 * on 16 simulated shops with drifted cans (test/e2e/color_shop.mjs ... study): after the first
 * correction the true difference was 0.97 rms, this says 1.2. */
void correcting_doubt(const struct correcting *c, const struct recipe *r, double *out_expected,
                      double *out_limit90) {
    const double changed = r->poured_parts / (double)r->total;
    double expected, limit90, stays = sqrt(fmin(1, 1 - c->worth + 2 * changed));
    sample_doubt(c->palette.model, 0, r->model_sd * r->model_sd, &expected, &limit90);
    *out_expected = sqrt(r->difference * r->difference + stays * stays * expected * expected +
                         r->pour_sd * r->pour_sd);
    *out_limit90 = sqrt(r->difference * r->difference + stays * stays * limit90 * limit90 +
                        r->pour_sd * r->pour_sd);
}

double correcting_now(const struct correcting *c) {
    return ciede2000(color_lab(&c->ask->dried), color_lab(&c->ask->target));
}

/* Likely to spoil the batch: where no more of it is needed, nothing is added that is expected half
 * as far off again as it is now (what is not seen counts as that). */
static bool risky(const struct correcting *c, const struct correct_answer *r) {
    return c->need_ml <= c->ask->batch_ml &&
           r->expected_difference > 1.5 * fmax(r->difference_now, COLOR_UNSEEN);
}

/* A fresh batch is advised where adding cannot do it or costs more; but never one of which worse is
 * to be expected than of adding. */
static void advise(const struct correcting *c, struct correct_answer *r) {
    static const char *const words[] = {"leave", "add", "restart", "neither"};
    const struct correction *f = &c->found;
    enum correct_advice advice = f->advice;
    double good = isnan(c->ask->good) ? COLOR_UNSEEN : c->ask->good;
    bool fresh = r->fresh_n && r->fresh_difference <= good;
    if (advice != CORRECT_LEAVE) {
        const bool spoils = risky(c, r);
        bool add = r->difference <= good && r->add_n && !spoils;
        bool cheaper = fresh && r->fresh_cent < r->add_cent &&
                       r->fresh_expected_difference <= r->expected_difference + 0.5;
        bool better = fresh && r->fresh_expected_difference <
                                   (spoils ? r->difference_now : r->expected_difference);
        advice = add      ? (cheaper ? CORRECT_RESTART : CORRECT_ADD)
                 : better ? CORRECT_RESTART
                          : CORRECT_NEITHER;
    }
    r->kind = (int)advice;
    r->advice = words[advice];
}

/* What would carry it farther off even on paper is not offered: the batch stays as it dried. */
static void nothing_added(const struct correcting *c, struct arena *a, struct correct_answer *r) {
    const struct lab dried = color_lab(&c->ask->dried);
    r->add_n = 0;
    r->add_cent = NAN;
    r->after_ml = c->ask->batch_ml;
    r->more_ml = fmax(c->ask->batch_ml - c->need_ml, 0);
    r->hex = color_swatch(a, dried);
    memcpy(r->lab, (double[]){dried.l, dried.a, dried.b}, sizeof r->lab);
    r->difference = r->expected_difference = r->difference_90 = r->difference_now;
}

enum status correcting_answer(const struct correcting *c, struct arena *a,
                              struct correct_answer *out) {
    const struct correction *f = &c->found;
    struct lab then = lab_d50_of_d65(carried_over(c, f->add.lab));
    struct correct_answer r = {.difference_now = correcting_now(c),
                               .add_cent = all_priced(c, &f->add) ? f->add_cent : NAN,
                               .after_ml = f->after_ml,
                               .more_ml = f->more_ml,
                               .hex = color_swatch(a, then),
                               .lab = {then.l, then.a, then.b},
                               .difference = f->add.difference,
                               .fresh_difference = NAN,
                               .fresh_expected_difference = NAN,
                               .fresh_ml = NAN,
                               .fresh_cent = NAN};
    correcting_doubt(c, &f->add, &r.expected_difference, &r.difference_90);
    if (!r.hex || pours_fill(c, &f->add, c->part_ml, a, &r.add, &r.add_n)) return E_MEMORY;
    if (f->fresh.items_n) {
        double limit90;
        r.fresh_ml = f->fresh_ml;
        r.fresh_cent = all_priced(c, &f->fresh) ? f->fresh_cent : NAN;
        r.fresh_difference = f->fresh.difference;
        sample_doubt(c->palette.model, f->fresh.difference,
                     f->fresh.model_sd * f->fresh.model_sd + f->fresh.pour_sd * f->fresh.pour_sd,
                     &r.fresh_expected_difference, &limit90);
        r.fresh_hex = color_swatch(a, lab_d50_of_d65(f->fresh.lab));
        if (!r.fresh_hex || pours_fill(c, &f->fresh, c->fresh_part_ml, a, &r.fresh, &r.fresh_n))
            return E_MEMORY;
    }
    advise(c, &r);
    if (r.kind != CORRECT_RESTART && !(r.fresh_expected_difference < r.difference_now)) {
        r.fresh_n = 0; /* nobody starts again for a color that is no nearer than this one */
        r.fresh_hex = NULL;
        r.fresh_ml = r.fresh_cent = r.fresh_difference = r.fresh_expected_difference = NAN;
    }
    if (r.kind == CORRECT_NEITHER && c->need_ml <= c->ask->batch_ml &&
        r.difference >= r.difference_now)
        nothing_added(c, a, &r);
    if (!r.hex || contents_fill(c, a, &r)) return E_MEMORY;
    r.text = advice_text(&r, r.add_n && risky(c, &r), a);
    *out = r;
    return r.text ? OK : E_MEMORY;
}

/* ---- descriptions ---- */

static const struct field add_fields[] = {
    F_TEXT(struct add_row, paint, "id of the paint"),
    F_TEXT(struct add_row, name, "its name"),
    F_TEXT(struct add_row, text, "how much, as it is measured"),
    F_QTY(struct add_row, amount, amount_ml, DIM_VOLUME, 0, 0, "how much"),
};
static DESC(desc_add, struct add_row, "addition", "What to pour.", add_fields);

static const struct field batch_fields[] = {
    F_TEXT(struct mix_item, paint, "id of the paint"),
    F_NUM(struct mix_item, parts, 0, 0, "parts by volume"),
};
static DESC(desc_batch_item, struct mix_item, "batch_part", "One paint in the batch.",
            batch_fields);

static const struct field correct_fields[] = {
    F_TEXT(struct correct_answer, advice, "leave, add, restart or neither"),
    F_TEXT(struct correct_answer, text, "in a sentence"),
    F_NUM(struct correct_answer, difference_now, 0, 0, "CIEDE2000 of the dried batch, D50"),
    F_LIST(struct correct_answer, add, &desc_add, 16, "what to pour into it"),
    F_QTY(struct correct_answer, add_cost, add_cent, DIM_MONEY, 0, 0, "of what is added"),
    F_QTY(struct correct_answer, after, after_ml, DIM_VOLUME, 0, 0, "the batch then"),
    F_QTY(struct correct_answer, more, more_ml, DIM_VOLUME, 0, 0, "beyond what is needed"),
    F_TEXT(struct correct_answer, hex, "what it should dry to"),
    F_FIXED(struct correct_answer, lab, 3, "the same, CSS Lab D50"),
    F_NUM(struct correct_answer, difference, 0, 0, "predicted difference then"),
    F_NUM(struct correct_answer, expected_difference, 0, 0, "to expect, doubt included"),
    F_NUM(struct correct_answer, difference_90, 0, 0, "9 of 10 stay below"),
    F_LIST(struct correct_answer, fresh, &desc_add, 16, "a fresh batch instead"),
    F_QTY(struct correct_answer, fresh_amount, fresh_ml, DIM_VOLUME, 0, 0, "how much of it"),
    F_QTY(struct correct_answer, fresh_cost, fresh_cent, DIM_MONEY, 0, 0, "its cost"),
    F_NUM(struct correct_answer, fresh_difference, 0, 0, "its predicted difference"),
    F_NUM(struct correct_answer, fresh_expected_difference, 0, 0, "to expect of it"),
    F_TEXT(struct correct_answer, fresh_hex, "what it should dry to"),
    F_LIST(struct correct_answer, batch, &desc_batch_item, 64, "what is in it then, in parts"),
};
DESC(desc_correct_answer, struct correct_answer, "correction",
     "What to do with a batch that dried to another color.", correct_fields);
