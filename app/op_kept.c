/* Recipes that are kept, and mixing a color again that was mixed before: by the old recipe where
 * its paints are what they were, else by a new one for the stored color. */
#include "app/color_work.h"
#include "app/gather.h"
#include "app/mixed.h"
#include "app/op_piece.h"
#include "app/uncounted.h"
#include "codec/color_said.h"
#include "codec/job_desc.h"
#include "core/base/name.h"
#include "core/color/color.h"
#include "core/work/cans.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum { KEPT_ITEMS = 16 };
#define CHANGED 0.5 /* CIEDE2000: less is the same paint, entered again */

/* ---- keeping ---- */

struct kept_item {
    const char *paint, *name, *hex;
    double parts;
};
struct kept_view {
    struct recipe_row row;
    struct kept_item *items;
    size_t items_n;
};
static const struct field item_fields[] = {
    F_TEXT(struct kept_item, paint, "id of the paint"),
    F_TEXT(struct kept_item, name, "its name now; missing: it left the shelf"),
    F_NUM(struct kept_item, parts, 0, 0, "by volume"),
    F_TEXT(struct kept_item, hex, "its color when the recipe was kept"),
};
static DESC(desc_item, struct kept_item, "kept_recipe_item", "One paint of a kept recipe.",
            item_fields);
#define ROW(m) .name = #m, .offset = offsetof(struct kept_view, row.m), .type = FIELD_TEXT
static const struct field view_fields[] = {
    {ROW(id), .help = "public name"},
    {.name = "revision",
     .offset = offsetof(struct kept_view, row.revision),
     .type = FIELD_INT,
     .min = 0,
     .max = 9e15,
     .help = "the book's revision when it was last written"},
    {ROW(name), .help = "as the shop calls it"},
    {ROW(piece), .help = "made for"},
    {ROW(target), .help = "color aimed at"},
    {ROW(color_hex), .help = "#rrggbb predicted when it was kept"},
    {.name = "difference",
     .offset = offsetof(struct kept_view, row.difference),
     .type = FIELD_NUMBER,
     .help = "CIEDE2000 to the target, predicted when it was kept"},
    {ROW(note), .help = "anything else"},
    F_LIST(struct kept_view, items, &desc_item, KEPT_ITEMS, "paints and parts"),
};
#undef ROW
static DESC(desc_view, struct kept_view, "kept_recipe", "A recipe that was kept.", view_fields);
static const struct field rows_fields[] = {F_ROWS(&desc_view)};
static DESC(desc_rows, struct list_answer, "kept_recipes", "A page of kept recipes, newest first.",
            rows_fields);

static enum status view_fill(struct op_call *call, void *view, struct why *why) {
    struct kept_view *v = view;
    struct mixed_item *items;
    enum status s = mixed_items_read(call, v->row.items, &items, &v->items_n, why);
    if (s) return s;
    v->items = arena_array(call->arena, v->items_n + 1, sizeof *v->items);
    if (!v->items) return why_no_memory(why);
    for (size_t i = 0; i < v->items_n; i++) {
        struct paint_row paint;
        s = row_get(call->book, &table_paint, "id", items[i].paint, call->arena, &paint, NULL);
        if (s && s != E_NOT_FOUND) return s;
        bool there = !s && !paint.removed;
        v->items[i] = (struct kept_item){items[i].paint, there ? paint.name : NULL, items[i].hex,
                                         items[i].parts};
    }
    return OK;
}

struct keep_args {
    const char *name, *piece, *note;
    struct color_said target;
    struct mix_item *items;
    size_t items_n;
};
static const struct field keep_fields[] = {
    {F_AT(struct keep_args, name), .type = FIELD_TEXT, .flags = FLAG_REQUIRED,
     .help = "as the shop calls it"},
    F_ID(struct keep_args, piece, 0, "made for"),
    F_COLOR(struct keep_args, target, "color aimed at"),
    {F_AT(struct keep_args, items), .count_offset = offsetof(struct keep_args, items_n),
     .type = FIELD_LIST, .of = &desc_mix_item, .items_max = KEPT_ITEMS, .flags = FLAG_REQUIRED,
     .help = "paints and parts: white=14,ochre=1"},
    F_TEXT(struct keep_args, note, "anything else"),
};
static DESC(desc_keep, struct keep_args, "recipe_keep_args", "Which recipe.", keep_fields);

/* The items with the colors that their paints have now. */
static enum status items_text(struct op_call *call, const struct keep_args *args, const char **out,
                              struct why *why) {
    struct mixed_item items[KEPT_ITEMS];
    for (size_t i = 0; i < args->items_n; i++) {
        struct paint_row paint;
        char field[64];
        snprintf(field, sizeof field, "/items/%zu/paint", i);
        enum status s = row_get(call->book, &table_paint, "id", args->items[i].paint, call->arena,
                                &paint, NULL);
        if (s == E_NOT_FOUND || (!s && paint.removed))
            return why_say(why, E_REFERENCE, field, "There is no paint \"%.64s\" on the shelf.",
                           args->items[i].paint);
        if (s) return s;
        items[i] = (struct mixed_item){args->items[i].paint, paint.color_hex, args->items[i].parts};
    }
    *out = mixed_items_text(call, items, args->items_n);
    return *out ? OK : why_no_memory(why);
}

static enum status keep(struct op_call *call, struct why *why) {
    const struct keep_args *args = call->args;
    struct kept_view *v = call->result;
    struct gathered g;
    struct mix_answer seen;
    struct mix_ask ask = {.items = args->items,
                          .items_n = args->items_n,
                          .target = args->target.text ? &args->target : NULL};
    if (!name_said(args->name))
        return why_say(why, E_MISSING, "/name", "Give it a name, such as Bowl blue-green.");
    enum status s = piece_there(call, args->piece, why);
    row_unsay(&table_recipe, &v->row);
    if (!s) s = items_text(call, args, &v->row.items, why);
    if (!s) s = gather_job(call, NULL, false, &g, why);
    if (!s) s = color_mix(call->app->tables, &g.job.shelf, &ask, call->arena, &seen, why);
    if (s) return s;
    v->row.name = args->name;
    v->row.piece = args->piece;
    v->row.target = args->target.text;
    v->row.note = args->note;
    v->row.color_hex = seen.hex;
    v->row.difference = seen.difference;
    v->row.spectrum = mixed_spectrum_text(call, &seen.reflectance);
    s = row_free_id(call->book, &table_recipe, v->row.name, call->arena, &v->row.id, why);
    if (!s) s = row_add(call->book, &table_recipe, &v->row, why);
    if (!s) s = view_fill(call, v, why);
    return s ? s : book_says(call->book, why, "%s", v->row.name);
}

static const struct field list_fields[] = {
    F_ID(struct list_args, piece, 0, "only for this piece"),
    F_LIST_AFTER,
    F_LIST_LIMIT,
};
static DESC(desc_list, struct list_args, "recipes_kept_args", "Which recipes.", list_fields);

static enum status list(struct op_call *call, struct why *why) {
    return book_views(call, &table_recipe, "removed = 0 AND (?1 IS NULL OR piece = ?1)",
                      sizeof(struct kept_view), view_fill, why);
}

static enum status show(struct op_call *call, struct why *why) {
    const struct id_args *args = call->args;
    struct kept_view *v = call->result;
    enum status s = book_get(call, &table_recipe, args->id, &v->row, why);
    return s ? s : view_fill(call, v, why);
}

static enum status remove_kept(struct op_call *call, struct why *why) {
    const struct id_args *args = call->args;
    struct recipe_row row;
    return book_remove(call, &table_recipe, args->id, &row, why);
}

/* ---- mixing again ---- */

struct changed_paint {
    const char *paint, *name, *text;
};
struct again_answer {
    const char *name, *target, *text, *piece;
    bool same;
    struct changed_paint *changed;
    size_t changed_n;
    struct kept_item *items; /* the old recipe */
    size_t items_n;
    double difference; /* of the old recipe with the paints of now, from the stored color */
};
static const struct field changed_fields[] = {
    F_TEXT(struct changed_paint, paint, "id of the paint"),
    F_TEXT(struct changed_paint, name, "its name"),
    F_TEXT(struct changed_paint, text, "what became of it"),
};
static DESC(desc_changed, struct changed_paint, "changed_paint", "A paint that is not what it was.",
            changed_fields);
static const struct field again_fields[] = {
    F_TEXT(struct again_answer, name, "what is mixed again"),
    F_TEXT(struct again_answer, piece, "id of the piece it was for"),
    F_TEXT(struct again_answer, target, "the color it had: as read dry, else as predicted"),
    F_BOOL(struct again_answer, same,
           "its paints are what they were, or another can of them is there: the old recipe stands"),
    F_TEXT(struct again_answer, text, "in a sentence"),
    F_LIST(struct again_answer, changed, &desc_changed, KEPT_ITEMS, "paints that are not"),
    F_LIST(struct again_answer, items, &desc_item, KEPT_ITEMS,
           "the old recipe, poured from the cans that are there"),
    F_NUM(struct again_answer, difference, 0, 0, "of the old recipe with the paints of now"),
};
static DESC(desc_again, struct again_answer, "mix_again", "A color to be mixed again.",
            again_fields);

static const char none_left[] = "none is left", left_shelf[] = "no longer on the shelf";

/* What became of a paint; NULL: it is what it was. */
static const char *change_of(struct op_call *call, const struct mixed_item *item,
                             const struct paint_row *now) {
    struct color_said then, seen;
    if (!now || now->removed) return left_shelf;
    if (now->stock_ml <= 0) return none_left; /* counted: NAN is not */
    if (!item->hex || !now->color_hex) return NULL;
    if (color_said_read(item->hex, call->arena, &then, NULL) ||
        color_said_read(now->color_hex, call->arena, &seen, NULL))
        return NULL;
    double apart = ciede2000(color_lab(&then), color_lab(&seen));
    if (apart < CHANGED) return NULL;
    return arena_print(call->arena, "another color now, %s instead of %s, %.1f apart",
                       now->color_hex, item->hex, apart);
}

/* Another can of the paint with that id, that is not empty and dries to the color that it had;
 * of several the fullest. NULL: there is none. */
static const struct paint *other_can(struct op_call *call, const struct shelf *shelf,
                                     const struct mixed_item *item) {
    const struct paint *first = NULL, *best = NULL;
    struct color_said then;
    for (size_t i = 0; i < shelf->paints_n + shelf->gone_n; i++) {
        const struct paint *p =
            i < shelf->paints_n ? &shelf->paints[i] : &shelf->gone[i - shelf->paints_n];
        if (!strcmp(p->id, item->paint)) first = cans_first(shelf, p);
    }
    for (size_t i = 0; first && i < shelf->paints_n; i++) {
        const struct paint *p = &shelf->paints[i];
        if (!strcmp(p->id, item->paint) || cans_first(shelf, p) != first || !(p->stock_ml > 0))
            continue;
        if (item->hex && p->color.text && !color_said_read(item->hex, call->arena, &then, NULL) &&
            ciede2000(color_lab(&then), color_lab(&p->color)) >= CHANGED)
            continue;
        if (!best || p->stock_ml > best->stock_ml) best = p;
    }
    return best;
}

static enum status compare(struct op_call *call, const struct mixed *m, const struct shelf *shelf,
                           struct again_answer *out, struct why *why) {
    out->same = true;
    out->changed = arena_array(call->arena, m->items_n + 1, sizeof *out->changed);
    out->items = arena_array(call->arena, m->items_n + 1, sizeof *out->items);
    if (!out->changed || !out->items) return why_no_memory(why);
    for (size_t i = 0; i < m->items_n; i++) {
        const struct mixed_item *item = &m->items[i];
        struct paint_row paint;
        enum status s =
            row_get(call->book, &table_paint, "id", item->paint, call->arena, &paint, NULL);
        if (s && s != E_NOT_FOUND) return s;
        enum status counted = s ? OK : uncounted_unsay(call, &paint, 1, why);
        if (counted) return counted;
        const char *name = s ? item->paint : paint.name,
                   *text = change_of(call, item, s ? NULL : &paint);
        const struct paint *can =
            text == none_left || text == left_shelf ? other_can(call, shelf, item) : NULL;
        out->items[out->items_n++] = (struct kept_item){item->paint, name, item->hex, item->parts};
        if (can) {
            out->items[i].paint = can->id;
            out->items[i].name = can->name ? can->name : can->id;
            text = arena_print(call->arena, "%s; %s, another can of it, takes its place", text,
                               out->items[i].name);
            if (!text) return why_no_memory(why);
        }
        out->same &= !text || can;
        if (text) out->changed[out->changed_n++] = (struct changed_paint){item->paint, name, text};
    }
    return OK;
}

/* How far the old amounts would miss with the paints of now; NAN where they cannot be mixed. */
static double miss_now(struct op_call *call, const struct again_answer *a,
                       const struct shelf *shelf) {
    struct mix_answer seen;
    struct color_said target;
    struct mix_item *items = arena_array(call->arena, a->items_n + 1, sizeof *items);
    if (!items || !a->target || color_said_read(a->target, call->arena, &target, NULL)) return NAN;
    for (size_t i = 0; i < a->items_n; i++)
        items[i] = (struct mix_item){a->items[i].paint, a->items[i].parts};
    struct mix_ask ask = {.items = items, .items_n = a->items_n, .target = &target};
    if (color_mix(call->app->tables, shelf, &ask, call->arena, &seen, NULL)) return NAN;
    return seen.difference;
}

static enum status answer_again(struct op_call *call, const struct mixed *m, struct why *why) {
    struct again_answer *out = call->result;
    struct gathered g;
    enum status s = gather_job(call, NULL, false, &g, why);
    if (!s) s = compare(call, m, &g.job.shelf, out, why);
    if (s) return s;
    out->name = m->name;
    out->piece = m->piece;
    out->target = m->target;
    out->difference = miss_now(call, out, &g.job.shelf);
    bool empty = false;
    for (size_t i = 0; i < out->changed_n; i++) empty |= out->changed[i].text == none_left;
    if (out->same && out->changed_n)
        out->text = "The old recipe stands, from another can. Cans of two lots may differ a "
                    "little: stir what is left of the old batch into the new one, or change over "
                    "where an edge parts the surfaces, and read a card first.";
    else if (out->same)
        out->text = "Its paints are what they were: the old recipe stands.";
    else if (empty && !isnan(out->difference))
        out->text = "A jar of the old recipe is empty: the recipes are for the color it had, from "
                    "what is left. Count the jar if there is a new one.";
    else if (isnan(out->difference))
        out->text =
            "The old recipe cannot be mixed any more; the recipes are for the color it had.";
    else
        out->text = arena_print(call->arena,
                                "The old amounts would now be %.1f off; the recipes are for the "
                                "color it had, from the paints of today.",
                                out->difference);
    if (!out->text) return why_no_memory(why);
    text_print(&call->out_body, "%s: %s\n%s\n", out->name, out->target ? out->target : "no color",
               out->text);
    for (size_t i = 0; i < out->changed_n; i++)
        text_print(&call->out_body, "%s: %s\n", out->changed[i].name, out->changed[i].text);
    for (size_t i = 0; i < out->items_n; i++)
        text_print(&call->out_body, "%8.3g  %s\n", out->items[i].parts, out->items[i].name);
    return OK;
}

static enum status batch_again(struct op_call *call, struct why *why) {
    const struct id_args *args = call->args;
    struct mixed m;
    enum status s = mixed_of_batch(call, args->id, &m, why);
    return s ? s : answer_again(call, &m, why);
}
static enum status recipe_again(struct op_call *call, struct why *why) {
    const struct id_args *args = call->args;
    struct mixed m;
    enum status s = mixed_of_recipe(call, args->id, &m, why);
    return s ? s : answer_again(call, &m, why);
}

static const struct op rows[] = {
    {"recipes kept", OP_GET, "/api/recipes/kept", &desc_list, &desc_rows, NULL, OP_READS,
     "recipes that were kept, newest first", list},
    {"recipe keep", OP_POST, "/api/recipes/kept", &desc_keep, &desc_view, NULL, OP_WRITES,
     "keep a recipe under a name", keep},
    {"recipe show", OP_GET, "/api/recipes/kept/{id}", &desc_id_args, &desc_view, positional_id,
     OP_READS, "one kept recipe", show},
    {"recipe again", OP_GET, "/api/recipes/kept/{id}/again", &desc_id_args, &desc_again,
     positional_id, OP_READS, "mix a kept recipe again: what has changed since, and its color",
     recipe_again},
    {"recipe remove", OP_DELETE, "/api/recipes/kept/{id}", &desc_id_args, &desc_done, positional_id,
     OP_WRITES, "no longer list a kept recipe; undo brings it back", remove_kept},
    {"batch again", OP_GET, "/api/batches/{id}/again", &desc_id_args, &desc_again, positional_id,
     OP_READS, "mix a batch again: what has changed since, and the color it had", batch_again},
};
extern const struct ops ops_kept;
const struct ops ops_kept = {rows, sizeof rows / sizeof *rows};
