#include "app/batch_there.h"

#include "app/book.h"
#include "codec/color_said.h"
#include "core/color/color.h"

#include <math.h>
#include <string.h>

/* Two colors nearer than this are one to the eye. */
#define UNSEEN 1.0
enum { POURS = 32 };

static bool lab_of(struct op_call *call, const char *text, struct lab *out) {
    struct color_said c;
    if (!text || color_said_read(text, call->arena, &c, NULL)) return false;
    *out = (struct lab){c.lab[0], c.lab[1], c.lab[2]};
    return true;
}

static bool alike(struct op_call *call, const char *a, const char *b) {
    struct lab x, y;
    return lab_of(call, a, &x) && lab_of(call, b, &y) && ciede2000(x, y) < UNSEEN;
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
            pours[to->pours_n++] = (struct pour){rows[i].paint, s ? NULL : can.name, 0};
        }
        pours[k].ml += rows[i].amount_ml;
        to->ml += rows[i].amount_ml;
    }
    return s;
}

/* Of its own; else of open pieces of the same owner, that no leftover on the shelf stands for. */
#define ITS_OWN "removed = 0 AND piece = ?1"
#define SISTERS                                                                                    \
    "removed = 0 AND left_paint IS NULL AND piece IN (SELECT o.id FROM piece o JOIN piece p ON "   \
    "p.id = ?1 AND o.id <> p.id AND o.client IS p.client WHERE o.removed = 0 AND o.stage NOT IN "  \
    "('closed', 'left'))"

/* NULL where there is none. */
static enum status batch_of(struct op_call *call, const struct piece *p, const char *where,
                            const struct mixed_batch **out, struct why *why) {
    struct batch_row *rows;
    size_t n;
    struct row_query q = {.where = where, .texts = {p->id}, .after = INT64_MIN, .down = true};
    enum status s =
        row_list(call->book, &table_batch, &q, call->arena, (void **)&rows, &n, NULL, why);
    const struct batch_row *newest = NULL;
    struct mixed_batch *b = arena_take(call->arena, sizeof *b);
    struct pour *pours = arena_array(call->arena, POURS, sizeof *pours);
    if (!s && (!b || !pours)) return why_no_memory(why);
    for (size_t i = 0; i < n && !s; i++) {
        if (!alike(call, rows[i].target, p->wanted.color.text)) continue;
        if (newest && (rows[i].left_paint || !alike(call, color_of(&rows[i]), color_of(newest))))
            continue;
        if (!newest) {
            struct lab lab = {NAN, NAN, NAN};
            newest = &rows[i];
            lab_of(call, color_of(newest), &lab);
            *b = (struct mixed_batch){.id = newest->id,
                                      .name = newest->name,
                                      .pours = pours,
                                      .lab = {lab.l, lab.a, lab.b},
                                      .dried = newest->dried};
        }
        s = pour_in(call, &rows[i], b, pours, why);
    }
    if (s || !newest || !(b->ml > 0)) return s;
    struct piece_row of;
    s = book_get(call, &table_piece, newest->piece, &of, why);
    if (!s) b->piece = of.title, *out = b;
    return s;
}

enum status batches_there(struct op_call *call, struct piece *pieces, size_t n, struct why *why) {
    enum status s = OK;
    for (size_t i = 0; i < n && !s; i++)
        if (pieces[i].id && pieces[i].wanted.color.text) {
            s = batch_of(call, &pieces[i], ITS_OWN, &pieces[i].batch, why);
            if (!s && !pieces[i].batch)
                s = batch_of(call, &pieces[i], SISTERS, &pieces[i].sister_batch, why);
        }
    return s;
}
