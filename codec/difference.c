#include "codec/difference.h"

#include <jansson.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct finder {
    struct arena *arena;
    struct difference_row *rows;
    size_t n, most;
    bool failed;
};

static const char *value_text(struct finder *f, const json_t *v) {
    if (!v) return NULL;
    const char *text;
    if (json_is_string(v)) {
        text = arena_text(f->arena, json_string_value(v));
    } else {
        char *dump = json_dumps(v, JSON_COMPACT | JSON_ENCODE_ANY | JSON_REAL_PRECISION(15));
        text = arena_text(f->arena, dump);
        free(dump);
    }
    if (!text) f->failed = true;
    return text;
}

static void found(struct finder *f, const char *pointer, const json_t *before,
                  const json_t *after) {
    if (f->n == f->most || f->failed) return;
    struct difference_row *row = &f->rows[f->n++];
    *row = (struct difference_row){arena_text(f->arena, pointer), value_text(f, before),
                                   value_text(f, after)};
    if (!row->pointer) f->failed = true;
}

/* pointer + "/" + key with ~ and / escaped; NULL without memory */
static const char *below(struct finder *f, const char *pointer, const char *key) {
    char name[512];
    size_t n = 0;
    for (; *key && n < sizeof name - 3; key++) {
        if (*key == '~' || *key == '/')
            name[n++] = '~', name[n++] = *key == '~' ? '0' : '1';
        else
            name[n++] = *key;
    }
    name[n] = 0;
    const char *text = arena_print(f->arena, "%s/%s", pointer, name);
    if (!text) f->failed = true;
    return text;
}

static void compare(struct finder *f, const char *pointer, const json_t *before,
                    const json_t *after);

static void compare_objects(struct finder *f, const char *pointer, const json_t *before,
                            const json_t *after) {
    const char *key;
    json_t *v;
    json_object_foreach((json_t *)before, key, v) {
        const char *at = below(f, pointer, key);
        if (at) compare(f, at, v, json_object_get(after, key));
    }
    json_object_foreach((json_t *)after, key, v) {
        const char *at = json_object_get(before, key) ? NULL : below(f, pointer, key);
        if (at) compare(f, at, NULL, v);
    }
}

static void compare(struct finder *f, const char *pointer, const json_t *before,
                    const json_t *after) {
    if (f->failed || (before && after && json_equal(before, after))) return;
    if (json_is_object(before) && json_is_object(after)) {
        compare_objects(f, pointer, before, after);
    } else if (json_is_array(before) && json_is_array(after)) {
        size_t n = json_array_size(before), m = json_array_size(after);
        for (size_t i = 0; i < (n > m ? n : m); i++) {
            char index[24];
            snprintf(index, sizeof index, "%zu", i);
            const char *at = below(f, pointer, index);
            if (at) compare(f, at, json_array_get(before, i), json_array_get(after, i));
        }
    } else if ((before && !json_is_null(before)) || (after && !json_is_null(after))) {
        found(f, pointer, json_is_null(before) ? NULL : before, json_is_null(after) ? NULL : after);
    }
}

/* Puts the members of the JSON text under `inside` in its place. */
static void open_inside(json_t *row, const char *inside) {
    const char *text = inside ? json_string_value(json_object_get(row, inside)) : NULL;
    json_t *document = text ? json_loads(text, JSON_DECODE_ANY, NULL) : NULL;
    if (document) json_object_set_new(row, inside, document);
}

static enum status parse(const char *text, json_t **out, struct why *why) {
    if (!text) return OK;
    json_error_t error;
    *out = json_loads(text, JSON_DECODE_ANY, &error);
    return *out ? OK : why_say(why, E_SYNTAX, "", "This is not JSON: %s.", error.text);
}

enum status difference_find(const char *before, const char *after, const char *inside, size_t most,
                            struct arena *arena, struct difference_row **out_rows, size_t *out_n,
                            struct why *why) {
    json_t *b = NULL, *a = NULL;
    struct finder f = {.arena = arena, .most = most};
    f.rows = arena_array(arena, most + 1, sizeof *f.rows);
    enum status status = f.rows ? OK : why_no_memory(why);
    if (!status) status = parse(before, &b, why);
    if (!status) status = parse(after, &a, why);
    if (!status) {
        open_inside(b, inside);
        open_inside(a, inside);
        json_t *empty = json_object();
        bool both = (!b || json_is_object(b)) && (!a || json_is_object(a));
        compare(&f, "", b || !both ? b : empty, a || !both ? a : empty);
        json_decref(empty);
        if (f.failed) status = why_no_memory(why);
    }
    json_decref(b);
    json_decref(a);
    if (status) return status;
    *out_rows = f.rows, *out_n = f.n;
    return OK;
}
