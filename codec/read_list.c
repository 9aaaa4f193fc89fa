/* Members that hold several: rows, rows by a key, texts and days, numbers. */
#include "codec/reader.h"
#include "core/base/name.h"

#include <jansson.h>
#include <string.h>

static enum status open_list(struct reader *r, const struct field *f, json_t *v, size_t size,
                             char **out_rows, size_t *out_n) {
    *out_n = json_is_object(v) ? json_object_size(v) : json_array_size(v);
    if (f->items_max && *out_n > f->items_max)
        return reader_fail(r, E_TOO_LARGE, "There are %zu of them. At most %zu are allowed.",
                           *out_n, f->items_max);
    *out_rows = *out_n ? arena_array(r->arena, *out_n, size) : NULL;
    return *out_n && !*out_rows ? reader_no_memory(r) : OK;
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
    reader_index(r, i);
    reader_down(r, f->name);
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
                s = reader_no_memory(r);
            else
                name_fold(value, to, size);
            folded = to;
        }
        if (!folded || !*folded) continue;
        const json_t *first = json_object_get(seen, folded);
        if (first)
            s = twice(r, d, key, rows, i, (size_t)json_integer_value(first));
        else if (json_object_set_new_nocheck(seen, folded, json_integer((json_int_t)i)) < 0)
            s = reader_no_memory(r);
    }
    json_decref(seen);
    return s;
}

enum status read_list(struct reader *r, const struct field *f, json_t *v, char *record) {
    char *rows;
    size_t n, i;
    json_t *item;
    if (!json_is_array(v)) return reader_wrong_type(r, f, v, "a list");
    enum status s = open_list(r, f, v, f->of->size, &rows, &n);
    if (s != OK) return s;
    json_array_foreach(v, i, item) {
        size_t before = reader_index(r, i);
        desc_unsay(f->of, rows + i * f->of->size);
        if ((s = read_record(r, f->of, item, rows + i * f->of->size)) != OK) return s;
        reader_up(r, before);
    }
    if ((s = unique(r, f->of, FLAG_KEY, rows, n)) != OK) return s;
    if ((s = unique(r, f->of, FLAG_NAME, rows, n)) != OK) return s;
    close_list(f, record, rows, n);
    return OK;
}

/* An object whose keys are the rows' first field. */
enum status read_map(struct reader *r, const struct field *f, json_t *v, char *record) {
    char *rows;
    size_t n, i = 0;
    const char *key;
    json_t *item;
    if (!json_is_object(v)) return reader_wrong_type(r, f, v, "an object");
    enum status s = open_list(r, f, v, f->of->size, &rows, &n);
    if (s != OK) return s;
    json_object_foreach(v, key, item) {
        char *row = rows + i++ * f->of->size;
        size_t before = reader_down(r, key);
        desc_unsay(f->of, row);
        if ((s = read_record(r, f->of, item, row)) != OK) return s;
        if ((s = value_of_text(r, &f->of->fields[0], key, row + f->of->fields[0].offset)) != OK)
            return s;
        reader_up(r, before);
    }
    close_list(f, record, rows, n);
    return OK;
}

enum status read_texts(struct reader *r, const struct field *f, json_t *v, char *record) {
    char *rows;
    size_t n, i;
    json_t *item;
    if (!json_is_array(v)) return reader_wrong_type(r, f, v, "a list of texts");
    enum status s = open_list(r, f, v, sizeof(char *), &rows, &n);
    if (s != OK) return s;
    struct field one = {.name = f->name, .type = FIELD_TEXT, .help = f->help};
    if (f->type == FIELD_DAYS) one.type = FIELD_DAY;
    json_array_foreach(v, i, item) {
        size_t before = reader_index(r, i);
        if (!json_is_string(item)) return reader_wrong_type(r, f, item, "a text");
        s = value_of_text(r, &one, json_string_value(item), rows + i * sizeof(char *));
        if (s != OK) return s;
        reader_up(r, before);
    }
    close_list(f, record, rows, n);
    return OK;
}
_Static_assert(sizeof(char *) == sizeof(int64_t), "texts and days share one loop");

enum status read_numbers(struct reader *r, const struct field *f, json_t *v, char *record) {
    char *rows = record + f->offset;
    size_t n = f->fixed, i;
    json_t *item;
    if (!json_is_array(v)) return reader_wrong_type(r, f, v, "a list of numbers");
    if (f->fixed && json_array_size(v) != f->fixed)
        return reader_fail(r, E_TYPE, "There are %zu numbers. Write %zu (%s).", json_array_size(v),
                           f->fixed, f->help);
    enum status s = f->fixed ? OK : open_list(r, f, v, sizeof(double), &rows, &n);
    if (s != OK) return s;
    json_array_foreach(v, i, item) {
        size_t before = reader_index(r, i);
        if (!json_is_number(item)) return reader_wrong_type(r, f, item, "a number");
        double x = json_number_value(item);
        if ((s = value_in_range(r, f, x)) != OK) return s;
        memcpy(rows + i * sizeof x, &x, sizeof x);
        reader_up(r, before);
    }
    if (!f->fixed) close_list(f, record, rows, n);
    return OK;
}
