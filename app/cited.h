/* Sources as people read them: the short citation of data/sources.tsv in place of its id. */
#ifndef APP_CITED_H
#define APP_CITED_H

#include "core/work/basis.h"
#include "tables.h"

/* "KM1931; WH13, table 13-5" -> "Kubelka, Munk 1931; Wood Handbook, chapter 13, table 13-5". Words
 * that are no id stay. The arena's, "" without a source; NULL: no memory. */
const char *cited_text(const struct tables *t, const char *source, struct arena *arena);

/* Writes `cited` of every basis; false: no memory. */
bool cited_bases(const struct tables *t, struct basis *bases, size_t n, struct arena *arena);

#endif
