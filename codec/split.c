#include "codec/split.h"
#include "codec/document.h"

#include <jansson.h>
#include <stdlib.h>
#include <string.h>

static enum status parse(const char *text, json_t **out, struct why *why) {
    json_error_t error;
    *out = json_loads(text, JSON_REJECT_DUPLICATES | JSON_DECODE_ANY, &error);
    return *out ? OK : why_say(why, E_SYNTAX, "", "This is not JSON: %s.", error.text);
}

/* One step of a pointer, ~0 and ~1 undone; at stands behind its slash and is moved behind the name.
 */
static bool next_name(const char **at, char *out, size_t cap) {
    size_t n = 0;
    for (; **at && **at != '/'; (*at)++) {
        char c = **at;
        if (c == '~') c = *++*at == '1' ? '/' : '~';
        if (n + 1 >= cap) return false;
        out[n++] = c;
    }
    out[n] = 0;
    return true;
}

static json_t *value_at(json_t *v, const char *pointer) {
    char name[FIELD_KEY_MAX];
    while (v && *pointer == '/') {
        pointer++;
        if (!next_name(&pointer, name, sizeof name)) return NULL;
        v = json_is_array(v) ? json_array_get(v, (size_t)strtoul(name, NULL, 10))
                             : json_object_get(v, name);
    }
    return v;
}

/* Reals in the fewest of 15 to 17 digits that read back equal. */
static const char *text_of(const json_t *v, struct arena *arena) {
    for (size_t digits = 15; digits <= 17; digits++) {
        char *dump = json_dumps(v, JSON_COMPACT | JSON_ENCODE_ANY | JSON_REAL_PRECISION(digits));
        json_t *back = dump ? json_loads(dump, JSON_DECODE_ANY, NULL) : NULL;
        bool same = back && json_equal(back, v);
        const char *text = same || digits == 17 ? arena_text(arena, dump) : NULL;
        json_decref(back);
        free(dump);
        if (text || !dump) return text;
    }
    return NULL;
}

enum status split_at(const char *text, const char *pointer, struct arena *arena,
                     const char **out_value, struct why *why) {
    json_t *whole, *v;
    enum status s = parse(text, &whole, why);
    if (s) return s;
    *out_value = NULL;
    v = value_at(whole, pointer);
    if (v && !(*out_value = text_of(v, arena))) s = why_no_memory(why);
    json_decref(whole);
    return s;
}

enum status split_rows(const char *text, const char *pointer, struct arena *arena,
                       const char *const **out_rows, size_t *out_n, struct why *why) {
    json_t *whole;
    enum status s = parse(text, &whole, why);
    if (s) return s;
    json_t *list = value_at(whole, pointer);
    size_t n = json_array_size(list);
    const char **rows = arena_array(arena, n + 1, sizeof *rows);
    for (size_t i = 0; rows && i < n && !s; i++)
        if (!(rows[i] = text_of(json_array_get(list, i), arena))) s = E_MEMORY;
    json_decref(whole);
    if (s || !rows) return why_no_memory(why);
    *out_rows = rows, *out_n = n;
    return OK;
}
