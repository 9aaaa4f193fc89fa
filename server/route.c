#include "server/route.h"

#include "server/http_check.h"

#include <stdio.h>
#include <string.h>

static bool same_method(enum op_method a, enum http_method b) {
    static const enum http_method of[] = {[OP_GET] = HTTP_GET,
                                          [OP_POST] = HTTP_POST,
                                          [OP_PUT] = HTTP_PUT,
                                          [OP_PATCH] = HTTP_PATCH,
                                          [OP_DELETE] = HTTP_DELETE};
    return of[a] == b || (a == OP_GET && b == HTTP_HEAD);
}

/* A segment of a template that an argument stands in: "{id}", "{table}.csv". */
struct slot {
    size_t name_n, tail_n; /* letters of its name; of what stands behind it in every address */
};

static struct slot slot_of(const char *segment, size_t n) {
    size_t name_n = strcspn(segment + 1, "}");
    return (struct slot){name_n, n - name_n - 2};
}

static bool fills(const char *segment, size_t n, const char *path, size_t k) {
    struct slot slot = slot_of(segment, n);
    return k > slot.tail_n &&
           !memcmp(segment + n - slot.tail_n, path + k - slot.tail_n, slot.tail_n);
}

/* One segment of a template against one of a path, then the rest; *weight counts the segments that
 * are equal word for word, so that /api/pieces/next wins over /api/pieces/{id}. */
static bool matches(const char *pattern, const char *path, int *weight) {
    *weight = 0;
    while (*pattern == '/' && *path == '/') {
        size_t n = strcspn(++pattern, "/"), k = strcspn(++path, "/");
        if (pattern[0] == '{') {
            if (!fills(pattern, n, path, k)) return false;
        } else {
            if (n != k || memcmp(pattern, path, n)) return false;
            ++*weight;
        }
        pattern += n;
        path += k;
    }
    return !*pattern && !*path;
}

const struct op *route_find(enum http_method method, const char *path, char out_allowed[64]) {
    const struct op *best = NULL;
    int best_weight = -1, weight;
    size_t n;
    const struct ops *const *all = ops_all(&n);
    out_allowed[0] = 0;
    for (size_t i = 0; i < n; i++)
        for (size_t k = 0; k < all[i]->n; k++) {
            const struct op *op = &all[i]->rows[k];
            if (!op->path || (op->flags & OP_CLI_ONLY) || !matches(op->path, path, &weight))
                continue;
            const char *name = op_method_name(op->method);
            size_t used = strlen(out_allowed);
            if (!strstr(out_allowed, name))
                snprintf(out_allowed + used, 64 - used, "%s%s", used ? ", " : "", name);
            if (!same_method(op->method, method) || weight <= best_weight) continue;
            best = op;
            best_weight = weight;
        }
    return best;
}

static enum status put(const struct op *op, const char *name, const char *value,
                       struct arena *arena, void *args, struct why *why) {
    char field[FIELD_KEY_MAX + 2];
    const struct field *f = op->args ? field_by_key(op->args, SPELL_INPUT, name) : NULL;
    if (f && !(f->flags & FLAG_PATH)) return field_read(f, value, arena, args, why); /* no files */
    snprintf(field, sizeof field, "/%.*s", FIELD_KEY_MAX, name);
    return why_say(why, E_UNKNOWN_KEY, field, "\"%.40s\" is not an argument of \"%s\".", name,
                   op->name);
}

static enum status from_path(const struct op *op, const char *path, struct arena *arena, void *args,
                             struct why *why) {
    enum status s = OK;
    const char *pattern = op->path;
    while (s == OK && *pattern == '/') {
        size_t n = strcspn(++pattern, "/"), k = strcspn(++path, "/");
        if (pattern[0] == '{') {
            struct slot slot = slot_of(pattern, n);
            char *name = arena_print(arena, "%.*s", (int)slot.name_n, pattern + 1);
            char *value = arena_print(arena, "%.*s", (int)(k - slot.tail_n), path);
            if (!name || !value) return why_no_memory(why);
            s = put(op, name, value, arena, args, why);
        }
        pattern += n;
        path += k;
    }
    return s;
}

static enum status from_query(const struct op *op, const char *query, struct arena *arena,
                              void *args, struct why *why) {
    enum status s = OK;
    for (const char *q = query; s == OK && *q;) {
        size_t n = strcspn(q, "&"), k = strcspn(q, "=&");
        char *name = arena_take(arena, k + 1), *value = arena_take(arena, n + 1);
        if (!name || !value) return why_no_memory(why);
        if (!http_unescape(q, k, name) || (k < n && !http_unescape(q + k + 1, n - k - 1, value)))
            return why_say(why, E_SYNTAX, "", "The query is not well formed.");
        if (k) s = put(op, name, value, arena, args, why);
        q += n + (q[n] == '&');
    }
    return s;
}

/* "{}": clients that always send a body send it to operations without arguments too. */
static bool says_nothing(const char *body) {
    static const char blank[] = " \t\r\n";
    const char *at = body + strspn(body, blank);
    if (*at++ != '{') return !at[-1];
    at += strspn(at, blank);
    if (*at++ != '}') return false;
    return !at[strspn(at, blank)];
}

enum status route_args(const struct op *op, const struct http_request *request, struct arena *arena,
                       void *args, struct why *why) {
    enum status s = OK;
    bool file = op->flags & OP_FILE, whole = op->flags & OP_WHOLE;
    if (request->body_n && !op->args && !says_nothing(request->body))
        return why_say(why, E_UNKNOWN_KEY, "", "\"%s\" takes no body.", op->name);
    if (file && !request->body_n)
        return why_say(why, E_MISSING, "/photo", "Send the picture itself as the body.");
    if (whole && !request->body_n)
        return why_say(why, E_MISSING, "/export", "Send the export itself as the body.");
    if (request->body_n && file != !http_is_json(request))
        return why_say(why, E_TYPE, "",
                       file ? "Send the picture itself, as image/jpeg or the like."
                            : "Send the body as Content-Type: application/json.");
    if (request->body_n && !file && !whole && op->args)
        s = document_read_args(op->args, request->body, request->body_n, arena, args, why);
    if (s == OK) s = from_query(op, request->query, arena, args, why);
    if (s == OK) s = from_path(op, request->path, arena, args, why);
    if (s == OK && op->args) s = desc_complete(op->args, args, why);
    return s;
}
