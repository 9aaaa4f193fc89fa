/* "white=3,sea-blue=2": paints and parts as text. */
#ifndef CODEC_MIX_TEXT_H
#define CODEC_MIX_TEXT_H

#include "core/base/arena.h"
#include "core/base/status.h"
#include "core/work/job.h"

/* At most 16 items of ID=PARTS, separated by commas; spaces are allowed around them. Parts are
 * plain numbers >= 0. Errors: E_SYNTAX, E_DOMAIN, E_DUPLICATE with field "/items/N"; E_MEMORY. */
enum status mix_text_read(const char *text, struct arena *arena, struct mix_item **out,
                          size_t *out_n, struct why *why);

#endif
