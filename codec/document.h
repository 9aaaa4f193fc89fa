/* Reading and printing of described structs. The only door to JSON.
 *
 * Bounds on what is read: 4 MB, 64 levels, 4,096 bytes a text, items_max a list. Duplicate keys,
 * unknown keys, wrong types, bad UTF-8, numbers out of range and missing or wrong units are errors
 * whose why->field is the JSON pointer of the value. */
#ifndef CODEC_DOCUMENT_H
#define CODEC_DOCUMENT_H

#include "codec/desc.h"
#include "core/base/arena.h"
#include "core/base/status.h"

enum spelling { SPELL_INPUT, SPELL_RESULT };

/* Growing text. Begin with {0}; text_free when done. Out of memory sets failed and stays valid. */
struct text {
    char *at; /* always NUL-terminated once anything was added */
    size_t n, cap;
    bool failed;
};
void text_add(struct text *t, const char *s, size_t n);
void text_print(struct text *t, const char *fmt, ...) __attribute__((format(printf, 2, 3)));
void text_free(struct text *t);

/* Sets every member to its unsaid value, records inside included. */
void desc_unsay(const struct desc *d, void *out);

/* Reads a JSON text into *out (size d->size). Strings and arrays go to the arena. */
enum status document_read(const struct desc *d, enum spelling spelling, const char *text, size_t n,
                          struct arena *arena, void *out, struct why *why);

/* Appends *in as JSON. indent 0: one line. */
enum status document_print(const struct desc *d, enum spelling spelling, const void *in, int indent,
                           struct text *out);

/* Reads one value of one field from plain text, as given on a command line or in a query. */
enum status field_read(const struct field *f, const char *text, struct arena *arena, void *record,
                       struct why *why);

/* JSON Schema (draft 2020-12) of a described struct, with all that it refers to under $defs. */
enum status schema_print(const struct desc *d, enum spelling spelling, const char *id,
                         struct text *out);

#endif
