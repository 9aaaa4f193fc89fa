/* A color as it is written in a document: CSS color text to struct color_said and back. */
#ifndef CODEC_COLOR_SAID_H
#define CODEC_COLOR_SAID_H

#include "core/base/arena.h"
#include "core/base/status.h"
#include "core/work/job.h"

#include <stdbool.h>

/* Text is copied into the arena. Errors: E_SYNTAX, E_DOMAIN, E_MEMORY; why->field "". */
enum status color_said_read(const char *text, struct arena *arena, struct color_said *out,
                            struct why *why);

/* "#rrggbb" nearest to the Lab on a screen; false where there is no color. */
bool color_said_hex(const struct color_said *c, char out[8]);

#endif
