/* What every room of the plan is handed: the trade's tables, the completed statement of the job,
 * and where to write reasons. Rooms fill their own part of struct piece_plan (core/work/plan.h).
 *
 * `at` is the piece's JSON pointer in the document and in the result ("/pieces/0"); texts made on
 * the way belong to the ledger's arena. */
#ifndef CORE_WORK_ROOM_H
#define CORE_WORK_ROOM_H

#include "core/work/plan.h"

struct mix_film; /* core/work/mix_film.h */
struct palettes; /* core/work/palette.h */
struct taken;    /* core/work/amount.h */

struct room {
    const struct tables *t;
    const struct shop *shop; /* completed */
    const struct shelf *shelf;
    const struct piece *piece; /* completed */
    const char *at;
    struct ledger *ledger;
    bool no_recipe;            /* struct plan_options, recipes_of */
    struct palettes *palettes; /* of the shelf; shared by the pieces */
    /* By row of colors: the mix of each, where its recipe is known and one of its jars was tried
     * over black and white (else jars is 0). NULL: no recipe is known yet. */
    const struct mix_film *mixes;
    size_t mixes_n;
    /* Mixed for a sister piece, of this one's color and kind of paint; what is left of it for this
     * piece (0: nothing), and what this one takes. */
    const struct mixed_batch *cup;
    double cup_ml, cup_need_ml;
    struct taken *taken; /* off the shelf by the pieces before; NULL: nothing is counted */
    int64_t now_utc_min;
    int64_t today; /* days since 1970, on the shop's clock */
};

/* printf into the request's arena; "" when memory is out, and the ledger says so. */
#define ROOM_TEXT(room, ...)                                                                       \
    ledger_text((room)->ledger, arena_print((room)->ledger->arena, __VA_ARGS__))

/* Each fills its part of *p and may read the parts named beside it. Errors: E_REFERENCE,
 * E_DOMAIN with the field in the job document; E_MEMORY. */
enum status inspection_make(const struct room *r, struct inspection *out, struct why *why);
enum status hazard_make(const struct room *r, const struct inspection *in, struct hazards *out,
                        struct why *why);
/* Once more when the coats are known: solvents, rags, spray follow from what is really put on. */
enum status hazard_of_coats(const struct room *r, struct piece_plan *p, struct why *why);
/* coats: what is planned, so that nothing is signed that was refused; NULL before that is known */
enum status agreement_make(const struct room *r, const struct coats *coats, struct notices *out,
                           struct why *why);
enum status surface_make(const struct room *r, struct surfaces *out, struct why *why);
/* reads p->inspection, p->surfaces */
enum status coats_make(const struct room *r, struct piece_plan *p, struct why *why);
/* reads inspection, surfaces, coats; fills takedown, repairs, finish */
enum status repair_make(const struct room *r, struct piece_plan *p, struct why *why);
/* reads surfaces, coats, color (share of each paint in the mix); fills amounts */
enum status amount_make(const struct room *r, struct piece_plan *p, struct why *why);
/* reads surfaces, coats (film build); fills fittings. Then supply_make (amount.h) counts. */
enum status fitting_make(const struct room *r, struct piece_plan *p, struct why *why);
/* reads everything but days; fills price */
enum status price_make(const struct room *r, struct piece_plan *p, struct why *why);
/* reads coats and the dates; fills care */
enum status care_make(const struct room *r, struct piece_plan *p, struct why *why);

#endif
