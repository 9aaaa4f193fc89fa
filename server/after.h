/* What waits until the server answers, on a thread of its own: the recipes of all pieces are
 * searched before somebody waits for them (what is found is remembered, app/memory.h); then the
 * copy of the day is made. */
#ifndef SERVER_AFTER_H
#define SERVER_AFTER_H

#include "app/op.h"

struct after;

/* NULL: no book is open, or there is no thread to be had; then it is not done. */
struct after *after_begin(struct app *app);
/* It gives up what it is at; returns at once. NULL is fine, here and below. */
void after_stop(struct after *a);
/* Waits for its end. */
void after_free(struct after *a);

#endif
