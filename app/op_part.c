/* One part of a piece: said something of, added, left out, or as its template has it again. Parts
 * live in the piece's document (docs/decisions/0005). */
#include "app/op_piece.h"
#include "codec/job_desc.h"
#include "core/work/shape.h"
#include "core/work/template.h"

#include <string.h>

struct part_args {
    const char *id, *part, *row;
    const char *name, *group, *shape, *a, *b, *c, *d, *e, *f, *color, *product, *clear;
    int treatment;
    int64_t count;
};
#define F_TYPED(m, h) F_TEXT(struct part_args, m, h)
static const struct field part_fields[] = {
    F_ID(struct part_args, id, FLAG_REQUIRED, "of which piece"),
    F_ID(struct part_args, part, FLAG_REQUIRED, "which part: one of the template's, or a new one"),
    F_FILE(struct part_args, row, "the members that change, as in a job document (RFC 7396)"),
    F_TYPED(name, "name"),
    F_TYPED(group, "parts of one group are worked and dry together"),
    F_TYPED(shape, "kind of shape, of a new part"),
    F_TYPED(a, "first size, in the shape's own order"),
    F_TYPED(b, "second size"),
    F_TYPED(c, "third size"),
    F_TYPED(d, "fourth size"),
    F_TYPED(e, "fifth size"),
    F_TYPED(f, "sixth size"),
    F_INT(struct part_args, count, 0, 2000, "how many of it; 0 leaves it out"),
    F_WORD(struct part_args, treatment, words_treatment, "what is done to it"),
    F_TYPED(color, "another color than the piece's"),
    F_TYPED(product, "another paint or class for its color coats"),
    F_TYPED(clear, "another clear, wax or oil over it, or none"),
};
static DESC(desc_part_args, struct part_args, "piece_part_args", "What is said of a part.",
            part_fields);

struct part_id_args {
    const char *id, *part;
};
static const struct field id_fields[] = {
    F_ID(struct part_id_args, id, FLAG_REQUIRED, "of which piece"),
    F_ID(struct part_id_args, part, FLAG_REQUIRED, "which part"),
};
static DESC(desc_part_id, struct part_id_args, "piece_part_remove_args", "Which part.", id_fields);

/* What was said of the part, as one patch of its row. */
static enum status patch_of(struct op_call *call, const struct part_args *a, const char **out,
                            struct why *why) {
    const char *patch = a->row ? a->row : "{}";
    const char *typed =
        book_typed(call, "name", a->name, "group", a->group, "shape", a->shape, "a", a->a, "b",
                   a->b, "c", a->c, "d", a->d, "e", a->e, "f", a->f, "treatment",
                   a->treatment ? words_treatment[a->treatment] : NULL, "color", a->color,
                   "product", a->product, "clear", a->clear, (const char *)NULL);
    if (!typed) return why_no_memory(why);
    enum status s = book_merge_patches(call, patch, typed, &patch, "/row", why);
    if (!s && a->count != INT64_MIN) {
        const char *count = arena_print(call->arena, "{\"count\":%lld}", (long long)a->count);
        s = count ? book_merge_patches(call, patch, count, &patch, "/row", why)
                  : why_no_memory(why);
    }
    if (!s) *out = patch;
    return s;
}

/* A part that no template knows must say what it is, or the piece could not be planned any more. */
static enum status check_added(struct op_call *call, const char *document, const char *id,
                               struct why *why) {
    struct piece *p = arena_take(call->arena, sizeof *p);
    const char *whole;
    if (!p) return why_no_memory(why);
    enum status s = book_merge(call, &desc_piece, document, NULL, "", &whole, p, why);
    for (size_t i = 0; !s && i < p->parts_n; i++) {
        const struct part *part = &p->parts[i];
        if (strcmp(part->id, id) || template_part_row(call->app->tables, p->template, id)) continue;
        const struct shape_kind *kind = part->shape ? shape_kind_of(part->shape) : NULL;
        double area;
        if (!part->shape)
            return why_say(why, E_MISSING, "/shape",
                           "%s has no part \"%.64s\". A new one needs a shape and its sizes.",
                           p->template ? "The template" : "The piece", id);
        if (!kind)
            return why_say(why, E_REFERENCE, "/shape", "\"%.64s\" is no shape I know.",
                           part->shape);
        s = shape_area(kind, part->size_mm, part->faces, &area, why);
    }
    return s;
}

static enum status rewrite(struct op_call *call, const char *id, const char *part,
                           const char *patch, struct why *why) {
    struct piece_row *row = call->result;
    const char *document;
    enum status s = book_get(call, &table_piece, id, row, why);
    if (s) return s;
    bool there;
    s = document_merge_row(row->document, "parts", part, patch, call->arena, &document, &there,
                           why);
    if (s) return s;
    if (!patch && !there)
        return why_say(why, E_NOT_FOUND, "/part",
                       "Nothing is said of a part \"%.64s\". To leave out one that the template "
                       "has, say count 0.",
                       part);
    if (patch) s = check_added(call, document, part, why);
    if (!s) s = piece_rewrite(call, row, document, "/row", why);
    return s ? s : book_get(call, &table_piece, id, row, why);
}

static enum status say(struct op_call *call, struct why *why) {
    const struct part_args *args = call->args;
    const char *patch = NULL;
    enum status s = patch_of(call, args, &patch, why);
    return s ? s : rewrite(call, args->id, args->part, patch, why);
}

static enum status unsay(struct op_call *call, struct why *why) {
    const struct part_id_args *args = call->args;
    return rewrite(call, args->id, args->part, NULL, why);
}

static const char *const positional_part[] = {"id", "part", NULL};
static const struct op rows[] = {
    {"piece part", OP_PATCH, "/api/pieces/{id}/parts/{part}", &desc_part_args, &desc_piece_row,
     positional_part, OP_WRITES, "say something of one part, or add a part", say},
    {"piece part remove", OP_DELETE, "/api/pieces/{id}/parts/{part}", &desc_part_id,
     &desc_piece_row, positional_part, OP_WRITES,
     "take back what was said of a part; an added one is gone, a template's is as it has it",
     unsay},
};
extern const struct ops ops_part;
const struct ops ops_part = {rows, sizeof rows / sizeof *rows};
