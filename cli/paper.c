#include "cli/paper.h"

#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <unistd.h>

enum { NARROW = 48, WIDE = 110, USUAL = 80 };

void paper_for(struct paper *p, int fd) {
    struct winsize w = {0};
    const char *columns = getenv("COLUMNS"), *term = getenv("TERM"), *depth = getenv("COLORTERM");
    long n = columns ? strtol(columns, NULL, 10) : 0;
    *p = (struct paper){0};
    if (n <= 0 && ioctl(fd, TIOCGWINSZ, &w) == 0) n = w.ws_col;
    if (n <= 0) n = USUAL;
    p->width = (size_t)(n < NARROW ? NARROW : n > WIDE ? WIDE : n);
    bool plain = !isatty(fd) || !term || !strcmp(term, "dumb");
    p->emphasis = !plain;
    p->swatches = !plain && !getenv("NO_COLOR") && depth &&
                  (!strcmp(depth, "truecolor") || !strcmp(depth, "24bit"));
}

size_t paper_columns(const char *text) {
    size_t n = 0;
    for (; *text; text++) n += ((unsigned char)*text & 0xc0) != 0x80;
    return n;
}

void paper_blanks(struct paper *p, size_t n) {
    while (n--) text_add(&p->out, " ", 1);
}

void paper_line(struct paper *p, const char *fmt, ...) {
    char line[1024];
    va_list ap;
    va_start(ap, fmt);
    vsnprintf(line, sizeof line, fmt, ap);
    va_end(ap);
    text_add(&p->out, line, strlen(line));
    text_add(&p->out, "\n", 1);
}

static void styled(struct paper *p, const char *code, const char *text) {
    if (p->emphasis)
        text_print(&p->out, "\033[%sm%s\033[0m", code, text);
    else
        text_add(&p->out, text, strlen(text));
}

void paper_bold(struct paper *p, const char *text) {
    styled(p, "1", text);
}
void paper_faint(struct paper *p, const char *text) {
    styled(p, "2", text);
}

void paper_swatch(struct paper *p, const char *hex) {
    unsigned r, g, b;
    if (p->swatches && sscanf(hex, "#%2x%2x%2x", &r, &g, &b) == 3)
        text_print(&p->out, "\033[48;2;%u;%u;%um  \033[0m ", r, g, b);
}

/* The longest beginning of text that fits `room` columns and ends at a blank; a word longer than
 * the line is cut. */
static size_t line_bytes(const char *text, size_t room) {
    size_t columns = 0, blank = 0, i = 0;
    for (; text[i] && text[i] != '\n'; i++) {
        bool begins = ((unsigned char)text[i] & 0xc0) != 0x80;
        if (begins && columns == room) {
            if (text[i] == ' ') return i;
            return blank ? blank : i;
        }
        columns += begins;
        if (text[i] == ' ') blank = i;
    }
    return i;
}

void paper_wrap(struct paper *p, size_t at, const struct paper_style *style, const char *text) {
    size_t edge = p->width - style->right - (style->end ? paper_columns(style->end) : 0);
    size_t bar = style->bar ? paper_columns(style->bar) : 0;
    bool first = true;
    do {
        if (!first) {
            paper_blanks(p, style->indent - bar);
            if (style->bar) text_add(&p->out, style->bar, strlen(style->bar));
            at = style->indent;
        }
        size_t n = line_bytes(text, edge > at + 8 ? edge - at : 8);
        char piece[512];
        snprintf(piece, sizeof piece, "%.*s", (int)(n < 511 ? n : 511), text);
        if (style->faint)
            paper_faint(p, piece);
        else
            text_add(&p->out, piece, strlen(piece));
        if (style->end) {
            size_t used = at + paper_columns(piece);
            if (used < edge) paper_blanks(p, edge - used);
            text_add(&p->out, style->end, strlen(style->end));
        }
        text_add(&p->out, "\n", 1);
        text += n;
        while (*text == ' ') text++;
        if (*text == '\n') text++;
        first = false;
    } while (*text);
}
