/* JSON Schema (draft 2020-12) out of descriptions. */
#include "codec/document.h"
#include "codec/units_text.h"

#include <stdio.h>
#include <string.h>

enum { TYPES_MAX = 256 };

struct schema_seen {
    struct schema_root type;
    bool keyed; /* rows of a map: their first field is the key and not in them */
};

struct schema_set {
    struct schema_seen seen[TYPES_MAX];
    size_t n;
    const char *ref;
    bool named; /* names carry the spelling */
    struct text *out;
    bool overflow;
};

void schema_name(const struct desc *d, enum spelling spelling, char out[FIELD_KEY_MAX]) {
    snprintf(out, FIELD_KEY_MAX, "%s%s", d->name, spelling == SPELL_INPUT ? "_input" : "");
}

static void meet(struct schema_set *s, const struct desc *d, enum spelling spelling, bool keyed) {
    for (size_t i = 0; i < s->n; i++)
        if (s->seen[i].type.d == d && s->seen[i].type.spelling == spelling) return;
    if (s->n == TYPES_MAX) {
        s->overflow = true;
        return;
    }
    s->seen[s->n++] = (struct schema_seen){{d, spelling}, keyed};
}

static void refer(struct schema_set *s, const struct desc *d, enum spelling spelling, bool keyed) {
    char name[FIELD_KEY_MAX];
    meet(s, d, spelling, keyed);
    if (s->named)
        schema_name(d, spelling, name);
    else
        snprintf(name, sizeof name, "%s", d->name);
    text_print(s->out, "{\"$ref\":\"%s%s\"}", s->ref, name);
}

static void bounds(struct schema_set *s, const struct field *f) {
    char n[40];
    if (f->min == 0 && f->max == 0) return;
    number_print(f->min, n, sizeof n);
    text_print(s->out, ",\"minimum\":%s", n);
    number_print(f->max, n, sizeof n);
    text_print(s->out, ",\"maximum\":%s", n);
}

static void describe(struct schema_set *s, const char *help, const char *more) {
    char text[512];
    snprintf(text, sizeof text, "%s%s%s", help ? help : "", more && *more ? "; " : "",
             more ? more : "");
    text_print(s->out, ",\"description\":");
    text_json(s->out, text);
}

static void list(struct schema_set *s, const struct field *f, const char *items) {
    text_print(s->out, "{\"type\":\"array\",\"items\":%s", items);
    if (f->fixed)
        text_print(s->out, ",\"minItems\":%zu,\"maxItems\":%zu", f->fixed, f->fixed);
    else if (f->items_max)
        text_print(s->out, ",\"maxItems\":%zu", f->items_max);
    describe(s, f->help, NULL);
    text_print(s->out, "}");
}

static void list_of_records(struct schema_set *s, const struct field *f, enum spelling spelling) {
    bool map = f->type == FIELD_MAP;
    text_print(s->out, map ? "{\"type\":\"object\",\"additionalProperties\":"
                           : "{\"type\":\"array\",\"items\":");
    refer(s, f->of, spelling, map);
    if (!map && f->items_max) text_print(s->out, ",\"maxItems\":%zu", f->items_max);
    describe(s, f->help, NULL);
    text_print(s->out, "}");
}

static void quantity(struct schema_set *s, const struct field *f, enum spelling spelling) {
    if (spelling == SPELL_RESULT) {
        text_print(s->out, "{\"type\":\"number\"");
        bounds(s, f);
        describe(s, f->help, dimension_unit(f->dimension));
    } else {
        text_print(s->out, "{\"type\":\"string\",\"minLength\":1,\"maxLength\":%d", UNITS_TEXT_MAX);
        describe(s, f->help, field_hint(f));
    }
    text_print(s->out, "}");
}

static void words(struct schema_set *s, const struct field *f) {
    bool any = false;
    text_print(s->out, "{\"enum\":[");
    for (const char *const *w = f->words; *w; w++) {
        if (!**w) continue;
        if (any) text_add(s->out, ",", 1);
        text_json(s->out, *w);
        any = true;
    }
    text_print(s->out, "]");
    describe(s, f->help, NULL);
    text_print(s->out, "}");
}

static void string(struct schema_set *s, const struct field *f, const char *extra,
                   const char *how) {
    text_print(s->out, "{\"type\":\"string\"%s", extra);
    describe(s, f->help, how);
    text_print(s->out, "}");
}

static void time_value(struct schema_set *s, const struct field *f, enum spelling spelling) {
    static const char *const input[] = {"6:40 pm or 18:40", "2026-10-12", "2026-10-12 08:00",
                                        "2026-10-12 08:00 by the shop's clock, or "
                                        "2026-10-12T12:00Z"};
    static const char *const result[] = {"minutes from midnight", "days since 1970-01-01",
                                         "minutes since 1970-01-01 on the shop's clock",
                                         "minutes since 1970-01-01T00:00Z"};
    int i = (int)f->type - FIELD_CLOCK;
    if (spelling == SPELL_INPUT) {
        string(s, f, ",\"minLength\":1,\"maxLength\":40", input[i]);
        return;
    }
    text_print(s->out, "{\"type\":\"integer\"");
    describe(s, f->help, result[i]);
    text_print(s->out, "}");
}

static void color(struct schema_set *s, const struct field *f, enum spelling spelling) {
    if (spelling == SPELL_INPUT) {
        string(s, f, ",\"minLength\":1,\"maxLength\":200",
               "CSS Color 4: #1f4e5a, lab(40 -12 -9), ...");
        return;
    }
    text_print(s->out,
               "{\"type\":\"object\",\"properties\":{\"text\":{\"type\":\"string\"},"
               "\"lab\":{\"type\":\"array\",\"items\":{\"type\":\"number\"},\"minItems\":3,"
               "\"maxItems\":3},\"hex\":{\"type\":\"string\"}},\"required\":[\"text\",\"lab\"],"
               "\"additionalProperties\":false");
    describe(s, f->help, "Lab: CSS Lab, D50, 2 degree observer; hex: nearest on a screen");
    text_print(s->out, "}");
}

static void value(struct schema_set *s, const struct field *f, enum spelling spelling) {
    char extra[80];
    switch (f->type) {
    case FIELD_TEXT:
        snprintf(extra, sizeof extra, ",\"maxLength\":%d",
                 f->flags & FLAG_FILE ? FIELD_FILE_MAX : FIELD_TEXT_MAX);
        string(s, f, extra, NULL);
        break;
    case FIELD_ID:
        if (f->words) {
            words(s, f);
            break;
        }
        if (spelling == SPELL_INPUT && f->flags & FLAG_CLASS) { /* or a name, in words */
            snprintf(extra, sizeof extra, ",\"maxLength\":%d", FIELD_TEXT_MAX);
            string(s, f, extra, NULL);
            break;
        }
        string(s, f, ",\"pattern\":\"^[a-z0-9_-]{1,64}$\"", NULL);
        break;
    case FIELD_BOOL:
        text_print(s->out, "{\"type\":\"boolean\"");
        describe(s, f->help, NULL);
        text_print(s->out, "}");
        break;
    case FIELD_INT:
    case FIELD_NUMBER:
        text_print(s->out, "{\"type\":\"%s\"", f->type == FIELD_INT ? "integer" : "number");
        bounds(s, f);
        describe(s, f->help, NULL);
        text_print(s->out, "}");
        break;
    case FIELD_QUANTITY: quantity(s, f, spelling); break;
    case FIELD_WORD: words(s, f); break;
    case FIELD_COLOR: color(s, f, spelling); break;
    case FIELD_LAB: {
        struct field three = {.fixed = 3, .help = f->help};
        list(s, &three, "{\"type\":\"number\"}");
        break;
    }
    case FIELD_CLOCK:
    case FIELD_DAY:
    case FIELD_LOCAL:
    case FIELD_INSTANT: time_value(s, f, spelling); break;
    case FIELD_RECORD:
        if (f->flags & FLAG_NULL) text_print(s->out, "{\"anyOf\":[");
        refer(s, f->of, spelling, false);
        if (f->flags & FLAG_NULL) text_print(s->out, ",{\"type\":\"null\"}]}");
        break;
    case FIELD_LIST:
    case FIELD_MAP: list_of_records(s, f, spelling); break;
    case FIELD_TEXTS:
    case FIELD_DAYS: list(s, f, "{\"type\":\"string\"}"); break;
    case FIELD_NUMBERS: list(s, f, "{\"type\":[\"number\",\"null\"]}"); break;
    case FIELD_JSON:
        text_print(s->out, "{\"description\":");
        text_json(s->out, f->help);
        text_print(s->out, "}");
        break;
    }
}

/* "type":"object","properties":{...}, without the outer braces */
static void body(struct schema_set *s, const struct desc *d, enum spelling spelling,
                 bool skip_first) {
    char key[FIELD_KEY_MAX];
    bool any = false;
    text_print(s->out, "\"type\":\"object\",\"description\":");
    text_json(s->out, d->help);
    text_print(s->out, ",\"properties\":{");
    if (d->format) {
        text_print(s->out, "\"format\":{\"const\":\"%s\"},\"version\":{\"const\":%d}", d->format,
                   d->version);
        any = true;
    }
    for (size_t i = skip_first; i < d->fields_n; i++) {
        const struct field *f = &d->fields[i];
        if (f->type == FIELD_LAB && spelling == SPELL_RESULT) continue;
        if (any) text_add(s->out, ",", 1);
        any = true;
        text_json(s->out, field_key(f, spelling, key));
        text_add(s->out, ":", 1);
        value(s, f, spelling);
    }
    text_print(s->out, "},\"required\":[");
    any = d->format;
    if (any) text_print(s->out, "\"format\",\"version\"");
    for (size_t i = skip_first; i < d->fields_n; i++) {
        if (!(d->fields[i].flags & FLAG_REQUIRED)) continue;
        if (any) text_add(s->out, ",", 1);
        any = true;
        text_json(s->out, field_key(&d->fields[i], spelling, key));
    }
    text_print(s->out, "],\"additionalProperties\":%s", d->open ? "true" : "false");
}

/* Everything met so far from number `from`, and what is met on the way. Rows of maps lose the field
 * that is their key; such a type is used in maps only. */
static void definitions(struct schema_set *s, size_t from) {
    char name[FIELD_KEY_MAX];
    for (size_t i = from; i < s->n; i++) {
        struct schema_root r = s->seen[i].type;
        if (i > from) text_add(s->out, ",\n", 2);
        if (s->named)
            schema_name(r.d, r.spelling, name);
        else
            snprintf(name, sizeof name, "%s", r.d->name);
        text_json(s->out, name);
        text_print(s->out, ":{");
        body(s, r.d, r.spelling, s->seen[i].keyed);
        text_print(s->out, "}");
    }
}

enum status schema_print(const struct desc *d, enum spelling spelling, const char *id,
                         struct text *out) {
    struct schema_set s = {.ref = "#/$defs/", .out = out};
    meet(&s, d, spelling, false);
    text_print(out, "{\"$schema\":\"https://json-schema.org/draft/2020-12/schema\",\n\"$id\":");
    text_json(out, id);
    text_print(out, ",\n\"title\":");
    text_json(out, d->name);
    text_print(out, ",\n");
    body(&s, d, spelling, false);
    text_print(out, ",\n\"$defs\":{");
    definitions(&s, 1);
    text_print(out, "}}\n");
    return s.overflow ? E_TOO_LARGE : out->failed ? E_MEMORY : OK;
}

enum status schema_set_print(const struct schema_root *roots, size_t n, const char *ref,
                             struct text *out) {
    struct schema_set s = {.ref = ref, .out = out, .named = true};
    for (size_t i = 0; i < n; i++) meet(&s, roots[i].d, roots[i].spelling, false);
    definitions(&s, 0);
    return s.overflow ? E_TOO_LARGE : out->failed ? E_MEMORY : OK;
}

enum status schema_field_print(const struct field *f, enum spelling spelling, const char *ref,
                               struct text *out) {
    struct schema_set s = {.ref = ref, .out = out, .named = true};
    value(&s, f, spelling);
    return out->failed ? E_MEMORY : OK;
}
