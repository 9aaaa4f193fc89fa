#include "codec/json_scan.h"
#include "codec/reader.h"
#include "codec/units_text.h"
#include "core/base/name.h"

#include <jansson.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static enum status read_record(struct reader *r, const struct desc *d, json_t *in, char *out);
static enum status read_value(struct reader *r, const struct field *f, json_t *v, char *record);

/* ---- the pointer ---- */

static size_t path_down(struct reader *r, const char *key) {
    size_t before = r->path_n, n = r->path_n;
    if (n + 2 * strnlen(key, 64) + 2 < sizeof r->path) {
        r->path[n++] = '/';
        for (size_t i = 0; key[i] && i < 64; i++) {
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

static size_t path_index(struct reader *r, size_t i) {
    char key[24];
    snprintf(key, sizeof key, "%zu", i);
    return path_down(r, key);
}

static void path_up(struct reader *r, size_t before) {
    r->path_n = before;
    r->path[before] = 0;
}

/* ---- errors ---- */

static const char *kind_of(const json_t *v) {
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

static enum status wrong_type(struct reader *r, const struct field *f, const json_t *v,
                              const char *wanted) {
    if (json_is_null(v))
        return reader_fail(r, E_TYPE, "null is not a value. Leave \"%s\" out when it is not known.",
                           f->name);
    return reader_fail(r, E_TYPE, "This is %s. Write %s (%s).", kind_of(v), wanted, f->help);
}

static enum status no_memory(struct reader *r) {
    return reader_fail(r, E_MEMORY, "The document needs more memory than is allowed.");
}

static enum status unknown_key(struct reader *r, const struct desc *d, const char *key) {
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
                               key, f->name,
                               f->type == FIELD_QUANTITY ? units_hint(f->dimension) : f->help);
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

/* ---- lists ---- */

static enum status open_list(struct reader *r, const struct field *f, json_t *v, size_t size,
                             char **out_rows, size_t *out_n) {
    *out_n = json_is_object(v) ? json_object_size(v) : json_array_size(v);
    if (f->items_max && *out_n > f->items_max)
        return reader_fail(r, E_TOO_LARGE, "There are %zu of them. At most %zu are allowed.",
                           *out_n, f->items_max);
    *out_rows = *out_n ? arena_array(r->arena, *out_n, size) : NULL;
    return *out_n && !*out_rows ? no_memory(r) : OK;
}

static void close_list(const struct field *f, char *record, const char *rows, size_t n) {
    memcpy(record + f->offset, &rows, sizeof rows);
    memcpy(record + f->count_offset, &n, sizeof n);
}

static const struct field *flagged(const struct desc *d, unsigned flag) {
    for (size_t i = 0; i < d->fields_n; i++)
        if (d->fields[i].flags & flag) return &d->fields[i];
    return NULL;
}

static const char *text_at(const struct desc *d, const struct field *f, const char *rows,
                           size_t i) {
    const char *text;
    memcpy(&text, rows + i * d->size + f->offset, sizeof text);
    return text;
}

/* Says which two: a name also by the ids of both. */
static enum status twice(struct reader *r, const struct desc *d, const struct field *f,
                         const char *rows, size_t i, size_t first) {
    const char *value = text_at(d, f, rows, i);
    const struct field *key = flagged(d, FLAG_KEY);
    path_index(r, i);
    path_down(r, f->name);
    if (f == key || !key || !text_at(d, key, rows, i) || !text_at(d, key, rows, first))
        return reader_fail(r, E_DUPLICATE,
                           "\"%.200s\" is the %s of number %zu too. Give each its own.", value,
                           f->name, first);
    return reader_fail(
        r, E_DUPLICATE,
        "\"%.80s\" is the %s of both \"%.64s\" (number %zu) and \"%.64s\" (number %zu). "
        "Give each its own.",
        value, f->name, text_at(d, key, rows, first), first, text_at(d, key, rows, i), i);
}

/* No id, and no name, twice in one list. */
static enum status unique(struct reader *r, const struct desc *d, unsigned flag, const char *rows,
                          size_t n) {
    const struct field *key = flagged(d, flag);
    json_t *seen = key ? json_object() : NULL;
    enum status s = OK;
    for (size_t i = 0; key && i < n && s == OK; i++) {
        const char *value = text_at(d, key, rows, i), *folded = value;
        if (value && flag == FLAG_NAME) {
            size_t size = strlen(value) + 1;
            char *to = arena_take(r->arena, size);
            if (!to)
                s = no_memory(r);
            else
                name_fold(value, to, size);
            folded = to;
        }
        if (!folded || !*folded) continue;
        const json_t *first = json_object_get(seen, folded);
        if (first)
            s = twice(r, d, key, rows, i, (size_t)json_integer_value(first));
        else if (json_object_set_new_nocheck(seen, folded, json_integer((json_int_t)i)) < 0)
            s = no_memory(r);
    }
    json_decref(seen);
    return s;
}

static enum status read_list(struct reader *r, const struct field *f, json_t *v, char *record) {
    char *rows;
    size_t n, i;
    json_t *item;
    if (!json_is_array(v)) return wrong_type(r, f, v, "a list");
    enum status s = open_list(r, f, v, f->of->size, &rows, &n);
    if (s != OK) return s;
    json_array_foreach(v, i, item) {
        size_t before = path_index(r, i);
        desc_unsay(f->of, rows + i * f->of->size);
        if ((s = read_record(r, f->of, item, rows + i * f->of->size)) != OK) return s;
        path_up(r, before);
    }
    if ((s = unique(r, f->of, FLAG_KEY, rows, n)) != OK) return s;
    if ((s = unique(r, f->of, FLAG_NAME, rows, n)) != OK) return s;
    close_list(f, record, rows, n);
    return OK;
}

/* An object whose keys are the rows' first field. */
static enum status read_map(struct reader *r, const struct field *f, json_t *v, char *record) {
    char *rows;
    size_t n, i = 0;
    const char *key;
    json_t *item;
    if (!json_is_object(v)) return wrong_type(r, f, v, "an object");
    enum status s = open_list(r, f, v, f->of->size, &rows, &n);
    if (s != OK) return s;
    json_object_foreach(v, key, item) {
        char *row = rows + i++ * f->of->size;
        size_t before = path_down(r, key);
        desc_unsay(f->of, row);
        if ((s = read_record(r, f->of, item, row)) != OK) return s;
        if ((s = value_of_text(r, &f->of->fields[0], key, row + f->of->fields[0].offset)) != OK)
            return s;
        path_up(r, before);
    }
    close_list(f, record, rows, n);
    return OK;
}

static enum status read_texts(struct reader *r, const struct field *f, json_t *v, char *record) {
    char *rows;
    size_t n, i;
    json_t *item;
    if (!json_is_array(v)) return wrong_type(r, f, v, "a list of texts");
    enum status s = open_list(r, f, v, sizeof(char *), &rows, &n);
    if (s != OK) return s;
    struct field one = {.name = f->name, .type = FIELD_TEXT, .help = f->help};
    if (f->type == FIELD_DAYS) one.type = FIELD_DAY;
    json_array_foreach(v, i, item) {
        size_t before = path_index(r, i);
        if (!json_is_string(item)) return wrong_type(r, f, item, "a text");
        s = value_of_text(r, &one, json_string_value(item), rows + i * sizeof(char *));
        if (s != OK) return s;
        path_up(r, before);
    }
    close_list(f, record, rows, n);
    return OK;
}
_Static_assert(sizeof(char *) == sizeof(int64_t), "texts and days share one loop");

static enum status read_numbers(struct reader *r, const struct field *f, json_t *v, char *record) {
    char *rows = record + f->offset;
    size_t n = f->fixed, i;
    json_t *item;
    if (!json_is_array(v)) return wrong_type(r, f, v, "a list of numbers");
    if (f->fixed && json_array_size(v) != f->fixed)
        return reader_fail(r, E_TYPE, "There are %zu numbers. Write %zu (%s).", json_array_size(v),
                           f->fixed, f->help);
    enum status s = f->fixed ? OK : open_list(r, f, v, sizeof(double), &rows, &n);
    if (s != OK) return s;
    json_array_foreach(v, i, item) {
        size_t before = path_index(r, i);
        if (!json_is_number(item)) return wrong_type(r, f, item, "a number");
        double x = json_number_value(item);
        if ((s = value_in_range(r, f, x)) != OK) return s;
        memcpy(rows + i * sizeof x, &x, sizeof x);
        path_up(r, before);
    }
    if (!f->fixed) close_list(f, record, rows, n);
    return OK;
}

/* ---- single values ---- */

const char *reader_json(struct arena *arena, const json_t *v) {
    char *text = json_dumps(v, JSON_COMPACT | JSON_ENCODE_ANY);
    const char *copy = text ? arena_text(arena, text) : NULL;
    free(text);
    return copy;
}

static enum status read_json(struct reader *r, const json_t *v, char *at) {
    const char *text = reader_json(r->arena, v);
    if (!text) return no_memory(r);
    memcpy(at, &text, sizeof text);
    return OK;
}

static enum status read_int(struct reader *r, const struct field *f, json_t *v, char *at) {
    if (json_is_real(v)) return reader_fail(r, E_TYPE, "This is not a whole number (%s).", f->help);
    if (!json_is_integer(v)) return wrong_type(r, f, v, "a whole number");
    int64_t i = json_integer_value(v);
    enum status s = value_in_range(r, f, (double)i);
    if (s == OK && i == INT64_MIN) s = reader_fail(r, E_DOMAIN, "The number is too small.");
    if (s == OK) memcpy(at, &i, sizeof i);
    return s;
}

static enum status read_number(struct reader *r, const struct field *f, json_t *v, char *at) {
    if (!json_is_number(v)) return wrong_type(r, f, v, "a number");
    double x = json_number_value(v);
    enum status s = value_in_range(r, f, x);
    if (s == OK) memcpy(at, &x, sizeof x);
    return s;
}

/* In an input a quantity is a text; the number alone tells by its error how to write it. */
static enum status read_quantity(struct reader *r, const struct field *f, json_t *v, char *at) {
    char n[40];
    if (r->spelling == SPELL_RESULT) return read_number(r, f, v, at);
    if (json_is_string(v)) return value_of_text(r, f, json_string_value(v), at);
    if (!json_is_number(v)) {
        char wanted[200];
        snprintf(wanted, sizeof wanted, "a text with %s", units_hint(f->dimension));
        return wrong_type(r, f, v, wanted);
    }
    number_print(json_number_value(v), n, sizeof n);
    enum status s = value_of_text(r, f, n, at);
    return s == OK ? reader_fail(r, E_UNIT, "%s is missing its unit.", n) : s;
}

static enum status read_lab(struct reader *r, const struct field *f, json_t *v, char *at) {
    double lab[3];
    if (!json_is_array(v) || json_array_size(v) != 3) return wrong_type(r, f, v, "[L, a, b]");
    for (size_t i = 0; i < 3; i++) {
        if (!json_is_number(json_array_get(v, i))) return wrong_type(r, f, v, "[L, a, b]");
        lab[i] = json_number_value(json_array_get(v, i));
    }
    return value_of_lab(r, lab, at);
}

static enum status read_color(struct reader *r, const struct field *f, json_t *v, char *at) {
    if (r->spelling == SPELL_RESULT && json_is_object(v)) v = json_object_get(v, "text");
    if (!v || !json_is_string(v))
        return v ? wrong_type(r, f, v, "a color: \"#1f4e5a\", \"lab(40 -12 -9)\"")
                 : reader_fail(r, E_MISSING, "The color has no \"text\".");
    return value_of_text(r, f, json_string_value(v), at);
}

static enum status read_value(struct reader *r, const struct field *f, json_t *v, char *record) {
    char *at = record + f->offset;
    switch (f->type) {
    case FIELD_TEXT:
    case FIELD_ID:
    case FIELD_WORD:
        if (!json_is_string(v)) return wrong_type(r, f, v, "a text");
        return value_of_text(r, f, json_string_value(v), at);
    case FIELD_BOOL:
        if (!json_is_boolean(v)) return wrong_type(r, f, v, "true or false");
        return value_of_text(r, f, json_is_true(v) ? "true" : "false", at);
    case FIELD_INT: return read_int(r, f, v, at);
    case FIELD_NUMBER: return read_number(r, f, v, at);
    case FIELD_QUANTITY: return read_quantity(r, f, v, at);
    case FIELD_COLOR: return read_color(r, f, v, at);
    case FIELD_LAB: return read_lab(r, f, v, at);
    case FIELD_CLOCK:
    case FIELD_DAY:
    case FIELD_LOCAL:
    case FIELD_INSTANT:
        if (r->spelling == SPELL_RESULT && json_is_integer(v)) return read_int(r, f, v, at);
        if (!json_is_string(v)) return wrong_type(r, f, v, "a text");
        return value_of_text(r, f, json_string_value(v), at);
    case FIELD_RECORD:
        if ((f->flags & FLAG_NULL) && json_is_null(v)) return OK;
        return read_record(r, f->of, v, at);
    case FIELD_LIST: return read_list(r, f, v, record);
    case FIELD_MAP: return read_map(r, f, v, record);
    case FIELD_TEXTS:
    case FIELD_DAYS: return read_texts(r, f, v, record);
    case FIELD_NUMBERS: return read_numbers(r, f, v, record);
    case FIELD_JSON: return read_json(r, v, at);
    }
    return OK;
}

/* ---- records and documents ---- */

static enum status check_head(struct reader *r, const struct desc *d, json_t *in) {
    const json_t *format = json_object_get(in, "format"), *version = json_object_get(in, "version");
    const char *name = json_string_value(format);
    if (!name || strcmp(name, d->format)) {
        path_down(r, "format");
        return reader_fail(r, format ? E_DOMAIN : E_MISSING,
                           "This is not a document of the kind "
                           "wanted here. Begin it with \"format\": \"%s\", \"version\": %d.",
                           d->format, d->version);
    }
    if (!json_is_integer(version) || json_integer_value(version) < 1) {
        path_down(r, "version");
        return reader_fail(r, version ? E_DOMAIN : E_MISSING,
                           "The version is missing. Write \"version\": "
                           "%d.",
                           d->version);
    }
    if (json_integer_value(version) > d->version) {
        path_down(r, "version");
        return reader_fail(r, E_NEWER,
                           "Version %" JSON_INTEGER_FORMAT " was written by a newer program; "
                           "this one knows up to %d.",
                           json_integer_value(version), d->version);
    }
    return OK;
}

static enum status read_members(struct reader *r, const struct desc *d, json_t *in, char *out) {
    const char *key;
    json_t *v;
    enum status s = OK;
    if (!json_is_object(in))
        return reader_fail(r, E_TYPE, "This is %s. Write an object: %s", kind_of(in), d->help);
    if (d->format && (s = check_head(r, d, in)) != OK) return s;
    json_object_foreach(in, key, v) {
        if (d->format && (!strcmp(key, "format") || !strcmp(key, "version"))) continue;
        const struct field *f = field_by_key(d, r->spelling, key);
        if (!f && d->open) continue;
        size_t before = path_down(r, key);
        if ((s = f ? read_value(r, f, v, out) : unknown_key(r, d, key)) != OK) return s;
        path_up(r, before);
    }
    return OK;
}

static enum status read_record(struct reader *r, const struct desc *d, json_t *in, char *out) {
    char own[FIELD_KEY_MAX];
    enum status s = read_members(r, d, in, out);
    if (s != OK) return s;
    for (size_t i = 0; i < d->fields_n; i++) {
        const struct field *f = &d->fields[i];
        if (!(f->flags & FLAG_REQUIRED) || json_object_get(in, field_key(f, r->spelling, own)))
            continue;
        path_down(r, own);
        return reader_fail(r, E_MISSING, "\"%s\" is missing: %s.", own, f->help);
    }
    return OK;
}

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

enum status document_read(const struct desc *d, enum spelling spelling, const char *text, size_t n,
                          struct arena *arena, void *out, struct why *why) {
    struct reader r = {.spelling = spelling, .arena = arena, .why = why};
    json_t *root;
    enum status s = reader_parse(text, n, &root, why);
    if (s != OK) return s;
    desc_unsay(d, out);
    s = read_record(&r, d, root, out);
    json_decref(root);
    return s;
}

/* The member that a body may stand for as a whole: the document that a command line names as a
 * file, when the body has members that are not arguments. */
static const struct field *whole_body(const struct desc *d, json_t *root) {
    const struct field *file = NULL;
    const char *key;
    json_t *v;
    bool foreign = false;
    for (size_t i = 0; i < d->fields_n; i++)
        if (d->fields[i].flags & FLAG_FILE) file = &d->fields[i];
    if (!file || !json_is_object(root) || json_object_get(root, file->name)) return NULL;
    json_object_foreach(root, key, v) foreign |= !field_by_key(d, SPELL_INPUT, key);
    return foreign ? file : NULL;
}

enum status document_read_args(const struct desc *d, const char *text, size_t n,
                               struct arena *arena, void *out, struct why *why) {
    struct reader r = {.spelling = SPELL_INPUT, .arena = arena, .why = why};
    json_t *root;
    enum status s = reader_parse(text, n, &root, why);
    if (s != OK) return s;
    const struct field *whole = whole_body(d, root);
    s = whole ? read_value(&r, whole, root, out) : read_members(&r, d, root, out);
    json_decref(root);
    return s;
}

enum status desc_complete(const struct desc *d, const void *in, struct why *why) {
    char key[FIELD_KEY_MAX], field[FIELD_KEY_MAX + 2];
    for (size_t i = 0; i < d->fields_n; i++) {
        const struct field *f = &d->fields[i];
        if (!(f->flags & FLAG_REQUIRED) || field_said(f, in)) continue;
        snprintf(field, sizeof field, "/%s", field_key(f, SPELL_INPUT, key));
        return why_say(why, E_MISSING, field, "\"%s\" is missing: %s.", key, f->help);
    }
    return OK;
}

/* ---- plain text of a command line or a query ---- */

/* "a, b" as ["a","b"] or [1,2], so that lists have one reader. */
static json_t *list_of_text(const struct field *f, const char *text) {
    json_t *list = json_array();
    while (list && *text) {
        size_t n = strcspn(text, ",");
        const char *from = text, *end = text + n;
        text = *end ? end + 1 : end;
        while (from < end && *from == ' ') from++;
        while (end > from && end[-1] == ' ') end--;
        json_t *item = json_stringn(from, (size_t)(end - from));
        double v;
        if (item && f->type == FIELD_NUMBERS &&
            units_read(DIM_NONE, json_string_value(item), &v, NULL) == OK) {
            json_decref(item);
            item = json_real(v);
        }
        if (!item || json_array_append_new(list, item) < 0) {
            json_decref(list);
            return NULL;
        }
    }
    return list;
}

enum status field_read(const struct field *f, const char *text, struct arena *arena, void *record,
                       struct why *why) {
    struct reader r = {.spelling = SPELL_INPUT, .arena = arena, .why = why};
    json_t *v = NULL;
    enum status s = OK;
    path_down(&r, f->name);
    switch (f->type) {
    case FIELD_TEXTS:
    case FIELD_DAYS:
    case FIELD_NUMBERS:
        if ((s = text_is_fit(&r, text, strlen(text), FIELD_TEXT_MAX)) != OK) return s;
        if (!(v = list_of_text(f, text)))
            return reader_fail(&r, E_SYNTAX, "The list cannot be read.");
        break;
    case FIELD_LAB:
        if (!(v = list_of_text(&(struct field){.type = FIELD_NUMBERS}, text)))
            return reader_fail(&r, E_SYNTAX, "The list cannot be read.");
        break;
    case FIELD_RECORD:
    case FIELD_LIST:
    case FIELD_MAP:
    case FIELD_JSON:
        if ((s = reader_parse(text, strlen(text), &v, why)) != OK) {
            if (why) why_under(why, r.path);
            return s;
        }
        break;
    default: return value_of_text(&r, f, text, (char *)record + f->offset);
    }
    s = read_value(&r, f, v, record);
    json_decref(v);
    return s;
}
