/* What an export holds as JSON inside its rows can be read by this program. */
#ifndef APP_EXPORT_SOUND_H
#define APP_EXPORT_SOUND_H

#include "app/op.h"

/* text: an export that export_check has passed. Errors are those of document_read, with the place
 * of the value in the export: /export/tables/piece/3/document/width. */
enum status export_sound(struct op_call *call, const char *text, struct why *why);

#endif
