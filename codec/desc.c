/* What follows from a description alone: unsaid values, keys. */
#include "codec/document.h"
#include "codec/units_text.h"
#include "core/work/job.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static void unsay(const struct field *f, char *at) {
    static const double nothing = NAN;
    static const int64_t never = INT64_MIN;
    switch (f->type) {
    case FIELD_NUMBER:
    case FIELD_QUANTITY: memcpy(at, &nothing, sizeof nothing); break;
    case FIELD_INT:
    case FIELD_CLOCK:
    case FIELD_DAY:
    case FIELD_LOCAL:
    case FIELD_INSTANT: memcpy(at, &never, sizeof never); break;
    case FIELD_COLOR:
    case FIELD_LAB:
        *(struct color_said *)(void *)at = (struct color_said){NULL, {NAN, NAN, NAN}};
        break;
    case FIELD_NUMBERS:
        for (size_t i = 0; i < f->fixed; i++)
            memcpy(at + i * sizeof nothing, &nothing, sizeof nothing);
        break;
    case FIELD_RECORD: desc_unsay(f->of, at); break;
    default: break; /* zero: false, the unsaid word, NULL */
    }
}

void desc_unsay(const struct desc *d, void *out) {
    memset(out, 0, d->size);
    for (size_t i = 0; i < d->fields_n; i++)
        unsay(&d->fields[i], (char *)out + d->fields[i].offset);
}

bool field_said(const struct field *f, const void *record) {
    const char *at = (const char *)record + f->offset;
    double v;
    int64_t i;
    int word;
    size_t n;
    const char *text;
    switch (f->type) {
    case FIELD_TEXT:
    case FIELD_ID:
    case FIELD_JSON:
    case FIELD_COLOR:
    case FIELD_LAB: /* its first member is its text */ return memcpy(&text, at, sizeof text), text;
    case FIELD_BOOL:
        if (!(f->flags & FLAG_TRI)) return *(const bool *)at;
        return memcpy(&word, at, sizeof word), word != YN_UNSAID;
    case FIELD_WORD: return memcpy(&word, at, sizeof word), word != 0;
    case FIELD_NUMBER:
    case FIELD_QUANTITY: return memcpy(&v, at, sizeof v), isfinite(v);
    case FIELD_INT:
    case FIELD_CLOCK:
    case FIELD_DAY:
    case FIELD_LOCAL:
    case FIELD_INSTANT: return memcpy(&i, at, sizeof i), i != INT64_MIN;
    case FIELD_RECORD: return desc_said(f->of, at);
    case FIELD_NUMBERS:
        for (size_t k = 0; k < f->fixed; k++) {
            memcpy(&v, at + k * sizeof v, sizeof v);
            if (!isfinite(v)) return false;
        }
        if (f->fixed) return true;
        break;
    default: break;
    }
    memcpy(&n, (const char *)record + f->count_offset, sizeof n);
    return n > 0;
}

bool desc_said(const struct desc *d, const void *in) {
    for (size_t i = 0; i < d->fields_n; i++)
        if (field_said(&d->fields[i], in)) return true;
    return false;
}

const char *field_hint(const struct field *f) {
    return f->flags & FLAG_DRIVEN ? "miles or kilometers: 24 mi, 40 km" : units_hint(f->dimension);
}

const char *field_key(const struct field *f, enum spelling spelling, char out[FIELD_KEY_MAX]) {
    const char *suffix = "";
    if (spelling == SPELL_RESULT) switch (f->type) {
        case FIELD_QUANTITY: suffix = dimension_suffix(f->dimension); break;
        case FIELD_CLOCK: suffix = "_min"; break;
        case FIELD_DAY: suffix = "_day"; break;
        case FIELD_LOCAL: suffix = "_local_min"; break;
        case FIELD_INSTANT: suffix = "_utc_min"; break;
        default: break;
        }
    size_t n = strlen(f->name), m = strlen(suffix);
    if (n > m && !strcmp(f->name + n - m, suffix)) suffix = ""; /* named by its whole member */
    snprintf(out, FIELD_KEY_MAX, "%s%s", f->name, suffix);
    return out;
}

const struct field *field_by_key(const struct desc *d, enum spelling spelling, const char *key) {
    char own[FIELD_KEY_MAX];
    for (size_t i = 0; i < d->fields_n; i++)
        if (!strcmp(field_key(&d->fields[i], spelling, own), key)) return &d->fields[i];
    return NULL;
}
