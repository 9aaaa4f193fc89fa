/* A JSON value as the lines of an outline, for a person to read. */
#ifndef CODEC_JSON_OUTLINE_H
#define CODEC_JSON_OUTLINE_H

#include "codec/document.h"

#include <stddef.h>

struct outline_line {
    size_t depth;
    char *name;  /* of a member, "_" as blank; NULL in a list */
    char *value; /* plain values, a list's joined by ", "; NULL: what follows deeper belongs to it;
                    both NULL: a gap between two records of a list */
};

struct outline {
    struct outline_line *lines;
    size_t n;
};

/* Members that are unsaid (null, empty) are left out; a record of plain members within a list is
 * one line ("paint white, parts 2"). Text that is no JSON is one line as it stands.
 * The outline is yours: json_outline_free(). */
void json_outline(const char *text, struct outline *out);
void json_outline_free(struct outline *o);

/* The same on one line, "; " between what would be lines. */
void json_line(const char *text, struct text *out);

#endif
