/* A job document into the book: its pieces, and what of its shelf and shop the book does not have
 * yet. What was typed is kept as typed. */
#include "app/op_piece.h"
#include "app/op_sample.h"
#include "app/op_shelf.h"
#include "app/op_supply.h"
#include "app/shop_kept.h"
#include "codec/job_desc.h"
#include "store/shop.h"

#include <stdio.h>
#include <string.h>

struct import_args {
    const char *job;
    bool shop;
};
struct import_answer {
    const char **pieces; /* their ids in the book */
    size_t pieces_n;
    int64_t paints, supplies, samples, kept;
    int64_t revision;
};

static const struct field args_fields[] = {
    {F_AT(struct import_args, job), .type = FIELD_JSON, .flags = FLAG_REQUIRED | FLAG_FILE,
     .help = "the job document"},
    F_BOOL(struct import_args, shop, "take over what it says of the shop"),
};
static DESC(desc_args, struct import_args, "import_args", "A job for the book.", args_fields);

static const struct field answer_fields[] = {
    F_TEXTS(struct import_answer, pieces, 64, "ids of the pieces in the book"),
    F_INT(struct import_answer, paints, 0, 1000, "paints that were added"),
    F_INT(struct import_answer, supplies, 0, 1000, "supplies that were added"),
    F_INT(struct import_answer, samples, 0, 1000, "samples that were added"),
    F_INT(struct import_answer, kept, 0, 3000,
          "rows of its shelf that the book had: left as they were"),
    F_REVISION(struct import_answer),
};
static DESC(desc_answer, struct import_answer, "import_answer", "What was entered.", answer_fields);

struct import { /* one document on its way into the book */
    struct op_call *call;
    const struct job *job; /* read, to know that all of it is right before anything is written */
    struct import_answer *answer;
};

static bool is_there(struct import *in, const struct book_table *t, const char *id) {
    void *row = arena_take(in->call->arena, t->size);
    return id && row && book_get(in->call, t, id, row, NULL) == OK;
}

static enum status enter_paints(struct import *in, struct why *why) {
    const char **texts;
    size_t n;
    char member[64];
    enum status s = document_parts(((const struct import_args *)in->call->args)->job,
                                   "shelf/paints", in->call->arena, &texts, &n, why);
    for (size_t i = 0; s == OK && i < n; i++) {
        struct paint_row row;
        if (is_there(in, &table_paint, in->job->shelf.paints[i].id)) {
            in->answer->kept++;
            continue;
        }
        snprintf(member, sizeof member, "/job/shelf/paints/%zu", i);
        s = paint_enter(in->call, texts[i], member, &row, why);
        in->answer->paints++;
    }
    return s;
}

static enum status enter_samples(struct import *in, struct why *why) {
    const char **texts;
    size_t n;
    char member[64];
    enum status s = document_parts(((const struct import_args *)in->call->args)->job,
                                   "shelf/samples", in->call->arena, &texts, &n, why);
    for (size_t i = 0; s == OK && i < n; i++) {
        struct sample_row row;
        if (is_there(in, &table_sample, in->job->shelf.samples[i].id)) {
            in->answer->kept++;
            continue;
        }
        snprintf(member, sizeof member, "/job/shelf/samples/%zu", i);
        s = sample_enter(in->call, texts[i], member, &row, why);
        in->answer->samples++;
    }
    return s;
}

static enum status enter_supplies(struct import *in, struct why *why) {
    enum status s = OK;
    for (size_t i = 0; s == OK && i < in->job->shelf.supplies_n; i++) {
        struct supply_row row;
        if (is_there(in, &table_supply, in->job->shelf.supplies[i].id)) {
            in->answer->kept++;
            continue;
        }
        s = supply_enter(in->call, &in->job->shelf.supplies[i], &row, why);
        in->answer->supplies++;
    }
    return s;
}

static enum status enter_pieces(struct import *in, struct why *why) {
    const char **texts;
    size_t n;
    char member[64];
    enum status s = document_parts(((const struct import_args *)in->call->args)->job, "pieces",
                                   in->call->arena, &texts, &n, why);
    in->answer->pieces = s == OK ? arena_array(in->call->arena, n + 1, sizeof(char *)) : NULL;
    if (s == OK && !in->answer->pieces) return why_no_memory(why);
    for (size_t i = 0; s == OK && i < n; i++) {
        struct piece_row row;
        snprintf(member, sizeof member, "/job/pieces/%zu", i);
        s = piece_enter(in->call, texts[i], member, &row, why);
        if (s == E_DUPLICATE && why) why_under(why, member); /* it says "/id" alone */
        if (s == OK) in->answer->pieces[in->answer->pieces_n++] = row.id;
    }
    return s;
}

static enum status enter_shop(struct import *in, struct why *why) {
    const struct import_args *args = in->call->args;
    const char *now, *merged, **texts;
    struct shop shop;
    int64_t revision;
    size_t n;
    enum status s = document_parts(args->job, "shop", in->call->arena, &texts, &n, why);
    if (s != OK || !n || !args->shop) return s;
    s = shop_kept(in->call, &now, &revision, NULL, why);
    if (s == OK)
        s = book_merge(in->call, &desc_shop, now, texts[0], "/job/shop", &merged, &shop, why);
    return s == OK ? shop_write(in->call->book, merged, why) : s;
}

static enum status run(struct op_call *call, struct why *why) {
    const struct import_args *args = call->args;
    struct job *job = arena_take(call->arena, sizeof *job);
    struct import in = {call, job, call->result};
    if (!job) return why_no_memory(why);
    enum status s =
        document_read(&desc_job, SPELL_INPUT, args->job, strlen(args->job), call->arena, job, why);
    if (s != OK) return s;
    in.answer->paints = in.answer->supplies = in.answer->samples = in.answer->kept = 0;
    s = enter_shop(&in, why);
    if (s == OK) s = enter_paints(&in, why);
    if (s == OK) s = enter_supplies(&in, why);
    if (s == OK) s = enter_samples(&in, why);
    if (s == OK) s = enter_pieces(&in, why);
    if (s == OK) s = book_says(call->book, why, "%s", job->title ? job->title : "A job document");
    in.answer->revision = book_revision(call->book);
    return s;
}

static const char *const positional[] = {"job", NULL};
static const struct op rows[] = {
    {"import", OP_POST, "/api/import", &desc_args, &desc_answer, positional, OP_WRITES,
     "enter a job document into the book: its pieces, and what of its shelf is new", run},
};
extern const struct ops ops_import;
const struct ops ops_import = {rows, sizeof rows / sizeof *rows};
