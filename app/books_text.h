/* The books of some days as people read them in a terminal. */
#ifndef APP_BOOKS_TEXT_H
#define APP_BOOKS_TEXT_H

#include "app/op.h"
#include "core/work/basis.h"
#include "store/books.h"

struct books_answer {
    int64_t from_day, to_day;
    struct books_sum *rows;
    size_t rows_n;
    double in_cent, out_cent, left_cent, distance_m, stock_cent;
    const char *note;
    struct basis *bases;
    size_t bases_n;
};

/* A line a kind, then the sums, in the shop's units. Errors: E_MEMORY, those of the shop's
 * document. */
enum status books_print(struct op_call *call, const struct books_answer *a, struct why *why);

#endif
