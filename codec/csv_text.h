/* Comma-separated text. Source: RFC 4180 (lines end with CR LF; fields with a comma, a quotation
 * mark or a line end stand in quotation marks, quotation marks inside are doubled). */
#ifndef CODEC_CSV_TEXT_H
#define CODEC_CSV_TEXT_H

#include "codec/document.h"

/* Appends one field; NULL is an empty one. first: it begins its line. What a spreadsheet would take
 * for a formula (a client called "=1+1") gets an apostrophe in front, which makes it a text there.
 * Source: OWASP, CSV Injection (the signs that begin a formula). */
void csv_field(struct text *t, const char *value, bool first);
void csv_number(struct text *t, double value, bool first);   /* NAN: empty */
void csv_integer(struct text *t, int64_t value, bool first); /* INT64_MIN: empty */
void csv_end(struct text *t);

/* Reads one record.
 *
 *   at          where to read; moved behind the record (and its line end)
 *   end         end of the text
 *   between     what divides the fields: a comma; a semicolon or a tab in other people's files
 *   out_fields  [max]; texts in the arena
 *   out_n       fields of the record; 0 at the end of the text
 *
 * A bare LF ends a line too; what stands after a closing quotation mark must be that or an end.
 * Errors: E_SYNTAX (a quotation mark is not closed or stands in the middle), E_TOO_LARGE (more than
 * max fields), E_MEMORY. */
enum status csv_read(const char **at, const char *end, char between, size_t max,
                     struct arena *arena, const char **out_fields, size_t *out_n, struct why *why);

#endif
