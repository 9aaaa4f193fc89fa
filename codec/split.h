/* Parts of a JSON text as texts, kept as they were written: for documents that are stored in parts.
 */
#ifndef CODEC_SPLIT_H
#define CODEC_SPLIT_H

#include "core/base/arena.h"
#include "core/base/status.h"

#include <stddef.h>

/* The value at a JSON pointer (RFC 6901) as compact text in the arena; NULL when it is not there.
 * Errors: E_SYNTAX, E_MEMORY. */
enum status split_at(const char *text, const char *pointer, struct arena *arena,
                     const char **out_value, struct why *why);

/* The rows of the list at a pointer, each as compact text; none when it is not there or no list. */
enum status split_rows(const char *text, const char *pointer, struct arena *arena,
                       const char *const **out_rows, size_t *out_n, struct why *why);

#endif
