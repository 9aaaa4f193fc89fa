#include "codec/json_outline.h"

#include "codec/document.h"

#include <jansson.h>
#include <stdlib.h>
#include <string.h>

static void value(struct outline *o, const json_t *v, size_t depth);

/* "day_temperature" is read as "day temperature". */
static char *label(const char *key) {
    char *out = strdup(key);
    for (char *c = out; c && *c; c++)
        if (*c == '_') *c = ' ';
    return out;
}

/* Takes the strings over. */
static void line(struct outline *o, size_t depth, char *name, char *text) {
    struct outline_line *lines = realloc(o->lines, (o->n + 1) * sizeof *lines);
    if (!lines) {
        free(name), free(text);
        return;
    }
    o->lines = lines;
    lines[o->n++] = (struct outline_line){depth, name, text};
}

static void word(const json_t *v, struct text *out) {
    switch (json_typeof(v)) {
    case JSON_STRING: text_print(out, "%s", json_string_value(v)); break;
    case JSON_INTEGER: text_print(out, "%lld", (long long)json_integer_value(v)); break;
    case JSON_REAL: text_print(out, "%.5g", json_real_value(v)); break;
    case JSON_TRUE: text_print(out, "yes"); break;
    case JSON_FALSE: text_print(out, "no"); break;
    default: break;
    }
}

/* A plain value, or a list of nothing else, fits one line. */
static bool is_plain(const json_t *v) {
    size_t i;
    json_t *item;
    if (json_is_object(v)) return false;
    json_array_foreach(v, i, item) if (json_is_object(item) || json_is_array(item)) return false;
    return true;
}

static void plain(const json_t *v, struct text *out) {
    size_t i;
    json_t *item;
    if (!json_is_array(v)) word(v, out);
    json_array_foreach(v, i, item) {
        if (i) text_print(out, ", ");
        word(item, out);
    }
}

static bool is_flat(json_t *o) {
    const char *key;
    json_t *v;
    json_object_foreach(o, key, v) if (!is_plain(v)) return false;
    return json_is_object(o);
}

static void flat(json_t *o, struct text *out) {
    const char *key;
    json_t *v;
    json_object_foreach(o, key, v) {
        char *name = label(key);
        text_print(out, "%s%s ", out->n ? ", " : "", name ? name : key);
        plain(v, out);
        free(name);
    }
}

static void members(struct outline *o, json_t *record, size_t depth) {
    const char *key;
    json_t *v;
    json_object_foreach(record, key, v) {
        struct text text = {0};
        if (!is_plain(v)) continue;
        plain(v, &text);
        if (text.n) line(o, depth, label(key), text.at), text.at = NULL;
        text_free(&text);
    }
    json_object_foreach(record, key, v) {
        if (is_plain(v)) continue;
        line(o, depth, label(key), NULL);
        value(o, v, depth + 1);
    }
}

static void list(struct outline *o, const json_t *rows, size_t depth) {
    size_t i;
    json_t *item;
    json_array_foreach(rows, i, item) {
        struct text text = {0};
        if (is_flat(item)) {
            flat(item, &text);
            line(o, depth, NULL, text.at);
        } else {
            if (i) line(o, depth, NULL, NULL);
            value(o, item, depth);
        }
    }
}

static void value(struct outline *o, const json_t *v, size_t depth) {
    struct text text = {0};
    if (json_is_object(v)) {
        members(o, (json_t *)v, depth);
    } else if (is_plain(v)) {
        plain(v, &text);
        line(o, depth, NULL, text.at);
    } else {
        list(o, v, depth);
    }
}

void json_outline(const char *text, struct outline *out) {
    json_t *v = json_loads(text, JSON_DECODE_ANY, NULL);
    *out = (struct outline){0};
    if (v)
        value(out, v, 0);
    else
        line(out, 0, NULL, strdup(text));
    json_decref(v);
}

void json_outline_free(struct outline *o) {
    for (size_t i = 0; i < o->n; i++) free(o->lines[i].name), free(o->lines[i].value);
    free(o->lines);
    *o = (struct outline){0};
}

void json_line(const char *text, struct text *out) {
    struct outline o;
    json_outline(text, &o);
    for (size_t i = 0; i < o.n; i++) {
        const struct outline_line *l = &o.lines[i];
        if (!l->name && !l->value) continue;
        text_print(out, "%s%s%s%s", out->n ? "; " : "", l->name ? l->name : "",
                   l->name && l->value ? " " : "", l->value ? l->value : "");
    }
    json_outline_free(&o);
}
