/* Words wrapped to the page that they stand on. */
#ifndef CODEC_TEXT_WRAP_H
#define CODEC_TEXT_WRAP_H

#include "codec/document.h"

/* Columns of the page; 80 where nobody said another width. */
size_t text_width(const struct text *page);

/* Columns that the first n bytes of a UTF-8 text take, one a character. */
size_t text_columns(const char *text, size_t n);

/* Words from column `at`, where the pen stands, further lines from column `indent`; blanks between
 * words become one, a line ends behind the last. words NULL: there was no memory for them, and out
 * fails. */
void text_wrap(struct text *out, size_t at, size_t indent, const char *words);

/* The same of what is printed. */
void text_wrap_print(struct text *out, size_t at, size_t indent, const char *fmt, ...)
    __attribute__((format(printf, 4, 5)));

/* Words in a column so wide, at its left or its right edge; longer ones stand as they are. */
void text_left(struct text *out, size_t columns, const char *words);
void text_right(struct text *out, size_t columns, const char *words);

/* Bytes of the first sentence, its stop included: what to do, before the reasons. */
size_t text_sentence(const char *text);

#endif
