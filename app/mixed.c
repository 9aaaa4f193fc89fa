#include "app/mixed.h"

#include "codec/color_said.h"
#include "core/color/color.h"

#include <math.h>
#include <string.h>

enum { ITEMS = 16 };
/* A reading nearer than this to the prediction is that prediction's reflectance, read. */
#define SAME 1.0

/* ---- texts ---- */

struct kept_spectrum {
    double *reflectance;
    size_t reflectance_n;
};
static const struct field spectrum_fields[] = {
    F_NUMBERS(struct kept_spectrum, reflectance, SPECTRUM_BANDS, "380..730 nm by 10"),
};
static DESC(desc_spectrum_kept, struct kept_spectrum, "kept_spectrum", "Reflectance as kept.",
            spectrum_fields);
struct kept_items {
    struct mixed_item *items;
    size_t items_n;
};
static const struct field item_fields[] = {
    F_TEXT(struct mixed_item, paint, "id of the paint"),
    F_NUM(struct mixed_item, parts, 0, 0, "by volume"),
    F_TEXT(struct mixed_item, hex, "its color then"),
};
static DESC(desc_item_kept, struct mixed_item, "kept_item", "One paint as kept.", item_fields);
static const struct field items_fields[] = {
    F_LIST(struct kept_items, items, &desc_item_kept, ITEMS, "what went in"),
};
static DESC(desc_items_kept, struct kept_items, "kept_items", "A mix as kept.", items_fields);

/* The value of the one member of a printed object: {"items":[...]} -> [...]. */
static const char *value_of(struct op_call *call, const struct desc *d, const void *row) {
    struct text t = {0};
    const char *out = NULL;
    if (!document_print(d, SPELL_INPUT, row, 0, &t) && t.at && strchr(t.at, '[')) {
        const char *from = strchr(t.at, '['), *to = strrchr(t.at, ']');
        out = arena_print(call->arena, "%.*s", (int)(to - from + 1), from);
    }
    text_free(&t);
    return out;
}

const char *mixed_spectrum_text(struct op_call *call, const struct spectrum *r) {
    struct text t = {0};
    for (int b = 0; b < SPECTRUM_BANDS; b++) text_print(&t, "%s%.5f", b ? "," : "[", r->at[b]);
    text_print(&t, "]");
    const char *out = t.failed ? NULL : arena_text(call->arena, t.at);
    text_free(&t);
    return out;
}

const char *mixed_items_text(struct op_call *call, const struct mixed_item *items, size_t n) {
    struct kept_items kept = {(struct mixed_item *)(uintptr_t)items, n};
    return value_of(call, &desc_items_kept, &kept);
}

static enum status read_member(struct op_call *call, const struct desc *d, const char *text,
                               void *out, struct why *why) {
    const char *whole = arena_print(call->arena, "{\"%s\":%s}", d->fields[0].name, text);
    if (!whole) return why_no_memory(why);
    desc_unsay(d, out);
    return document_read(d, SPELL_INPUT, whole, strlen(whole), call->arena, out, why);
}

enum status mixed_items_read(struct op_call *call, const char *text, struct mixed_item **out,
                             size_t *out_n, struct why *why) {
    struct kept_items kept;
    enum status s = read_member(call, &desc_items_kept, text, &kept, why);
    if (s) return s;
    *out = kept.items;
    *out_n = kept.items_n;
    return OK;
}

/* ---- what it was ---- */

static enum status reflectance_read(struct op_call *call, const char *text, struct mixed *out,
                                    struct why *why) {
    struct kept_spectrum kept;
    if (!text) return OK;
    enum status s = read_member(call, &desc_spectrum_kept, text, &kept, why);
    if (s || kept.reflectance_n != SPECTRUM_BANDS) return s;
    memcpy(out->reflectance.at, kept.reflectance, sizeof out->reflectance.at);
    out->spectral = true;
    return OK;
}

/* The color it had: as read, else as predicted. The predicted reflectance belongs to it only where
 * the reading agrees. */
static enum status target_choose(struct op_call *call, const char *dried, const char *hex,
                                 struct mixed *out, struct why *why) {
    struct weights d50 = weights_make(call->app->tables, OBSERVER_2, LIGHT_D50);
    struct lab seen = {NAN, NAN, NAN};
    out->target = hex;
    if (out->spectral) {
        seen = lab_of_xyz(xyz_of_spectrum(&d50, &out->reflectance), d50.white);
        out->target = arena_print(call->arena, "lab(%.2f %.2f %.2f)", seen.l, seen.a, seen.b);
    }
    if (!dried) return out->target || !hex ? OK : why_no_memory(why);
    struct color_said read;
    enum status s = color_said_read(dried, call->arena, &read, why);
    if (s) return s;
    out->target = dried;
    out->spectral = out->spectral && ciede2000(seen, color_lab(&read)) <= SAME;
    return OK;
}

enum status mixed_of_batch(struct op_call *call, const char *id, struct mixed *out,
                           struct why *why) {
    struct batch_row row;
    struct batch_item_row *pours;
    size_t n;
    struct mixed m = {0};
    enum status s = book_get(call, &table_batch, id, &row, why);
    if (s) return s;
    struct row_query q = {.where = "batch = ?1", .texts = {row.id}, .after = INT64_MIN};
    s = row_list(call->book, &table_batch_item, &q, call->arena, (void **)&pours, &n, NULL, why);
    if (s) return s;
    m.items = arena_array(call->arena, n + 1, sizeof *m.items);
    if (!m.items) return why_no_memory(why);
    for (size_t i = 0; i < n; i++) {
        size_t k = 0;
        while (k < m.items_n && strcmp(m.items[k].paint, pours[i].paint)) k++;
        if (k == m.items_n)
            m.items[m.items_n++] = (struct mixed_item){pours[i].paint, pours[i].color_hex, 0};
        m.items[k].parts += pours[i].parts;
    }
    m.name = row.name;
    m.piece = row.piece;
    s = reflectance_read(call, row.spectrum, &m, why);
    if (!s) s = target_choose(call, row.dried, row.predicted_hex, &m, why);
    if (!s) *out = m;
    return s;
}

enum status mixed_of_recipe(struct op_call *call, const char *id, struct mixed *out,
                            struct why *why) {
    struct recipe_row row;
    struct mixed m = {0};
    enum status s = book_get(call, &table_recipe, id, &row, why);
    if (!s) s = mixed_items_read(call, row.items, &m.items, &m.items_n, why);
    if (s) return s;
    m.name = row.name;
    m.piece = row.piece;
    s = reflectance_read(call, row.spectrum, &m, why);
    if (!s) s = target_choose(call, NULL, row.color_hex, &m, why);
    if (!s) *out = m;
    return s;
}
