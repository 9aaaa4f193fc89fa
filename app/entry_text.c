#include "app/entry_text.h"

#include <string.h>

enum { ID_MAX = 20, GAP = 2 };

size_t entry_column(size_t at, const char *id) {
    size_t w = text_columns(id, strlen(id));
    if (w > ID_MAX) w = ID_MAX;
    return w + GAP > at ? w + GAP : at;
}

void entry_print(struct text *out, size_t at, const char *id, const char *title, const char *line) {
    size_t w = text_columns(id, strlen(id));
    bool beside = w < at;
    text_print(out, "%s%s%*s", id, beside ? "" : "\n", (int)(beside ? at - w : at), "");
    text_wrap(out, at, at, title ? title : id);
    if (!*line) return;
    text_print(out, "%*s", (int)at, "");
    text_wrap(out, at, at, line);
}

const char *entry_sentences(struct arena *a, const char *const *parts, size_t n) {
    const char *text = "";
    for (size_t i = 0; text && i < n; i++) {
        size_t end = parts[i] ? strlen(parts[i]) : 0;
        if (end)
            text = arena_print(a, "%s%s%s%s", text, *text ? " " : "", parts[i],
                               parts[i][end - 1] == '.' ? "" : ".");
    }
    return text;
}

const char *entry_words(struct arena *a, const char *word) {
    char *text = arena_print(a, "%s", word ? word : "");
    for (char *at = text; at && *at; at++)
        if (*at == '_') *at = ' ';
    if (text && *text >= 'a' && *text <= 'z') *text = (char)(*text - 'a' + 'A');
    return text ? text : "";
}
