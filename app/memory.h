/* What searches found before, kept as long as the program runs: a page is planned again at each
 * change, and the color of most pieces did not move. */
#ifndef APP_MEMORY_H
#define APP_MEMORY_H

#include "core/base/recall.h"

struct memory;
struct memory *memory_make(void);   /* NULL: no memory left; yours, memory_free */
void memory_free(struct memory *m); /* NULL is fine */
/* For struct limit; borrowed; any thread may use it. NULL for NULL. */
const struct recall *memory_recall(const struct memory *m);

#endif
