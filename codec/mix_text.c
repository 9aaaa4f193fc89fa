#include "codec/mix_text.h"

#include "codec/units_text.h"

#include <string.h>

enum { ITEMS_MAX = 16, ID_MAX = 64 };

static const char *past_spaces(const char *s) {
    while (*s == ' ' || *s == '\t') s++;
    return s;
}

static enum status bad(struct arena *arena, size_t i, struct why *why) {
    return why_say(why, E_SYNTAX, arena_print(arena, "/items/%zu", i),
                   "Write each paint as ID=PARTS with commas between: white=3,black=1.");
}

/* One item up to a comma or the end; *text goes past it. */
static enum status item_read(const char **text, size_t i, struct arena *arena, struct mix_item *out,
                             struct why *why) {
    char id[ID_MAX + 1], number[32];
    const char *s = past_spaces(*text), *equals = strchr(s, '=');
    size_t n = equals ? (size_t)(equals - s) : 0;
    while (n && s[n - 1] == ' ') n--;
    if (!n || n > ID_MAX || memchr(s, ',', n)) return bad(arena, i, why);
    memcpy(id, s, n);
    id[n] = 0;
    s = past_spaces(equals + 1);
    size_t k = strcspn(s, ",");
    if (k >= sizeof number) return bad(arena, i, why);
    memcpy(number, s, k);
    number[k] = 0;
    if (units_read(DIM_NONE, number, &out->parts, NULL)) return bad(arena, i, why);
    if (out->parts < 0)
        return why_say(why, E_DOMAIN, arena_print(arena, "/items/%zu", i),
                       "%g parts of %s: parts are 0 or more.", out->parts, id);
    out->paint = arena_text(arena, id);
    *text = s + k;
    return out->paint ? OK : why_no_memory(why);
}

enum status mix_text_read(const char *text, struct arena *arena, struct mix_item **out,
                          size_t *out_n, struct why *why) {
    struct mix_item *items = arena_array(arena, ITEMS_MAX, sizeof *items);
    if (!items) return why_no_memory(why);
    size_t n = 0;
    for (;; text++) {
        if (n == ITEMS_MAX)
            return why_say(why, E_TOO_LARGE, "/items", "A mix has at most %d paints.", ITEMS_MAX);
        enum status s = item_read(&text, n, arena, &items[n], why);
        if (s) return s;
        for (size_t i = 0; i < n; i++)
            if (!strcmp(items[i].paint, items[n].paint))
                return why_say(why, E_DUPLICATE, arena_print(arena, "/items/%zu", n),
                               "\"%s\" stands twice. Add its parts up.", items[n].paint);
        n++;
        if (*text != ',') break;
    }
    *out = items;
    *out_n = n;
    return OK;
}
