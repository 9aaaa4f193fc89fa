/* What the tests on record say: solvent ladder, tape, moisture, bleeding, lead. */
#ifndef CORE_WORK_INSPECTION_H
#define CORE_WORK_INSPECTION_H

#include "core/work/room.h"

/* Rating of the tape test.
 *
 *   removed_frac   area pulled off, 0..1
 *   returns        5 (nothing) to 0 (more than 65 %), the B of ASTM D3359
 *
 * 5 % exactly counts as 3B. Source: ASTM D3359. */
int tape_rating(double removed_frac);

/* How a film so thick is cut for the tape test; NULL: its thickness is not known. Source: ASTM
 * D3359. */
const struct film_cuts_row *film_cuts_of(const struct tables *t, double film_um);

/* Did somebody say that this test is not made? */
bool test_skipped(const struct piece_tests *tests, const char *id);

/* What is to be done for a test, with what of it follows from this piece. */
const char *test_what(const struct room *r, const struct tests_row *test);

/* Pin meter reading corrected for the wood's temperature: half a point for every 10 degF from the
 * meter's 70 degF, more when colder. Source: Wood Handbook, chapter 13. */
double moisture_corrected(double read_frac, double at_degc);

/* Id of data/materials.tsv by the solvent ladder, or NULL where the tests leave it open.
 *
 *   said   what somebody says is on it, or NULL: decides only whether it is paint or clear
 *   year   about when it was made; INT64_MIN unknown
 *
 * Source: six trade sources agree on the first rung, four on the second (TRADEQA). */
const char *ladder_finish(const struct piece_tests *tests, const char *said, bool opaque,
                          int64_t year);

enum lead_class {
    LEAD_CLASS_UNKNOWN,
    LEAD_CLASS_UNDER,    /* not above 90 ppm */
    LEAD_CLASS_CONSUMER, /* above the 90 ppm of the consumer law */
    LEAD_CLASS_PAINT     /* lead-based paint in law: 5000 ppm or more */
};
/* By weight share (0.005 = 0.5 % = 5000 ppm). Sources: 15 USC 2681(9), 16 CFR 1303. */
enum lead_class lead_class_of(double lead_frac);

#endif
