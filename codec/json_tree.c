#include "codec/json_scan.h"
#include "codec/reader.h"

#include <jansson.h>
#include <stdlib.h>
#include <string.h>

static enum status refuse(const char *text, size_t n, const json_error_t *e, struct why *why) {
    struct json_place at;
    size_t pos = e->position > 0 ? (size_t)e->position : 0;
    json_scan(text, n, pos, DOCUMENT_DEPTH_MAX, &at);
    enum status s = E_SYNTAX;
    const char *what = "The JSON is not well formed";
    switch (json_error_code(e)) {
    case json_error_out_of_memory: return why_no_memory(why);
    case json_error_invalid_utf8: what = "The text is not valid UTF-8"; break;
    case json_error_premature_end_of_input:
        what = "The document ends too early: a bracket or a quote is not closed";
        break;
    case json_error_null_character:
    case json_error_null_byte_in_key: what = "A text has a NUL character in it"; break;
    case json_error_numeric_overflow:
        s = E_DOMAIN;
        what = "A number is too large";
        break;
    case json_error_duplicate_key:
        s = E_DUPLICATE;
        what = "The same member is there twice";
        break;
    case json_error_end_of_input_expected:
        what = "Something stands behind the document's end";
        break;
    default: break;
    }
    return why_say(why, s, at.pointer, "%s (line %zu, column %zu).", what, at.line, at.column);
}

enum status reader_parse(const char *text, size_t n, json_t **out_root, struct why *why) {
    struct json_place at;
    json_error_t e;
    if (n >= 3 && !memcmp(text, "\xef\xbb\xbf", 3))
        text += 3, n -= 3; /* a byte order mark may be passed over (RFC 8259, 8.1) */
    if (n > DOCUMENT_BYTES_MAX)
        return why_say(why, E_TOO_LARGE, "", "The document has %.1f MB. At most %d MB are allowed.",
                       (double)n / 1048576, DOCUMENT_BYTES_MAX / 1048576);
    json_scan(text, n, n, DOCUMENT_DEPTH_MAX, &at);
    if (at.too_deep) {
        at.pointer[64] = 0;
        return why_say(why, E_TOO_LARGE, at.pointer,
                       "The document is nested deeper than %d levels (line %zu, column %zu).",
                       DOCUMENT_DEPTH_MAX, at.line, at.column);
    }
    json_t *root = json_loadb(text, n, JSON_REJECT_DUPLICATES | JSON_DECODE_ANY, &e);
    if (!root) return refuse(text, n, &e, why);
    *out_root = root;
    return OK;
}

const char *reader_json(struct arena *arena, const json_t *v) {
    char *text = json_dumps(v, JSON_COMPACT | JSON_ENCODE_ANY);
    const char *copy = text ? arena_text(arena, text) : NULL;
    free(text);
    return copy;
}
