/* Named facts about a piece, on which the rows of the trade's tables depend.
 *
 * A row's `when` cell is a list of names separated by spaces, all of which must hold; "!" in front
 * of a name turns it round: "painted light !outdoor". The names are the rows of one table in
 * fact.c, so that a rule can be added in data/ alone. What nobody has said counts as the case in
 * which more care is needed (age unknown: lead is possible). */
#ifndef CORE_WORK_FACT_H
#define CORE_WORK_FACT_H

#include "core/work/lookup.h"
#include "core/work/room.h"

struct facts {
    const struct room *room;
    const struct piece *piece;
    const struct inspection *in;
    const struct coats *coats;     /* what is really put on; NULL before it has been chosen */
    const struct piece_plan *plan; /* that those are of, for what is in its mixes; may be NULL */
    const char
        *finish;       /* id of data/materials.tsv: what is on the piece, or on the group at hand */
    const char *below; /* of the group at hand: bare, metal or mdf under it; NULL: the piece */
    const char *color; /* classes of data/coat_kinds.tsv that are wanted, or NULL */
    const char *clear;
    const char *primer;
    enum treatment treatment; /* of the group at hand; TREAT_UNSAID: the piece as a whole */
    double lightness;         /* CSS L of the color wanted; NAN unknown */
    bool top_surface;         /* the group at hand is a top or a shelf that is used */
    bool cleaned;             /* wax has been taken off since the tests */
    bool ours;                /* what lies below is a coat of this plan, not the old surface */
    double dry_min;           /* age of the last coat below, for recoat rules; NAN: fully cured */
};

/* The piece as a whole. `in` may be NULL before the inspection. */
void fact_make(const struct room *r, const struct inspection *in, struct facts *out);

/* True if every name of the list holds; "" and "always" always do. A name that is not known is a
 * programmer's error in the tables (fact_known finds it in the tests) and counts as false. */
bool fact_holds(const struct facts *f, const char *when);
bool fact_known(const char *when);

#endif
