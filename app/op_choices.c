/* What a form may offer: templates with the dimensions they use, finishes, woods, classes, methods,
 * repairs, effects, and the words of every enum. All read from the trade's tables and from the
 * descriptions of the job document, so that a new row or word shows by itself. */
#include "app/gather.h"
#include "codec/job_desc.h"
#include "codec/units_text.h"
#include "core/work/lookup.h"
#include "core/work/shape.h"
#include "core/work/template.h"
#include "core/work/usual.h"

#include <math.h>
#include <string.h>

struct choice {
    const char *id, *name, *role, *text;
};

struct template_choice {
    const char *id, *name;
    const char **uses;
    size_t uses_n;
    const char *usual; /* JSON object in input spelling */
    const char *leg_is, *opening_is;
};

struct shape_choice {
    const char *id, *name;
    const char **sizes;
    size_t sizes_n;
    int64_t needed;
    const char *faces;
};

struct choices {
    struct template_choice *templates;
    size_t templates_n;
    struct choice *finishes, *woods, *classes, *methods, *repairs, *effects, *conditions,
        *operations, *waits, *profiles;
    size_t finishes_n, woods_n, classes_n, methods_n, repairs_n, effects_n, conditions_n,
        operations_n, waits_n, profiles_n;
    struct shape_choice *shapes;
    size_t shapes_n;
    const char *words; /* JSON object: member -> words */
};

/* ---- templates ---- */

struct dimension_use {
    const char *member;
    double mm;     /* NAN: not used */
    int64_t count; /* INT64_MIN: not used */
};

enum { USES = 11 };

static size_t uses_of(const struct piece_templates_row *t, enum unit_system units,
                      struct dimension_use out[USES]) {
    struct piece p;
    usual_sizes(t, units, &p);
    const struct dimension_use all[USES] = {
        {"width", p.width_mm, INT64_MIN},
        {"depth", p.depth_mm, INT64_MIN},
        {"height", p.height_mm, INT64_MIN},
        {"bow", p.bow_mm, INT64_MIN},
        {"drawers", NAN, p.drawers},
        {"doors", NAN, p.doors},
        {"shelves", NAN, p.shelves},
        {"slats", NAN, p.slats},
        {"legs", NAN, p.legs},
        {"leg", p.leg_mm, INT64_MIN},
        {"opening", p.opening_mm, INT64_MIN},
    };
    size_t n = 0;
    for (size_t i = 0; i < USES; i++)
        if (!isnan(all[i].mm) || all[i].count != INT64_MIN) out[n++] = all[i];
    return n;
}

static const char *usual_json(const struct dimension_use *u, size_t n, enum unit_system units,
                              struct arena *a) {
    const char *out = "{";
    for (size_t i = 0; out && i < n; i++) {
        char text[64];
        units_print(DIM_LENGTH, units, u[i].mm, text, sizeof text);
        out = isnan(u[i].mm)
                  ? arena_print(a, "%s%s\"%s\":%lld", out, i ? "," : "", u[i].member,
                                (long long)u[i].count)
                  : arena_print(a, "%s%s\"%s\":\"%s\"", out, i ? "," : "", u[i].member, text);
    }
    return out ? arena_print(a, "%s}", out) : NULL;
}

static bool templates_fill(const struct tables *t, enum unit_system units, struct arena *a,
                           struct choices *c) {
    c->templates = arena_array(a, t->piece_templates_n, sizeof *c->templates);
    if (!c->templates) return false;
    for (size_t i = 0; i < t->piece_templates_n; i++) {
        const struct piece_templates_row *row = &t->piece_templates[i];
        struct dimension_use u[USES];
        size_t n = uses_of(row, units, u);
        struct template_choice *out = &c->templates[c->templates_n++];
        *out = (struct template_choice){.id = row->id,
                                        .name = row->name,
                                        .uses = arena_array(a, n + 1, sizeof *out->uses),
                                        .uses_n = n,
                                        .usual = usual_json(u, n, units, a),
                                        .leg_is = *row->leg_is ? row->leg_is : NULL,
                                        .opening_is = *row->opening_is ? row->opening_is : NULL};
        if (!out->uses || !out->usual) return false;
        for (size_t k = 0; k < n; k++) out->uses[k] = u[k].member;
        if (template_part_row(t, row->id, "seat")) out->uses[out->uses_n++] = "seat";
    }
    return true;
}

/* ---- rows of tables ---- */

#define TABLE_FILL(list, table, name_member, role_value, when)                                     \
    do {                                                                                           \
        c->list = arena_array(a, t->table##_n, sizeof *c->list);                                   \
        if (!c->list) return false;                                                                \
        for (size_t i = 0; i < t->table##_n; i++) {                                                \
            const struct table##_row *row = &t->table[i];                                          \
            if (when)                                                                              \
                c->list[c->list##_n++] =                                                           \
                    (struct choice){row->id, row->name_member, role_value, NULL};                  \
        }                                                                                          \
    } while (0)

static bool tables_fill(const struct tables *t, struct arena *a, struct choices *c) {
    TABLE_FILL(finishes, materials, name, NULL, true);
    TABLE_FILL(woods, wood_traits, name, NULL, true);
    TABLE_FILL(classes, product_classes, name, row->role, true);
    TABLE_FILL(methods, methods, name, NULL, true);
    TABLE_FILL(repairs, repairs, name, NULL, true);
    TABLE_FILL(conditions, conditions, name, NULL, true);
    TABLE_FILL(operations, operations, name, NULL, true);
    TABLE_FILL(waits, waits, name, NULL, true);
    TABLE_FILL(profiles, profile_factors, name, NULL, true);
    if (!(c->effects = arena_array(a, t->effects_n, sizeof *c->effects))) return false;
    for (size_t i = 0; i < t->effects_n; i++)
        c->effects[c->effects_n++] =
            (struct choice){t->effects[i].id, operation_row(t, t->effects[i].id)->name, NULL, NULL};
    for (size_t i = 0; i < c->conditions_n; i++) c->conditions[i].text = t->conditions[i].look;
    return true;
}

/* ---- words of enums ---- */

static void words_add(const struct desc *d, struct text *out, const char **seen, size_t *seen_n,
                      size_t seen_max) {
    for (size_t i = 0; i < d->fields_n; i++) {
        const struct field *f = &d->fields[i];
        if (!f->words || *seen_n == seen_max) continue;
        bool known = false;
        for (size_t k = 0; k < *seen_n; k++) known = known || !strcmp(seen[k], f->name);
        if (known) continue;
        seen[(*seen_n)++] = f->name;
        text_print(out, "%s\"%s\":[", *seen_n > 1 ? "," : "", f->name);
        for (size_t k = 1; f->words[k]; k++)
            text_print(out, "%s\"%s\"", k > 1 ? "," : "", f->words[k]);
        text_print(out, "]");
    }
}

static bool words_fill(struct arena *a, struct choices *c) {
    static const struct desc *const holders[] = {
        &desc_shop,  &desc_shop_hours, &desc_paint,     &desc_supply, &desc_sample,
        &desc_piece, &desc_tests,      &desc_agreement, &desc_wanted, &desc_part};
    const char *seen[64];
    size_t n = 0;
    struct text t = {0};
    text_print(&t, "{");
    for (size_t i = 0; i < sizeof holders / sizeof *holders; i++)
        words_add(holders[i], &t, seen, &n, sizeof seen / sizeof *seen);
    text_print(&t, "}");
    c->words = t.failed ? NULL : arena_text(a, t.at);
    text_free(&t);
    return c->words != NULL;
}

/* ---- shapes of parts ---- */

static bool shapes_fill(struct arena *a, struct choices *c) {
    size_t n = 0;
    while (shape_kind_at(n)) n++;
    c->shapes = arena_array(a, n, sizeof *c->shapes);
    if (!c->shapes) return false;
    for (size_t i = 0; i < n; i++) {
        const struct shape_kind *kind = shape_kind_at(i);
        struct shape_choice *out = &c->shapes[c->shapes_n++];
        *out = (struct shape_choice){.id = kind->id,
                                     .name = kind->name,
                                     .sizes = arena_array(a, PART_SIZES, sizeof *out->sizes),
                                     .needed = kind->needed,
                                     .faces = *kind->faces ? kind->faces : NULL};
        if (!out->sizes) return false;
        while (out->sizes_n < PART_SIZES && kind->sizes[out->sizes_n]) {
            out->sizes[out->sizes_n] = kind->sizes[out->sizes_n];
            out->sizes_n++;
        }
    }
    return true;
}

/* ---- the operation ---- */

static enum status run(struct op_call *call, struct why *why) {
    struct choices *c = call->result;
    struct shop shop = {.units = UNITS_US};
    enum status s = call->book ? gather_shop(call, &shop, why) : OK;
    if (s) return s;
    if (templates_fill(call->app->tables, shop.units, call->arena, c) &&
        tables_fill(call->app->tables, call->arena, c) && words_fill(call->arena, c) &&
        shapes_fill(call->arena, c))
        return OK;
    return why_no_memory(why);
}

static const struct field choice_fields[] = {
    F_TEXT(struct choice, id, "id, as the job document writes it"),
    F_TEXT(struct choice, name, "name"),
    F_TEXT(struct choice, role, "of a class: primer, barrier, color, clear ..."),
    F_TEXT(struct choice, text, "of a condition: what to look for"),
};
static DESC(desc_choice, struct choice, "choice", "One thing to choose.", choice_fields);

static const struct field template_fields[] = {
    F_TEXT(struct template_choice, id, "id"),
    F_TEXT(struct template_choice, name, "name"),
    F_TEXTS(struct template_choice, uses, 32, "members of the piece that it takes"),
    F_JSON(struct template_choice, usual,
           "what is taken when nothing is said, round in the shop's units"),
    F_TEXT(struct template_choice, leg_is, "what `leg` means here"),
    F_TEXT(struct template_choice, opening_is, "what `opening` means here"),
};
static DESC(desc_template, struct template_choice, "template_choice", "A usual piece.",
            template_fields);

static const struct field shape_fields[] = {
    F_TEXT(struct shape_choice, id, "id"),
    F_TEXT(struct shape_choice, name, "name"),
    F_TEXTS(struct shape_choice, sizes, PART_SIZES, "what its sizes a, b, c ... are"),
    F_INT(struct shape_choice, needed, 0, PART_SIZES, "so many of them must be given"),
    F_TEXT(struct shape_choice, faces,
           "which faces are usually coated; left out: it has none to choose"),
};
static DESC(desc_shape, struct shape_choice, "shape_choice", "A shape of a part.", shape_fields);

static const struct field choices_fields[] = {
    F_LIST(struct choices, templates, &desc_template, 1000, "usual pieces"),
    F_LIST(struct choices, finishes, &desc_choice, 1000, "what may be on a piece now"),
    F_LIST(struct choices, woods, &desc_choice, 1000, "woods"),
    F_LIST(struct choices, classes, &desc_choice, 1000, "classes of product"),
    F_LIST(struct choices, methods, &desc_choice, 1000, "ways to put a coat on"),
    F_LIST(struct choices, repairs, &desc_choice, 1000, "repairs"),
    F_LIST(struct choices, effects, &desc_choice, 1000, "stencil, glaze, distressing ..."),
    F_LIST(struct choices, conditions, &desc_choice, 1000, "conditions at a glance, before buying"),
    F_LIST(struct choices, operations, &desc_choice, 1000, "kinds of work"),
    F_LIST(struct choices, waits, &desc_choice, 100, "what work may wait for from outside"),
    F_LIST(struct choices, profiles, &desc_choice, 100, "reliefs of a part's surface"),
    F_LIST(struct choices, shapes, &desc_shape, 100, "shapes of parts"),
    F_JSON(struct choices, words, "words of each member that has a fixed set"),
};
static DESC(desc_choices, struct choices, "choices", "What a form may offer.", choices_fields);

static const struct op rows[] = {
    {"choices", OP_GET, "/api/choices", NULL, &desc_choices, NULL, OP_READS | OP_BOOKLESS,
     "what may be chosen: templates, finishes, woods, classes, methods, repairs, words", run},
};
extern const struct ops ops_choices;
const struct ops ops_choices = {rows, sizeof rows / sizeof *rows};
