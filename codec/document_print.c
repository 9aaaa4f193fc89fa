#include "codec/color_said.h"
#include "codec/document.h"
#include "codec/time_text.h"
#include "codec/units_text.h"

#include <math.h>
#include <string.h>

struct printer {
    struct text *out;
    enum spelling spelling;
    int indent, depth;
};

static void print_record(struct printer *p, const struct desc *d, const char *in, bool head);

static void line(struct printer *p) {
    static const char blanks[] = "                                                                ";
    size_t n = (size_t)(p->indent * p->depth);
    if (!p->indent) return;
    text_add(p->out, "\n", 1);
    text_add(p->out, blanks, n < sizeof blanks - 1 ? n : sizeof blanks - 1);
}

static void print_number(struct printer *p, double v) {
    char n[40];
    if (!isfinite(v)) { /* a part of something said, so it cannot be left out */
        text_add(p->out, "null", 4);
        return;
    }
    text_add(p->out, n, number_print(v, n, sizeof n));
}

static void print_key(struct printer *p, const char *key) {
    text_json(p->out, key);
    text_add(p->out, ": ", p->indent ? 2 : 1);
}

static void print_time(struct printer *p, const struct field *f, const char *at) {
    char text[40];
    int64_t v;
    memcpy(&v, at, sizeof v);
    if (p->spelling == SPELL_RESULT) {
        text_print(p->out, "%lld", (long long)v);
        return;
    }
    switch (f->type) {
    case FIELD_CLOCK: clock_print(UNITS_US, v, text, sizeof text); break;
    case FIELD_LOCAL: local_print(v, text, sizeof text); break;
    case FIELD_INSTANT: instant_print(v, text, sizeof text); break;
    default: day_print(v, text, sizeof text); break;
    }
    text_json(p->out, text);
}

static void print_color(struct printer *p, const struct color_said *c) {
    char hex[8];
    if (p->spelling == SPELL_INPUT) {
        text_json(p->out, c->text);
        return;
    }
    text_print(p->out, "{\"text\":");
    text_json(p->out, c->text);
    text_print(p->out, ",\"lab\":[");
    for (int i = 0; i < 3; i++) {
        if (i) text_add(p->out, ",", 1);
        print_number(p, c->lab[i]);
    }
    text_add(p->out, "]", 1);
    if (color_said_hex(c, hex)) text_print(p->out, ",\"hex\":\"%s\"", hex);
    text_add(p->out, "}", 1);
}

static const char *rows_of(const struct field *f, const char *record, size_t *out_n) {
    const char *rows;
    memcpy(&rows, record + f->offset, sizeof rows);
    memcpy(out_n, record + f->count_offset, sizeof *out_n);
    return rows;
}

/* Numbers, days and short texts stand in one line. */
static void print_simple_list(struct printer *p, const struct field *f, const char *record) {
    size_t n = f->fixed;
    const char *rows = f->fixed ? record + f->offset : rows_of(f, record, &n);
    text_add(p->out, "[", 1);
    for (size_t i = 0; i < n; i++) {
        if (i) text_add(p->out, ", ", p->indent ? 2 : 1);
        if (f->type == FIELD_NUMBERS) {
            double v;
            memcpy(&v, rows + i * sizeof v, sizeof v);
            print_number(p, v);
        } else if (f->type == FIELD_DAYS) {
            int64_t v;
            char text[24];
            memcpy(&v, rows + i * sizeof v, sizeof v);
            day_print(v, text, sizeof text);
            text_json(p->out, text);
        } else {
            const char *v;
            memcpy(&v, rows + i * sizeof v, sizeof v);
            text_json(p->out, v ? v : "");
        }
    }
    text_add(p->out, "]", 1);
}

static void print_rows(struct printer *p, const struct field *f, const char *record) {
    size_t n;
    const char *rows = rows_of(f, record, &n);
    bool map = f->type == FIELD_MAP;
    text_add(p->out, map ? "{" : "[", 1);
    p->depth++;
    for (size_t i = 0; i < n; i++) {
        const char *row = rows + i * f->of->size;
        if (i) text_add(p->out, ",", 1);
        line(p);
        if (map) {
            const char *key;
            memcpy(&key, row + f->of->fields[0].offset, sizeof key);
            print_key(p, key ? key : "");
        }
        print_record(p, f->of, row, map);
    }
    p->depth--;
    if (n) line(p);
    text_add(p->out, map ? "}" : "]", 1);
}

static void print_quantity(struct printer *p, const struct field *f, double v) {
    char text[96];
    if (p->spelling == SPELL_RESULT) {
        print_number(p, v);
        return;
    }
    units_print_exact(f->dimension, v, text, sizeof text);
    text_json(p->out, text);
}

static void print_value(struct printer *p, const struct field *f, const char *record) {
    const char *at = record + f->offset, *text;
    double v;
    int64_t i;
    int word;
    switch (f->type) {
    case FIELD_TEXT:
    case FIELD_ID: memcpy(&text, at, sizeof text), text_json(p->out, text); break;
    case FIELD_JSON: memcpy(&text, at, sizeof text), text_add(p->out, text, strlen(text)); break;
    case FIELD_BOOL:
        memcpy(&word, at, f->flags & FLAG_TRI ? sizeof word : 0);
        word = f->flags & FLAG_TRI ? word == YN_YES : *(const bool *)at;
        text_print(p->out, word ? "true" : "false");
        break;
    case FIELD_WORD: memcpy(&word, at, sizeof word), text_json(p->out, f->words[word]); break;
    case FIELD_INT: memcpy(&i, at, sizeof i), text_print(p->out, "%lld", (long long)i); break;
    case FIELD_NUMBER: memcpy(&v, at, sizeof v), print_number(p, v); break;
    case FIELD_QUANTITY: memcpy(&v, at, sizeof v), print_quantity(p, f, v); break;
    case FIELD_COLOR:
    case FIELD_LAB: print_color(p, (const struct color_said *)(const void *)at); break;
    case FIELD_CLOCK:
    case FIELD_DAY:
    case FIELD_LOCAL:
    case FIELD_INSTANT: print_time(p, f, at); break;
    case FIELD_RECORD:
        if ((f->flags & FLAG_NULL) && !desc_said(f->of, at))
            text_print(p->out, "null");
        else
            print_record(p, f->of, at, false);
        break;
    case FIELD_LIST:
    case FIELD_MAP: print_rows(p, f, record); break;
    case FIELD_TEXTS:
    case FIELD_NUMBERS:
    case FIELD_DAYS: print_simple_list(p, f, record); break;
    }
}

/* A result shows its whole shape: false, empty lists and records too. What has no value has no key
 * in either spelling. */
static bool is_shown(const struct printer *p, const struct field *f, const char *record) {
    if (f->type == FIELD_LAB) return false;
    if (field_said(f, record)) return true;
    if (p->spelling == SPELL_INPUT) return false;
    switch (f->type) {
    case FIELD_BOOL: return !(f->flags & FLAG_TRI);
    case FIELD_NUMBERS: return !f->fixed;
    case FIELD_RECORD:
    case FIELD_LIST:
    case FIELD_MAP:
    case FIELD_TEXTS:
    case FIELD_DAYS: return true;
    default: return false;
    }
}

/* skip_first: the first field is the key of the map that this record stands in */
static void print_record(struct printer *p, const struct desc *d, const char *in, bool skip_first) {
    char key[FIELD_KEY_MAX];
    bool any = false;
    text_add(p->out, "{", 1);
    p->depth++;
    if (d->format) {
        line(p);
        print_key(p, "format");
        text_json(p->out, d->format);
        text_add(p->out, ",", 1);
        line(p);
        print_key(p, "version");
        text_print(p->out, "%d", d->version);
        any = true;
    }
    for (size_t i = skip_first; i < d->fields_n; i++) {
        const struct field *f = &d->fields[i];
        if (!is_shown(p, f, in)) continue;
        if (any) text_add(p->out, ",", 1);
        any = true;
        line(p);
        print_key(p, field_key(f, p->spelling, key));
        print_value(p, f, in);
    }
    p->depth--;
    if (any) line(p);
    text_add(p->out, "}", 1);
}

enum status document_print(const struct desc *d, enum spelling spelling, const void *in, int indent,
                           struct text *out) {
    struct printer p = {.out = out, .spelling = spelling, .indent = indent};
    print_record(&p, d, in, false);
    return out->failed ? E_MEMORY : OK;
}
