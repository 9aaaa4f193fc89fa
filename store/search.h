/* Finding pieces, clients, paints, recipes, batches and supplies by words. */
#ifndef STORE_SEARCH_H
#define STORE_SEARCH_H

#include "store/store.h"

/* The words as a query for `words MATCH`: each must begin a word. Anything may be written, only
 * letters and digits count; with none of them the query finds nothing. NULL without memory. */
const char *search_query(const char *words, struct arena *arena);

struct found_row {
    const char *subject; /* piece, client, paint, recipe, batch, supply */
    const char *id, *title;
    const char *around; /* where it was found; the words stand between [ and ] */
};

/* Rows in which every word begins a word, best first; at most `limit`. Errors: E_MEMORY, E_IO. */
enum status search_words(struct book *b, const char *words, int64_t limit, struct arena *arena,
                         struct found_row **out_rows, size_t *out_n, struct why *why);

#endif
