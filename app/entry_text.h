/* Entries of the book as a terminal lists them: the id and what it is called, below that the rest.
 */
#ifndef APP_ENTRY_TEXT_H
#define APP_ENTRY_TEXT_H

#include "codec/text_wrap.h"
#include "core/base/arena.h"

/* Column at which the names stand, so that ids up to a usual length stand beside them. at: so far,
 * 0 to begin with. */
size_t entry_column(size_t at, const char *id);

/* The id, the title from column `at` on (below a longer id), and `line` below it, wrapped; an empty
 * one is left out. */
void entry_print(struct text *out, size_t at, const char *id, const char *title, const char *line);

/* Each part a sentence, NULL and empty ones left out; one that ends in a stop is one already. In
 * the arena; NULL: no memory. */
const char *entry_sentences(struct arena *a, const char *const *parts, size_t n);

/* "looked_over" as it begins a sentence: Looked over. NULL is none. */
const char *entry_words(struct arena *a, const char *word);

#endif
