/* One value from one text: the part of reading that documents, command line and queries share. */
#include "codec/class_name.h"
#include "codec/color_said.h"
#include "codec/reader.h"
#include "codec/time_text.h"
#include "codec/units_text.h"
#include "codec/words.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* ---- texts ---- */

/* Bounded, and without control characters: a terminal would obey them. */
enum status text_is_fit(struct reader *r, const char *text, size_t n, size_t most) {
    if (n > most)
        return reader_fail(r, E_TOO_LARGE, "The text has %zu bytes. Write at most %zu.", n, most);
    for (size_t i = 0; i < n; i++) {
        unsigned char c = (unsigned char)text[i];
        bool plain = c >= 0x20 || c == '\n' || c == '\t' || c == '\r';
        bool c1 = c == 0xc2 && i + 1 < n && (unsigned char)text[i + 1] < 0xa0;
        if (!plain || c == 0x7f || c1)
            return reader_fail(r, E_SYNTAX,
                               "The text has a control character at byte %zu. Leave it "
                               "out.",
                               i);
    }
    return OK;
}

/* JSON is UTF-8 by the time it gets here; words of a command line or an address need not be. */
static enum status is_utf8(struct reader *r, const char *text) {
    for (const char *c = text; *c;) {
        size_t n = text_char(c);
        if (!n)
            return reader_fail(r, E_SYNTAX, "The text is not valid UTF-8 at byte %zu.",
                               (size_t)(c - text));
        c += n;
    }
    return OK;
}

static enum status keep(struct reader *r, const char *text, void *at) {
    const char *copy = arena_text(r->arena, text);
    if (!copy) return reader_fail(r, E_MEMORY, "The document needs more memory than is allowed.");
    memcpy(at, &copy, sizeof copy);
    return OK;
}

static enum status id_of(struct reader *r, const char *text, void *at) {
    size_t n = strspn(text, "abcdefghijklmnopqrstuvwxyz0123456789-_");
    if (!n || text[n])
        return reader_fail(r, E_SYNTAX,
                           "\"%.40s\" is not an id. Write a short word of a-z, 0-9, - and _: "
                           "\"warm-white\".",
                           text);
    if (n > FIELD_ID_MAX)
        return reader_fail(r, E_TOO_LARGE, "The id has %zu letters. Write at most %d.", n,
                           FIELD_ID_MAX);
    return keep(r, text, at);
}

/* People read the names of classes, documents hold their ids. */
static enum status class_of(struct reader *r, const char *text, void *at) {
    const char *id = class_id_of_name(text);
    char list[600];
    if (id) return keep(r, id, at);
    if (*text && !text[strspn(text, "abcdefghijklmnopqrstuvwxyz0123456789-_")])
        return id_of(r, text, at);
    return reader_fail(r, E_REFERENCE, "\"%.60s\" is no class of product I know. Write one of %s.",
                       text, class_names_listed(list, sizeof list));
}

/* Index of a word that is known; 0 with the reader's error when it is not. */
static int word_find(struct reader *r, const struct field *f, const char *text) {
    char list[400];
    if (*text)
        for (int i = 1; f->words[i]; i++)
            if (word_same(f->words[i], text)) return i;
    words_listed(f->words, list, sizeof list);
    const char *near = word_near(f->words, text);
    if (near)
        reader_fail(r, E_DOMAIN,
                    "\"%.40s\" is not known here. Did you mean \"%s\"? Write one of: %s.", text,
                    near, list);
    else
        reader_fail(r, E_DOMAIN, "\"%.40s\" is not known here. Write one of: %s.", text, list);
    return 0;
}

static enum status word_of(struct reader *r, const struct field *f, const char *text, void *at) {
    int word = word_find(r, f, text);
    if (!word) return E_DOMAIN;
    memcpy(at, &word, sizeof word);
    return OK;
}

/* An id of which there are only a few: kept as the word is written in their list. */
static enum status choice_of(struct reader *r, const struct field *f, const char *text, void *at) {
    int word = word_find(r, f, text);
    return word ? keep(r, f->words[word], at) : E_DOMAIN;
}

static enum status bool_of(struct reader *r, const struct field *f, const char *text, void *at) {
    static const char *const yes[] = {"true", "yes", "1", ""}, *const no[] = {"false", "no", "0"};
    int v = -1;
    for (size_t i = 0; i < 4; i++)
        if (!strcmp(text, yes[i])) v = 1;
    for (size_t i = 0; i < 3; i++)
        if (!strcmp(text, no[i])) v = 0;
    if (v < 0) return reader_fail(r, E_TYPE, "\"%.40s\" is neither yes nor no.", text);
    if (f->flags & FLAG_TRI) {
        int tri = v ? YN_YES : YN_NO;
        memcpy(at, &tri, sizeof tri);
    } else {
        *(bool *)at = v;
    }
    return OK;
}

/* ---- numbers ---- */

static size_t bound(const struct field *f, double v, enum unit_system u, char *out, size_t cap) {
    if (f->type == FIELD_QUANTITY) return units_print(f->dimension, u, v, out, cap);
    return number_print(v, out, cap);
}

enum status value_in_range(struct reader *r, const struct field *f, double v) {
    char us[2][64], si[2][64], got[64];
    if (!isfinite(v)) return reader_fail(r, E_DOMAIN, "The number is not finite.");
    if ((f->min == 0 && f->max == 0) || (v >= f->min && v <= f->max)) return OK;
    bound(f, f->min, UNITS_US, us[0], 64);
    bound(f, f->max, UNITS_US, us[1], 64);
    bound(f, f->min, UNITS_METRIC, si[0], 64);
    bound(f, f->max, UNITS_METRIC, si[1], 64);
    bound(f, v, UNITS_US, got, 64);
    if (!strcmp(got, "-")) snprintf(got, sizeof got, "A number so large");
    /* a step beyond the bound reads like the bound itself once it is rounded */
    const char *near = strcmp(got, us[v > f->max]) ? ""
                       : v > f->max                ? "A little over "
                                                   : "A little under ";
    if (!strcmp(us[1], si[1]))
        return reader_fail(r, E_DOMAIN, "%s%s is outside its range. Write between %s and %s.", near,
                           got, us[0], us[1]);
    return reader_fail(r, E_DOMAIN,
                       "%s%s is outside its range. Write between %s and %s (%s and %s).", near, got,
                       us[0], us[1], si[0], si[1]);
}

static enum status quantity_of(struct reader *r, const struct field *f, const char *text,
                               void *at) {
    struct why inner = {0};
    double v;
    enum dimension d = f->type == FIELD_QUANTITY ? f->dimension : DIM_NONE;
    enum status s = units_read(d, text, &v, &inner);
    if (s == OK && f->type == FIELD_INT && v != floor(v))
        return reader_fail(r, E_TYPE, "\"%.40s\" is not a whole number.", text);
    const char *advice = s != OK && (f->flags & FLAG_DRIVEN) ? strstr(inner.text, " Write ") : NULL;
    if (advice)
        return reader_fail(r, s, "%.*s Write %s.", (int)(advice - inner.text), inner.text,
                           field_hint(f));
    if (s != OK) return reader_fail(r, s, "%s", inner.text);
    if (f->type == FIELD_INT && fabs(v) > 9e15)
        return reader_fail(r, E_DOMAIN, "\"%.40s\" is too large.", text);
    if ((s = value_in_range(r, f, v)) != OK) return s;
    if (f->type == FIELD_INT) {
        int64_t i = (int64_t)v;
        memcpy(at, &i, sizeof i);
    } else {
        memcpy(at, &v, sizeof v);
    }
    return OK;
}

/* A slip of the hand: nobody alive works or worked there, and minutes fit 32 bits within it. */
static enum status year_in_range(struct reader *r, const struct field *f, const char *text,
                                 int64_t v) {
    enum { FIRST = 1900, LAST = 2199, MIN_PER_DAY = 1440 };
    if (f->type == FIELD_CLOCK) return OK;
    bool minutes = f->type == FIELD_LOCAL || f->type == FIELD_INSTANT;
    int64_t at = time_is_clock(v) ? v - TIME_OF_CLOCK : v, unit = minutes ? MIN_PER_DAY : 1;
    if (at >= day_of_date(FIRST, 1, 1) * unit && at < day_of_date(LAST + 1, 1, 1) * unit) return OK;
    return reader_fail(r, E_DOMAIN, "\"%.40s\" is too far away. Write a year from %d to %d.", text,
                       FIRST, LAST);
}

static enum status time_of(struct reader *r, const struct field *f, const char *text, void *at) {
    struct why inner = {0};
    int64_t v;
    enum status s;
    switch (f->type) {
    case FIELD_CLOCK: s = clock_read(text, &v, &inner); break;
    case FIELD_LOCAL: s = local_read(text, &v, &inner); break;
    case FIELD_INSTANT: s = moment_read(text, &v, &inner); break;
    default: s = day_read(text, &v, &inner); break;
    }
    if (s != OK) return reader_fail(r, s, "%s", inner.text);
    if ((s = year_in_range(r, f, text, v)) != OK) return s;
    memcpy(at, &v, sizeof v);
    return OK;
}

/* ---- colors ---- */

static enum status one_color(struct reader *r, const struct color_said *at) {
    if (!at->text) return OK;
    return reader_fail(r, E_CONFLICT, "\"color\" and \"lab\" are both given. Write one of them.");
}

static enum status color_of(struct reader *r, const char *text, void *at) {
    struct why inner = {0};
    enum status s = one_color(r, at);
    if (s == OK && (s = color_said_read(text, r->arena, at, &inner)) != OK)
        return reader_fail(r, s, "%s", inner.text);
    return s;
}

enum status value_of_lab(struct reader *r, const double lab[3], void *at) {
    char text[128], n[3][40];
    enum status s = one_color(r, at);
    if (s != OK) return s;
    for (int i = 0; i < 3; i++) number_print(lab[i], n[i], sizeof n[i]);
    snprintf(text, sizeof text, "lab(%s %s %s)", n[0], n[1], n[2]);
    return color_of(r, text, at);
}

enum status value_of_text(struct reader *r, const struct field *f, const char *text, void *at) {
    enum status s =
        text_is_fit(r, text, strlen(text), f->flags & FLAG_FILE ? FIELD_FILE_MAX : FIELD_TEXT_MAX);
    /* instruments write files in other encodings; their readers take what they know */
    if (s == OK && !(f->flags & FLAG_FILE)) s = is_utf8(r, text);
    if (s != OK) return s;
    switch (f->type) {
    case FIELD_TEXT: return keep(r, text, at);
    case FIELD_ID:
        return f->words                ? choice_of(r, f, text, at)
               : f->flags & FLAG_CLASS ? class_of(r, text, at)
                                       : id_of(r, text, at);
    case FIELD_BOOL: return bool_of(r, f, text, at);
    case FIELD_WORD: return word_of(r, f, text, at);
    case FIELD_COLOR: return color_of(r, text, at);
    case FIELD_CLOCK:
    case FIELD_DAY:
    case FIELD_LOCAL:
    case FIELD_INSTANT:
    case FIELD_DAYS: return time_of(r, f, text, at);
    default: return quantity_of(r, f, text, at);
    }
}
