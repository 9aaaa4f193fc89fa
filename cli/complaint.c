#include "cli/complaint.h"

#include "codec/document.h"

#include <stdio.h>

/* A character that was cut off is "...", a byte that is no text "?". */
static void put(const char *text, struct text *out) {
    while (*text) {
        size_t n = text_char(text);
        unsigned char c = (unsigned char)*text;
        if (n > 1 || (n == 1 && c >= ' ' && c != 0x7f) || c == '\n') {
            text_add(out, text, n);
            text += n;
            continue;
        }
        bool cut = c >= 0xc2 && c <= 0xf4;
        text_add(out, cut ? "..." : "?", cut ? 3 : 1);
        for (text++; cut && ((unsigned char)*text & 0xc0) == 0x80;) text++;
    }
}

void complain(enum status s, const struct why *why, bool json) {
    const char *text = why->text[0] ? why->text : status_text(s);
    struct text t = {0};
    if (json) {
        text_print(&t, "{\"error\":{\"code\":\"%s\",\"field\":", status_code(s));
        text_json(&t, why->field);
        text_print(&t, ",\"text\":");
        text_json(&t, text);
        text_print(&t, "}}\n");
    } else {
        put(why->field, &t);
        text_print(&t, "%s", why->field[0] ? ": " : "");
        put(text, &t);
        text_print(&t, "\n");
    }
    fputs(t.at ? t.at : "There is not enough memory.\n", stderr);
    text_free(&t);
}
