/* Inside of the reading half of document.h: where we are, how a failure is said, a reader a kind.
 */
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

/* ---- where we are ---- */

/* Appends a member's name or a row's number to the path; what it returns takes it off again. */
size_t reader_down(struct reader *r, const char *key);
size_t reader_index(struct reader *r, size_t i);
void reader_up(struct reader *r, size_t before);

/* ---- how a failure is said: all fill the reader's why with the path and return the status ---- */

struct json_t;
enum status reader_fail(struct reader *r, enum status s, const char *fmt, ...)
    __attribute__((format(printf, 3, 4)));
/* v is not `wanted` ("a list") */
enum status reader_wrong_type(struct reader *r, const struct field *f, const struct json_t *v,
                              const char *wanted);
enum status reader_unknown_key(struct reader *r, const struct desc *d, const char *key);
enum status reader_no_memory(struct reader *r);
const char *reader_kind_of(const struct json_t *v); /* "an object" */

/* ---- reading ---- */

enum status read_record(struct reader *r, const struct desc *d, struct json_t *in, char *out);
enum status read_value(struct reader *r, const struct field *f, struct json_t *v, char *record);
enum status read_list(struct reader *r, const struct field *f, struct json_t *v, char *record);
/* An object whose keys are the rows' first field. */
enum status read_map(struct reader *r, const struct field *f, struct json_t *v, char *record);
enum status read_texts(struct reader *r, const struct field *f, struct json_t *v, char *record);
enum status read_numbers(struct reader *r, const struct field *f, struct json_t *v, char *record);

/* Reads a member that can be said as one text: everything but numbers, lists and records. */
enum status value_of_text(struct reader *r, const struct field *f, const char *text, void *at);
/* The same range check for numbers that came without a text. */
enum status value_in_range(struct reader *r, const struct field *f, double v);
enum status text_is_fit(struct reader *r, const char *text, size_t n, size_t most);
enum status value_of_lab(struct reader *r, const double lab[3], void *at);

/* The document as a tree, within its bounds; the caller's. Errors: as document_read, of the JSON.
 */
enum status reader_parse(const char *text, size_t n, struct json_t **out_root, struct why *why);
/* Compact text; NULL without memory. */
const char *reader_json(struct arena *arena, const struct json_t *v);

#endif
