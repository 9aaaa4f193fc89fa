/* Comma-separated reflectance: a row a sample, or a row a wavelength. */
#include "codec/csv_text.h"
#include "codec/spectrum_table.h"

#include <string.h>

struct lines {
    struct table_row *row;
    size_t *cells; /* of each row */
    size_t n;
};

/* What divides the fields: the one of comma, semicolon, tab that the first line has. */
static char divider(const char *text, const char *end) {
    while (text < end && *text == '#') {
        while (text < end && *text != '\n') text++;
        if (text < end) text++;
    }
    for (const char *p = text; p < end && *p != '\n' && *p != '\r'; p++)
        if (*p == ';' || *p == '\t' || *p == ',') return *p;
    return ',';
}

static void trim(const char **cell) {
    const char *p = *cell;
    while (*p == ' ' || *p == '\t') p++;
    size_t n = strlen(p);
    *cell = p;
    while (n && (p[n - 1] == ' ' || p[n - 1] == '\t' || p[n - 1] == '\r')) n--;
    ((char *)(uintptr_t)p)[n] = 0; /* the arena's own copy */
}

static enum status lines_read(const char *text, const char *end, struct arena *arena,
                              struct lines *out, struct why *why) {
    const size_t most = SPECTRUM_SAMPLES_MAX + 1;
    const char by = divider(text, end), **field, *at = text;
    size_t line = 1;
    out->row = arena_array(arena, most, sizeof *out->row);
    out->cells = arena_array(arena, most, sizeof *out->cells);
    field = arena_array(arena, SPECTRUM_FIELDS_MAX, sizeof *field);
    if (!out->row || !out->cells || !field) return why_no_memory(why);
    while (at < end) {
        const char *before = at;
        size_t n, begun = line;
        struct why inner = {0};
        enum status s = csv_read(&at, end, by, SPECTRUM_FIELDS_MAX, arena, field, &n, &inner);
        if (s == E_MEMORY) return why_no_memory(why);
        if (s) return spectrum_line_say(why, s, line, "%s", inner.text);
        for (const char *p = before; p < at; p++) line += *p == '\n';
        for (size_t i = 0; i < n; i++) trim(&field[i]);
        while (n && !*field[n - 1]) n--; /* empty fields at the end say nothing */
        if (!n || *field[0] == '#') continue;
        if (out->n == most)
            return spectrum_line_say(why, E_TOO_LARGE, begun, "more than %zu rows.", most);
        const char **cell = arena_array(arena, n, sizeof *cell);
        if (!cell) return why_no_memory(why);
        memcpy(cell, field, n * sizeof *cell);
        out->row[out->n] = (struct table_row){begun, cell};
        out->cells[out->n++] = n;
    }
    return OK;
}

static size_t wavelengths_in(const struct lines *l, size_t row) {
    size_t n = 0;
    for (size_t i = 0; i < l->cells[row]; i++) n += spectrum_field_nm(l->row[row].cell[i]) > 0;
    return n;
}

/* A row a sample: the header's names are the fields. */
static enum status by_rows(const struct lines *l, struct spectrum_table *t, struct why *why) {
    t->field = l->row[0].cell;
    t->fields_n = l->cells[0];
    t->row = l->row + 1;
    t->rows_n = l->n - 1;
    for (size_t i = 1; i < l->n; i++)
        if (l->cells[i] != t->fields_n)
            return spectrum_line_say(why, E_SYNTAX, l->row[i].line,
                                     "%zu values, but the header names %zu fields.", l->cells[i],
                                     t->fields_n);
    return OK;
}

/* A row a wavelength: turned on its side, so that each column becomes a row. */
static enum status by_columns(const struct lines *l, struct arena *arena, struct spectrum_table *t,
                              struct why *why) {
    const bool headed = !(spectrum_field_nm(l->row[0].cell[0]) > 0);
    const size_t first = headed, columns = l->cells[first], n = l->n - first;
    if (n > SPECTRUM_VALUES_MAX)
        return spectrum_line_say(why, E_TOO_LARGE, l->row[l->n - 1].line,
                                 "more than %d wavelengths.", SPECTRUM_VALUES_MAX);
    t->fields_n = n + 1;
    t->rows_n = columns - 1;
    t->field = arena_array(arena, t->fields_n, sizeof *t->field);
    t->row = arena_array(arena, t->rows_n, sizeof *t->row);
    if (!t->field || !t->row) return why_no_memory(why);
    t->field[0] = "SAMPLE_NAME";
    for (size_t c = 0; c < t->rows_n; c++) {
        const bool named = headed && c + 1 < l->cells[0] && *l->row[0].cell[c + 1];
        const char *number = arena_print(arena, "%zu", c + 1);
        t->row[c] = (struct table_row){l->row[first].line,
                                       arena_array(arena, t->fields_n, sizeof *t->row[c].cell)};
        if (!number || !t->row[c].cell) return why_no_memory(why);
        t->row[c].cell[0] = named ? l->row[0].cell[c + 1] : number;
    }
    for (size_t i = 0; i < n; i++) {
        const struct table_row *r = &l->row[first + i];
        if (l->cells[first + i] != columns)
            return spectrum_line_say(why, E_SYNTAX, r->line, "%zu values, but %zu before.",
                                     l->cells[first + i], columns);
        t->field[i + 1] = r->cell[0];
        if (!(spectrum_field_nm(r->cell[0]) > 0))
            return spectrum_line_say(why, E_SYNTAX, r->line,
                                     "\"%.40s\" is no wavelength. Write nanometers: 400.",
                                     r->cell[0]);
        for (size_t c = 0; c < t->rows_n; c++) t->row[c].cell[i + 1] = r->cell[c + 1];
    }
    return OK;
}

enum status spectrum_csv_read(const char *text, const char *end, struct arena *arena,
                              struct spectrum_tables *out, struct why *why) {
    struct lines l = {0};
    enum status s = lines_read(text, end, arena, &l, why);
    if (s) return s;
    if (!l.n) return why_say(why, E_MISSING, "", "The file is empty.");
    out->n = 1;
    if (wavelengths_in(&l, 0) >= 2) return by_rows(&l, &out->table[0], why);
    const size_t data = l.n > 1 ? 1 : 0;
    if (l.cells[data] >= 2 && spectrum_field_nm(l.row[data].cell[0]) > 0)
        return by_columns(&l, arena, &out->table[0], why);
    return spectrum_line_say(why, E_SYNTAX, l.row[0].line,
                             "neither a CGATS file nor a table with wavelengths. Write a header "
                             "like name,400,410,...,700 or rows like 400,0.052.");
}
