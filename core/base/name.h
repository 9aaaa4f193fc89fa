/* Names that people give: two are the same when they read the same. */
#ifndef CORE_BASE_NAME_H
#define CORE_BASE_NAME_H

#include <stdbool.h>
#include <stddef.h>

/* The form by which names are compared: letters a-z small, blanks at the ends left out, several in
 * a row one. Writes at most n bytes with the NUL; what does not fit is cut. */
void name_fold(const char *name, char *out, size_t n);

/* Of any length. An empty name is the same as no other. */
bool name_same(const char *a, const char *b);

/* Anything but blanks? NULL is nothing. */
bool name_said(const char *name);

/* Letters to add, take out or exchange until they read the same (Levenshtein 1966); names longer
 * than 63 bytes when folded are cut there. */
size_t name_apart(const char *a, const char *b);

#endif
