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

#include <stdarg.h>

enum spelling { SPELL_INPUT, SPELL_RESULT };

enum {
    DOCUMENT_BYTES_MAX = 4 * 1024 * 1024,
    WHOLE_BYTES_MAX = 256 * 1024 * 1024, /* an export of a whole book */
    DOCUMENT_DEPTH_MAX = 64,
    FIELD_TEXT_MAX = 4096,
    FIELD_FILE_MAX = 256 * 1024, /* a text that is a file's content */
    FIELD_ID_MAX = 64,
    FIELD_KEY_MAX = 64
};

/* Growing text. Begin with {0}; text_free when done. Out of memory sets failed and stays valid. */
struct text {
    char *at; /* always NUL-terminated once anything was added */
    size_t n, cap;
    size_t columns; /* of the page that text_wrap (text_wrap.h) fills; 0: 80 */
    bool failed;
};
void text_add(struct text *t, const char *s, size_t n);
void text_print(struct text *t, const char *fmt, ...) __attribute__((format(printf, 2, 3)));
void text_vprint(struct text *t, const char *fmt, va_list ap) __attribute__((format(printf, 2, 0)));
void text_json(struct text *t, const char *s); /* s as a JSON string, quotes included */
size_t text_char(const char *s); /* bytes of the UTF-8 character at s; 0: what is there is none */
void text_free(struct text *t);

/* Sets every member to its unsaid value, records inside included. */
void desc_unsay(const struct desc *d, void *out);
/* Is there anything in this record (or member) that was said? */
bool desc_said(const struct desc *d, const void *in);
bool field_said(const struct field *f, const void *record);
/* The member's key in that spelling: "width" or "width_mm". */
const char *field_key(const struct field *f, enum spelling spelling, char out[FIELD_KEY_MAX]);
/* How to write a quantity: in the units of its dimension, a way in miles or kilometers. */
const char *field_hint(const struct field *f);
const struct field *field_by_key(const struct desc *d, enum spelling spelling, const char *key);

/* Reads a JSON text into *out (size d->size, unsaid first). Strings and arrays go to the arena.
 *
 * Errors: E_SYNTAX (JSON, UTF-8, how a value is written), E_TOO_LARGE (bytes, depth, items, text),
 * E_UNKNOWN_KEY, E_MISSING, E_TYPE, E_UNIT, E_DOMAIN, E_DUPLICATE, E_NEWER (format version),
 * E_MEMORY; why->field is the JSON pointer. *out is not to be used after an error. */
enum status document_read(const struct desc *d, enum spelling spelling, const char *text, size_t n,
                          struct arena *arena, void *out, struct why *why);

/* Reads the members of a JSON body into arguments of which some were said already (path, query):
 * sets nothing to unsaid and asks for nothing that is needed; desc_complete does. A body that is
 * itself the document which a FLAG_FILE member holds may be sent without that member around it. */
enum status document_read_args(const struct desc *d, const char *text, size_t n,
                               struct arena *arena, void *out, struct why *why);
/* E_MISSING with the pointer of the first required member that is unsaid. */
enum status desc_complete(const struct desc *d, const void *in, struct why *why);

/* Appends *in as JSON. indent 0: one line. Input leaves out what is unsaid; a result also shows
 * empty lists and records. */
enum status document_print(const struct desc *d, enum spelling spelling, const void *in, int indent,
                           struct text *out);

/* Reads one value of one field from plain text, as given on a command line or in a query: words and
 * quantities as in a document, lists with commas, records and lists of records as JSON. */
enum status field_read(const struct field *f, const char *text, struct arena *arena, void *record,
                       struct why *why);

/* JSON Schema (draft 2020-12) of a described struct, with all that it refers to under $defs. */
enum status schema_print(const struct desc *d, enum spelling spelling, const char *id,
                         struct text *out);
/* The schemas of several types and all that they refer to, as members of one JSON object whose
 * references begin with ref ("#/components/schemas/"); names end in "_input" where the spelling is
 * input, so that both spellings of one type may stand side by side. Without the braces. */
struct schema_root {
    const struct desc *d;
    enum spelling spelling;
};
enum status schema_set_print(const struct schema_root *roots, size_t n, const char *ref,
                             struct text *out);
void schema_name(const struct desc *d, enum spelling spelling, char out[FIELD_KEY_MAX]);
/* The schema of one member, as it stands under "properties" or as a parameter's "schema". */
enum status schema_field_print(const struct field *f, enum spelling spelling, const char *ref,
                               struct text *out);

/* The values at a place of a JSON text ("shelf/paints", names only), each as compact text: the rows
 * of a list, or the one value; n 0 where there is nothing. */
enum status document_parts(const char *text, const char *place, struct arena *arena,
                           const char ***out_texts, size_t *out_n, struct why *why);

/* The row with that id in the list `list` of a JSON object, changed by patch (RFC 7396): a row that
 * is not there yet is begun behind the others, patch NULL takes it out, and the list when it was
 * the last. *out_there: it was there before. */
enum status document_merge_row(const char *base, const char *list, const char *id,
                               const char *patch, struct arena *arena, const char **out_merged,
                               bool *out_there, struct why *why);

/* The document with days as 2026-10-12 and classes of product by id, however they were written; all
 * else, and a document that has nothing of the kind, as it was. Text that document_read took. */
enum status document_spell(const struct desc *d, const char *text, struct arena *arena,
                           const char **out_text, struct why *why);

/* RFC 7396: base changed by patch; both JSON objects. The result is compact text in the arena. */
enum status document_merge(const char *base, const char *patch, struct arena *arena,
                           const char **out_merged, struct why *why);

#endif
