/* Inside of the coats: what the files coats*.c share while they build the system of one piece. */
#ifndef CORE_WORK_COATS_BUILD_H
#define CORE_WORK_COATS_BUILD_H

#include "core/work/coats_rules.h"

enum lot_kind { LOT_PAINT, LOT_CLEAR, LOT_STAIN, LOT_WAX, LOT_SEAL };

/* The parts of one group that get the same treatment on the same ground: worked together. */
struct lot {
    const struct surface_group *group;
    enum lot_kind kind;
    const char *material; /* row of data/materials.tsv: what is there now */
    const char *below;    /* and what is left when that is off: bare (wood), metal or mdf */
    double area_m2;       /* worked: washed, scuffed, first coats */
    double clear_m2;      /* of it under clear coats */
    double top_m2;        /* of that on tops, seats and shelves that are used */
    double edge_m;        /* to be taped beside another color or wood */
    double slow;          /* labor factor of turnings, slats and carving, 1 for flats */
    bool curves;          /* something that a block cannot reach */
    bool veneer;
    const struct color_said *color;   /* its own color, or NULL: the piece's */
    const char *product, *clear_said; /* what was said of its parts; NULL: as the piece */
    const char *color_class, *clear_class, *last_class; /* what was chosen for it; NULL none */
    int64_t color_row;                                  /* as in struct coat */
    bool shares_group; /* another lot has rows in this group: ids need the kind */
};

/* Ground, what must be done to it, what goes between, and the coat on top. */
struct stack {
    unsigned prep;        /* PREP bits to be done to the old surface */
    const char *over;     /* class of the coat on top */
    const char *ground;   /* material after stripping and cleaning */
    const char *under[2]; /* classes of barrier and primer, from below */
    struct judgment under_j[2];
    size_t under_n;
    struct judgment asked;               /* the coat on the old surface as it is */
    struct judgment cleaned;             /* the coat on the ground, before what goes between */
    struct judgment top;                 /* the coat on what then lies below it */
    const struct coat_rules_row *failed; /* why it cannot be done; NULL: it can */
};

/* What was found for one lot before rows are written. */
struct lot_plan {
    const struct lot *lot;
    struct stack stack;
    const char
        *over; /* class of the first coat that is seen: color, clear, stain or last; NULL none */
    const char *clear; /* natural lots: what goes over the stain */
};

struct build {
    const struct room *r;
    struct piece_plan *p;
    struct facts f;
    struct lot *lots;
    size_t lots_n;
    const struct lot **lot_of; /* [surfaces.rows_n] lot of each row; NULL: not coated */
    double total_m2;
    const char *color, *clear, *last; /* classes chosen for what says nothing else; NULL none */
    const char *under;   /* material right below the clear at hand; NULL: a coat of this plan */
    bool test_below;     /* a rule asks for a patch on the old film */
    bool wants_test;     /* a rule asked for a patch of the system */
    struct coat scratch; /* written when memory is out, never read */
};

/* ---- coats_lot.c */
enum status lots_make(struct build *b);
/* The facts with the lot at hand. */
struct facts lot_facts(const struct build *b, const struct lot *lot);

/* ---- coats_stack.c */
struct stack stack_try(const struct build *b, const struct lot *lot, const char *over);

/* ---- coats_choose.c: classes for color, clear and last coat of every lot; refused wishes are
 * noted */
enum status coats_choose(struct build *b);
void refusal_note(struct build *b, const char *what, const struct coat_rules_row *why,
                  const char *instead);
/* The shop's own can of this class: the one wanted, else the fullest; NULL: to be bought. */
const struct paint *can_of_class(const struct build *b, const char *class);
/* A clear with a color of its own shifts what is below it: no plan takes it unless it was named. */
bool can_tints(const struct build *b, const struct paint *can);
/* The same for one lot: what was said of its parts comes first. */
const struct paint *lot_can(const struct build *b, const struct lot *lot, const char *class);

/* ---- coats_prep.c: rows before the color. A group is washed, stripped and sanded in all its lots
 * before anything is sealed. */
void dry_rows(struct build *b, const struct lot_plan *lots, size_t n);
void spot_rows(struct build *b, const struct lot *lot, const struct stack *s);
void under_rows(struct build *b, const struct lot *lot, const struct stack *s);
/* Two lots of a group that want the same done are done in one go: the rows from `before` on go into
 * those that stand there already, if each of them has its like. */
void merge_rows(struct build *b, size_t before);

/* ---- coats_effort.c */
/* Minutes of hands on `area_m2` of the lot: fixed minutes shared by area, the rest by area,
 * profile, condition and tool. */
double effort_min(const struct build *b, const struct lot *lot, const struct operations_row *op,
                  double area_m2);
/* What one piece of a set would take alone. */
double effort_alone_min(const struct build *b, const struct lot *lot,
                        const struct operations_row *op, double area_m2);
/* The part of it that goes into getting ready and cleaning up: the lot's share by area.
 * out_session_min: the whole of it, as often as the tool is taken up afresh. */
double effort_ready_min(const struct build *b, const struct lot *lot,
                        const struct operations_row *op, double area_m2, double *out_session_min);
/* Hours for so much new joinery in series (data/joinery_rates.tsv): a floor under any estimate of
 * hands-on hours, never an estimate. NAN: no such row. */
double joinery_h(const struct tables *t, const char *rate, double area_m2);

/* ---- coats_explain.c: the bases of all rows, once they stand */
void coats_explain(const struct build *b);

/* ---- coats_sheen.c */
void sheen_notes(struct build *b);

/* ---- coats.c: adds a row for the lot; never NULL (out of memory: a scratch row) */
struct coat *coat_add(struct build *b, const struct lot *lot, enum coat_role role,
                      const char *operation, const char *class, double area_m2, int64_t coats);

/* Verdict, rule, reason, source and certainty of the row from a judgment. */
void coat_judged(struct coat *c, const struct judgment *j);
/* Rubbing between the coats of one row belongs to the row: its minutes are spread over them. */
void rub_between(struct build *b, const struct lot *lot, struct coat *c, const char *rub);
/* Clear or last coats of one lot, one more on its tops. */
void clear_rows(struct build *b, const struct lot *lot, const struct judgment *j,
                const char *class);

/* ---- coats_natural.c: lots that are not painted */
struct lot_plan natural_plan(struct build *b, const struct lot *lot);
void natural_rows(struct build *b, const struct lot_plan *lp);

/* Bare insides that smell: washed with the rest, then shellac alone. */
struct lot_plan seal_plan(const struct lot *lot);
void seal_rows(struct build *b, const struct lot_plan *lp);

/* ---- coats_paint.c: lots that are */
struct lot_plan paint_plan(struct build *b, const struct lot *lot);
/* Lots of one group: spots of all are sealed, all are primed, then colored, then cleared, so that
 * nothing is primed or taped beside a clear that is done. */
void paint_rows(struct build *b, const struct lot_plan *lots, size_t n);

/* ---- coats_hide.c */
struct hides {
    int coats;       /* least number that hides the ground; most + 1: more than that */
    double contrast; /* luminance over the ground against that of a thick layer, 0..1 */
    double film_um;  /* dry, one coat */
    double thin;     /* share of the film that lies in its thin places, where it was judged */
    double scale;    /* how much it scatters against what its lightness tells; 1: nothing known */
};
/* Coats of a class of color paint until its thin places differ from a thick layer by no more than
 * the contrast ratio of ISO6504 allows. color, ground: CSS Lab; most: tried at most.
 *
 *   hides_in   coats that the jar took over black and white; INT64_MIN: nobody tried */
struct hides coats_hide(const struct tables *t, const char *class, const double color[3],
                        int64_t hides_in, const double ground[3], int most);
/* The same for a mix of jars. */
struct mix_film;
struct hides coats_hide_mix(const struct tables *t, const struct mix_film *mix,
                            const double ground[3], int most);

/* ---- coats_effect.c */
void effect_rows(struct build *b, const struct lot *lot, bool last);
/* The edge of a lot of its own color, taped before that color goes on. */
void edge_row(struct build *b, const struct lot *lot);
/* Classes and effects that were asked for exist. Errors: E_REFERENCE with the field. */
enum status wishes_check(const struct build *b, struct why *why);

#endif
