/* What is asked for must be a paint or a class of them that can be what it is asked as. */
#include "core/work/coats_build.h"

#include <string.h>

static bool same(const char *a, const char *b) {
    return a && b && !strcmp(a, b);
}

/* Of the piece as a whole: what is on the shelf, or a class. */
static enum status known_check(const struct room *r, const char *field, const char *text,
                               struct why *why) {
    const char *class = class_wanted(r->shelf, text);
    if (!class || same(class, "none") || coat_kind_of(r->t, class)) return OK;
    return why_say(why, E_REFERENCE, ROOM_TEXT(r, "%s/wanted/%s", r->at, field),
                   "\"%s\" is neither on the shelf nor a kind of paint I know. Write a paint "
                   "that stands there, or a kind, such as waterborne enamel (wb_enamel).",
                   text);
}

static enum status product_check(const struct room *r, struct why *why) {
    const struct wanted *w = &r->piece->wanted;
    const struct coat_kinds_row *product = coat_kind_of(r->t, class_wanted(r->shelf, w->product));
    const char *field = ROOM_TEXT(r, "%s/wanted/product", r->at);
    if (!product || same(product->role, "color")) return OK;
    if (w->color.text)
        return why_say(why, E_REFERENCE, field,
                       "\"%s\" is %s and has no color of its own to paint with. Leave the color "
                       "out to keep the wood, or write a color paint like wb_enamel, chalk, "
                       "alkyd_enamel here and this one as \"clear\".",
                       w->product, product->name);
    if (product->seen) return OK;
    return why_say(why, E_REFERENCE, field,
                   "\"%s\" is %s, which is no finish. Write a paint or class that may stay the "
                   "last coat, like wb_enamel, oil, wax or shellac_clear.",
                   w->product, product->name);
}

/* What one field of a part may name. */
struct part_wish {
    const char *field, *text, *what, *like;
    const char *role; /* NULL: any but a color */
};

static enum status part_check(const struct room *r, size_t part, const struct part_wish *w,
                              struct why *why) {
    const char *class = class_wanted(r->shelf, w->text);
    const struct coat_kinds_row *row = coat_kind_of(r->t, class);
    if (!class || (!w->role && same(class, "none"))) return OK;
    if (row && (w->role ? same(row->role, w->role) : !same(row->role, "color"))) return OK;
    return why_say(why, E_REFERENCE, ROOM_TEXT(r, "%s/parts/%zu/%s", r->at, part, w->field),
                   "\"%s\" is no %s on the shelf and no such class. Write the id of one on "
                   "the shelf, or a class like %s.",
                   w->text, w->what, w->like);
}

enum status wishes_check(const struct build *b, struct why *why) {
    const struct room *r = b->r;
    const struct wanted *w = &r->piece->wanted;
    enum status s = known_check(r, "product", w->product, why);
    if (!s) s = known_check(r, "clear", w->clear, why);
    if (!s) s = known_check(r, "primer", w->primer, why);
    if (!s) s = product_check(r, why);
    for (size_t i = 0; i < r->piece->parts_n && !s; i++) {
        const struct part *p = &r->piece->parts[i];
        const struct part_wish stain = {"product", p->product, "stain", "wood_stain", "stain"},
                               color = {"product", p->product, "color paint",
                                        "wb_enamel, chalk, alkyd_enamel", "color"},
                               clear = {"clear", p->clear, "clear, wax or oil",
                                        "wb_clear, wax, oil, none", NULL};
        s = part_check(r, i, p->treatment == TREAT_STAIN ? &stain : &color, why);
        if (!s) s = part_check(r, i, &clear, why);
    }
    return s;
}
