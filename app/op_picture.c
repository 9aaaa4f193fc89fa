/* Pictures in the book, and the colors read in them. The bytes are kept as they came: what is
 * measured later is what the camera wrote. */
#include "app/book.h"
#include "app/find_again.h"
#include "app/gather.h"
#include "app/measure.h"
#include "app/op_piece.h"
#include "core/photo/find.h"
#include "core/photo/photo.h"
#include "store/picture_file.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { SIDE_USUAL = 1280, SHOTS_MAX = 8 };

static const char *const words_kind[] = {"", "before", "during", "after", "sample", "other", NULL};
enum { KIND_OTHER = 5 };

/* ---- shapes ---- */

static const struct field row_fields[] = {
    F_TEXT(struct picture_row, id, "public name"),
    F_REVISION(struct picture_row),
    F_TEXT(struct picture_row, piece, "of which piece"),
    F_TEXT(struct picture_row, kind, "before, during, after, sample or other"),
    F_TEXT(struct picture_row, type, "media type, by its first bytes"),
    F_INT(struct picture_row, bytes, 0, 9e15, "size of the file"),
    F_TIME(struct picture_row, at, at_utc_min, FIELD_INSTANT, "when it came into the book"),
    F_TEXT(struct picture_row, note, "anything else"),
};
static DESC(desc_row, struct picture_row, "picture_row", "A picture.", row_fields);
static const struct field rows_fields[] = {F_ROWS(&desc_row)};
static DESC(desc_rows, struct list_answer, "picture_rows", "A page of pictures, newest first.",
            rows_fields);
static const struct field list_fields[] = {
    F_ID(struct list_args, piece, 0, "only of this piece"),
    F_ID(struct list_args, kind, 0, "only of this kind"),
    F_LIST_AFTER,
    F_LIST_LIMIT,
};
static DESC(desc_list, struct list_args, "pictures_args", "Which pictures.", list_fields);

struct add_args {
    const char *photo, *piece, *note, *name;
    int kind;
};
static const struct field add_fields[] = {
    {F_AT(struct add_args, photo), .type = FIELD_TEXT, .flags = FLAG_PATH,
     .help = "a picture: JPEG, PNG, WebP or HEIC, at most 30 MB and 50 megapixels"},
    F_ID(struct add_args, piece, 0, "of which piece"),
    F_WORD(struct add_args, kind, words_kind, "what it is for; other when not said"),
    F_TEXT(struct add_args, name, "of the file it was"),
    F_TEXT(struct add_args, note, "anything else"),
};
static DESC(desc_add, struct add_args, "picture_add_args", "A new picture.", add_fields);

struct picture_view {
    struct picture_row row;
    struct measured_picture facts;
};
#define FACT(m) .name = #m, .offset = offsetof(struct picture_view, facts.m)
#define ROW(m) .name = #m, .offset = offsetof(struct picture_view, row.m)
static const struct field view_fields[] = {
    {ROW(id), .type = FIELD_TEXT, .help = "public name"},
    {ROW(revision), .type = FIELD_INT, .max = 9e15,
     .help = "the book's revision when it was last written"},
    {ROW(piece), .type = FIELD_TEXT, .help = "of which piece"},
    {ROW(kind), .type = FIELD_TEXT, .help = "before, during, after, sample or other"},
    {ROW(type), .type = FIELD_TEXT, .help = "media type, by its first bytes"},
    {ROW(bytes), .type = FIELD_INT, .max = 9e15, .help = "size of the file"},
    {ROW(note), .type = FIELD_TEXT, .help = "anything else"},
    {.name = "at",
     .offset = offsetof(struct picture_view, row.at_utc_min),
     .type = FIELD_INSTANT,
     .help = "when it came into the book"},
    {FACT(format), .type = FIELD_TEXT, .help = "JPEG, PNG, WebP or HEIC"},
    {FACT(width), .type = FIELD_INT, .help = "pixels, upright"},
    {FACT(height), .type = FIELD_INT, .help = "pixels, upright"},
    {FACT(profile), .type = FIELD_TEXT, .help = "color profile, or how its numbers are taken"},
    {.name = "odd",
     .offset = offsetof(struct picture_view, facts.note),
     .type = FIELD_TEXT,
     .help = "what is odd about the file: a name that promises another format"},
};
#undef FACT
#undef ROW
static DESC(desc_view, struct picture_view, "picture", "One picture and what is known of its file.",
            view_fields);

struct look_args {
    const char *id;
    int64_t side, x, y, w, h;
};
static const struct field look_fields[] = {
    F_ID(struct look_args, id, FLAG_REQUIRED, "which picture"),
    F_INT(struct look_args, side, 16, PICTURE_SIDE_MAX,
          "its longer side in pixels; 1280 when not said"),
    F_INT(struct look_args, x, 0, MEASURE_EDGE_MAX,
          "a part of it: left edge, in pixels of the upright picture; 0 when not said"),
    F_INT(struct look_args, y, 0, MEASURE_EDGE_MAX, "top edge; 0 when not said"),
    F_INT(struct look_args, w, 1, MEASURE_EDGE_MAX, "width of that part"),
    F_INT(struct look_args, h, 1, MEASURE_EDGE_MAX, "height of that part"),
};
static DESC(desc_look, struct look_args, "picture_look_args", "How it is to be seen.", look_fields);

/* ---- keeping ---- */

static enum status list(struct op_call *call, struct why *why) {
    const struct list_args *args = call->args;
    struct row_query q = {
        .where = "removed = 0 AND (?1 IS NULL OR piece = ?1) AND (?2 IS NULL OR kind = ?2)",
        .texts = {args->piece, args->kind},
        .down = true};
    return book_list(call, &table_picture, &q, args, why);
}

static enum status facts_of(struct op_call *call, const void *bytes, size_t n, const char *name,
                            int side, struct measured_picture *out, struct why *why) {
    struct picture_ask ask = {.preview_side = side};
    struct picture_answer a;
    enum status s = picture_read(bytes, n, &ask, &call->limit, &a, why);
    if (s) return s;
    s = measure_tell(name, &a.facts, call->arena, out, why);
    picture_free(&a);
    return s;
}

static enum status keep(struct op_call *call, const struct add_args *args, const void *bytes,
                        size_t n, struct why *why) {
    struct picture_view *v = call->result;
    /* a small one is made of all of it: a picture that cannot be shown is not kept */
    enum status s = facts_of(call, bytes, n, args->name, 16, &v->facts, why);
    if (s) return s;
    row_unsay(&table_picture, &v->row);
    v->row.piece = args->piece;
    v->row.kind = words_kind[args->kind ? args->kind : KIND_OTHER];
    v->row.type = picture_format_type(picture_format_of(bytes, n));
    v->row.bytes = (int64_t)n;
    v->row.at_utc_min = book_call_now(call);
    v->row.note = args->note;
    s = piece_there(call, args->piece, why);
    if (!s)
        s = picture_file_keep(call->app->store, bytes, n,
                              picture_format_suffix(picture_format_of(bytes, n)), call->arena,
                              &v->row.file, &v->row.sha256, why);
    /* named by what is in it: a browser may keep it, whatever book stands at this address */
    const char *title = s ? NULL : arena_print(call->arena, "picture %.10s", v->row.sha256);
    if (!s && !title) s = why_no_memory(why);
    if (!s) s = row_free_id(call->book, &table_picture, title, call->arena, &v->row.id, why);
    if (!s) s = row_add(call->book, &table_picture, &v->row, why);
    return s ? s : book_says(call->book, why, "%s", v->row.id);
}

static enum status add(struct op_call *call, struct why *why) {
    struct add_args args = *(const struct add_args *)call->args;
    if (call->body) return keep(call, &args, call->body, call->body_n, why);
    void *bytes;
    size_t n;
    if (!args.photo) return why_say(why, E_MISSING, "/photo", "Say which picture: a file.");
    enum status s = picture_load(args.photo, &bytes, &n, why);
    if (s) return s;
    if (!args.name) args.name = args.photo;
    s = keep(call, &args, bytes, n, why);
    free(bytes);
    return s;
}

static enum status load(struct op_call *call, const char *id, struct picture_row *out_row,
                        const void **out, size_t *out_n, struct why *why) {
    enum status s = book_get(call, &table_picture, id, out_row, why);
    return s ? s
             : picture_file_load(call->app->store, out_row->file, out_row->sha256, PICTURE_FILE_MAX,
                                 call->arena, out, out_n, why);
}

static enum status show(struct op_call *call, struct why *why) {
    const struct id_args *args = call->args;
    struct picture_view *v = call->result;
    const void *bytes;
    size_t n;
    enum status s = load(call, args->id, &v->row, &bytes, &n, why);
    return s ? s : facts_of(call, bytes, n, NULL, 0, &v->facts, why);
}

static enum status file(struct op_call *call, struct why *why) {
    const struct id_args *args = call->args;
    struct picture_row row;
    const void *bytes;
    size_t n;
    enum status s = load(call, args->id, &row, &bytes, &n, why);
    if (s) return s;
    call->out_type = picture_format_type(picture_format_of(bytes, n));
    call->out_lasting = true;
    text_add(&call->out_body, bytes, n);
    return call->out_body.failed ? why_no_memory(why) : OK;
}

/* The part of the picture that is asked for; all of it (no area) when none is. */
static enum status part_of(const struct look_args *a, struct picture_rect *out, struct why *why) {
    const int64_t unsaid = INT64_MIN;
    *out = (struct picture_rect){0};
    if (a->x == unsaid && a->y == unsaid && a->w == unsaid && a->h == unsaid) return OK;
    if (a->w == unsaid || a->h == unsaid)
        return why_say(why, E_MISSING, a->w == unsaid ? "/w" : "/h",
                       "A part of a picture has a width and a height. Write both, in pixels.");
    *out = (struct picture_rect){a->x == unsaid ? 0 : (int)a->x, a->y == unsaid ? 0 : (int)a->y,
                                 (int)a->w, (int)a->h};
    return OK;
}

static enum status look(struct op_call *call, struct why *why) {
    const struct look_args *args = call->args;
    struct picture_ask ask = {.preview_side =
                                  args->side == INT64_MIN ? SIDE_USUAL : (int)args->side};
    struct picture_answer a;
    struct picture_row row;
    const void *bytes;
    size_t n;
    enum status s = part_of(args, &ask.crop, why);
    if (!s) s = load(call, args->id, &row, &bytes, &n, why);
    if (!s) s = picture_read(bytes, n, &ask, &call->limit, &a, why);
    if (s) return s;
    call->out_type = "image/jpeg";
    call->out_lasting = true;
    text_add(&call->out_body, a.preview, a.preview_n);
    picture_free(&a);
    return call->out_body.failed ? why_no_memory(why) : OK;
}

static enum status remove_picture(struct op_call *call, struct why *why) {
    const struct id_args *args = call->args;
    struct picture_row row;
    return book_remove(call, &table_picture, args->id, &row, why);
}

/* ---- reading ---- */

struct shot_args {
    const char *picture;
    struct measure_rects rects;
};
struct read_args {
    struct shot_args *shots;
    size_t shots_n;
};

static const struct field reference_fields[] = {
    MEASURE_REFERENCE_FIELDS,
    F_COLOR(struct measure_reference, color, "the same as color text"),
    F_ID(struct measure_reference, paint, 0, "instead: the color of this paint on the shelf"),
    F_ID(struct measure_reference, sample, 0, "instead: the color of this sample"),
};
static DESC(desc_reference, struct measure_reference, "picture_reference",
            "Something of known color in a picture.", reference_fields);
static const struct field target_fields[] = {
    MEASURE_TARGET_FIELDS,
};
static DESC(desc_target, struct measure_target, "picture_target",
            "Something whose color is wanted.", target_fields);
static const struct field shot_fields[] = {
    F_ID(struct shot_args, picture, FLAG_REQUIRED, "which picture"),
    {.name = "references",
     .offset = offsetof(struct shot_args, rects.references),
     .count_offset = offsetof(struct shot_args, rects.references_n),
     .type = FIELD_LIST,
     .of = &desc_reference,
     .items_max = MEASURE_REFERENCES_MAX,
     .flags = FLAG_REQUIRED,
     .help = "things of known color"},
    {.name = "targets",
     .offset = offsetof(struct shot_args, rects.targets),
     .count_offset = offsetof(struct shot_args, rects.targets_n),
     .type = FIELD_LIST,
     .of = &desc_target,
     .items_max = MEASURE_TARGETS_MAX,
     .flags = FLAG_REQUIRED,
     .help = "things whose color is wanted"},
};
static DESC(desc_shot, struct shot_args, "picture_shot", "What is where in one picture.",
            shot_fields);
static const struct field read_fields[] = {
    {F_AT(struct read_args, shots), .count_offset = offsetof(struct read_args, shots_n),
     .type = FIELD_LIST, .of = &desc_shot, .items_max = SHOTS_MAX, .flags = FLAG_REQUIRED,
     .help = "one picture, or several of the same targets, which are averaged"},
};
static DESC(desc_read, struct read_args, "picture_read_args", "What to read.", read_fields);

static const struct color_said *shelf_color(const struct shelf *shelf,
                                            const struct measure_reference *r) {
    for (size_t i = 0; r->paint && i < shelf->paints_n; i++)
        if (!strcmp(shelf->paints[i].id, r->paint)) return &shelf->paints[i].color;
    for (size_t i = 0; r->sample && i < shelf->samples_n; i++)
        if (shelf->samples[i].id && !strcmp(shelf->samples[i].id, r->sample))
            return &shelf->samples[i].color;
    return NULL;
}

/* The colors of references that are things of the book. */
static enum status look_up(const struct shelf *shelf, size_t shot, const struct measure_rects *m,
                           struct why *why) {
    for (size_t i = 0; i < m->references_n; i++) {
        struct measure_reference *r = &m->references[i];
        const char *id = r->paint ? r->paint : r->sample, *what = r->paint ? "paint" : "sample";
        char field[80];
        if (!id && r->color.text && !isfinite(r->lab[0]))
            memcpy(r->lab, r->color.lab, sizeof r->lab);
        if (!id) continue;
        snprintf(field, sizeof field, "/shots/%zu/references/%zu/%s", shot, i, what);
        const struct color_said *c = shelf_color(shelf, r);
        if (!c)
            return why_say(why, E_REFERENCE, field, "There is no %s \"%.64s\" in the book.", what,
                           id);
        if (!c->text || !isfinite(c->lab[0]))
            return why_say(why, E_MISSING, field,
                           "The color of %.64s is not known, so nothing can be read by it.", id);
        memcpy(r->lab, c->lab, sizeof r->lab);
        if (!r->name) r->name = id;
    }
    return OK;
}

static enum status read(struct op_call *call, struct why *why) {
    const struct read_args *args = call->args;
    struct measure_shot *shots = arena_array(call->arena, args->shots_n + 1, sizeof *shots);
    struct gathered g;
    if (!shots) return why_no_memory(why);
    if (!args->shots_n) return why_say(why, E_MISSING, "/shots", "Name at least one picture.");
    enum status s = gather_job(call, NULL, false, &g, why);
    for (size_t i = 0; !s && i < args->shots_n; i++) {
        const struct shot_args *shot = &args->shots[i];
        struct picture_row row;
        char field[40];
        snprintf(field, sizeof field, "/shots/%zu", i);
        s = load(call, shot->picture, &row, &shots[i].bytes, &shots[i].n, why);
        if (s && why) snprintf(why->field, sizeof why->field, "%s/picture", field);
        if (!s) s = look_up(&g.job.shelf, i, &shot->rects, why);
        shots[i].rects = &shot->rects;
    }
    if (!s) s = measure_read(call, shots, args->shots_n, "/shots", call->result, why);
    if (!s) measure_print(call->result, &call->out_body);
    return s;
}

/* ---- finding again ---- */

struct find_args {
    const char *id, *from;
    struct find_thing *things;
    size_t things_n;
};
static const struct field thing_fields[] = {
    MEASURE_RECT(struct find_thing),
    {F_AT(struct find_thing, at), .type = FIELD_NUMBERS, .fixed = 2, .min = 0, .max = 100000,
     .help = "[x, y] of its middle in the new picture, where somebody has said so"},
};
static DESC(desc_thing, struct find_thing, "picture_thing", "Something marked in a picture.",
            thing_fields);
static const struct field find_fields[] = {
    F_ID(struct find_args, id, FLAG_REQUIRED, "the new picture"),
    F_ID(struct find_args, from, FLAG_REQUIRED, "the picture in which the things are marked"),
    {F_AT(struct find_args, things), .count_offset = offsetof(struct find_args, things_n),
     .type = FIELD_LIST, .of = &desc_thing, .items_max = PHOTO_MARKS_MAX, .flags = FLAG_REQUIRED,
     .help = "what is marked there; three at least, or one with its place"},
};
static DESC(desc_find, struct find_args, "picture_find_args", "What to find where.", find_fields);

static enum status find(struct op_call *call, struct why *why) {
    const struct find_args *args = call->args;
    struct picture_row row;
    struct find_picture then, now;
    enum status s = load(call, args->from, &row, &then.bytes, &then.n, why);
    if (s && why) snprintf(why->field, sizeof why->field, "/from");
    if (!s) s = load(call, args->id, &row, &now.bytes, &now.n, why);
    return s ? s : find_again(call, then, now, args->things, args->things_n, call->result, why);
}

static const char *const positional_photo[] = {"photo", NULL};
static const struct op rows[] = {
    {"pictures", OP_GET, "/api/pictures", &desc_list, &desc_rows, NULL, OP_READS,
     "the pictures in the book, newest first", list},
    {"picture add", OP_POST, "/api/pictures", &desc_add, &desc_view, positional_photo,
     OP_WRITES | OP_SLOW | OP_FILE, "keep a picture", add},
    {"picture show", OP_GET, "/api/pictures/{id}", &desc_id_args, &desc_view, positional_id,
     OP_READS, "one picture and what is known of its file", show},
    {"picture file", OP_GET, "/api/pictures/{id}/file", &desc_id_args, NULL, positional_id,
     OP_READS, "the picture's file, as it came", file},
    {"picture look", OP_GET, "/api/pictures/{id}/look", &desc_look, NULL, positional_id, OP_READS,
     "the picture or a part of it, small, upright, as JPEG in sRGB", look},
    {"picture read", OP_POST, "/api/pictures/read", &desc_read, &desc_measure_answer, NULL,
     OP_READS | OP_SLOW, "the colors in one or several pictures, by things of known color in them",
     read},
    {"picture find", OP_POST, "/api/pictures/{id}/find", &desc_find, &desc_find_answer,
     positional_id, OP_READS | OP_SLOW,
     "things marked in one picture, found again in another by their colors", find},
    {"picture remove", OP_DELETE, "/api/pictures/{id}", &desc_id_args, &desc_done, positional_id,
     OP_WRITES, "a picture that is no longer shown; undo brings it back", remove_picture},
};
extern const struct ops ops_picture;
const struct ops ops_picture = {rows, sizeof rows / sizeof *rows};
