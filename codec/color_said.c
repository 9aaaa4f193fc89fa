#include "codec/color_said.h"

#include "codec/color_text.h"

#include <math.h>

enum status color_said_read(const char *text, struct arena *arena, struct color_said *out,
                            struct why *why) {
    struct lab c;
    enum status s = color_read(text, &c, why);
    if (s != OK) return s;
    const char *copy = arena_text(arena, text);
    if (!copy) return why_no_memory(why);
    *out = (struct color_said){copy, {c.l, c.a, c.b}};
    return OK;
}

bool color_said_hex(const struct color_said *c, char out[8]) {
    if (!isfinite(c->lab[0]) || !isfinite(c->lab[1]) || !isfinite(c->lab[2])) return false;
    color_print_hex((struct lab){c->lab[0], c->lab[1], c->lab[2]}, out);
    return true;
}
