/* A text out of a file that somebody named. */
#ifndef APP_TEXT_FILE_H
#define APP_TEXT_FILE_H

#include "core/base/arena.h"
#include "core/base/status.h"

/* The whole of a file; "-" is the standard input.
 *
 *   max       bytes at most, whole megabytes
 *   out_text  the arena's, NUL-terminated
 *
 * Errors, at "": E_IO (it cannot be opened or read), E_TOO_LARGE, E_SYNTAX (a NUL byte in it),
 * E_MEMORY. */
enum status text_file_read(const char *path, size_t max, struct arena *arena, const char **out_text,
                           struct why *why);

#endif
