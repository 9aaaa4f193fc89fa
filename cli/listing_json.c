#include "cli/listing_json.h"

#include "codec/json_outline.h"

/* Names beside each other at one depth are one column. */
static size_t name_width(const struct outline *o, size_t i) {
    size_t depth = o->lines[i].depth, most = 0;
    while (i > 0 && o->lines[i - 1].depth == depth && o->lines[i - 1].name) i--;
    for (; i < o->n && o->lines[i].depth == depth && o->lines[i].name; i++) {
        size_t n = o->lines[i].value ? paper_columns(o->lines[i].name) : 0;
        if (n > most) most = n;
    }
    return most;
}

void listing_json(struct paper *p, const char *text, size_t indent) {
    struct outline o;
    json_outline(text, &o);
    for (size_t i = 0; i < o.n; i++) {
        const struct outline_line *l = &o.lines[i];
        size_t at = indent + 2 * l->depth, hang = at + 2;
        if (l->name || l->value) paper_blanks(p, at);
        if (l->name && l->value) {
            hang = at + name_width(&o, i) + 2;
            paper_faint(p, l->name);
            paper_blanks(p, hang - at - paper_columns(l->name));
        } else if (l->name) {
            paper_bold(p, l->name);
        }
        if (l->value)
            paper_wrap(p, l->name ? hang : at, &(struct paper_style){.indent = hang}, l->value);
        else
            text_add(&p->out, "\n", 1);
    }
    json_outline_free(&o);
}
