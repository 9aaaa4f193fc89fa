/* Lists of the words that may be written, for an error that names them. */
#ifndef CODEC_WORDS_H
#define CODEC_WORDS_H

#include <stdbool.h>
#include <stddef.h>

/* "a", "b" or "c" of a NULL-terminated list, into out. */
const char *words_listed(const char *const *words, char *out, size_t cap);
/* The word of the list nearest to what was written, or NULL when none is near. */
const char *word_near(const char *const *words, const char *text);
/* "high gloss", "High-gloss" and "high_gloss" are one word. */
bool word_same(const char *a, const char *b);

#endif
