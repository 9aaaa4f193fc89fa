/* The keyword layout of CGATS.17 and ISO 28178. */
#include "codec/spectrum_table.h"

#include <ctype.h>
#include <string.h>
#include <strings.h>

struct word {
    const char *text; /* NULL at the end of the file */
    size_t line;
    bool quoted;
};

struct scan {
    const char *at, *end;
    size_t line;
    struct arena *arena;
};

/* Moves behind blanks, line ends and comments. */
static void skip(struct scan *s) {
    for (; s->at < s->end; s->at++) {
        if (*s->at == '#')
            while (s->at + 1 < s->end && s->at[1] != '\n' && s->at[1] != '\r') s->at++;
        else if (*s->at == '\n' || (*s->at == '\r' && !(s->at + 1 < s->end && s->at[1] == '\n')))
            s->line++;
        else if (!isspace((unsigned char)*s->at) && *s->at)
            return;
    }
}

static enum status next(struct scan *s, struct word *out, struct why *why) {
    skip(s);
    *out = (struct word){.line = s->line};
    if (s->at == s->end) return OK;
    char *copy;
    const char *from = s->at;
    size_t n = 0;
    if (*s->at == '"') {
        out->quoted = true;
        for (s->at++;; s->at++) {
            if (s->at == s->end || *s->at == '\n' || *s->at == '\r')
                return spectrum_line_say(why, E_SYNTAX, s->line,
                                         "a quotation mark is not closed on its line.");
            if (*s->at == '"' && !(s->at + 1 < s->end && s->at[1] == '"')) break;
            if (*s->at == '"') s->at++;
        }
        copy = arena_take(s->arena, (size_t)(s->at - from));
        if (!copy) return why_no_memory(why);
        for (const char *p = from + 1; p < s->at; p++) {
            copy[n++] = *p;
            if (*p == '"') p++;
        }
        s->at++;
    } else {
        while (s->at < s->end && *s->at && !isspace((unsigned char)*s->at)) s->at++;
        n = (size_t)(s->at - from);
        copy = arena_take(s->arena, n + 1);
        if (!copy) return why_no_memory(why);
        memcpy(copy, from, n);
    }
    copy[n] = 0;
    out->text = copy;
    return OK;
}

static bool is(const struct word *w, const char *keyword) {
    return w->text && !w->quoted && !strcasecmp(w->text, keyword);
}

static enum status fields_read(struct scan *s, size_t begun, struct spectrum_table *t,
                               struct why *why) {
    struct word w;
    t->field = arena_array(s->arena, SPECTRUM_FIELDS_MAX, sizeof *t->field);
    if (!t->field) return why_no_memory(why);
    for (t->fields_n = 0;;) {
        enum status st = next(s, &w, why);
        if (st) return st;
        if (!w.text)
            return spectrum_line_say(why, E_SYNTAX, begun,
                                     "BEGIN_DATA_FORMAT has no END_DATA_FORMAT behind it.");
        if (is(&w, "END_DATA_FORMAT")) break;
        if (t->fields_n == SPECTRUM_FIELDS_MAX)
            return spectrum_line_say(why, E_TOO_LARGE, w.line, "more than %d fields.",
                                     SPECTRUM_FIELDS_MAX);
        t->field[t->fields_n++] = w.text;
    }
    if (!t->fields_n)
        return spectrum_line_say(why, E_MISSING, begun, "the data format names no field.");
    return OK;
}

/* Sets of values run on over lines; one that is short of a value is named by its first line. */
static enum status rows_read(struct scan *s, size_t begun, struct spectrum_table *t,
                             struct why *why) {
    struct word w;
    size_t cap = 64, column = 0;
    if (!t->fields_n)
        return spectrum_line_say(why, E_SYNTAX, begun,
                                 "BEGIN_DATA stands before any BEGIN_DATA_FORMAT.");
    t->row = arena_array(s->arena, cap, sizeof *t->row);
    if (!t->row) return why_no_memory(why);
    for (;;) {
        enum status st = next(s, &w, why);
        if (st) return st;
        if (!w.text)
            return spectrum_line_say(why, E_SYNTAX, begun, "BEGIN_DATA has no END_DATA behind it.");
        if (is(&w, "END_DATA")) break;
        if (!column) {
            if (t->rows_n == SPECTRUM_SAMPLES_MAX)
                return spectrum_line_say(why, E_TOO_LARGE, w.line, "more than %d samples.",
                                         SPECTRUM_SAMPLES_MAX);
            if (t->rows_n == cap) {
                struct table_row *more = arena_array(s->arena, cap * 2, sizeof *more);
                if (!more) return why_no_memory(why);
                memcpy(more, t->row, cap * sizeof *more);
                t->row = more;
                cap *= 2;
            }
            const char **cell = arena_array(s->arena, t->fields_n, sizeof *cell);
            if (!cell) return why_no_memory(why);
            t->row[t->rows_n++] = (struct table_row){w.line, cell};
        }
        t->row[t->rows_n - 1].cell[column] = w.text;
        column = (column + 1) % t->fields_n;
    }
    if (column)
        return spectrum_line_say(why, E_SYNTAX, t->row[t->rows_n - 1].line,
                                 "the last set of values has %zu of %zu; %s is the first that is "
                                 "missing. A line before it may have one too few or too many.",
                                 column, t->fields_n, t->field[column]);
    return OK;
}

/* NUMBER_OF_FIELDS and NUMBER_OF_SETS say what must come; 0: not said. */
static enum status counts_hold(const struct spectrum_table *t, size_t line, double fields,
                               double sets, struct why *why) {
    if (fields > 0 && fields != (double)t->fields_n)
        return spectrum_line_say(why, E_SYNTAX, line,
                                 "NUMBER_OF_FIELDS says %g, the data format names %zu.", fields,
                                 t->fields_n);
    if (sets > 0 && sets != (double)t->rows_n)
        return spectrum_line_say(why, E_SYNTAX, line, "NUMBER_OF_SETS says %g, there are %zu.",
                                 sets, t->rows_n);
    return OK;
}

enum status spectrum_cgats_read(const char *text, const char *end, struct arena *arena,
                                struct spectrum_tables *out, struct why *why) {
    struct scan s = {text, end, 1, arena};
    struct spectrum_table t = {0};
    double fields = 0, sets = 0;
    struct word w;
    for (;;) {
        enum status st = next(&s, &w, why);
        if (st) return st;
        if (!w.text) break;
        if (is(&w, "NUMBER_OF_FIELDS") || is(&w, "NUMBER_OF_SETS") || is(&w, "LGOROWLENGTH")) {
            double row = 0, *to = is(&w, "NUMBER_OF_FIELDS") ? &fields
                                  : is(&w, "NUMBER_OF_SETS") ? &sets
                                                             : &row;
            if ((st = next(&s, &w, why))) return st;
            const bool good = w.text && spectrum_number(w.text, to);
            if (row >= 1 && row <= SPECTRUM_SAMPLES_MAX) out->in_row = (int64_t)row;
            if (!good)
                return spectrum_line_say(why, E_SYNTAX, w.line,
                                         "a number "
                                         "must follow its keyword.");
        } else if (w.quoted && strcasestr(w.text, "ILLUMINANT") && strstr(w.text, "D65")) {
            t.d65 = true;
        } else if (is(&w, "BEGIN_DATA_FORMAT")) {
            if ((st = fields_read(&s, w.line, &t, why))) return st;
        } else if (is(&w, "BEGIN_DATA")) {
            size_t begun = w.line;
            if (out->n == SPECTRUM_TABLES_MAX)
                return spectrum_line_say(why, E_TOO_LARGE, begun, "more than %d tables.",
                                         SPECTRUM_TABLES_MAX);
            if ((st = rows_read(&s, begun, &t, why)) ||
                (st = counts_hold(&t, begun, fields, sets, why)))
                return st;
            out->table[out->n++] = t;
            t.row = NULL; /* the next table may keep the data format */
            t.rows_n = 0;
            fields = sets = 0;
        }
    }
    return out->n ? OK
                  : why_say(why, E_MISSING, "",
                            "The file has no BEGIN_DATA: nothing was measured in it.");
}
