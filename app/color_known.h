/* How well the colors of a shelf are known: each paint, and each sample against all the others. */
#ifndef APP_COLOR_KNOWN_H
#define APP_COLOR_KNOWN_H

#include "app/color_work.h"
#include "app/explain.h"

struct known_paint {
    const char *id, *name, *hex;
    const char *known;                         /* color, spectrum, recipe */
    int64_t samples;                           /* with it in them */
    double expected_difference, difference_90; /* of a half-and-half mix with the whitest paint;
                                                  of the whitest itself: with the darkest */
    const char *with;                          /* name of that other paint */
    const char *can_of, *first; /* the paint that it is another can of: id; name, not printed */
    double lots_apart;          /* how far they are expected to dry apart, alone; NAN: it is none */
    bool impossible;            /* no paint can have the color that was written */
    const char *text, *lots;    /* in words; of another can: what it begins with */
};

struct known_sample {
    const char *id, *hex, *predicted_hex;
    double residual;                  /* of the reading to the model that learnt from it too */
    double difference, difference_90; /* to what all the others alone say of that mix */
    bool contradicts;
    const char *text; /* in a sentence, where it contradicts */
};

struct known_wet {        /* a card that was read wet */
    const char *id, *hex; /* hex: what it should dry to; NULL where nothing tells */
    const char *mix;      /* what is on it */
    bool learnt;          /* it is learnt from, as that color */
    bool paired;          /* the same mix was read dry too */
    int64_t pairs;        /* of its class, read wet and dry */
    double doubt;         /* what that adds to how it was read, CIEDE2000; NAN */
    const char *text;
};

struct known_answer {
    struct known_paint *paints;
    size_t paints_n;
    struct known_sample *samples; /* that were learnt from */
    size_t samples_n;
    struct known_wet *wet; /* cards that were read wet */
    size_t wet_n;
    double discrepancy; /* per axis: how far real mixes stay from the model */
    struct basis *bases;
    size_t bases_n;
};

/* Errors: those of palette_make. An empty shelf is no error. */
enum status color_known(const struct tables *t, const struct shelf *shelf, struct arena *arena,
                        struct known_answer *out, struct why *why);

/* Where the doubt of each paint comes from. */
void known_explain(struct ledger *l, const struct known_answer *a);

extern const struct desc desc_known;

#endif
