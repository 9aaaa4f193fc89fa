/* A page of plain characters: wrapped to the terminal's width, emphasis only where a person looks.
 */
#ifndef CLI_PAPER_H
#define CLI_PAPER_H

#include "codec/document.h"

struct paper {
    struct text out;
    size_t width;  /* columns, 48..110 */
    bool emphasis; /* the terminal understands bold and faint */
    bool swatches; /* and 24 bit colors */
};

/* Looks at the terminal behind a file descriptor, COLUMNS, TERM, NO_COLOR, COLORTERM. */
void paper_for(struct paper *p, int fd);

/* Columns that a UTF-8 text takes (one a character). */
size_t paper_columns(const char *text);

void paper_blanks(struct paper *p, size_t n);
void paper_line(struct paper *p, const char *fmt, ...) __attribute__((format(printf, 2, 3)));
void paper_bold(struct paper *p, const char *text);
void paper_faint(struct paper *p, const char *text);
void paper_swatch(struct paper *p, const char *hex); /* two cells of #rrggbb, or nothing */

/* Words of text from column `at` (where the pen is now) to the right edge, further lines begin at
 * column `indent`, each with `bar` in front if it is not NULL. Ends with a new line. Newlines in
 * the text are kept. */
struct paper_style {
    size_t indent, right;  /* right: columns kept free at the edge */
    const char *bar, *end; /* in front of and behind every line, inside the indent and right edge */
    bool faint;
};
void paper_wrap(struct paper *p, size_t at, const struct paper_style *style, const char *text);

#endif
