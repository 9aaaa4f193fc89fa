/* Sums over movements: what a piece came to. */
#ifndef STORE_SUMS_H
#define STORE_SUMS_H

#include "store/store.h"

struct piece_sums {
    double hours_min;     /* hands-on, from records */
    double income_cent;   /* deposits, payments, sales less refunds */
    double fee_cent;      /* fees, as a positive number */
    double bought_cent;   /* purchases of the piece */
    double material_cent; /* paint used for it at the cost of its can, and material bought for it */
};

/* 0 where nothing is on record. Errors: E_IO. */
enum status sums_of_piece(struct book *b, const char *piece, struct piece_sums *out,
                          struct why *why);

/* What the piece took out of each can, corrections counted; what was mixed and put back on the
 * shelf is a paint of its own. */
struct paint_use {
    const char *paint;
    double amount_ml; /* > 0 */
};
enum status sums_paint_use(struct book *b, const char *piece, struct arena *arena,
                           struct paint_use **out_rows, size_t *out_n, struct why *why);

/* Hands-on hours that were reckoned with when the piece was agreed, by the last quote or agreement
 * that stands; NAN: none does. */
enum status sums_promised_hours(struct book *b, const char *piece, double *out, struct why *why);

/* Number of the piece's closing, taken back or not; INT64_MIN: never closed. */
enum status sums_closing_number(struct book *b, const char *piece, int64_t *out, struct why *why);

/* Records that count (what was taken back is left out), of one kind and subject: class and method
 * of a product, or operation. In order of entry. */
struct record_pair {
    const char *kind, *class, *method, *operation;
    const char *piece; /* NULL: of none */
    double planned, actual;
    bool doubted;
    bool confirmed; /* doubted, and then said to be right */
};
enum status sums_records(struct book *b, struct arena *arena, struct record_pair **out_rows,
                         size_t *out_n, struct why *why);

#endif
