/* One member, by its type; from a document or from the plain text of a command line or a query. */
#include "codec/reader.h"
#include "codec/units_text.h"

#include <jansson.h>
#include <stdio.h>
#include <string.h>

static enum status read_json(struct reader *r, const json_t *v, char *at) {
    const char *text = reader_json(r->arena, v);
    if (!text) return reader_no_memory(r);
    memcpy(at, &text, sizeof text);
    return OK;
}

static enum status read_int(struct reader *r, const struct field *f, json_t *v, char *at) {
    if (json_is_real(v)) {
        char n[40];
        number_print(json_number_value(v), n, sizeof n);
        return reader_fail(r, E_TYPE, "%s is not a whole number (%s).", n, f->help);
    }
    if (!json_is_integer(v)) return reader_wrong_type(r, f, v, "a whole number");
    int64_t i = json_integer_value(v);
    enum status s = value_in_range(r, f, (double)i);
    if (s == OK && i == INT64_MIN) s = reader_fail(r, E_DOMAIN, "The number is too small.");
    if (s == OK) memcpy(at, &i, sizeof i);
    return s;
}

static enum status read_number(struct reader *r, const struct field *f, json_t *v, char *at) {
    if (!json_is_number(v)) return reader_wrong_type(r, f, v, "a number");
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
        snprintf(wanted, sizeof wanted, "a text with %s", field_hint(f));
        return reader_wrong_type(r, f, v, wanted);
    }
    number_print(json_number_value(v), n, sizeof n);
    enum status s = value_of_text(r, f, n, at);
    return s == OK ? reader_fail(r, E_UNIT, "%s is missing its unit.", n) : s;
}

static enum status read_lab(struct reader *r, const struct field *f, json_t *v, char *at) {
    double lab[3];
    if (!json_is_array(v) || json_array_size(v) != 3)
        return reader_wrong_type(r, f, v, "[L, a, b]");
    for (size_t i = 0; i < 3; i++) {
        if (!json_is_number(json_array_get(v, i))) return reader_wrong_type(r, f, v, "[L, a, b]");
        lab[i] = json_number_value(json_array_get(v, i));
    }
    return value_of_lab(r, lab, at);
}

static enum status read_color(struct reader *r, const struct field *f, json_t *v, char *at) {
    if (r->spelling == SPELL_RESULT && json_is_object(v)) v = json_object_get(v, "text");
    if (!v || !json_is_string(v))
        return v ? reader_wrong_type(r, f, v, "a color: \"#1f4e5a\", \"lab(40 -12 -9)\"")
                 : reader_fail(r, E_MISSING, "The color has no \"text\".");
    return value_of_text(r, f, json_string_value(v), at);
}

enum status read_value(struct reader *r, const struct field *f, json_t *v, char *record) {
    char *at = record + f->offset;
    switch (f->type) {
    case FIELD_TEXT:
    case FIELD_ID:
    case FIELD_WORD:
        if (!json_is_string(v)) return reader_wrong_type(r, f, v, "a text");
        return value_of_text(r, f, json_string_value(v), at);
    case FIELD_BOOL:
        if (!json_is_boolean(v)) return reader_wrong_type(r, f, v, "true or false");
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
        if (!json_is_string(v)) return reader_wrong_type(r, f, v, "a text");
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

/* ---- plain text of a command line or a query ---- */

/* The rest of "Oct 12, 2026", which is one day and not two. */
static bool is_year(const char *comma) {
    if (*comma != ',') return false;
    comma += 1 + strspn(comma + 1, " ");
    size_t n = strspn(comma, "0123456789");
    comma += n + strspn(comma + n, " ");
    return n == 4 && (*comma == ',' || !*comma);
}

/* The number that the text is; else the text, whose reader says what was wrong. */
static json_t *number_of_text(json_t *text) {
    double v;
    if (!text || units_read(DIM_NONE, json_string_value(text), &v, NULL)) return text;
    json_decref(text);
    return json_real(v);
}

/* "a, b" as ["a","b"] or [1,2], so that lists have one reader. */
static json_t *list_of_text(const struct field *f, const char *text) {
    json_t *list = json_array();
    while (list && *text) {
        size_t n = strcspn(text, ",");
        if (f->type == FIELD_DAYS && is_year(text + n)) n += 1 + strcspn(text + n + 1, ",");
        const char *from = text, *end = text + n;
        text = *end ? end + 1 : end;
        while (from < end && *from == ' ') from++;
        while (end > from && end[-1] == ' ') end--;
        json_t *item = json_stringn(from, (size_t)(end - from));
        if (f->type == FIELD_NUMBERS) item = number_of_text(item);
        if (!item || json_array_append_new(list, item) < 0) {
            json_decref(list);
            return NULL;
        }
    }
    return list;
}

/* A list of a name and an amount or a number each, as one types it: "white=20 fl oz, ochre=1 fl
 * oz", "white=3, ochre=1". */
static bool is_pairs(const struct field *f, const char *text) {
    return f->type == FIELD_LIST && f->of->fields_n == 2 && f->of->fields[0].type == FIELD_ID &&
           (f->of->fields[1].type == FIELD_QUANTITY || f->of->fields[1].type == FIELD_NUMBER) &&
           text[strspn(text, " ")] != '[';
}

/* Without a "=" the amount is missing, and the list's reader says so. */
static json_t *pairs_of_text(const struct field *f, const char *text) {
    json_t *words = list_of_text(&(struct field){.type = FIELD_TEXTS}, text),
           *list = words ? json_array() : NULL;
    for (size_t i = 0; list && i < json_array_size(words); i++) {
        const char *word = json_string_value(json_array_get(words, i)), *eq = strchr(word, '=');
        size_t n = eq ? (size_t)(eq - word) : strlen(word);
        json_t *item = json_object();
        bool bad =
            !item || json_object_set_new(item, f->of->fields[0].name, json_stringn(word, n)) < 0;
        json_t *amount = eq ? json_string(eq + 1) : NULL;
        if (f->of->fields[1].type == FIELD_NUMBER) amount = number_of_text(amount);
        if (bad || !eq)
            json_decref(amount);
        else
            bad = json_object_set_new(item, f->of->fields[1].name, amount) < 0;
        if (bad || json_array_append(list, item) < 0) {
            json_decref(list);
            list = NULL;
        }
        json_decref(item);
    }
    json_decref(words);
    return list;
}

enum status field_read(const struct field *f, const char *text, struct arena *arena, void *record,
                       struct why *why) {
    struct reader r = {.spelling = SPELL_INPUT, .arena = arena, .why = why};
    json_t *v = NULL;
    enum status s = OK;
    reader_down(&r, f->name);
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
        if (is_pairs(f, text)) {
            if ((s = text_is_fit(&r, text, strlen(text), FIELD_TEXT_MAX)) != OK) return s;
            if (!(v = pairs_of_text(f, text)))
                return reader_fail(&r, E_SYNTAX, "The list cannot be read.");
            break;
        }
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
