#include "codec/reader.h"

#include "codec/words.h"

#include <jansson.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

/* ---- the pointer ---- */

size_t reader_down(struct reader *r, const char *key) {
    size_t before = r->path_n, n = r->path_n;
    if (n + 2 * strnlen(key, 64) + 2 < sizeof r->path) {
        r->path[n++] = '/';
        for (size_t i = 0; i < 64 && key[i]; i++) {
            if (key[i] == '~' || key[i] == '/') {
                r->path[n++] = '~';
                r->path[n++] = key[i] == '~' ? '0' : '1';
            } else {
                r->path[n++] = key[i];
            }
        }
        r->path[n] = 0;
        r->path_n = n;
    }
    return before;
}

size_t reader_index(struct reader *r, size_t i) {
    char key[24];
    snprintf(key, sizeof key, "%zu", i);
    return reader_down(r, key);
}

void reader_up(struct reader *r, size_t before) {
    r->path_n = before;
    r->path[before] = 0;
}

/* ---- errors ---- */

enum status reader_fail(struct reader *r, enum status s, const char *fmt, ...) {
    char text[sizeof r->why->text];
    va_list ap;
    va_start(ap, fmt);
    vsnprintf(text, sizeof text, fmt, ap);
    va_end(ap);
    return why_say(r->why, s, r->path, "%s", text);
}

const char *reader_kind_of(const json_t *v) {
    switch (json_typeof(v)) {
    case JSON_OBJECT: return "an object";
    case JSON_ARRAY: return "a list";
    case JSON_STRING: return "a text";
    case JSON_INTEGER:
    case JSON_REAL: return "a number";
    case JSON_NULL: return "null";
    default: return "true or false";
    }
}

enum status reader_wrong_type(struct reader *r, const struct field *f, const json_t *v,
                              const char *wanted) {
    if (json_is_null(v))
        return reader_fail(r, E_TYPE, "null is not a value. Leave \"%s\" out when it is not known.",
                           f->name);
    if (json_is_string(v))
        return reader_fail(r, E_TYPE, "\"%.40s\" is not %s (%s).", json_string_value(v), wanted,
                           f->help);
    return reader_fail(r, E_TYPE, "This is %s. Write %s (%s).", reader_kind_of(v), wanted, f->help);
}

enum status reader_no_memory(struct reader *r) {
    return reader_fail(r, E_MEMORY, "The document needs more memory than is allowed.");
}

enum status reader_unknown_key(struct reader *r, const struct desc *d, const char *key) {
    const char *names[128];
    char own[FIELD_KEY_MAX], list[400];
    size_t n = 0;
    for (size_t i = 0; i < d->fields_n && n < 127; i++) {
        const struct field *f = &d->fields[i];
        if (r->spelling == SPELL_INPUT && strcmp(f->name, key) &&
            !strcmp(field_key(f, SPELL_RESULT, own), key))
            return reader_fail(r, E_UNKNOWN_KEY,
                               "\"%s\" is how results are spelled. Write \"%s\" with "
                               "its unit: %s.",
                               key, f->name, f->type == FIELD_QUANTITY ? field_hint(f) : f->help);
        names[n++] = f->name;
    }
    names[n] = NULL;
    const char *near = word_near(names, key);
    if (near)
        return reader_fail(r, E_UNKNOWN_KEY,
                           "\"%.40s\" is not a member of %s. Did you mean \"%s\"?", key, d->name,
                           near);
    return reader_fail(r, E_UNKNOWN_KEY, "\"%.40s\" is not a member of %s. Known are: %s.", key,
                       d->name, words_listed(names, list, sizeof list));
}
