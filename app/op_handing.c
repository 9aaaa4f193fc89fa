/* Handing over: words and pictures of a listing, and the story of a piece, planned beside what was
 * really used. */
#include "app/closing.h"
#include "app/days_text.h"
#include "app/gather.h"
#include "app/zone.h"
#include "codec/time_text.h"
#include "codec/units_text.h"
#include "core/work/basis.h"
#include "core/work/fact.h"
#include "core/work/wood.h"
#include "store/sums.h"

#include <math.h>
#include <string.h>

struct handing_args {
    const char *id;
    int units;
};
static const char *const words_units[] = {"", "us", "metric", NULL};
static const struct field args_fields[] = {
    F_ID(struct handing_args, id, FLAG_REQUIRED, "which piece"),
    F_WORD(struct handing_args, units, words_units, "us or metric; the shop's when not said"),
};
static DESC(desc_args, struct handing_args, "handing_args", "Of which piece.", args_fields);

/* ---- the piece, planned alone ---- */

struct handed {
    struct gathered gathered;
    struct plan_answer plan;
    const struct piece_plan *piece;
    enum unit_system units;
    double promised_h; /* as agreed; NAN: nothing was */
};

static enum status handed_make(struct op_call *call, struct handed **out, struct why *why) {
    const struct handing_args *a = call->args;
    struct handed *h = arena_take(call->arena, sizeof *h);
    struct plan_ask ask = {.now_utc_min = book_call_now(call)};
    if (!h) return why_no_memory(why);
    if (!a->id) return why_say(why, E_MISSING, "/id", "Say which piece.");
    enum status s = gather_job(call, a->id, false, &h->gathered, why);
    if (s) return s;
    desc_unsay(&desc_plan_answer, &h->plan);
    s = gather_plan(call, &h->gathered, a->id, &ask, &h->plan, why);
    if (s) return s;
    h->piece = &h->plan.plan.pieces[0];
    if ((s = sums_promised_hours(call->book, a->id, &h->promised_h, why))) return s;
    h->units = a->units ? (enum unit_system)a->units : h->plan.plan.shop.units;
    *out = h;
    return OK;
}

static const char *size_of(struct op_call *call, const struct handed *h) {
    const struct piece *q = &h->piece->piece;
    const double mm[] = {q->width_mm, q->depth_mm, q->height_mm};
    static const char *const names[] = {"wide", "deep", "high"};
    const char *text = "";
    for (size_t i = 0; i < 3; i++)
        if (mm[i] > 0)
            text = arena_print(call->arena, "%s%s%s %s", text, *text ? ", " : "",
                               units_text(call->arena, DIM_LENGTH, h->units, mm[i]), names[i]);
    return *text ? text : NULL;
}

static const char *wood_of(struct op_call *call, const struct handed *h) {
    const char *id = h->piece->piece.wood;
    const struct wood_traits_row *w = wood_trait_of(call->app->tables, id);
    return w ? w->name : id;
}

static const char *day_of(struct op_call *call, const struct handed *h, int64_t utc_min) {
    char text[40];
    if (utc_min == INT64_MIN) return NULL;
    date_print(zone_day(h->plan.plan.shop.zone, utc_min, call->arena), text, sizeof text);
    return arena_text(call->arena, text);
}

/* ---- what is not known to be done ---- */

struct ticked {
    struct task_row *rows; /* done; of the piece */
    size_t n;
    const char *open; /* names of promised work that was not ticked off, "" */
};

static void not_ticked(struct op_call *call, struct ticked *t, const char *operation,
                       const char *text) {
    const struct operations_row *op = operation_row(call->app->tables, operation);
    if (!operation || (op && op->promised != 1)) return;
    for (size_t i = 0; i < t->n; i++)
        if (t->rows[i].operation && !strcmp(t->rows[i].operation, operation)) return;
    const char *name = op ? op->name : text;
    if (t->open && !strstr(t->open, name))
        t->open = arena_print(call->arena, "%s%s%s", t->open, *t->open ? "; " : "", name);
}

/* What a buyer would be told of work that nobody ticked off; NULL: all of it was. */
static enum status work_unsaid(struct op_call *call, const struct handed *h, const char **out,
                               struct why *why) {
    struct ticked t = {.open = ""};
    const struct piece_plan *p = h->piece;
    struct row_query q = {.where = "piece = ?1 AND done_utc_min IS NOT NULL",
                          .texts = {p->id},
                          .after = INT64_MIN,
                          .limit = LIST_MAX};
    enum status s =
        row_list(call->book, &table_task, &q, call->arena, (void **)&t.rows, &t.n, NULL, why);
    *out = NULL;
    if (s) return s;
    for (size_t i = 0; i < p->repairs.n; i++)
        not_ticked(call, &t, p->repairs.rows[i].operation, p->repairs.rows[i].text);
    for (size_t i = 0; i < p->coats.n; i++)
        not_ticked(call, &t, p->coats.rows[i].operation, p->coats.rows[i].text);
    for (size_t i = 0; i < p->finish.n; i++)
        not_ticked(call, &t, p->finish.rows[i].operation, p->finish.rows[i].text);
    if (!t.n)
        *out = "No step was ticked off: the work is as planned.";
    else if (t.open && *t.open)
        *out = arena_print(call->arena, "Not ticked off, so as planned only: %s.", t.open);
    return t.open && (!*t.open || *out) ? OK : why_no_memory(why);
}

/* ---- listing ---- */

struct shot {
    const char *id, *what, *why, *kind, *source;
    bool taken;
};
static const struct field shot_fields[] = {
    F_TEXT(struct shot, id, "which picture"),
    F_TEXT(struct shot, what, "what it shows"),
    F_TEXT(struct shot, why, "why"),
    F_TEXT(struct shot, kind, "kind of the book's pictures that will do"),
    F_BOOL(struct shot, taken, "the book has pictures of this kind"),
    F_TEXT(struct shot, source, "id of the source"),
};
static DESC(desc_shot, struct shot, "listing_picture", "A picture that a listing wants.",
            shot_fields);

struct listing {
    const char *text, *unsaid;
    struct shot *pictures;
    size_t pictures_n;
};
static const struct field listing_fields[] = {
    F_TEXT(struct listing, text, "words to begin with, from the plan and the record"),
    F_TEXT(struct listing, unsaid, "what of the work nobody ticked off; missing: all of it was"),
    F_LIST(struct listing, pictures, &desc_shot, 100, "pictures to take, in their order"),
};
static DESC(desc_listing, struct listing, "listing", "Words and pictures for a listing.",
            listing_fields);

static enum status pictures_of(struct op_call *call, const char *piece, struct picture_row **rows,
                               size_t *n, struct why *why) {
    struct row_query q = {.where = "piece = ?1 AND removed = 0",
                          .texts = {piece},
                          .after = INT64_MIN,
                          .limit = LIST_MAX};
    return row_list(call->book, &table_picture, &q, call->arena, (void **)rows, n, NULL, why);
}

static enum status shots_of(struct op_call *call, const struct handed *h, struct listing *l,
                            struct why *why) {
    const struct tables *t = call->app->tables;
    struct picture_row *pictures;
    size_t n;
    struct ledger quiet;
    ledger_init(&quiet, call->arena, false);
    struct room room = {.t = t,
                        .shop = &h->plan.plan.shop,
                        .shelf = &h->gathered.job.shelf,
                        .piece = &h->piece->piece,
                        .at = "",
                        .ledger = &quiet};
    struct facts f;
    enum status s = pictures_of(call, h->piece->id, &pictures, &n, why);
    if (s) return s;
    fact_make(&room, &h->piece->inspection, &f);
    f.coats = &h->piece->coats;
    l->pictures = arena_array(call->arena, t->listing_pictures_n + 1, sizeof *l->pictures);
    if (!l->pictures) return why_no_memory(why);
    for (size_t i = 0; i < t->listing_pictures_n; i++) {
        const struct listing_pictures_row *row = &t->listing_pictures[i];
        if (!fact_holds(&f, row->when)) continue;
        struct shot *shot = &l->pictures[l->pictures_n++];
        *shot = (struct shot){row->id, row->what, row->why, row->kind, row->source, false};
        for (size_t k = 0; k < n; k++)
            shot->taken |= pictures[k].kind && !strcmp(pictures[k].kind, row->kind);
    }
    return OK;
}

static void listing_lines(struct op_call *call, const struct handed *h, struct text *out) {
    enum { CARE_LINES = 4 };
    const struct piece_plan *p = h->piece;
    const char *size = size_of(call, h), *wood = wood_of(call, h);
    const char *cured = day_of(call, h, p->cured_utc_min);
    bool board = wood_is_board(call->app->tables, p->piece.wood);
    text_print(out, "%s%s%s.", p->title, size ? ", " : "", size ? size : "");
    if (wood) text_print(out, board ? "\nMade of %s." : "\nWood: %s.", wood);
    if (p->piece.year != INT64_MIN) text_print(out, "\nMade about %lld.", (long long)p->piece.year);
    for (size_t i = 0; i < p->price.work_n; i++)
        text_print(out, "%s%s", i ? "; " : "\nWhat was done: ", p->price.work[i]);
    if (p->price.work_n) text_print(out, ".");
    for (size_t i = 0; i < p->inspection.findings_n; i++)
        if (!strcmp(p->inspection.findings[i].id, "lead"))
            text_print(out, "\nLead: %s.", p->inspection.findings[i].verdict);
    if (cured) text_print(out, "\nFully cured on %s; light use until then.", cured);
    for (size_t i = 0, lines = 0; i < p->care_n && lines < CARE_LINES; i++)
        if (p->care[i].until_utc_min == INT64_MIN && p->care[i].text && *p->care[i].text)
            text_print(out, "\n%s", p->care[i].text), lines++;
}

/* NULL when memory is out. */
static const char *listing_text(struct op_call *call, const struct handed *h) {
    struct text lines = {0};
    listing_lines(call, h, &lines);
    const char *text = lines.failed ? NULL : arena_text(call->arena, lines.at);
    text_free(&lines);
    return text;
}

static enum status listing(struct op_call *call, struct why *why) {
    struct listing *l = call->result;
    struct handed *h;
    enum status s = handed_make(call, &h, why);
    if (s) return s;
    if (h->piece->hazards.refused)
        return why_say(why, E_REFUSED, "/id", "A refused piece is not offered. %s",
                       h->piece->hazards.refusal);
    if ((s = shots_of(call, h, l, why)) || (s = work_unsaid(call, h, &l->unsaid, why))) return s;
    l->text = listing_text(call, h);
    if (!l->text) return why_no_memory(why);
    text_print(&call->out_body, "%s\n", l->text);
    if (l->unsaid)
        text_wrap(&call->out_body, 0, 0,
                  arena_print(call->arena, "\n%s Take out what was not done.", l->unsaid));
    text_print(&call->out_body, "\nPictures\n");
    for (size_t i = 0; i < l->pictures_n; i++) {
        text_print(&call->out_body, "  %s ", l->pictures[i].taken ? "there" : "take ");
        text_wrap(&call->out_body, 8, 8,
                  arena_print(call->arena, "%s %s", l->pictures[i].what, l->pictures[i].why));
    }
    return OK;
}

/* ---- story ---- */

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
    F_TEXTS(struct story, before, 100, "pictures of before"),
    F_TEXTS(struct story, after, 100, "pictures of after"),
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
    enum status s = pictures_of(call, id, &rows, &n, why);
    if (s) return s;
    t->before = arena_array(call->arena, n + 1, sizeof *t->before);
    t->after = arena_array(call->arena, n + 1, sizeof *t->after);
    if (!t->before || !t->after) return why_no_memory(why);
    for (size_t i = 0; i < n && t->before_n < 100 && t->after_n < 100; i++) {
        if (!rows[i].kind) continue;
        if (!strcmp(rows[i].kind, "before")) t->before[t->before_n++] = rows[i].id;
        if (!strcmp(rows[i].kind, "after")) t->after[t->after_n++] = rows[i].id;
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
    enum status s = work_unsaid(call, h, &work, why);
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
        text_print(o, "  %-32s %s, %s\n", r->name ? r->name : r->class, used, planned);
    }
    text_print(o, "\nWhat was done\n");
    for (size_t i = 0; i < t->work_n; i++) text_print(o, "  %s\n", t->work[i]);
    char hours[32];
    text_print(o, "\nHow long it took\n  %s planned", basis_hands(t->hours_planned, hours));
    if (!isnan(t->hours_actual))
        text_print(o, ", %s on record", basis_hands(t->hours_actual, hours));
    text_print(o, "\n");
    for (size_t i = 0; i < t->unsaid_n; i++) text_print(o, "%s%s\n", i ? "" : "\n", t->unsaid[i]);
}

static enum status story(struct op_call *call, struct why *why) {
    struct story *t = call->result;
    struct handed *h;
    enum status s = handed_make(call, &h, why);
    if (s) return s;
    const struct piece_plan *p = h->piece;
    t->title = p->title, t->size = size_of(call, h), t->wood = wood_of(call, h);
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
    {"piece listing", OP_GET, "/api/pieces/{id}/listing", &desc_args, &desc_listing, positional_id,
     OP_READS | OP_SLOW, "words for a listing, and the pictures it wants", listing},
    {"piece story", OP_GET, "/api/pieces/{id}/story", &desc_args, &desc_story, positional_id,
     OP_READS | OP_SLOW, "the story of a piece: planned beside what was really used", story},
};
extern const struct ops ops_handing;
const struct ops ops_handing = {rows, sizeof rows / sizeof *rows};
