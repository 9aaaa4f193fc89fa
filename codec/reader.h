/* Inside of the reading half of document.h: where we are, and how a failure is said. */
#ifndef CODEC_READER_H
#define CODEC_READER_H

#include "codec/document.h"

struct reader {
    enum spelling spelling;
    struct arena *arena;
    struct why *why;
    char path[256]; /* JSON pointer of the value at hand, cut when it gets too long */
    size_t path_n;
};

/* Fills the reader's why with the path; returns s. */
enum status reader_fail(struct reader *r, enum status s, const char *fmt, ...)
    __attribute__((format(printf, 3, 4)));

/* Reads a member that can be said as one text: everything but numbers, lists and records. */
enum status value_of_text(struct reader *r, const struct field *f, const char *text, void *at);
/* The same range check for numbers that came without a text. */
enum status value_in_range(struct reader *r, const struct field *f, double v);
enum status text_is_fit(struct reader *r, const char *text, size_t n, size_t most);
enum status value_of_lab(struct reader *r, const double lab[3], void *at);

struct json_t;
/* The document as a tree, within its bounds; the caller's. Errors: as document_read, of the JSON.
 */
enum status reader_parse(const char *text, size_t n, struct json_t **out_root, struct why *why);
/* Compact text; NULL without memory. */
const char *reader_json(struct arena *arena, const struct json_t *v);

/* "a", "b" or "c" of a NULL-terminated list, into out. */
const char *words_listed(const char *const *words, char *out, size_t cap);
/* The word of the list nearest to what was written, or NULL when none is near. */
const char *word_near(const char *const *words, const char *text);

#endif
