#include "app/color_known.h"

#include "core/base/name.h"
#include "core/work/palette.h"
#include "core/work/wet_pairs.h"

#include <math.h>
#include <string.h>

static const char *name_of(const struct paint *p) {
    return p->name ? p->name : p->id;
}

/* ---- paints ---- */

static int64_t samples_with(const struct palette *p, const struct shelf *shelf, const char *paint) {
    int64_t n = 0;
    for (size_t i = 0; i < p->samples_n; i++) {
        const struct sample *s = &shelf->samples[p->sample[i]];
        bool in = false;
        for (size_t k = 0; k < s->items_n; k++) in |= !strcmp(s->items[k].paint, paint);
        n += in;
    }
    return n;
}

static void ends(const struct palette *p, size_t *out_white, size_t *out_dark) {
    *out_white = *out_dark = 0;
    for (size_t i = 1; i < p->n; i++) {
        if (p->paints[i].lab.l > p->paints[*out_white].lab.l) *out_white = i;
        if (p->paints[i].lab.l < p->paints[*out_dark].lab.l) *out_dark = i;
    }
}

/* A book from before names were kept apart may hold two of one name. */
static const char *namesake(const struct palette *p, size_t row) {
    for (size_t i = 0; i < p->n; i++)
        if (i != row && name_same(name_of(p->paints[i].paint), name_of(p->paints[row].paint)))
            return p->paints[i].paint->id;
    return NULL;
}

static const char *samples_word(int64_t n, struct arena *a) {
    return n == 1 ? "1 sample" : arena_print(a, "%lld samples", (long long)n);
}

static const char *known_text(const struct known_paint *k, const char *other, struct arena *a) {
    if (other)
        return arena_print(
            a, "\"%.64s\" has the same name: rename one, recipes tell them apart by it", other);
    if (k->impossible)
        return "the color written for it is beyond what any paint can be: read it again";
    const char *how = !strcmp(k->known, "recipe")     ? "as what it was mixed of"
                      : !strcmp(k->known, "spectrum") ? "by its spectrum"
                                                      : "by its color only";
    if (k->can_of)
        return k->samples ? arena_print(a, "as %.64s, and by %s of its own", k->first,
                                        samples_word(k->samples, a))
                          : arena_print(a, "as %.64s, another can", k->first);
    if (!k->samples) return how;
    return arena_print(a, "%s%s", samples_word(k->samples, a),
                       !strcmp(k->known, "spectrum") ? " and its spectrum" : "");
}

/* Another can: what it has from the one that was known before. */
static enum status lots_fill(const struct palette *p, const struct shelf *shelf,
                             const struct palette_paint *first, struct arena *a,
                             struct known_paint *out) {
    const int64_t n = samples_with(p, shelf, first->paint->id);
    const char *there = n ? samples_word(n, a) : "its color", *name = name_of(first->paint);
    out->can_of = first->paint->id;
    out->first = name;
    if (!there) return E_MEMORY;
    out->lots = arena_print(
        a,
        "Another can of %s: begins with what %s taught of that. Alone the two are expected %.1f "
        "apart: lots differ by about 0.7, and by %.0f %% in tinting strength (what makers accept). "
        "A "
        "card of this can settles it. For one piece pour both together first.",
        name, there, out->lots_apart, 100 * SAMPLE_LOT_STRENGTH);
    return out->lots ? OK : E_MEMORY;
}

static enum status paints_fill(const struct palette *p, const struct shelf *shelf, struct arena *a,
                               struct known_answer *out) {
    static const char *const words[] = {"color", "spectrum", "recipe"};
    size_t white, dark;
    double *volume = arena_array(a, p->n + 1, sizeof *volume);
    out->paints = arena_array(a, p->n, sizeof *out->paints);
    if (!volume || !out->paints) return E_MEMORY;
    ends(p, &white, &dark);
    for (size_t i = 0; i < p->n; i++) {
        const struct palette_paint *q = &p->paints[i];
        struct known_paint *k = &out->paints[out->paints_n++];
        struct sample_mix half;
        struct sample_prediction seen;
        *k = (struct known_paint){.id = q->paint->id,
                                  .name = name_of(q->paint),
                                  .hex = color_swatch(a, q->lab),
                                  .known = words[q->knowledge],
                                  .samples = samples_with(p, shelf, q->paint->id),
                                  .expected_difference = NAN,
                                  .difference_90 = NAN,
                                  .lots_apart = palette_lots_apart(p, i),
                                  .impossible = q->impossible};
        volume[i] += 1, volume[i == white ? dark : white] += 1;
        if (palette_mix(p, volume, &half) && !sample_predict(p->model, &half, &seen, NULL)) {
            k->expected_difference = seen.expected;
            k->difference_90 = seen.limit90;
            k->with = name_of(p->paints[i == white ? dark : white].paint);
        }
        volume[i] = volume[white] = volume[dark] = 0;
        if (q->can_of >= 0 && lots_fill(p, shelf, &p->paints[q->can_of], a, k)) return E_MEMORY;
        k->text = known_text(k, namesake(p, i), a);
        if (!k->hex || !k->text) return E_MEMORY;
    }
    return OK;
}

/* ---- samples ---- */

static const char *mix_text(const struct palette *p, const struct sample *s, struct arena *a) {
    const char *text = "";
    for (size_t i = 0; i < s->items_n && text; i++) {
        int row = palette_find(p, s->items[i].paint);
        text = arena_print(a, "%s%s%g %s", text, i ? ", " : "", s->items[i].parts,
                           row < 0 ? s->items[i].paint : name_of(p->paints[row].paint));
    }
    return text;
}

static enum status sample_fill(const struct palette *p, const struct sample *s, struct lab learnt,
                               const struct sample_verdict *v, struct arena *a,
                               struct known_sample *out) {
    struct sample_mix mix;
    struct sample_prediction seen;
    *out = (struct known_sample){.id = s->id,
                                 .hex = color_swatch(a, color_lab(&s->color)),
                                 .difference = v->difference,
                                 .difference_90 = v->limit90,
                                 .contradicts = v->contradicts};
    out->residual = NAN;
    if (palette_sample_mix(p, s, &mix) && !sample_predict(p->model, &mix, &seen, NULL)) {
        out->predicted_hex = color_swatch(a, seen.color);
        out->residual = ciede2000(learnt, seen.color);
    }
    if (!v->contradicts) return out->hex ? OK : E_MEMORY;
    const char *of = mix_text(p, s, a);
    if (of)
        out->text = arena_print(a,
                                "The sample of %s contradicts the others: it was read %.1f from "
                                "what they say, where nine of ten stay within %.1f. Read the card "
                                "again, or take it off.",
                                of, v->difference, v->limit90);
    return out->text && out->hex ? OK : E_MEMORY;
}

static enum status samples_fill(const struct palette *p, const struct shelf *shelf, struct arena *a,
                                struct known_answer *out) {
    struct sample_verdict *verdicts =
        arena_array(a, p->samples_n + p->n + 1, sizeof *verdicts); /* leftovers are read too */
    out->samples = arena_array(a, p->samples_n, sizeof *out->samples);
    if (!verdicts || !out->samples) return E_MEMORY;
    sample_judge(p->model, verdicts);
    for (size_t i = 0; i < p->samples_n; i++) {
        const struct sample *s = &shelf->samples[p->sample[i]];
        if (sample_fill(p, s, p->sample_color[i], &verdicts[i], a, &out->samples[out->samples_n++]))
            return E_MEMORY;
    }
    return OK;
}

/* ---- cards read wet ---- */

static enum status wet_fill(const struct palette *p, const struct wet_classes *classes,
                            const struct shelf *shelf, const struct sample *s, struct arena *a,
                            struct known_wet *out) {
    const struct wet_class *class;
    struct lab dry;
    enum wet_use use = wet_use_of(classes, shelf, s, &class, &dry);
    *out = (struct known_wet){.id = s->id,
                              .pairs = class ? (int64_t) class->pairs : 0,
                              .mix = mix_text(p, s, a),
                              .learnt = use == WET_DRIED,
                              .paired = use == WET_PAIR,
                              .doubt = NAN};
    switch (use) {
    case WET_MIXED:
        out->text = "Read wet, of several kinds of paint: not learned from. Read it dry.";
        break;
    case WET_PAIR:
        out->text = class->pairs == 1
                        ? "Read wet and dry: the first pair."
                        : arena_print(a, "Read wet and dry: one of %zu pairs.", class->pairs);
        break;
    case WET_FEW:
        out->text = arena_print(a,
                                "Read wet: not learned from until %d mixes are read wet and dry, "
                                "%zu %s. Read it dry too.",
                                WET_PAIRS_LEAST, class->pairs, class->pairs == 1 ? "is" : "are");
        break;
    case WET_DRIED:
        out->doubt = class->shift.expected;
        out->hex = color_swatch(a, dry);
        out->text =
            arena_print(a,
                        "Read wet: learned from as %zu pairs dry, %.1f %s, and %.1f more in "
                        "doubt.",
                        class->pairs, fabs(class->shift.lightness),
                        class->shift.lightness < 0 ? "darker" : "lighter", class->shift.expected);
        if (!out->hex) return E_MEMORY;
        break;
    }
    return out->text && out->mix ? OK : E_MEMORY;
}

static enum status wets_fill(const struct palette *p, const struct shelf *shelf, struct arena *a,
                             struct known_answer *out) {
    struct wet_classes *classes = arena_take(a, sizeof *classes);
    out->wet = arena_array(a, shelf->samples_n + 1, sizeof *out->wet);
    if (!classes || !out->wet || wet_classes_learn(shelf, a, classes)) return E_MEMORY;
    for (size_t i = 0; i < shelf->samples_n; i++) {
        const struct sample *s = &shelf->samples[i];
        if (s->wet != YN_YES || !s->color.text) continue;
        if (wet_fill(p, classes, shelf, s, a, &out->wet[out->wet_n++])) return E_MEMORY;
    }
    return OK;
}

enum status color_known(const struct tables *t, const struct shelf *shelf, struct arena *arena,
                        struct known_answer *out, struct why *why) {
    struct palette p;
    struct known_answer r = {.discrepancy = NAN};
    enum status s = palette_make(t, shelf, NULL, arena, &p, why);
    if (s) return s;
    if (p.n && p.model) {
        r.discrepancy = sample_discrepancy(p.model);
        if (paints_fill(&p, shelf, arena, &r) || samples_fill(&p, shelf, arena, &r))
            return why_no_memory(why);
    }
    if (wets_fill(&p, shelf, arena, &r)) return why_no_memory(why);
    *out = r;
    return OK;
}

/* More decimals would promise what no eye sees. */
static double tenth(double difference) {
    return round(difference * 10) / 10;
}

void known_explain(struct ledger *l, const struct known_answer *a) {
    for (size_t i = 0; i < a->paints_n; i++) {
        const struct known_paint *k = &a->paints[i];
        if (isnan(k->expected_difference)) continue;
        struct basis *b = ledger_basis(
            l, explain_at(l, "paints", i, "expected_difference"),
            strcmp(k->with, k->name)
                ? "how far a half-and-half mix with the other paint is expected to dry from what "
                  "is "
                  "predicted, as a color difference (CIEDE2000); a sample of it makes it less"
                : "how far it is expected to dry from what is predicted, by itself, as a color "
                  "difference (CIEDE2000)",
            "CP", k->samples ? CERTAINTY_MEASURED : CERTAINTY_COMMON);
        basis_word(l, b, "known", k->text);
        basis_word(l, b, "mixed half and half with", k->with);
        explain_number(l, b, "nine of ten stay within", tenth(k->difference_90), DIM_NONE);
        explain_number(l, b, "how far real mixes stay from the model, per axis",
                       tenth(a->discrepancy), DIM_NONE);
    }
}

static const struct field paint_fields[] = {
    F_TEXT(struct known_paint, id, "id of the paint"),
    F_TEXT(struct known_paint, name, "its name"),
    F_TEXT(struct known_paint, hex, "its color as learned, #rrggbb"),
    F_TEXT(struct known_paint, known, "by color, spectrum, or recipe: a leftover"),
    F_INT(struct known_paint, samples, 0, 0, "samples with it in them"),
    F_NUM(struct known_paint, expected_difference, 0, 0,
          "to expect of a half-and-half mix with the lightest paint (of that: with the darkest)"),
    F_NUM(struct known_paint, difference_90, 0, 0, "9 of 10 such mixes stay below"),
    F_TEXT(struct known_paint, with, "name of the other paint of that mix"),
    F_TEXT(struct known_paint, can_of, "id of the paint that it is another can of"),
    F_NUM(struct known_paint, lots_apart, 0, 0, "how far the two are expected to dry apart, alone"),
    F_TEXT(struct known_paint, lots, "what another can begins with, in words"),
    F_BOOL(struct known_paint, impossible, "no paint can have the color that was written"),
    F_TEXT(struct known_paint, text, "in words"),
};
static DESC(desc_paint_known, struct known_paint, "known_paint", "How well a paint is known.",
            paint_fields);
static const struct field sample_fields[] = {
    F_TEXT(struct known_sample, id, "id of the sample"),
    F_TEXT(struct known_sample, hex, "as it was read, #rrggbb"),
    F_TEXT(struct known_sample, predicted_hex, "as the shelf's model has that mix"),
    F_NUM(struct known_sample, residual, 0, 0, "of the reading from that"),
    F_NUM(struct known_sample, difference, 0, 0, "of the reading from what all others alone say"),
    F_NUM(struct known_sample, difference_90, 0, 0, "9 of 10 would stay below"),
    F_BOOL(struct known_sample, contradicts, "beyond what 1 in 100 would be"),
    F_TEXT(struct known_sample, text, "what to do about it"),
};
static DESC(desc_sample_known, struct known_sample, "known_sample",
            "How a sample agrees with the others.", sample_fields);
static const struct field wet_fields[] = {
    F_TEXT(struct known_wet, id, "id of the sample"),
    F_TEXT(struct known_wet, hex, "what it should dry to, #rrggbb; left out where nothing tells"),
    F_TEXT(struct known_wet, mix, "what is on it"),
    F_BOOL(struct known_wet, paired, "the same mix was read dry too"),
    F_BOOL(struct known_wet, learnt, "it is learned from, as that color"),
    F_INT(struct known_wet, pairs, 0, 0, "mixes of its kind that were read wet and dry"),
    F_NUM(struct known_wet, doubt, 0, 0, "that is added to how it was read"),
    F_TEXT(struct known_wet, text, "in words"),
};
static DESC(desc_wet_known, struct known_wet, "known_wet", "What a card read wet is good for.",
            wet_fields);
static const struct field known_fields[] = {
    F_LIST(struct known_answer, paints, &desc_paint_known, 1000, "paints that can be mixed"),
    F_LIST(struct known_answer, samples, &desc_sample_known, 2000,
           "samples that were learned from"),
    F_LIST(struct known_answer, wet, &desc_wet_known, 2000, "cards that were read wet"),
    F_NUM(struct known_answer, discrepancy, 0, 0,
          "how far real mixes stay from the model, per axis"),
    F_BASES(struct known_answer),
};
DESC(desc_known, struct known_answer, "shelf_known", "How well the shelf's colors are known.",
     known_fields);
