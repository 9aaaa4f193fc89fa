/* Inside of codec/spectrum_*.c: a file as rows of words, before anything is a number. */
#ifndef CODEC_SPECTRUM_TABLE_H
#define CODEC_SPECTRUM_TABLE_H

#include "codec/spectrum_text.h"

struct table_row {
    size_t line;       /* of the file, from 1 */
    const char **cell; /* [fields_n of its table] */
};

struct spectrum_table {
    const char **field; /* names of the fields */
    size_t fields_n;
    struct table_row *row;
    size_t rows_n;
    bool d65; /* Lab is under D65 */
};

enum { SPECTRUM_TABLES_MAX = 16 };

struct spectrum_tables {
    struct spectrum_table table[SPECTRUM_TABLES_MAX];
    size_t n;
    int64_t in_row;
};

/* Fills the tables of a CGATS text; errors as spectrum_text_read. */
enum status spectrum_cgats_read(const char *text, const char *end, struct arena *arena,
                                struct spectrum_tables *out, struct why *why);
/* The one table of a CSV text; one that has a row a wavelength is turned on its side. */
enum status spectrum_csv_read(const char *text, const char *end, struct arena *arena,
                              struct spectrum_tables *out, struct why *why);

/* "/lines/12" in front, "Line 12: " and the text. */
enum status spectrum_line_say(struct why *why, enum status s, size_t line, const char *fmt, ...)
    __attribute__((format(printf, 4, 5)));

/* Wavelength in nm that the name of a field says; 0: it says none. */
double spectrum_field_nm(const char *name);
/* A whole word as a number: "12.5", "12.5%"; false when it is none. */
bool spectrum_number(const char *word, double *out);

#endif
