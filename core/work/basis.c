#include "core/work/basis.h"

#include "core/base/units.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

void ledger_init(struct ledger *l, struct arena *arena, bool wanted) {
    *l = (struct ledger){.arena = arena, .wanted = wanted};
}

void *ledger_grow(struct ledger *l, void *rows, size_t n, size_t *cap, size_t size) {
    if (n < *cap) return rows;
    size_t wider = *cap ? *cap * 2 : 8;
    void *fresh = arena_array(l->arena, wider, size);
    if (!fresh) {
        l->failed = true;
        return NULL;
    }
    if (n) memcpy(fresh, rows, n * size);
    *cap = wider;
    return fresh;
}

/* To the thirty-second of an inch, or the millimeter; below ten with its tenth. */
const char *ledger_length(const struct ledger *l, double mm) {
    if (l->metric) return arena_print(l->arena, fabs(mm) < 10 ? "%.2g mm" : "%.0f mm", mm);
    long parts = lround(mm / MM_PER_IN * 32), whole = parts / 32, n = parts % 32, d = 32;
    while (n && n % 2 == 0) n /= 2, d /= 2;
    return !n      ? arena_print(l->arena, "%ld in", whole)
           : whole ? arena_print(l->arena, "%ld %ld/%ld in", whole, n, d)
                   : arena_print(l->arena, "%ld/%ld in", n, d);
}

const char *ledger_small(const struct ledger *l, double mm) {
    return l->metric ? arena_print(l->arena, "%.2f mm", mm)
                     : arena_print(l->arena, "%.3f in", mm / MM_PER_IN);
}

const char *ledger_film(const struct ledger *l, double um) {
    return l->metric ? arena_print(l->arena, "%.0f \u00b5m", um)
                     : arena_print(l->arena, "%.3g mil", um / UM_PER_MIL);
}

const char *ledger_words(const struct ledger *l, const char *id) {
    char *text = arena_text(l->arena, id);
    for (char *c = text; c && *c; c++)
        if (*c == '_') *c = ' ';
    return text;
}

const char *ledger_degrees(const struct ledger *l, double degc) {
    return l->metric ? arena_print(l->arena, "%.0f \u00b0C", degc)
                     : arena_print(l->arena, "%.0f \u00b0F", degc * 9 / 5 + 32);
}

struct basis *ledger_basis(struct ledger *l, const char *pointer, const char *rule,
                           const char *source, enum certainty certainty) {
    struct basis *b;
    void *rows =
        l->wanted ? ledger_grow(l, l->bases, l->bases_n, &l->bases_cap, sizeof *l->bases) : NULL;
    if (rows) {
        l->bases = rows;
        b = &l->bases[l->bases_n++];
    } else {
        b = &l->scratch;
    }
    *b = (struct basis){.pointer = pointer,
                        .rule = rule,
                        .source = source,
                        .certainty = certainty,
                        .low = NAN,
                        .high = NAN};
    return b;
}

void basis_range(struct basis *b, enum dimension unit, double low, double high) {
    b->unit = unit;
    b->low = low;
    b->high = high;
}

static void input_add(struct ledger *l, struct basis *b, struct basis_input in) {
    if (!l->wanted) return;
    struct basis_input *wider = arena_array(l->arena, b->inputs_n + 1, sizeof *wider);
    if (!wider) {
        l->failed = true;
        return;
    }
    if (b->inputs_n) memcpy(wider, b->inputs, b->inputs_n * sizeof *wider);
    wider[b->inputs_n++] = in;
    b->inputs = wider;
}

void basis_number(struct ledger *l, struct basis *b, const char *name, double value,
                  enum dimension unit) {
    input_add(l, b, (struct basis_input){name, NULL, value, unit});
}

void basis_word(struct ledger *l, struct basis *b, const char *name, const char *text) {
    input_add(l, b, (struct basis_input){name, text, NAN, DIM_NONE});
}

static void assume(struct ledger *l, struct assumption a) {
    void *rows = ledger_grow(l, l->assumed, l->assumed_n, &l->assumed_cap, sizeof *l->assumed);
    if (!rows) return;
    l->assumed = rows;
    l->assumed[l->assumed_n++] = a;
}

void assume_number(struct ledger *l, const char *pointer, double value, enum dimension unit,
                   const char *why, const char *source) {
    assume(l, (struct assumption){pointer, NULL, value, unit, why, source});
}

void assume_word(struct ledger *l, const char *pointer, const char *text, const char *why,
                 const char *source) {
    assume(l, (struct assumption){pointer, text, NAN, DIM_NONE, why, source});
}

struct notice *notice_add(struct ledger *l, struct notices *to, enum rank rank, const char *topic,
                          const char *text, const char *source, enum certainty certainty) {
    void *rows = ledger_grow(l, to->rows, to->n, &to->cap, sizeof *to->rows);
    if (!rows) return NULL;
    to->rows = rows;
    to->rows[to->n] = (struct notice){
        .rank = rank, .topic = topic, .text = text, .source = source, .certainty = certainty};
    return &to->rows[to->n++];
}

const char *basis_span(double minutes, char out[32]) {
    long whole = lround(minutes), h = whole / 60, min = whole % 60;
    if (whole < 60)
        snprintf(out, 32, "%ld min", whole);
    else if (whole < 2880 && min)
        snprintf(out, 32, "%ld h %ld min", h, min);
    else if (whole < 2880)
        snprintf(out, 32, "%ld h", h);
    else
        snprintf(out, 32, "%.3g days", minutes / 1440);
    return out;
}

const char *basis_hands(double hours, char out[32]) {
    double min = fmin(fmax(round(hours * 60), hours > 0), 1e9); /* work is never 0 min */
    if (min >= 60) min = floor((min + 2) / 5) * 5;
    double whole = floor(min / 60), rest = min - 60 * whole;
    if (!(whole > 0))
        snprintf(out, 32, "%.0f min", min);
    else if (rest > 0)
        snprintf(out, 32, "%.0f h %.0f min", whole, rest);
    else
        snprintf(out, 32, "%.0f h", whole);
    return out;
}

const char *basis_money(double cent, char out[32]) {
    double rounded = fmin(fabs(round(cent)), 1e14);
    char digits[24];
    int n = snprintf(digits, sizeof digits, "%.0f", floor(rounded / 100)), k = 0;
    k += snprintf(out, 32, "%s$", round(cent) < 0 ? "\u2212" : "");
    for (int i = 0; i < n; i++) {
        if (i && (n - i) % 3 == 0) out[k++] = ',';
        out[k++] = digits[i];
    }
    int rest = (int)fmod(rounded, 100);
    out[k] = 0;
    if (rest) snprintf(out + k, (size_t)(32 - k), ".%02d", rest);
    return out;
}
