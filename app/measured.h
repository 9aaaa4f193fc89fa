/* One sample out of a file of measured reflectance. */
#ifndef APP_MEASURED_H
#define APP_MEASURED_H

#include "codec/spectrum_text.h"

/* All of a file; errors of spectrum_text_read below `member` ("/file"). */
enum status measured_read(const char *text, const char *member, enum spectrum_scale scale,
                          struct arena *a, struct spectrum_text *out, struct why *why);

/* The sample of that name; NULL: the file's only one.
 *
 * Errors, all at "/sample": E_MISSING (several, none named), E_DUPLICATE, E_REFERENCE. */
enum status measured_sample(const struct spectrum_text *file, const char *name,
                            const struct spectrum_read **out, struct why *why);

#endif
