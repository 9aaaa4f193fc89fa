/* The book as somebody asks for it who does the taxes, or who wonders what holds: sums of money by
 * kind, coating systems against call-backs, hours of a piece by operation. Rows are the arena's. */
#ifndef STORE_BOOKS_H
#define STORE_BOOKS_H

#include "store/store.h"

/* Money of one kind between two days; contrary rows are counted with their sign. */
struct books_sum {
    const char *kind;
    double in_cent, out_cent; /* both >= 0 unless more was taken back than entered */
    double distance_m;
    int64_t entries;
};
/* first..last day, both included. Errors: E_IO, E_MEMORY. */
enum status books_sums(struct book *b, int64_t first_day, int64_t last_day, struct arena *arena,
                       struct books_sum **out_rows, size_t *out_n, struct why *why);

struct books_line {
    int64_t number, day, corrects; /* corrects: INT64_MIN none */
    const char *kind, *piece_title, *client_name, *note;
    double amount_cent, distance_m;
};
enum status books_lines(struct book *b, int64_t first_day, int64_t last_day, struct arena *arena,
                        struct books_line **out_rows, size_t *out_n, struct why *why);

/* Closed pieces by what lay on them and what was put over it, with their call-backs. */
struct books_system {
    const char *system; /* "lacquer + wb_primer + wb_enamel + wb_clear" */
    int64_t pieces, callbacks;
};
enum status books_systems(struct book *b, struct arena *arena, struct books_system **out_rows,
                          size_t *out_n, struct why *why);

/* Hands-on minutes on record for a piece, by operation (NULL: not said). */
struct books_hours {
    const char *operation;
    double min;
};
enum status books_hours(struct book *b, const char *piece, struct arena *arena,
                        struct books_hours **out_rows, size_t *out_n, struct why *why);

#endif
