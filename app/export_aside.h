/* An export read into a book of its own beside the open one, so that it can be restored like a
 * copy. */
#ifndef APP_EXPORT_ASIDE_H
#define APP_EXPORT_ASIDE_H

#include "app/op.h"

/* text: the export, NUL-terminated. out_path is the arena's: a whole book in a folder of its own,
 * for export_aside_remove. On failure nothing is left behind. Errors: those of export_check,
 * export_sound and export_read; E_IO. */
enum status export_aside(struct op_call *call, const char *text, char **out_path, struct why *why);
void export_aside_remove(const char *path);

#endif
