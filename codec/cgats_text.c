#include "codec/cgats_text.h"

#include <math.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

enum { COLUMNS_MAX = 256, WORD_MAX = 200 };
enum { NAME, ID, LOC, LAB, XYZ = LAB + 3, KNOWN = XYZ + 3 };

struct reader {
    const char *at;
    int line;
    struct arena *arena;
    struct why *why;
    char word[WORD_MAX];
    int column[KNOWN]; /* where it stands in a row; -1: nowhere */
    int columns;
};

static enum status fail(const struct reader *r, enum status s, const char *what) {
    return why_say(r->why, s, "", "Line %d: %s", r->line, what);
}

/* The next word, quoted or plain; false at the end. Comments run from # to the line's end. */
static bool next(struct reader *r) {
    size_t n = 0;
    for (;; r->at++) {
        if (*r->at == '#')
            while (r->at[1] && r->at[1] != '\n') r->at++;
        else if (*r->at == '\n')
            r->line++;
        else if (!strchr(" \t\r", *r->at) || !*r->at)
            break;
    }
    if (!*r->at) return false;
    bool quoted = *r->at == '"';
    r->at += quoted;
    const char *ends = quoted ? "\"\n" : " \t\r\n";
    for (; *r->at && !strchr(ends, *r->at); r->at++)
        if (n < WORD_MAX - 1) /* names are of any make; ASCII is kept */
            r->word[n++] = *r->at >= 0x20 && *r->at < 0x7f ? *r->at : '?';
    if (quoted && *r->at == '"') r->at++;
    r->word[n] = 0;
    return true;
}

static bool is(const struct reader *r, const char *word) {
    return !strcmp(r->word, word);
}

static enum status read_columns(struct reader *r) {
    static const char *const known[KNOWN] = {"SAMPLE_NAME", "SAMPLE_ID", "SAMPLE_LOC",
                                             "LAB_L",       "LAB_A",     "LAB_B",
                                             "XYZ_X",       "XYZ_Y",     "XYZ_Z"};
    for (r->columns = 0;; r->columns++) {
        if (!next(r)) return fail(r, E_SYNTAX, "END_DATA_FORMAT is missing.");
        if (is(r, "END_DATA_FORMAT")) return OK;
        if (r->columns == COLUMNS_MAX) return fail(r, E_TOO_LARGE, "too many columns.");
        for (int k = 0; k < KNOWN; k++)
            if (is(r, known[k])) r->column[k] = r->columns;
    }
}

static bool number(const char *text, double *out) {
    char *end;
    *out = strtod(text, &end);
    return end > text && !*end && isfinite(*out);
}

/* One row; *out_end: there was none. */
static enum status read_row(struct reader *r, size_t row, struct cgats_patch *out, bool *out_end) {
    bool lab = r->column[LAB] >= 0;
    double v[3];
    *out_end = false;
    out->name = NULL;
    for (int c = 0; c < r->columns; c++) {
        if (!next(r)) return fail(r, E_SYNTAX, "END_DATA is missing.");
        if (is(r, "END_DATA")) {
            *out_end = !c;
            return c ? fail(r, E_SYNTAX, "the last row is not complete.") : OK;
        }
        for (int k = NAME; k <= LOC; k++) /* the better name stands first in the list */
            if (r->column[k] == c && (!out->name || k < ID))
                out->name = arena_text(r->arena, r->word);
        for (int k = 0; k < 3; k++)
            if (r->column[(lab ? LAB : XYZ) + k] == c && !number(r->word, &v[k]))
                return fail(r, E_SYNTAX, "a color has something in it that is not a number.");
    }
    if (!out->name) out->name = arena_print(r->arena, "patch %zu", row + 1);
    struct xyz xyz = {v[0] / 100, v[1] / 100, v[2] / 100};
    struct lab color = lab ? (struct lab){v[0], v[1], v[2]} : lab_of_xyz(xyz, XYZ_D50);
    out->lab[0] = color.l, out->lab[1] = color.a, out->lab[2] = color.b;
    return out->name ? OK : fail(r, E_MEMORY, "there is not enough memory.");
}

static bool has(const struct reader *r, int first) {
    return r->column[first] >= 0 && r->column[first + 1] >= 0 && r->column[first + 2] >= 0;
}

static enum status read_rows(struct reader *r, struct cgats_patch **out, size_t *out_n) {
    struct cgats_patch *rows = arena_array(r->arena, CGATS_PATCHES_MAX, sizeof *rows), one;
    size_t n = 0;
    if (!rows) return fail(r, E_MEMORY, "there is not enough memory.");
    if (!has(r, LAB)) r->column[LAB] = -1;
    if (!has(r, LAB) && !has(r, XYZ))
        return fail(r, E_MISSING, "the chart has no LAB_L LAB_A LAB_B and no XYZ_X XYZ_Y XYZ_Z.");
    for (;;) {
        bool end;
        enum status s = read_row(r, n, &one, &end);
        if (s) return s;
        if (end) break;
        if (n == CGATS_PATCHES_MAX) return fail(r, E_TOO_LARGE, "more than 256 patches.");
        rows[n++] = one;
    }
    if (!n) return fail(r, E_MISSING, "the chart has no patches.");
    *out = rows;
    *out_n = n;
    return OK;
}

enum status cgats_read(const char *text, struct arena *arena, struct cgats_patch **out,
                       size_t *out_n, int64_t *out_in_row, struct why *why) {
    struct reader r = {.at = text, .line = 1, .arena = arena, .why = why};
    int64_t in_row = INT64_MIN;
    enum status s = OK;
    for (int k = 0; k < KNOWN; k++) r.column[k] = -1;
    while (!s && next(&r)) {
        if (is(&r, "BEGIN_DATA_FORMAT")) {
            s = read_columns(&r);
        } else if (is(&r, "LGOROWLENGTH") && next(&r)) {
            in_row = strtoll(r.word, NULL, 10);
        } else if (is(&r, "BEGIN_DATA")) {
            s = r.columns ? read_rows(&r, out, out_n)
                          : fail(&r, E_SYNTAX, "BEGIN_DATA stands before its columns.");
            if (!s) *out_in_row = in_row >= 1 && in_row <= CGATS_PATCHES_MAX ? in_row : INT64_MIN;
            return s;
        }
    }
    return s ? s : why_say(why, E_SYNTAX, "", "This is not a chart in CGATS text: no BEGIN_DATA.");
}
