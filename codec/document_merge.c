/* Parts of documents, and documents put together: the texts as they were written. */
#include "codec/reader.h"

#include <jansson.h>
#include <stdio.h>
#include <string.h>

static enum status text_of(struct arena *arena, json_t *v, const char **out, struct why *why) {
    const char *text = reader_json(arena, v);
    if (!text) return why_no_memory(why);
    *out = text;
    return OK;
}

static json_t *at_place(json_t *root, const char *place) {
    while (root && *place) {
        size_t n = strcspn(place, "/");
        char name[FIELD_KEY_MAX];
        snprintf(name, sizeof name, "%.*s", (int)n, place);
        root = json_object_get(root, name);
        place += n + (place[n] == '/');
    }
    return root;
}

enum status document_parts(const char *text, const char *place, struct arena *arena,
                           const char ***out_texts, size_t *out_n, struct why *why) {
    json_t *root;
    enum status s = reader_parse(text, strlen(text), &root, why);
    if (s != OK) return s;
    json_t *v = at_place(root, place);
    size_t n = json_is_array(v) ? json_array_size(v) : v != NULL;
    const char **texts = arena_array(arena, n ? n : 1, sizeof *texts);
    if (!texts) s = why_no_memory(why);
    for (size_t i = 0; s == OK && i < n; i++)
        s = text_of(arena, json_is_array(v) ? json_array_get(v, i) : v, &texts[i], why);
    json_decref(root);
    if (s != OK) return s;
    *out_texts = texts;
    *out_n = n;
    return OK;
}

/* ---- merge patch ---- */

/* RFC 7396 section 2, for objects; depth is bounded by the parser. */
static int merge(json_t *base, json_t *patch) {
    const char *key;
    json_t *v;
    json_object_foreach(patch, key, v) {
        if (json_is_null(v)) {
            json_object_del(base, key);
        } else if (json_is_object(v)) {
            json_t *inner = json_object_get(base, key);
            if (!json_is_object(inner)) {
                inner = json_object();
                if (json_object_set_new(base, key, inner) < 0) return -1;
            }
            if (merge(inner, v) < 0) return -1;
        } else if (json_object_set(base, key, v) < 0) {
            return -1;
        }
    }
    return 0;
}

enum status document_merge(const char *base, const char *patch, struct arena *arena,
                           const char **out_merged, struct why *why) {
    json_t *b = NULL, *p = NULL;
    enum status s = reader_parse(base, strlen(base), &b, why);
    if (s == OK) s = reader_parse(patch, strlen(patch), &p, why);
    if (s == OK && (!json_is_object(b) || !json_is_object(p)))
        s = why_say(why, E_TYPE, "", "Write an object with the members that change.");
    if (s == OK) {
        s = merge(b, p) < 0 ? why_no_memory(why) : text_of(arena, b, out_merged, why);
    }
    json_decref(b);
    json_decref(p);
    return s;
}

static size_t row_with(const json_t *rows, const char *id) {
    size_t i;
    json_t *row;
    json_array_foreach(rows, i, row) {
        const char *own = json_string_value(json_object_get(row, "id"));
        if (own && !strcmp(own, id)) break;
    }
    return i;
}

/* -1: no memory */
static int merge_row(json_t *base, const char *list, const char *id, json_t *patch,
                     bool *out_there) {
    json_t *rows = json_object_get(base, list);
    size_t i = json_is_array(rows) ? row_with(rows, id) : 0;
    *out_there = json_is_array(rows) && i < json_array_size(rows);
    if (!patch) {
        if (*out_there) json_array_remove(rows, i);
        if (json_is_array(rows) && !json_array_size(rows)) json_object_del(base, list);
        return 0;
    }
    if (!json_is_array(rows)) {
        rows = json_array();
        if (json_object_set_new(base, list, rows) < 0) return -1;
    }
    if (!*out_there) {
        json_t *row = json_object();
        if (json_object_set_new(row, "id", json_string(id)) < 0 ||
            json_array_append_new(rows, row) < 0)
            return -1;
        i = json_array_size(rows) - 1;
    }
    return merge(json_array_get(rows, i), patch);
}

enum status document_merge_row(const char *base, const char *list, const char *id,
                               const char *patch, struct arena *arena, const char **out_merged,
                               bool *out_there, struct why *why) {
    json_t *b = NULL, *p = NULL;
    enum status s = reader_parse(base, strlen(base), &b, why);
    if (s == OK && patch) s = reader_parse(patch, strlen(patch), &p, why);
    if (s == OK && (!json_is_object(b) || (patch && !json_is_object(p))))
        s = why_say(why, E_TYPE, "", "Write an object with the members that change.");
    if (s == OK) {
        s = merge_row(b, list, id, p, out_there) < 0 ? why_no_memory(why)
                                                     : text_of(arena, b, out_merged, why);
    }
    json_decref(b);
    json_decref(p);
    return s;
}
