#include "app/batch_there.h"

#include "app/book.h"
#include "app/gather.h"
#include "codec/color_said.h"
#include "codec/job_desc.h"
#include "core/color/color.h"
#include "core/work/color_plan.h"

#include <math.h>
#include <string.h>

enum { POURS = 32 };

static bool lab_of(struct op_call *call, const char *text, struct lab *out) {
    struct color_said c;
    if (!text || color_said_read(text, call->arena, &c, NULL)) return false;
    *out = (struct lab){c.lab[0], c.lab[1], c.lab[2]};
    return true;
}

static bool alike(struct op_call *call, const char *a, const char *b) {
    struct lab x, y;
    return lab_of(call, a, &x) && lab_of(call, b, &y) && ciede2000(x, y) < COLOR_UNSEEN;
}

static const char *color_of(const struct batch_row *b) {
    return b->dried ? b->dried : b->predicted_hex;
}

static enum status pour_in(struct op_call *call, const struct batch_row *b, struct mixed_batch *to,
                           struct pour *pours, struct why *why) {
    struct batch_item_row *rows;
    size_t n;
    struct row_query q = {.where = "batch = ?1", .texts = {b->id}, .after = INT64_MIN};
    enum status s =
        row_list(call->book, &table_batch_item, &q, call->arena, (void **)&rows, &n, NULL, why);
    for (size_t i = 0; i < n && !s; i++) {
        size_t k = 0;
        while (k < to->pours_n && strcmp(pours[k].paint, rows[i].paint)) k++;
        if (k == POURS) continue;
        if (k == to->pours_n) {
            struct paint_row can;
            s = row_get(call->book, &table_paint, "id", rows[i].paint, call->arena, &can, why);
            if (!s && !to->class) to->class = can.class;
            pours[to->pours_n++] = (struct pour){rows[i].paint, s ? NULL : can.name, 0};
        }
        pours[k].ml += rows[i].amount_ml;
        to->ml += rows[i].amount_ml;
    }
    return s;
}

/* Of its own; of others of the same owner. A closed one counts if the piece was in the book by the
 * time that it was mixed: it was mixed for both. */
#define ITS_OWN "removed = 0 AND piece = ?1"
#define SISTERS                                                                                    \
    "removed = 0 AND piece IN (SELECT o.id FROM piece o JOIN piece p ON p.id = ?1 AND o.id <> "    \
    "p.id AND o.client IS p.client WHERE o.removed = 0 AND o.stage <> 'left' AND (o.stage <> "     \
    "'closed' OR made_utc_min >= (SELECT min(c.at_utc_min) FROM change_row r JOIN change c ON "    \
    "c.revision = r.revision WHERE r.subject = 'piece' AND r.piece = ?1)))"

/* The jar of what was left, on the shelf; nothing where it is empty or gone. */
static enum status pour_left(struct op_call *call, const struct batch_row *b,
                             struct mixed_batch *to, struct pour *pours, struct why *why) {
    struct paint_row jar;
    enum status s = row_get(call->book, &table_paint, "id", b->left_paint, call->arena, &jar, why);
    if (s || jar.removed || !(jar.stock_ml > 0)) return s == E_NOT_FOUND ? OK : s;
    pours[0] = (struct pour){jar.id, jar.name, jar.stock_ml};
    to->pours_n = 1;
    to->ml = jar.stock_ml;
    to->class = jar.class;
    to->left = true;
    return OK;
}

static void begin(struct op_call *call, const struct batch_row *row, struct mixed_batch *b,
                  const struct pour *pours) {
    struct lab lab = {NAN, NAN, NAN};
    lab_of(call, color_of(row), &lab);
    *b = (struct mixed_batch){.id = row->id,
                              .name = row->name,
                              .piece_id = row->piece,
                              .pours = pours,
                              .lab = {lab.l, lab.a, lab.b},
                              .made_utc_min = row->made_utc_min,
                              .dried = row->dried};
}

/* NULL where there is none. */
static enum status batch_of(struct op_call *call, const struct piece *p, bool own,
                            struct mixed_batch **out, struct why *why) {
    struct batch_row *rows;
    size_t n;
    struct row_query q = {
        .where = own ? ITS_OWN : SISTERS, .texts = {p->id}, .after = INT64_MIN, .down = true};
    enum status s =
        row_list(call->book, &table_batch, &q, call->arena, (void **)&rows, &n, NULL, why);
    const struct batch_row *newest = NULL;
    struct mixed_batch *b = arena_take(call->arena, sizeof *b);
    struct pour *pours = arena_array(call->arena, POURS, sizeof *pours);
    if (!s && (!b || !pours)) return why_no_memory(why);
    for (size_t i = 0; i < n && !s; i++) {
        const bool left = rows[i].left_paint != NULL;
        if (!alike(call, rows[i].target, p->wanted.color.text)) continue;
        if (newest && (left || !alike(call, color_of(&rows[i]), color_of(newest)))) continue;
        if (!newest) begin(call, &rows[i], b, pours);
        s = left && !own ? pour_left(call, &rows[i], b, pours, why)
                         : pour_in(call, &rows[i], b, pours, why);
        if (b->ml > 0) newest = newest ? newest : &rows[i];
        if (b->left) break; /* that jar is all there is */
    }
    if (s || !newest) return s;
    struct piece_row of;
    s = book_get(call, &table_piece, newest->piece, &of, why);
    if (!s) b->piece = of.title, *out = b;
    return s;
}

static bool among(const struct piece *pieces, size_t n, const char *id) {
    for (size_t i = 0; i < n; i++)
        if (pieces[i].id && !strcmp(pieces[i].id, id)) return true;
    return false;
}

/* What those take of the cup whom nobody plans beside the piece: for whom it was mixed, and open
 * pieces of the same owner and color whose turn comes before. */
static enum status taken_of(struct op_call *call, const struct job *job, const struct piece *p,
                            struct mixed_batch *cup, struct why *why) {
    static const char where[] =
        "removed = 0 AND id <> ?1 AND client IS (SELECT x.client FROM piece x WHERE x.id = ?1) AND "
        "(id IN (SELECT b.piece FROM batch b WHERE b.removed = 0) OR (stage IN ('looked_over', "
        "'agreed', 'in_work', 'curing') AND (COALESCE(due_day, 9e9), number) < (SELECT "
        "COALESCE(x.due_day, 9e9), x.number FROM piece x WHERE x.id = ?1)))";
    struct piece_row *rows;
    size_t n;
    struct row_query q = {.where = where, .texts = {p->id}, .after = INT64_MIN};
    enum status s =
        row_list(call->book, &table_piece, &q, call->arena, (void **)&rows, &n, NULL, why);
    for (size_t i = 0; i < n && !s; i++) {
        struct piece sister;
        struct mixed_batch *own = NULL;
        if (among(job->pieces, job->pieces_n, rows[i].id)) continue;
        desc_unsay(&desc_piece, &sister);
        if (document_read(&desc_piece, SPELL_INPUT, rows[i].document, strlen(rows[i].document),
                          call->arena, &sister, NULL) ||
            !alike(call, sister.wanted.color.text, p->wanted.color.text))
            continue;
        sister.id = rows[i].id;
        s = batch_of(call, &sister, true, &own, why);
        if (!s && !(own && cup->left))
            cup->taken_ml += gather_color_ml(call, sister.id, cup->class);
    }
    return s;
}

enum status batches_there(struct op_call *call, struct job *job, struct why *why) {
    enum status s = OK;
    for (size_t i = 0; i < job->pieces_n && !s; i++) {
        struct piece *p = &job->pieces[i];
        struct mixed_batch *own = NULL, *sister = NULL;
        if (!p->id || !p->wanted.color.text) continue;
        s = batch_of(call, p, true, &own, why);
        if (!s) s = batch_of(call, p, false, &sister, why);
        if (!s && sister) s = taken_of(call, job, p, sister, why);
        p->batch = own, p->sister_batch = sister;
    }
    return s;
}
