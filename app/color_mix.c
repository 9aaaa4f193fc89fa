#include "app/color_work.h"

#include "codec/color_text.h"
#include "core/color/color.h"
#include "core/work/palette.h"

#include <math.h>
#include <string.h>

enum status color_volumes(const struct palette *p, const struct mix_item *items, size_t n,
                          double *volume, struct arena *arena, struct why *why) {
    double sum = 0;
    if (!n) return why_say(why, E_MISSING, "/items", "Say what is in it: white=3,black=1.");
    for (size_t i = 0; i < n; i++) {
        int row;
        enum status s =
            palette_need(p, items[i].paint, arena_print(arena, "/items/%zu/paint", i), &row, why);
        if (s) return s;
        if (!(items[i].parts >= 0 && items[i].parts <= 1e6))
            return why_say(why, E_DOMAIN, arena_print(arena, "/items/%zu/parts", i),
                           "Parts are numbers from 0 to 1,000,000.");
        volume[row] += items[i].parts;
        sum += items[i].parts;
    }
    return sum > 0 ? OK
                   : why_say(why, E_DOMAIN, "/items", "At least one paint needs parts above 0.");
}

/* ---- ramps ---- */

/* One paint from nothing to `most`, all others as they are. */
static bool ramp_fill(const struct palette *p, const struct mix_ask *ask, int row, double *volume,
                      struct arena *a, struct mix_ramp *out) {
    double kept = volume[row];
    out->hex = arena_array(a, (size_t)ask->marks, sizeof *out->hex);
    if (!out->hex) return false;
    for (int m = 0; m < ask->marks; m++) {
        struct sample_mix mix;
        struct sample_prediction seen;
        volume[row] = ask->most * m / (ask->marks - 1);
        const char *hex = "";
        if (palette_mix(p, volume, &mix) && !sample_predict(p->model, &mix, &seen, NULL))
            hex = color_swatch(a, seen.color);
        if (!hex) return false;
        out->hex[out->hex_n++] = hex;
    }
    volume[row] = kept;
    return true;
}

static bool ramps_fill(const struct palette *p, const struct mix_ask *ask, double *volume,
                       struct arena *a, struct mix_answer *out) {
    if (!ask->marks) return true;
    out->ramps = arena_array(a, ask->items_n, sizeof *out->ramps);
    if (!out->ramps) return false;
    for (size_t i = 0; i < ask->items_n; i++) {
        int row = palette_find(p, ask->items[i].paint);
        struct mix_ramp *r = &out->ramps[out->ramps_n++];
        r->paint = ask->items[i].paint;
        if (!ramp_fill(p, ask, row, volume, a, r)) return false;
    }
    return true;
}

/* ---- in words ---- */

/* Which of the four plain hues a step around the hue circle goes toward. */
static const char *toward(double hue_deg, bool up) {
    static const char *const names[] = {"redder", "yellower", "greener", "bluer"};
    double at = (hue_deg + (up ? 90 : -90)) * M_PI / 180, best = -2;
    const char *name = "";
    for (int i = 0; i < 4; i++) {
        double along = cos(at - i * M_PI / 2);
        if (along > best) {
            best = along;
            name = names[i];
        }
    }
    return name;
}

/* Which way a mix lies from its target; what is under half a unit is not said. */
static const char *way_text(struct lab target, struct lab mix, struct arena *a) {
    struct lch t = lch_of_lab(target), m = lch_of_lab(mix);
    double dl = m.l - t.l, dc = m.c - t.c, turn = remainder(m.h - t.h, 360);
    double dh = 2 * sqrt(t.c * m.c) * sin(fabs(turn) * M_PI / 360);
    const char *text = "";
    if (fabs(dl) >= 0.5) text = arena_print(a, "%.1f %s", fabs(dl), dl > 0 ? "lighter" : "darker");
    if (text && fabs(dc) >= 0.5)
        text = arena_print(a, "%s%s%.1f %s", text, *text ? ", " : "", fabs(dc),
                           dc > 0 ? "stronger" : "weaker");
    if (text && dh >= 0.5)
        text = arena_print(a, "%s%s%s%s", text, *text ? ", " : "",
                           dh < 2   ? "a little "
                           : dh < 6 ? ""
                                    : "much ",
                           toward(t.h, turn > 0));
    return text;
}

/* ---- one mix ---- */

static bool items_fill(const struct tables *t, const struct palette *p, const struct mix_ask *ask,
                       struct arena *a, struct mix_answer *out) {
    out->items = arena_array(a, ask->items_n, sizeof *out->items);
    if (!out->items) return false;
    for (size_t i = 0; i < ask->items_n; i++) {
        const struct paint *q = p->paints[palette_find(p, ask->items[i].paint)].paint;
        double ml = ask->part_ml > 0 ? ask->items[i].parts * ask->part_ml : NAN;
        const char *text = isnan(ml) ? NULL : measuring_text(&ask->measuring, t, q, ml, a);
        if (!isnan(ml) && !text) return false;
        out->items[out->items_n++] = (struct recipe_answer_item){
            q->id, q->name ? q->name : q->id, (int64_t)llround(ask->items[i].parts), ml, text};
    }
    return true;
}

static enum status answer_fill(const struct tables *t, const struct palette *p,
                               const struct mix_ask *ask, double *volume, struct arena *arena,
                               struct mix_answer *out, struct why *why) {
    struct sample_mix mix;
    if (!palette_mix(p, volume, &mix))
        return why_say(why, E_TOO_LARGE, "/items",
                       "This mix holds more than %d different paints, leftovers counted by what "
                       "they were mixed from.",
                       SAMPLE_ITEMS_MAX);
    struct sample_prediction seen;
    enum status s = sample_predict(p->model, &mix, &seen, why);
    if (s) return s;
    struct mix_answer a = {.reflectance = seen.spectrum,
                           .difference = NAN,
                           .expected_difference = seen.expected,
                           .difference_90 = seen.limit90,
                           .samples = (int64_t)p->samples_n,
                           .hex = color_swatch(arena, seen.color),
                           .lab = {seen.color.l, seen.color.a, seen.color.b}};
    const struct color_said *target = ask->target && ask->target->text ? ask->target : NULL;
    struct upsampled wanted;
    if (target) {
        wanted = upsample_color(&p->d50, color_lab(target));
        struct xyz there = xyz_of_spectrum(&p->d65, &seen.spectrum);
        a.difference =
            ciede2000(lab_of_xyz(there, p->d65.white), lab_d65_of_d50(color_lab(target)));
        sample_doubt(p->model, a.difference, seen.variance, &a.expected_difference,
                     &a.difference_90);
        a.text = way_text(color_lab(target), seen.color, arena);
        if (!a.text ||
            !looks_fill(p, &wanted.spectrum, NULL, arena, &a.target_lights, &a.target_lights_n))
            return why_no_memory(why);
    }
    char text[96];
    color_print(NOTATION_LAB, seen.color, text, sizeof text);
    a.notation = arena_text(arena, text);
    if (!a.hex || !a.notation || !items_fill(t, p, ask, arena, &a) ||
        !ramps_fill(p, ask, volume, arena, &a) ||
        !looks_fill(p, &seen.spectrum, target ? &wanted.spectrum : NULL, arena, &a.lights,
                    &a.lights_n))
        return why_no_memory(why);
    *out = a;
    return OK;
}

enum status color_mix(const struct tables *t, const struct shelf *shelf, const struct mix_ask *ask,
                      struct arena *arena, struct mix_answer *out, struct why *why) {
    struct palette p;
    enum status s = palette_make(t, shelf, NULL, arena, &p, why);
    if (s) return s;
    double *volume = arena_array(arena, p.n + 1, sizeof *volume);
    if (!volume) return why_no_memory(why);
    s = color_volumes(&p, ask->items, ask->items_n, volume, arena, why);
    return s ? s : answer_fill(t, &p, ask, volume, arena, out, why);
}

/* ---- descriptions ---- */

#define LAB_OF(S, h)                                                                               \
    { .name = "lab", .offset = offsetof(S, lab), .type = FIELD_NUMBERS, .fixed = 3, .help = h }

static const struct field ramp_fields[] = {
    F_TEXT(struct mix_ramp, paint, "id of the paint"),
    F_TEXTS(struct mix_ramp, hex, MIX_MARKS, "colors from none of it to the most, evenly"),
};
static DESC(desc_ramp, struct mix_ramp, "mix_ramp", "What a mix would be with more or less of one.",
            ramp_fields);

static const struct field mix_fields[] = {
    LAB_OF(struct mix_answer, "predicted color, CSS Lab D50"),
    F_TEXT(struct mix_answer, hex, "on a screen, #rrggbb"),
    F_TEXT(struct mix_answer, notation, "as CSS text"),
    F_NUM(struct mix_answer, difference, 0, 0, "CIEDE2000 to the target, where one was given"),
    F_NUM(struct mix_answer, expected_difference, 0, 0,
          "to expect between this and the dried mix; with a target: from it"),
    F_NUM(struct mix_answer, difference_90, 0, 0, "9 of 10 mixes stay below"),
    F_LIST(struct mix_answer, lights, &desc_look, LIGHT_LOOKS, "under daylight, lamp and LED"),
    F_TEXT(struct mix_answer, text, "which way it lies from the target"),
    F_LIST(struct mix_answer, items, &desc_recipe_item, 16, "as asked"),
    F_LIST(struct mix_answer, target_lights, &desc_look, LIGHT_LOOKS,
           "the target itself under the same lights"),
    F_LIST(struct mix_answer, ramps, &desc_ramp, 16, "one a paint, where they were asked for"),
    F_INT(struct mix_answer, samples, 0, 0, "samples it was learned from"),
};
DESC(desc_mix_answer, struct mix_answer, "mix", "The predicted color of a mix.", mix_fields);
