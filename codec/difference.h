/* What differs between two JSON texts, value by value: for histories and for "it was changed in the
 * meantime". */
#ifndef CODEC_DIFFERENCE_H
#define CODEC_DIFFERENCE_H

#include "core/base/arena.h"
#include "core/base/status.h"

#include <stddef.h>

struct difference_row {
    const char *pointer;        /* RFC 6901, "" for the whole */
    const char *before, *after; /* texts as they are, anything else as JSON; NULL: not there */
};

/* Objects are compared member by member, lists row by row, all else as a whole. A NULL text stands
 * for "nothing was there". `inside` names a member whose text is itself JSON and is compared as
 * such, in place of the row ("document"); NULL none. At most `most` rows are given.
 * Errors: E_SYNTAX (one is not JSON), E_MEMORY. */
enum status difference_find(const char *before, const char *after, const char *inside, size_t most,
                            struct arena *arena, struct difference_row **out_rows, size_t *out_n,
                            struct why *why);

#endif
