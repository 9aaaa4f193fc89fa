#include "codec/json_scan.h"

#include <stdio.h>
#include <string.h>

enum { DEPTH_MAX = 64, KEY_MAX = 48 };

struct level {
    bool list;
    size_t index;
    char key[KEY_MAX];
};

/* RFC 6901: ~ is ~0, / is ~1. A key that came in escaped or is too long is shown as it is written,
 * cut. */
static void point(const struct level *levels, size_t depth, char out[256]) {
    size_t n = 0;
    out[0] = 0;
    for (size_t i = 0; i < depth && i < DEPTH_MAX && n + 2 * KEY_MAX + 2 < 256; i++) {
        if (levels[i].list) {
            n += (size_t)snprintf(out + n, 256 - n, "/%zu", levels[i].index);
        } else if (levels[i].key[0]) {
            out[n++] = '/';
            for (const char *k = levels[i].key; *k; k++) {
                if (*k == '~' || *k == '/') {
                    out[n++] = '~';
                    out[n++] = *k == '~' ? '0' : '1';
                } else {
                    out[n++] = *k;
                }
            }
            out[n] = 0;
        }
    }
}

/* From the opening quote to behind the closing one. */
static size_t string_end(const char *text, size_t n, size_t i) {
    for (i++; i < n && text[i] != '"'; i++)
        if (text[i] == '\\') i++;
    return i < n ? i + 1 : n;
}

static void keep_key(struct level *l, const char *s, size_t n) {
    if (n > KEY_MAX - 1) n = KEY_MAX - 1;
    size_t k = 0;
    for (size_t i = 0; i < n; i++)
        if ((unsigned char)s[i] >= 0x20 && (unsigned char)s[i] < 0x7f) l->key[k++] = s[i];
    l->key[k] = 0;
}

void json_scan(const char *text, size_t n, size_t stop, size_t depth_max, struct json_place *out) {
    struct level levels[DEPTH_MAX];
    size_t depth = 0, i = 0;
    bool want_key = false;
    *out = (struct json_place){0};
    if (depth_max > DEPTH_MAX) depth_max = DEPTH_MAX;
    while (i < n && i < stop) {
        char c = text[i];
        if (c == '"') {
            size_t end = string_end(text, n, i);
            if (want_key && depth) {
                keep_key(&levels[depth - 1], text + i + 1, end > i + 2 ? end - i - 2 : 0);
                want_key = false;
            }
            if (end > stop) break;
            i = end;
            continue;
        }
        if (c == '{' || c == '[') {
            if (depth == depth_max) {
                out->too_deep = true;
                break;
            }
            levels[depth] = (struct level){.list = c == '['};
            want_key = c == '{';
            depth++;
        } else if ((c == '}' || c == ']') && depth) {
            depth--;
            want_key = false;
        } else if (c == ',' && depth) {
            want_key = !levels[depth - 1].list;
            levels[depth - 1].index++;
        }
        i++;
    }
    point(levels, depth, out->pointer);
    out->line = 1;
    size_t from = 0, at = i < stop ? i : stop;
    if (at > n) at = n;
    for (size_t k = 0; k < at; k++)
        if (text[k] == '\n') {
            out->line++;
            from = k + 1;
        }
    out->column = at - from + 1;
}
