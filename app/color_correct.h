/* A batch that dried to another color: what to add to it, or with how much to start again. */
#ifndef APP_COLOR_CORRECT_H
#define APP_COLOR_CORRECT_H

#include "app/color_work.h"

struct correct_ask {
    struct color_said target, dried; /* wanted; what the batch dried to */
    enum reading read;               /* how that was read; unsaid: as a photo */
    bool logged;                     /* the shelf holds that reading as a sample already */
    struct mix_item *items;          /* what is in it, in parts */
    size_t items_n;
    double batch_ml, need_ml,
        most_ml;                /* in it; wanted in the end, NAN: as much; vessel, NAN: twice */
    int64_t paints;             /* added at most; INT64_MIN: 3 */
    double good;                /* predicted difference that is good enough; NAN: 0.7, else 1 */
    struct measuring measuring; /* how amounts are written; no addition below its step */
};

struct add_row {
    const char *paint, *name, *text;
    double amount_ml;
};

struct correct_answer {
    const char *advice;    /* leave, add, restart, neither */
    int kind;              /* the same as enum correct_advice; not printed */
    const char *text;      /* in a sentence */
    double difference_now; /* of the dried batch to the target */
    struct add_row *add;   /* to pour into the batch */
    size_t add_n;
    double add_cent, after_ml, more_ml; /* its cost; batch then; beyond what is needed */
    const char *hex;
    double lab[3]; /* D50 */
    double difference, expected_difference, difference_90;
    struct add_row *fresh; /* a new batch instead, where it is expected nearer than this one is */
    size_t fresh_n;
    double fresh_ml, fresh_cent, fresh_difference, fresh_expected_difference;
    const char *fresh_hex;
    struct mix_item *batch; /* what is in it after the addition, in parts of those of items */
    size_t batch_n;
};

/* The batch's own reading is learnt from first. What the model still cannot explain of it is
 * carried over to the corrected batch: the same paints in nearly the same shares stay off by nearly
 * the same. Errors: those of color_mix; E_MISSING (/dried), E_DOMAIN (/batch, /most). */
enum status color_correct(const struct tables *t, const struct shelf *shelf,
                          const struct correct_ask *ask, struct limit limit, struct arena *arena,
                          struct correct_answer *out, struct why *why);

extern const struct desc desc_correct_answer;

#endif
