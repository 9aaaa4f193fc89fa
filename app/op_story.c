/* The story of a piece: planned beside what was really used. */
#include "app/closing.h"
#include "app/handed.h"
#include "codec/text_wrap.h"
#include "codec/units_text.h"
#include "core/work/basis.h"
#include "store/sums.h"

#include <math.h>
#include <string.h>

enum { PICTURES_MOST = 100 }; /* of each kind */

struct story_color {
    const char *name, *hex;
    double mixed_ml;
};
static const struct field color_fields[] = {
    F_TEXT(struct story_color, name, "what it is called"),
    F_TEXT(struct story_color, hex, "on the screen"),
    F_QTY(struct story_color, mixed, mixed_ml, DIM_VOLUME, 0, 0,
          "mixed; missing: no batch was logged, the color is as planned"),
};
static DESC(desc_color, struct story_color, "story_color", "A color of the piece.", color_fields);

struct story {
    const char *title, *size, *wood;
    int64_t year;
    struct story_color *colors;
    struct closing_product_row *used;
    const char **work, **before, **after, **unsaid;
    size_t colors_n, used_n, work_n, before_n, after_n, unsaid_n;
    int64_t steps_done, begun_utc_min, done_utc_min, cured_utc_min;
    double hours_planned, hours_actual;
};
static const struct field story_fields[] = {
    F_TEXT(struct story, title, "what it is"),
    F_TEXT(struct story, size, "its size"),
    F_TEXT(struct story, wood, "its wood"),
    F_INT(struct story, year, 0, 3000, "made about"),
    F_TEXTS(struct story, before, PICTURES_MOST, "pictures of before"),
    F_TEXTS(struct story, after, PICTURES_MOST, "pictures of after"),
    F_LIST(struct story, colors, &desc_color, 100, "its colors"),
    F_LIST(struct story, used, &desc_closing_product, 1000, "products: planned beside used"),
    F_TEXTS(struct story, work, 1000, "what is done to its surfaces, each step once"),
    F_INT(struct story, steps_done, 0, 1e6, "steps that were ticked off"),
    F_NUM(struct story, hours_planned, 0, 0, "hands-on hours, as agreed, else as planned now"),
    F_NUM(struct story, hours_actual, 0, 0, "on record; missing: none"),
    F_TIME(struct story, begun, begun_utc_min, FIELD_INSTANT, "first step begun"),
    F_TIME(struct story, done, done_utc_min, FIELD_INSTANT, "last step done"),
    F_TIME(struct story, cured, cured_utc_min, FIELD_INSTANT, "fully cured"),
    F_TEXTS(struct story, unsaid, 20, "what nobody has logged"),
};
static DESC(desc_story, struct story, "story", "The story of a piece on one page.", story_fields);

static enum status story_pictures(struct op_call *call, struct story *t, const char *id,
                                  struct why *why) {
    struct picture_row *rows;
    size_t n;
    enum status s = handed_pictures(call, id, &rows, &n, why);
    if (s) return s;
    t->before = arena_array(call->arena, n + 1, sizeof *t->before);
    t->after = arena_array(call->arena, n + 1, sizeof *t->after);
    if (!t->before || !t->after) return why_no_memory(why);
    for (size_t i = 0; i < n; i++) {
        if (!strcmp(rows[i].kind, "before") && t->before_n < PICTURES_MOST)
            t->before[t->before_n++] = rows[i].id;
        if (!strcmp(rows[i].kind, "after") && t->after_n < PICTURES_MOST)
            t->after[t->after_n++] = rows[i].id;
    }
    return OK;
}

static enum status story_colors(struct op_call *call, const struct handed *h, struct story *t,
                                struct why *why) {
    struct batch_row *rows;
    size_t n;
    struct row_query q = {.where = "piece = ?1 AND removed = 0",
                          .texts = {h->piece->id},
                          .after = INT64_MIN,
                          .limit = 20};
    enum status s =
        row_list(call->book, &table_batch, &q, call->arena, (void **)&rows, &n, NULL, why);
    if (s) return s;
    t->colors = arena_array(call->arena, n + 2, sizeof *t->colors);
    if (!t->colors) return why_no_memory(why);
    for (size_t i = 0; i < n; i++)
        t->colors[t->colors_n++] =
            (struct story_color){rows[i].name, rows[i].predicted_hex, rows[i].amount_ml};
    const struct color_plan *c = &h->piece->color;
    if (!n && (c->target.text || c->product))
        t->colors[t->colors_n++] = (struct story_color){
            c->target.text ? c->target.text : c->product, book_hex(call, &c->target), (double)NAN};
    return OK;
}

static enum status story_times(struct op_call *call, struct story *t, const char *id,
                               struct why *why) {
    struct task_row *rows;
    size_t n;
    struct piece_sums sums;
    struct row_query q = {.where = "piece = ?1 AND begun_utc_min IS NOT NULL",
                          .texts = {id},
                          .after = INT64_MIN,
                          .limit = LIST_MAX};
    enum status s =
        row_list(call->book, &table_task, &q, call->arena, (void **)&rows, &n, NULL, why);
    if (!s) s = sums_of_piece(call->book, id, &sums, why);
    if (s) return s;
    t->steps_done = 0;
    for (size_t i = 0; i < n; i++) {
        int64_t begun = rows[i].begun_utc_min, done = rows[i].done_utc_min;
        if (t->begun_utc_min == INT64_MIN || begun < t->begun_utc_min) t->begun_utc_min = begun;
        if (done == INT64_MIN) continue;
        if (done > t->done_utc_min) t->done_utc_min = done;
        t->steps_done++;
    }
    if (sums.hours_min > 0) t->hours_actual = sums.hours_min / 60;
    return OK;
}

/* A closed piece keeps what it was closed with. */
static enum status story_used(struct op_call *call, const struct handed *h, struct story *t,
                              struct why *why) {
    enum status s = closing_read(call, h->piece->id, &t->used, &t->used_n, why);
    if (!s && !t->used_n)
        s = closing_products(call, h->piece->id, h->piece, &t->used, &t->used_n, why);
    return s;
}

static void unsaid(struct story *t, const char *text) {
    t->unsaid[t->unsaid_n++] = text;
}

static enum status story_unsaid(struct op_call *call, const struct handed *h, struct story *t,
                                struct why *why) {
    bool logged = false;
    const char *work;
    enum status s = handed_unsaid(call, h, &work, why);
    if (s) return s;
    t->unsaid = arena_array(call->arena, 8, sizeof *t->unsaid);
    if (!t->unsaid) return why_no_memory(why);
    for (size_t i = 0; i < t->used_n; i++) logged |= !isnan(t->used[i].actual_ml);
    if (!t->before_n) unsaid(t, "No picture was taken before.");
    if (!t->after_n) unsaid(t, "No picture was taken after.");
    if (t->used_n && !logged)
        unsaid(t, "What was used was not logged: the amounts are those of the plan.");
    if (isnan(t->hours_actual)) unsaid(t, "No hours are on record: the time is that of the plan.");
    if (work) unsaid(t, work);
    return OK;
}

static void story_print(struct op_call *call, const struct handed *h, const struct story *t) {
    struct text *o = &call->out_body;
    struct arena *a = call->arena;
    text_print(o, "%s\n", t->title);
    if (t->size) text_print(o, "%s\n", t->size);
    text_print(o, "\nWhat was used\n");
    for (size_t i = 0; i < t->used_n; i++) {
        const struct closing_product_row *r = &t->used[i];
        const char *planned =
            isnan(r->planned_ml)
                ? "not planned"
                : arena_print(a, "%s planned", units_text(a, DIM_VOLUME, h->units, r->planned_ml));
        const char *used =
            isnan(r->actual_ml)
                ? "none logged"
                : arena_print(a, "%s used", units_text(a, DIM_VOLUME, h->units, r->actual_ml));
        text_print(o, "  ");
        text_wrap_print(o, 2, 4, "%s: %s, %s", r->name ? r->name : r->class, used, planned);
    }
    text_print(o, "\nWhat was done\n");
    for (size_t i = 0; i < t->work_n; i++) text_print(o, "  "), text_wrap(o, 2, 4, t->work[i]);
    char hours[32];
    text_print(o, "\nHow long it took\n  %s planned", basis_hands(t->hours_planned, hours));
    if (!isnan(t->hours_actual))
        text_print(o, ", %s on record", basis_hands(t->hours_actual, hours));
    text_print(o, "\n");
    for (size_t i = 0; i < t->unsaid_n; i++) {
        if (!i) text_print(o, "\n");
        text_wrap(o, 0, 0, t->unsaid[i]);
    }
}

static enum status story(struct op_call *call, struct why *why) {
    struct story *t = call->result;
    struct handed *h;
    enum status s = handed_make(call, &h, why);
    if (s) return s;
    const struct piece_plan *p = h->piece;
    t->title = p->title, t->size = handed_size(call, h), t->wood = handed_wood(call, h);
    t->year = p->piece.year, t->cured_utc_min = p->cured_utc_min;
    t->hours_planned = isnan(h->promised_h) ? p->price.hours : h->promised_h;
    t->hours_actual = (double)NAN;
    t->begun_utc_min = t->done_utc_min = INT64_MIN;
    t->work = p->price.work, t->work_n = p->price.work_n;
    if ((s = story_pictures(call, t, p->id, why)) || (s = story_colors(call, h, t, why)) ||
        (s = story_times(call, t, p->id, why)) || (s = story_used(call, h, t, why)) ||
        (s = story_unsaid(call, h, t, why)))
        return s;
    story_print(call, h, t);
    return OK;
}

static const struct op rows[] = {
    {"piece story", OP_GET, "/api/pieces/{id}/story", &desc_handed_args, &desc_story, positional_id,
     OP_READS | OP_SLOW, "the story of a piece: planned beside what was really used", story},
};
extern const struct ops ops_story;
const struct ops ops_story = {rows, sizeof rows / sizeof *rows};
