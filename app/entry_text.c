#include "app/entry_text.h"

#include <string.h>

enum { ID_MAX = 20, GAP = 2 };

size_t entry_column(size_t at, const char *id) {
    size_t w = text_columns(id, strlen(id));
    if (w > ID_MAX) w = ID_MAX;
    return w + GAP > at ? w + GAP : at;
}

void entry_print(struct text *out, size_t at, const char *id, const char *title, const char *line) {
    size_t w = text_columns(id, strlen(id)), gap = w < at ? at - w : GAP;
    text_print(out, "%s%*s", id, (int)gap, "");
    text_wrap(out, w + gap, at, title ? title : id);
    text_print(out, "%*s", (int)at, "");
    text_wrap(out, at, at, line);
}
