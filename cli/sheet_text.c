#include "cli/sheet_text.h"

#include "codec/units_text.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

/* Columns: where figures end, where words begin. */
struct columns {
    size_t figure, words;
};

struct desk {
    struct paper *p;
    enum unit_system units;
    const struct basis *bases;
    size_t bases_n;
};

static void rule_off(struct paper *p, char c, size_t n) {
    char line[128];
    if (n > sizeof line - 1) n = sizeof line - 1;
    memset(line, c, n);
    text_add(&p->out, line, n);
}

/* "Coats ------------------------" : the heading stands at the beginning of the line. */
static void heading(struct paper *p, const char *title) {
    size_t n = paper_columns(title) + 1;
    text_add(&p->out, "\n", 1);
    paper_bold(p, title);
    text_add(&p->out, " ", 1);
    rule_off(p, '-', p->width > n ? p->width - n : 0);
    text_add(&p->out, "\n", 1);
}

/* The figures of a section end in one column; a longer one stands in a line of its own. */
static struct columns columns_for(const struct paper *p, const struct sheet_row *rows, size_t n) {
    size_t most = 6, limit = p->width < 64 ? 12 : 18;
    for (size_t i = 0; i < n; i++) {
        size_t c = rows[i].figure ? paper_columns(rows[i].figure) + 2 * rows[i].assumed : 0;
        if (rows[i].kind <= SHEET_STEP && c > most && c <= limit) most = c;
    }
    return (struct columns){most + 2, most + 4};
}

/* ---- plates: what must be minded ---- */

static void plate(struct paper *p, const struct sheet_row *row) {
    bool stop = row->kind == SHEET_STOP;
    const char *word = stop ? "STOP" : "MIND";
    char edge = stop ? '=' : '-';
    struct paper_style in = {.indent = 4, .right = 0, .bar = "| ", .end = " |"};
    size_t left = 3 + 2 + strlen(word) + 1;
    paper_blanks(p, 2);
    text_add(&p->out, "+", 1);
    rule_off(p, edge, 2);
    text_add(&p->out, " ", 1);
    paper_bold(p, word);
    text_add(&p->out, " ", 1);
    rule_off(p, edge, p->width - left - 2);
    text_add(&p->out, "+\n", 2);
    const char *const parts[] = {row->figure, row->what, row->detail, row->known};
    for (size_t i = 0; i < 4; i++) {
        if (!parts[i] || !*parts[i]) continue;
        paper_blanks(p, 2);
        text_add(&p->out, "| ", 2);
        paper_wrap(p, 4, &in, parts[i]);
    }
    paper_blanks(p, 2);
    text_add(&p->out, "+", 1);
    rule_off(p, edge, p->width - 4);
    text_add(&p->out, "+\n", 2);
}

static void note(struct paper *p, const struct sheet_row *row, struct columns c) {
    struct paper_style in = {.indent = c.words};
    const char *const parts[] = {row->what, row->detail};
    paper_blanks(p, c.figure - 4);
    paper_bold(p, "Note");
    size_t at = c.figure;
    for (size_t i = 0; i < 2; i++) {
        if (!parts[i] || !*parts[i]) continue;
        paper_blanks(p, c.words - at);
        paper_wrap(p, c.words, &in, parts[i]);
        at = 0;
    }
    if (at) text_add(&p->out, "\n", 1);
    in.faint = true;
    if (row->known && *row->known) {
        paper_blanks(p, c.words);
        paper_wrap(p, c.words, &in, row->known);
    }
}

/* ---- where a figure comes from ---- */

static void value_text(const struct desk *d, enum dimension unit, double v, char out[64]) {
    if (unit == DIM_NONE)
        number_print(isfinite(v) ? round(v * 1e6) / 1e6 : v, out, 64);
    else
        units_print(unit, d->units, v, out, 64);
}

static const char *certainty_text(enum certainty c) {
    static const char *const rows[] = {
        [CERTAINTY_UNSAID] = "",
        [CERTAINTY_EXACT] = "arithmetic",
        [CERTAINTY_MEASURED] = "measured here",
        [CERTAINTY_LABEL] = "the can's label",
        [CERTAINTY_PUBLISHED] = "published",
        [CERTAINTY_SECONDARY] = "one trade source",
        [CERTAINTY_COMMON] = "common practice",
        [CERTAINTY_MEMORY] = "from memory",
        [CERTAINTY_ASSUMED] = "assumed",
        [CERTAINTY_SAID] = "as you said",
    };
    return (size_t)c < sizeof rows / sizeof *rows ? rows[c] : "";
}

static void basis_line(const struct desk *d, const struct basis *b, size_t indent) {
    struct text t = {0};
    char v[64], w[64];
    text_print(&t, "= %s", b->rule ? b->rule : "");
    for (size_t i = 0; i < b->inputs_n; i++) {
        const struct basis_input *in = &b->inputs[i];
        if (!in->text) value_text(d, in->unit, in->value, v);
        text_print(&t, "%s%s %s", i ? ", " : "; from ", in->name, in->text ? in->text : v);
    }
    if (isfinite(b->low) && isfinite(b->high)) {
        value_text(d, b->unit, b->low, v);
        value_text(d, b->unit, b->high, w);
        text_print(&t, "; 9 of 10 between %s and %s", v, w);
    }
    const char *from = b->cited ? b->cited : b->source, *sure = certainty_text(b->certainty);
    bool says = from && !strncasecmp(from, sure, strlen(sure)); /* "Common practice, ..." */
    text_print(&t, " [%s%s%s]", says ? "" : sure, says || !from || !*from ? "" : ": ",
               from ? from : "");
    struct paper_style in = {.indent = indent + 2, .faint = true};
    paper_blanks(d->p, indent);
    if (!t.failed) paper_wrap(d->p, indent, &in, t.at);
    text_free(&t);
}

static void why(const struct desk *d, const struct sheet_row *row, size_t indent) {
    if (!row->pointer) return;
    for (size_t i = 0; i < d->bases_n; i++)
        if (d->bases[i].pointer && !strcmp(d->bases[i].pointer, row->pointer))
            basis_line(d, &d->bases[i], indent);
}

/* ---- rows ---- */

/* The figure, ending in its column; "~ " in front says that it was assumed. Returns the pen's
 * column. */
static size_t figure(struct paper *p, const struct sheet_row *row, struct columns c) {
    char text[128];
    if (!row->figure || !*row->figure) return 0;
    snprintf(text, sizeof text, "%s%s", row->assumed ? "~ " : "", row->figure);
    size_t n = paper_columns(text), at = n < c.figure ? c.figure - n : 2;
    paper_blanks(p, at);
    paper_bold(p, text);
    if (at + n <= c.figure) return at + n;
    text_add(&p->out, "\n", 1);
    return 0;
}

/* How long a task takes stands at the right edge of its line, if there is room for both. */
static bool fits_beside(const struct paper *p, const struct sheet_row *row, size_t from) {
    if (!row->task || !row->what || !row->known || !*row->known || row->swatch) return false;
    return from + paper_columns(row->what) + 2 + paper_columns(row->known) <= p->width;
}

static void both_edges(struct paper *p, size_t from, const struct sheet_row *row) {
    size_t words = paper_columns(row->what), known = paper_columns(row->known);
    text_print(&p->out, "%s", row->what);
    paper_blanks(p, p->width - from - words - known);
    paper_faint(p, row->known);
    text_add(&p->out, "\n", 1);
}

static void row_line(const struct desk *d, const struct sheet_row *row, struct columns c) {
    struct paper *p = d->p;
    struct paper_style words = {.indent = c.words}, faint = {.indent = c.words, .faint = true};
    size_t at = figure(p, row, c), from = c.words;
    bool any = false;
    if (row->kind == SHEET_STEP) {
        char box[32];
        if (row->number != INT64_MIN)
            snprintf(box, sizeof box, "[ ] %lld. ", (long long)row->number);
        else
            snprintf(box, sizeof box, "[ ] ");
        paper_blanks(p, c.words - at);
        text_add(&p->out, box, strlen(box));
        from = at = c.words + strlen(box);
        words.indent = faint.indent = c.words + 4;
        any = true;
    }
    bool beside = fits_beside(p, row, from);
    if (row->what && *row->what) {
        if (!any) paper_blanks(p, c.words - at);
        if (row->swatch) paper_swatch(p, row->swatch);
        if (beside)
            both_edges(p, from, row);
        else
            paper_wrap(p, from + (row->swatch && p->swatches ? 3 : 0), &words, row->what);
        any = false;
        at = 0;
    }
    if (row->detail && *row->detail) {
        if (!any) paper_blanks(p, words.indent - at);
        paper_wrap(p, any ? from : words.indent, &words, row->detail);
        any = false;
        at = 0;
    }
    if (any || at) text_add(&p->out, "\n", 1);
    if (!beside && row->known && *row->known) {
        paper_blanks(p, faint.indent);
        paper_wrap(p, faint.indent, &faint, row->known);
    }
    why(d, row, words.indent);
}

static void rows(const struct desk *d, const struct sheet_row *r, size_t n) {
    struct columns c = columns_for(d->p, r, n);
    struct paper_style left = {.indent = 2};
    for (size_t i = 0; i < n; i++) switch (r[i].kind) {
        case SHEET_STOP:
        case SHEET_MIND: plate(d->p, &r[i]); break;
        case SHEET_NOTE: note(d->p, &r[i], c); break;
        case SHEET_HEAD:
            if (i) text_add(&d->p->out, "\n", 1);
            paper_blanks(d->p, 2);
            paper_bold(d->p, r[i].what ? r[i].what : "");
            text_add(&d->p->out, "\n", 1);
            break;
        case SHEET_TEXT:
            paper_blanks(d->p, 2);
            paper_wrap(d->p, 2, &left, r[i].detail ? r[i].detail : r[i].what ? r[i].what : "");
            break;
        default: row_line(d, &r[i], c); break;
        }
}

/* ---- sections ---- */

static void title(struct paper *p, const char *text, char line) {
    struct paper_style left = {0};
    if (!text || !*text) return;
    if (p->emphasis && paper_columns(text) < p->width) {
        paper_bold(p, text);
        text_add(&p->out, "\n", 1);
    } else {
        paper_wrap(p, 0, &left, text);
    }
    rule_off(p, line, p->width);
    text_add(&p->out, "\n", 1);
}

static void piece(const struct desk *d, const struct sheet_piece *s) {
    struct paper_style left = {.indent = 2};
    text_add(&d->p->out, "\n", 1);
    title(d->p, s->title ? s->title : s->id, '=');
    rows(d, s->summary, s->summary_n);
    for (size_t i = 0; i < s->sections_n; i++) {
        const struct sheet_section *e = &s->sections[i];
        heading(d->p, e->title);
        if (e->intro && *e->intro) {
            paper_blanks(d->p, 2);
            paper_wrap(d->p, 2, &left, e->intro);
        }
        rows(d, e->rows, e->rows_n);
    }
}

/* ---- what nobody has said ---- */

/* "/pieces/1/wanted/clear" is "wanted clear", with the piece's title where there are several. */
static void assumed_name(const struct sheet *sheet, const char *pointer, char *out, size_t cap) {
    size_t piece, n = 0;
    int used = 0;
    out[0] = 0;
    if (sscanf(pointer, "/pieces/%zu%n", &piece, &used) == 1 && sheet->pieces_n > 1 &&
        piece < sheet->pieces_n && sheet->pieces[piece].title)
        n = (size_t)snprintf(out, cap, "%s: ", sheet->pieces[piece].title);
    for (const char *c = pointer + used + (pointer[used] == '/'); *c && n + 1 < cap; c++)
        out[n++] = *c == '/' || *c == '_' ? ' ' : *c;
    out[n < cap ? n : cap - 1] = 0;
}

static void assumed(const struct desk *d, const struct sheet *sheet,
                    const struct assumption *assumed, size_t n) {
    enum { NAME_MAX_BYTES = 200, FIGURE_MAX_BYTES = 64 };
    struct sheet_row *list = calloc(n ? n : 1, sizeof *list);
    char(*names)[NAME_MAX_BYTES] = calloc(n ? n : 1, sizeof *names);
    char(*figures)[FIGURE_MAX_BYTES] = calloc(n ? n : 1, sizeof *figures);
    for (size_t i = 0; list && names && figures && i < n; i++) {
        const struct assumption *a = &assumed[i];
        assumed_name(sheet, a->pointer, names[i], sizeof names[i]);
        if (!a->text) units_print(a->unit, d->units, a->value, figures[i], sizeof figures[i]);
        list[i] = (struct sheet_row){.kind = SHEET_ROW,
                                     .figure = a->text ? a->text : figures[i],
                                     .what = names[i],
                                     .detail = a->why,
                                     .number = INT64_MIN};
    }
    if (list && names && figures && n) {
        heading(d->p, "Assumed, because nobody has said it");
        rows(d, list, n);
    }
    free(list), free(names), free(figures);
}

void sheet_text(struct paper *p, const struct sheet *sheet, const struct sheet_reasons *reasons) {
    struct desk d = {p, sheet->units, reasons->bases, reasons->bases_n};
    bool one = sheet->pieces_n == 1 && !sheet->summary_n && sheet->title &&
               sheet->pieces[0].title && !strcmp(sheet->title, sheet->pieces[0].title);
    if (!one) title(p, sheet->title, '='); /* the piece's own is the same */
    rows(&d, sheet->summary, sheet->summary_n);
    for (size_t i = 0; i < sheet->pieces_n; i++) piece(&d, &sheet->pieces[i]);
    assumed(&d, sheet, reasons->assumed, reasons->assumed_n);
}
