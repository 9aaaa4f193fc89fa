#include "cli/listing.h"

#include "app/id_words.h"
#include "cli/listing_json.h"
#include "codec/color_said.h"
#include "codec/json_outline.h"
#include "codec/plan_desc.h"
#include "codec/time_text.h"
#include "codec/units_text.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum { COLUMNS_MAX = 16, CELL_MAX = 44 };

struct list {
    struct paper *p;
    const struct listing_as *as;
};

static void record(const struct list *l, const struct desc *d, const char *in, size_t indent);

/* "label_recoat" is read as "label recoat"; a thing's document is what somebody typed of it. */
static const char *label(const struct field *f, char out[FIELD_KEY_MAX]) {
    bool typed = f->type == FIELD_JSON && !strcmp(f->name, "document");
    snprintf(out, FIELD_KEY_MAX, "%s", typed ? "as typed" : f->name);
    for (char *c = out; *c; c++)
        if (*c == '_') *c = ' ';
    return out;
}

static bool is_scalar(const struct field *f) {
    switch (f->type) {
    case FIELD_RECORD:
    case FIELD_LIST:
    case FIELD_JSON:
    case FIELD_MAP: return false;
    default: return f->type != FIELD_LAB;
    }
}

static void numbers(const struct field *f, const char *record, struct text *out) {
    const char *rows = record + f->offset;
    size_t n = f->fixed;
    if (!f->fixed) {
        memcpy(&rows, record + f->offset, sizeof rows);
        memcpy(&n, record + f->count_offset, sizeof n);
    }
    for (size_t i = 0; i < n; i++) {
        char text[64];
        double v;
        memcpy(&v, rows + i * sizeof v, sizeof v);
        units_print(DIM_NONE, UNITS_METRIC, v, text, sizeof text);
        text_print(out, "%s%s", i ? ", " : "", text);
    }
}

static void texts(const struct field *f, const char *record, struct text *out) {
    const char *const *rows;
    size_t n;
    memcpy(&rows, record + f->offset, sizeof rows);
    memcpy(&n, record + f->count_offset, sizeof n);
    for (size_t i = 0; i < n; i++) text_print(out, "%s%s", i ? ", " : "", rows[i] ? rows[i] : "");
}

static void days(const struct field *f, const char *record, struct text *out) {
    const int64_t *rows;
    size_t n;
    memcpy(&rows, record + f->offset, sizeof rows);
    memcpy(&n, record + f->count_offset, sizeof n);
    for (size_t i = 0; i < n; i++) {
        char day[24];
        date_print(rows[i], day, sizeof day);
        text_print(out, "%s%s", i ? "; " : "", day);
    }
}

/* "Nov 28, 2026, 4:12 am" */
static void local_said(enum unit_system units, int64_t min, char out[64]) {
    int64_t of_day = (min % 1440 + 1440) % 1440;
    size_t n = date_print((min - of_day) / 1440, out, 64);
    n += (size_t)snprintf(out + n, 64 - n, ", ");
    clock_print(units, of_day, out + n, 64 - n);
}

static void minutes(const struct list *l, const struct field *f, const char *at, char out[64]) {
    int64_t v;
    memcpy(&v, at, sizeof v);
    switch (f->type) {
    case FIELD_CLOCK: clock_print(l->as->units, v, out, 64); break;
    case FIELD_DAY: date_print(v, out, 64); break;
    case FIELD_LOCAL: local_said(l->as->units, v, out); break;
    case FIELD_INSTANT:
        if (l->as->zone_n)
            local_said(l->as->units, v + zone_offset_min(l->as->zone, l->as->zone_n, v), out);
        else
            instant_print(v, out, 64);
        break;
    default: snprintf(out, 64, "%lld", (long long)v); break;
    }
}

/* A figure to read: five digits are more than anybody measures; --json has them all. */
static double legible(double v) {
    enum { DIGITS = 5 };
    if (!isfinite(v) || v == 0) return v;
    double scale = pow(10, fmax(0, DIGITS - 1 - floor(log10(fabs(v)))));
    return isfinite(scale) ? round(v * scale) / scale : v;
}

/* A number by what it measures, where that is known: hours, or the dimension beside it. */
static void number_said(const struct list *l, const struct field *f, const char *record, double v,
                        char line[64]) {
    enum dimension d = f->flags & FLAG_HOURS ? DIM_DURATION : DIM_NONE;
    if (f->flags & FLAG_BY_UNIT) memcpy(&d, record + f->count_offset, sizeof d);
    if (d == DIM_NONE)
        number_print(legible(v), line, 64);
    else
        units_print(d, l->as->units, f->flags & FLAG_HOURS ? round(v * 60) : v, line, 64);
}

/* "looked_over" is read as "looked over", "wanted/color" as "wanted color". */
static void plain(const char *word, struct text *out) {
    for (; *word; word++) text_add(out, *word == '_' || *word == '/' ? " " : word, 1);
}

static bool is_word(const char *text) {
    return strspn(text, "abcdefghijklmnopqrstuvwxyz0123456789_/") == strlen(text);
}

/* Members whose words stand in no table: where a piece stands, what a value of it was and became.
 */
static bool says_words(const struct field *f, const char *text) {
    static const char *const members[] = {"stage", "before", "after"};
    for (size_t i = 0; i < sizeof members / sizeof *members; i++)
        if (!strcmp(f->name, members[i])) return is_word(text);
    return false;
}

/* What is to be typed again stays as it is: the names of things in the book. */
static void named(const struct list *l, const struct field *f, const char *text, struct text *out) {
    const char *words = id_words(l->as->tables, f->name, text);
    if (words)
        text_print(out, "%s", words);
    else if (!strcmp(f->name, "member") && is_word(text))
        member_words(text, out);
    else if (says_words(f, text))
        plain(text, out);
    else if (*text == '[' || *text == '{')
        json_line(text, out);
    else
        text_print(out, "%s", text);
}

/* One value as one line; empty when it is unsaid. */
static void scalar(const struct list *l, const struct field *f, const char *record,
                   struct text *out) {
    const char *at = record + f->offset, *text;
    char line[64] = "";
    double v;
    int word;
    if (!field_said(f, record) && f->type != FIELD_BOOL) return;
    switch (f->type) {
    case FIELD_TEXT:
    case FIELD_ID: memcpy(&text, at, sizeof text), named(l, f, text, out); return;
    case FIELD_BOOL:
        if (f->flags & FLAG_TRI) {
            memcpy(&word, at, sizeof word);
            text_print(out, "%s", word == YN_YES ? "yes" : word == YN_NO ? "no" : "");
        } else {
            text_print(out, "%s", *(const bool *)at ? "yes" : "no");
        }
        return;
    case FIELD_WORD: memcpy(&word, at, sizeof word), plain(f->words[word], out); return;
    case FIELD_NUMBER:
    case FIELD_QUANTITY:
        memcpy(&v, at, sizeof v);
        if (f->type == FIELD_NUMBER)
            number_said(l, f, record, v, line);
        else
            units_print(f->dimension, l->as->units, v, line, sizeof line);
        break;
    case FIELD_COLOR:
        text_print(out, "%s", ((const struct color_said *)(const void *)at)->text);
        return;
    case FIELD_NUMBERS: numbers(f, record, out); return;
    case FIELD_TEXTS: texts(f, record, out); return;
    case FIELD_DAYS: days(f, record, out); return;
    default: minutes(l, f, at, line); break;
    }
    text_print(out, "%s", line);
}

/* ---- tables ---- */

struct table {
    const struct field *fields[COLUMNS_MAX];
    size_t widths[COLUMNS_MAX], n, total;
};

/* Columns that hold something somewhere, with the width of their widest cell. */
static void table_measure(const struct list *l, const struct desc *d, const char *rows, size_t n,
                          struct table *t) {
    char name[FIELD_KEY_MAX];
    *t = (struct table){0};
    for (size_t i = 0; i < d->fields_n && t->n < COLUMNS_MAX; i++) {
        const struct field *f = &d->fields[i];
        size_t width = 0;
        for (size_t k = 0; is_scalar(f) && k < n; k++) {
            struct text cell = {0};
            scalar(l, f, rows + k * d->size, &cell);
            size_t c = cell.at ? paper_columns(cell.at) : 0;
            if (c > width) width = c;
            text_free(&cell);
        }
        if (!width) continue;
        size_t head = paper_columns(label(f, name));
        t->widths[t->n] = width > head ? width : head;
        if (t->widths[t->n] > CELL_MAX) t->widths[t->n] = CELL_MAX;
        t->total += t->widths[t->n] + 2;
        t->fields[t->n++] = f;
    }
}

static bool to_the_right(const struct field *f) {
    return f->type == FIELD_INT || f->type == FIELD_NUMBER || f->type == FIELD_QUANTITY;
}

/* Bytes of a text that stand on one line so wide: up to a blank, or cut where there is none. */
static size_t line_of(const char *text, size_t width) {
    size_t seen = 0, blank = 0, n = 0;
    for (; text[n] && text[n] != '\n'; n++) {
        seen += ((unsigned char)text[n] & 0xc0) != 0x80;
        if (seen > width) return blank ? blank : n;
        if (text[n] == ' ') blank = n;
    }
    return n;
}

/* The next line of a cell; returns what is left of its text. */
static const char *cell(const struct list *l, const struct field *f, size_t width, const char *text,
                        bool bold) {
    char line[CELL_MAX * 4 + 1];
    size_t n = line_of(text, width);
    if (n >= sizeof line) n = sizeof line - 1;
    memcpy(line, text, n);
    line[n] = 0;
    size_t blanks = width - paper_columns(line);
    if (to_the_right(f)) paper_blanks(l->p, blanks);
    if (bold)
        paper_bold(l->p, line);
    else
        text_add(&l->p->out, line, n);
    if (!to_the_right(f)) paper_blanks(l->p, blanks);
    paper_blanks(l->p, 2);
    text += n;
    return text + (*text == ' ' || *text == '\n');
}

static void end_line(struct paper *p) {
    while (p->out.n && p->out.at[p->out.n - 1] == ' ') p->out.n--;
    text_add(&p->out, "\n", 1);
}

static void table_print(const struct list *l, const struct table *t, const struct desc *d,
                        const char *rows, size_t n, size_t indent) {
    char name[FIELD_KEY_MAX];
    paper_blanks(l->p, indent);
    for (size_t i = 0; i < t->n; i++)
        cell(l, t->fields[i], t->widths[i], label(t->fields[i], name), true);
    end_line(l->p);
    for (size_t k = 0; k < n; k++) {
        struct text texts[COLUMNS_MAX] = {0};
        const char *left[COLUMNS_MAX];
        for (size_t i = 0; i < t->n; i++) {
            scalar(l, t->fields[i], rows + k * d->size, &texts[i]);
            left[i] = texts[i].at ? texts[i].at : "";
        }
        for (bool more = true; more;) {
            more = false;
            paper_blanks(l->p, indent);
            for (size_t i = 0; i < t->n; i++) {
                left[i] = cell(l, t->fields[i], t->widths[i], left[i], false);
                more |= *left[i] != 0;
            }
            end_line(l->p);
        }
        for (size_t i = 0; i < t->n; i++) text_free(&texts[i]);
    }
}

/* Lab stands behind a color in words and is not listed. */
static bool is_inner(const struct field *f) {
    return !is_scalar(f) && f->type != FIELD_LAB;
}

static bool has_inner(const struct desc *d, const char *rows, size_t n) {
    for (size_t i = 0; i < d->fields_n; i++)
        for (size_t k = 0; is_inner(&d->fields[i]) && k < n; k++)
            if (field_said(&d->fields[i], rows + k * d->size)) return true;
    return false;
}

/* What nobody said: "sale fee 0 %: no seller's fee was named". */
static void assumed(const struct list *l, const struct assumption *a, size_t indent) {
    struct text line = {0};
    char value[64];
    const char *member = strrchr(a->pointer, '/');
    if (!a->text) units_print(a->unit, l->as->units, a->value, value, sizeof value);
    plain(member ? member + 1 : a->pointer, &line);
    text_print(&line, " %s: %s", a->text ? a->text : value, a->why);
    paper_blanks(l->p, indent);
    paper_wrap(l->p, indent, &(struct paper_style){.indent = indent + 2}, line.at);
    text_free(&line);
}

static void list(const struct list *l, const struct field *f, const char *in, size_t indent) {
    const char *rows;
    size_t n;
    struct table t;
    memcpy(&rows, in + f->offset, sizeof rows);
    memcpy(&n, in + f->count_offset, sizeof n);
    if (f->of == &desc_assumption) {
        const struct assumption *a = (const void *)rows;
        for (size_t i = 0; i < n; i++) assumed(l, &a[i], indent);
        return;
    }
    if (!has_inner(f->of, rows, n)) {
        table_measure(l, f->of, rows, n, &t);
        if (indent + t.total <= l->p->width + 2) {
            table_print(l, &t, f->of, rows, n, indent);
            return;
        }
    }
    for (size_t i = 0; i < n; i++) {
        if (i) text_add(&l->p->out, "\n", 1);
        record(l, f->of, rows + i * f->of->size, indent);
    }
}

/* ---- records ---- */

static size_t label_width(const struct desc *d, const char *in) {
    size_t most = 0;
    char name[FIELD_KEY_MAX];
    for (size_t i = 0; i < d->fields_n; i++) {
        const struct field *f = &d->fields[i];
        if (!is_scalar(f) || !(field_said(f, in) || f->type == FIELD_BOOL)) continue;
        size_t n = paper_columns(label(f, name));
        if (n > most) most = n;
    }
    return most;
}

static void json(const struct list *l, const struct field *f, const char *in, size_t indent) {
    const char *text;
    memcpy(&text, in + f->offset, sizeof text);
    listing_json(l->p, text, indent);
}

/* A thing as typed and the same read as numbers are not listed beside each other: as typed, unless
 * somebody asks for its units. */
static bool is_twin(const struct list *l, const struct desc *d, const struct field *f,
                    const char *in) {
    enum field_type shown = l->as->units ? FIELD_RECORD : FIELD_JSON,
                    left = l->as->units ? FIELD_JSON : FIELD_RECORD;
    for (size_t i = 0; f->type == left && i < d->fields_n; i++)
        if (d->fields[i].type == shown && field_said(&d->fields[i], in)) return true;
    return false;
}

static void record(const struct list *l, const struct desc *d, const char *in, size_t indent) {
    size_t width = label_width(d, in);
    char name[FIELD_KEY_MAX];
    for (size_t i = 0; i < d->fields_n; i++) {
        const struct field *f = &d->fields[i];
        struct text text = {0};
        if (!is_scalar(f)) continue;
        scalar(l, f, in, &text);
        if (text.n) {
            size_t at = indent + width + 2;
            paper_blanks(l->p, indent);
            paper_faint(l->p, label(f, name));
            paper_blanks(l->p, width + 2 - paper_columns(name));
            paper_wrap(l->p, at, &(struct paper_style){.indent = at}, text.at);
        }
        text_free(&text);
    }
    for (size_t i = 0; i < d->fields_n; i++) {
        const struct field *f = &d->fields[i];
        if (!is_inner(f) || !field_said(f, in)) continue;
        if (is_twin(l, d, f, in)) continue;
        if (!indent && !strcmp(f->name, "rows")) {
            list(l, f, in, 0);
            continue;
        }
        paper_blanks(l->p, indent);
        paper_bold(l->p, label(f, name));
        text_add(&l->p->out, "\n", 1);
        if (f->type == FIELD_RECORD)
            record(l, f->of, in + f->offset, indent + 2);
        else if (f->type == FIELD_JSON)
            json(l, f, in, indent + 2);
        else
            list(l, f, in, indent + 2);
    }
}

bool listing(struct paper *p, const struct listing_as *as, const struct desc *d, const void *in) {
    struct list l = {p, as};
    size_t before = p->out.n;
    record(&l, d, in, 0);
    return p->out.n > before;
}
