/* Why a figure is what it is, what was assumed, and what must be minded: one mechanism for every
 * figure on every screen.
 *
 * A basis hangs on the figure's JSON pointer in the result ("/pieces/0/amounts/1/mix_ml").
 * Numbers stay numbers with a dimension, so that they can be shown in US or metric units. */
#ifndef CORE_WORK_BASIS_H
#define CORE_WORK_BASIS_H

#include "core/base/arena.h"
#include "core/base/dimension.h"

#include <stdbool.h>

enum certainty {
    CERTAINTY_UNSAID,
    CERTAINTY_EXACT,     /* arithmetic on what was said */
    CERTAINTY_MEASURED,  /* the shop's own tests and records */
    CERTAINTY_LABEL,     /* the can's label */
    CERTAINTY_PUBLISHED, /* standard, handbook, law */
    CERTAINTY_SECONDARY, /* one trade source */
    CERTAINTY_COMMON,    /* common practice */
    CERTAINTY_MEMORY,    /* from memory */
    CERTAINTY_ASSUMED,
    CERTAINTY_SAID /* somebody saw it and said so; nobody has measured it */
};

struct basis_input {
    const char *name;
    const char *text; /* a word, or NULL when value holds */
    double value;
    enum dimension unit;
};

struct basis {
    const char *pointer;
    struct basis_input *inputs;
    size_t inputs_n;
    const char *rule;   /* the formula in words */
    const char *source; /* id of data/sources.tsv and place */
    const char *cited;  /* the same as people read it; NULL until app has looked it up */
    enum certainty certainty;
    double low, high; /* 9 of 10 lie between; NAN: not known */
    enum dimension unit;
};

struct assumption {
    const char *pointer; /* into the job document */
    const char *text;    /* a word, or NULL when value holds */
    double value;
    enum dimension unit;
    const char *why, *source;
};

/* STOP: work must not go on. MIND: it will go wrong unless. NOTE: good to know. */
enum rank { RANK_UNSAID, RANK_NOTE, RANK_MIND, RANK_STOP };

struct notice {
    enum rank rank;
    const char *id;     /* row of data/hazards.tsv, or NULL */
    const char *topic;  /* one word for machines: lead, bleeding, wax, rags ... */
    const char *text;   /* first sentence what to do, second why */
    const char *remedy; /* what may be done instead, or NULL */
    const char *blocks; /* gates or operations that wait for it, spaces between, or NULL */
    const char *signs;  /* the words about it that the client signs, or NULL */
    const char *source;
    enum certainty certainty;
};

struct notices {
    struct notice *rows;
    size_t n, cap;
};

/* Collects bases and assumptions while the plan is computed. Out of memory sets `failed`, which
 * the plan checks once at its end. Bases are kept only when `wanted`. */
struct ledger {
    struct arena *arena;
    bool wanted, failed;
    bool metric; /* texts name lengths, temperatures and loads in metric units, else in US ones */
    struct basis *bases;
    size_t bases_n, bases_cap;
    struct assumption *assumed;
    size_t assumed_n, assumed_cap;
    struct basis scratch; /* written when nobody wants the basis, never read */
};

void ledger_init(struct ledger *l, struct arena *arena, bool wanted);

/* `text`, never NULL: where memory for it was out, "" (not to be written to) and l->failed. */
static inline char *ledger_text(struct ledger *l, char *text) {
    l->failed = l->failed || !text;
    return text ? text : "";
}

/* Opens the basis of one figure; fields are then set and inputs added to the returned row.
 * Never NULL: when bases are not wanted (or memory is out) it is a scratch row of the ledger. Valid
 * until the next call of ledger_basis. */
struct basis *ledger_basis(struct ledger *l, const char *pointer, const char *rule,
                           const char *source, enum certainty certainty);
void basis_range(struct basis *b, enum dimension unit, double low, double high);
void basis_number(struct ledger *l, struct basis *b, const char *name, double value,
                  enum dimension unit);
void basis_word(struct ledger *l, struct basis *b, const char *name, const char *text);

void assume_number(struct ledger *l, const char *pointer, double value, enum dimension unit,
                   const char *why, const char *source);
void assume_word(struct ledger *l, const char *pointer, const char *text, const char *why,
                 const char *source);

/* Adds a row; texts are borrowed (static, tables or arena). Returns it, or NULL without memory. */
struct notice *notice_add(struct ledger *l, struct notices *to, enum rank rank, const char *topic,
                          const char *text, const char *source, enum certainty certainty);

/* A time in words: "45 min", "24 h 40 min", "2.5 days". Returns out. */
const char *basis_span(double minutes, char out[32]);

/* Hands-on time, by which work is paid: never in days, and from an hour on to five minutes: "45
 * min", "13 h 50 min", "40 h". Returns out. */
const char *basis_hands(double hours, char out[32]);

/* Money in words, cents only where there are some: "$45", "$1,043.05", "−$3.71". Returns out. */
const char *basis_money(double cent, char out[32]);

/* Figures inside a text, in the units of the ledger; the arena's.
 * "1/2 in" or "13 mm"; small: "0.013 in" or "0.33 mm". */
const char *ledger_length(const struct ledger *l, double mm);
const char *ledger_small(const struct ledger *l, double mm);
const char *ledger_film(const struct ledger *l, double um);
const char *ledger_degrees(const struct ledger *l, double degc); /* "50 °F", "10 °C" */

/* An id as words, where no table has a name for it: "opening_width" is "opening width". */
const char *ledger_words(const struct ledger *l, const char *id);

/* Grows an arena array to hold one more; for lists whose length is not known before. */
void *ledger_grow(struct ledger *l, void *rows, size_t n, size_t *cap, size_t size);

#endif
