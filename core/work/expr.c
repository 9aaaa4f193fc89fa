#include "core/work/expr.h"

#include <math.h>
#include <stdbool.h>
#include <string.h>

struct reader {
    const char *text, *at;
    const struct expr_name *names;
    size_t n;
    int depth;
    enum status status;
    struct why *why;
};

static double sum_read(struct reader *r);

static double fail(struct reader *r, enum status s, const char *what) {
    if (!r->status)
        r->status = why_say(r->why, s, "", "\"%.200s\", character %d: %s", r->text,
                            (int)(r->at - r->text) + 1, what);
    return NAN;
}

static void blank_skip(struct reader *r) {
    while (*r->at == ' ') r->at++;
}

static bool take(struct reader *r, char c) {
    blank_skip(r);
    if (*r->at != c) return false;
    r->at++;
    return true;
}

static bool is_digit(char c) {
    return (c >= '0' && c <= '9') || c == '.';
}

static bool is_letter(char c) {
    return (c >= 'a' && c <= 'z') || c == '_';
}

static double number_read(struct reader *r) {
    double value = 0, place = 1;
    while (*r->at >= '0' && *r->at <= '9') value = value * 10 + (*r->at++ - '0');
    if (*r->at == '.')
        for (r->at++; *r->at >= '0' && *r->at <= '9'; r->at++)
            value += (place /= 10) * (*r->at - '0');
    return value;
}

static bool is_word(const char *word, size_t length, const char *name) {
    return strlen(name) == length && !memcmp(word, name, length);
}

static double call(struct reader *r, const char *word, size_t length) {
    double a[3] = {0};
    int n = 0;
    do a[n++] = sum_read(r);
    while (n < 3 && !r->status && take(r, ','));
    if (r->status) return NAN;
    if (!take(r, ')')) return fail(r, E_SYNTAX, "a closing bracket is missing.");
    if (n == 2 && is_word(word, length, "min")) return fmin(a[0], a[1]);
    if (n == 2 && is_word(word, length, "max")) return fmax(a[0], a[1]);
    if (n == 1 && is_word(word, length, "floor")) return floor(a[0] + 1e-9);
    if (n == 3 && is_word(word, length, "if")) return a[0] > 0 ? a[1] : a[2];
    return fail(r, E_SYNTAX, "no such function, or not that many values for it.");
}

static double name_read(struct reader *r) {
    const char *word = r->at;
    while (is_letter(*r->at)) r->at++;
    size_t length = (size_t)(r->at - word);
    if (take(r, '(')) return call(r, word, length);
    for (size_t i = 0; i < r->n; i++)
        if (is_word(word, length, r->names[i].name)) return r->names[i].value;
    return fail(r, E_REFERENCE, "there is no such name.");
}

static double factor_read(struct reader *r) {
    double value;
    if (r->status) return NAN;
    if (++r->depth > EXPR_DEPTH) return fail(r, E_TOO_LARGE, "too many brackets.");
    blank_skip(r);
    if (take(r, '-')) {
        value = -factor_read(r);
    } else if (take(r, '(')) {
        value = sum_read(r);
        if (!r->status && !take(r, ')')) fail(r, E_SYNTAX, "a closing bracket is missing.");
    } else if (is_digit(*r->at)) {
        value = number_read(r);
    } else if (is_letter(*r->at)) {
        value = name_read(r);
    } else {
        return fail(r, E_SYNTAX, "a number or a name is missing.");
    }
    r->depth--;
    return value;
}

static double product_read(struct reader *r) {
    double value = factor_read(r);
    for (;;) {
        if (take(r, '*')) {
            value *= factor_read(r);
        } else if (take(r, '/')) {
            double by = factor_read(r);
            if (by == 0) return fail(r, E_DOMAIN, "division by nothing.");
            value /= by;
        } else {
            return value;
        }
    }
}

static double sum_read(struct reader *r) {
    double value = product_read(r);
    for (;;) {
        if (take(r, '+'))
            value += product_read(r);
        else if (take(r, '-'))
            value -= product_read(r);
        else
            return value;
    }
}

enum status expr_value(const char *text, const struct expr_name *names, size_t n, double *out_value,
                       struct why *why) {
    struct reader r = {.text = text, .at = text, .names = names, .n = n, .why = why};
    if (strlen(text) > EXPR_TEXT)
        return why_say(why, E_TOO_LARGE, "", "More than %d characters.", EXPR_TEXT);
    double value = sum_read(&r);
    blank_skip(&r);
    if (!r.status && *r.at) fail(&r, E_SYNTAX, "nothing more was expected here.");
    if (!r.status && !isfinite(value)) fail(&r, E_DOMAIN, "the result is not a number.");
    if (!r.status) *out_value = value;
    return r.status;
}
