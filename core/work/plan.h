/* The computed job: everything that a job sheet shows, as numbers and verdicts.
 *
 * Each part is computed by the module named beside it and described for JSON by
 * codec/plan_desc.c; the readable sheet is made from it by app/sheet. All memory is the arena's.
 * Parts of a refused piece that must not be shown (amounts, days, price) have n = 0. */
#ifndef CORE_WORK_PLAN_H
#define CORE_WORK_PLAN_H

#include "core/base/limit.h"
#include "core/base/status.h"
#include "core/work/basis.h"
#include "core/work/job.h"
#include "tables.h"

/* ---- inspection (inspection.c): what it is and what is on it ---- */

enum finding_state {
    FINDING_UNSAID,
    FINDING_TESTED,
    FINDING_SEEN,
    FINDING_ASSUMED,
    FINDING_TO_TEST
};

struct finding {
    const char *id;      /* finish, wax, adhesion, bleeding, wood, moisture, lead, age, ... */
    const char *name;    /* "Old finish" */
    const char *verdict; /* "lacquer" */
    const char *detail;  /* what was seen and what it means */
    enum finding_state state;
    const char *source;
};

struct test_to_do {
    const char *id;
    const char *what, *see, *means; /* do this, see that, it means */
    enum rank rank;                 /* STOP: before anything else; MIND: before coating */
    const char *source;
};

struct inspection {
    struct finding *findings;
    size_t findings_n;
    struct test_to_do *tests; /* in the order in which they are to be made */
    size_t tests_n;
    const char **left_out; /* names of those that somebody said are not made: unknown as before */
    size_t left_out_n;
    const char *finish;                   /* id of data/materials.tsv after the solvent ladder */
    int64_t bleed_score;                  /* 0..9 */
    enum yes_no wax, lead_cleared, holds; /* holds: the old film may stay */
    double moisture_frac;                 /* corrected for temperature; NAN unknown */
};

/* ---- hazards (hazard.c) ---- */

struct hazards {
    struct notices notices;
    bool refused; /* the whole piece: no amounts, dates or price are shown */
    const char *refusal, *instead;
};

/* ---- parts and areas (shape.c, template.c, surface.c) ---- */

struct surface {      /* one kind of part */
    struct part part; /* completed */
    double each_m2;   /* geometric area of one, all faces that are worked */
    double factor;    /* profile factor applied */
    double coated_m2; /* all of this kind, color coats */
    double clear_m2;  /* of it under clear coats */
    double bare_m2, masked_m2, sealed_m2;
    double mask_edge_mm; /* length to be taped */
    double glass_m2;     /* taken off all of them: mirrors and panes among the fittings */
    double inset_m2;     /* the same: openings for woven cane, leather that is let in */
};

struct surface_group {
    const char *id, *name;
    size_t first, n; /* rows of surfaces */
    double coated_m2, clear_m2, bare_m2, sealed_m2;
    bool lies_flat;   /* removable: dries flat, off the piece */
    double floor_m2;  /* floor it takes while drying */
    const char *tool; /* method for this group, id of data/methods.tsv */
    const char *tool_why, *tool_source;
};

struct surfaces {
    struct surface *rows; /* sorted by group */
    size_t rows_n;
    struct surface_group *groups;
    size_t groups_n;
    double coated_m2, clear_m2, bare_m2, masked_m2, sealed_m2;
};

/* ---- take-down and repairs (repair.c) ---- */

enum verdict {
    VERDICT_UNSAID,
    VERDICT_HOLDS,
    VERDICT_PREPARE,
    VERDICT_WAIT,
    VERDICT_NEVER,
    VERDICT_UNKNOWN
};

struct work_step { /* take-down, repair, fitting, packing: anything that is not a coat */
    const char *id, *operation; /* row of data/operations.tsv or data/repairs.tsv */
    const char *text, *why;
    const char *how;            /* technique or material, or NULL */
    double hands_min, wait_min; /* hands-on; then clamp, cure or dry before what follows */
    double alone_frac;          /* as of a coat */
    double material_cent;       /* what it takes besides hands, all of them */
    double others_cent; /* of work that is referred: what others ask; NAN: nobody has asked */
    bool referred;
    int64_t count;
    const char *bag; /* bag label for hardware */
    const char *source;
    enum certainty certainty;
};

struct steps {
    struct work_step *rows;
    size_t n, cap;
};

/* ---- coats (coats.c) ---- */

enum coat_role {
    ROLE_UNSAID,
    ROLE_CLEAN,
    ROLE_STRIP,
    ROLE_SCUFF,
    ROLE_SPOT_SEAL,
    ROLE_BARRIER,
    ROLE_PRIMER,
    ROLE_RUB, /* nib sanding between coats */
    ROLE_STAIN,
    ROLE_COLOR,
    ROLE_EFFECT,
    ROLE_CLEAR,
    ROLE_WAX
};

struct coat {
    const char *id;    /* "chest-case-color" */
    const char *group; /* surface_group id, or NULL: all groups that get it */
    enum coat_role role;
    const char *operation; /* row of data/operations.tsv */
    const char *product;   /* shelf id, or NULL */
    const char *class;     /* row of data/product_classes.tsv, or NULL */
    int64_t coats;
    double area_m2; /* of the group, under this coat; every figure of the row is for it */
    int64_t grit, grit_curves; /* 0: none */
    const char *tool, *tool_curves;
    enum verdict verdict;
    const char *rule; /* id of data/coat_rules.tsv that decided */
    const char *text, *why, *remedy;
    const char *how;   /* technique, or NULL */
    double hands_min;  /* one coat on this group */
    double alone_frac; /* of it for one piece alone, where several like ones are planned; 0: as many
                          parts */
    double ready_min;  /* of it: the group's share of getting ready and cleaning up */
    double session_min; /* the whole of that, each time the tool is taken up afresh */
    double rub_min; /* rubbing down once between two of its coats, counted in hands_min; 0: none */
    double touch_min, recoat_min, recoat_until_min, handle_min, cure_min; /* in this climate */
    const struct paint *dries_as; /* whose label was read for them; NULL: no can is at hand */
    double film_um;               /* dry, one coat */
    struct color_said color;      /* of a color coat that is not the piece's own color; text NULL */
    bool again;                   /* more coats on part of an area that an earlier row counts */
    int64_t color_row; /* of color coats: 0 the piece's color, n row n - 1 of its colors[] */
    const char *source;
    enum certainty certainty;
};

struct coats {
    struct coat *rows; /* in the order of the work, group by group */
    size_t n, cap;
    struct notices refused; /* what was asked for and would not hold, with the remedy */
    bool test_board;        /* gate: color coats locked until it has passed */
    const char *test_board_why;
    bool test_first; /* it is made on the old film, and no coat goes on for two days */
    double film_um;  /* whole build on one face */
};

/* ---- color (color of the piece; recipe.c in core/recipe) ---- */

struct recipe_line {
    const char *paint, *name;
    double parts, ml;
    double g_per_ml; /* for a scale */
};

struct color_plan {
    struct color_said target;
    const char *product; /* set when the color comes out of one can as it is */
    const char *batch;   /* id, set when it is mixed already: lines are what is in it */
    struct recipe_line *lines;
    size_t lines_n;
    int64_t parts;                                         /* sum of the parts */
    double lab[3];                                         /* predicted, CSS Lab D50 */
    double difference, expected_difference, difference_90; /* CIEDE2000 to the target */
    bool proven;
    double bound;           /* nothing on this grid is nearer than this */
    struct notices notices; /* out of reach, make a sample card first ... */
    bool mixes;             /* of several paints: a card is made, then a batch. The same with and
                               without the recipe (plan_options, recipes_of) */
};

/* ---- amounts (amount.c) ---- */

struct amount {
    const char *product, *name, *class;
    enum coat_role role;
    int64_t color_row;       /* as in struct coat */
    bool inside;             /* shellac of bare insides, an amount of its own */
    double area_m2, more_m2; /* more_m2: part of it that gets more_coats on top */
    int64_t coats, more_coats;
    double spread_m2_per_l;
    double film_ml;                  /* on the piece */
    double loss_frac;                /* tool, overspray */
    double session_ml, sessions;     /* left in tool and tray, each session */
    double need_ml, low_ml, high_ml; /* likeliest; 1 in 10 below, 1 in 10 above */
    double mix_ml;                   /* 9 jobs in 10, rounded up to what can be measured */
    double mixed_ml;                 /* of it, mixed already */
    /* of one product in several rows, each has what the rows before it leave: on the shelf and in
     * the cans that they buy */
    double stock_ml, buy_ml; /* buy_ml: what is short; in whole cans */
    bool after_others;       /* pieces before this one take of the same can */
    int64_t cans;
    const char *cans_text; /* "1 gallon, 2 quarts"; NULL: none, or of several paints */
    double left_ml;        /* likely left over, after this row */
    double cost_cent;
};

struct amounts {
    struct amount *rows;
    size_t n, cap;
    struct notices notices;
};

/* ---- supplies: tape, abrasive, rollers; cane and hardware (supply.c) ---- */

struct supply_need {
    const char *id, *name;
    const char *kind; /* "tape", "abrasive", "cane" ... */
    double count;     /* pieces, sheets, rolls */
    const char *unit;
    double cost_cent;
    bool stays; /* on the piece: billed as a fitting, not as used up */
    const char *source;
};

/* ---- days (timetable_plan.c over core/timetable) ---- */

struct day_task {
    const char *id, *piece, *group, *name;
    const char *operation;
    const char *person; /* who, where the shop tells people apart; or NULL */
    const char *who;    /* id in the shop's crew; "1", "2" where people have no names; or NULL */
    double hands_min;
    int64_t start_utc_min, end_utc_min; /* hands on the piece */
    bool pauses;                        /* at a break or over night, and goes on until end */
    double setup_min, cleanup_min;      /* before the start and after the end */
    double extra_min;                   /* of it: scuffing after a missed window, mixing anew */
    double saved_min;                   /* set-up and clean-up that a wet tool spares */
    int64_t dry_until_utc_min;          /* may be followed; INT64_MIN: nothing dries */
    int64_t window_end_utc_min;         /* next coat without scuffing; INT64_MIN: no edge */
    int64_t stack_utc_min;              /* dry-hard: may be stacked; INT64_MIN: not before dry */
    const char *stack_how;              /* in words; NULL without it */
    const char *before_night; /* how dry it is before a night that is too cold for it; NULL: it may
                                 be wet in any */
    const char *held_by;      /* what keeps it from being earlier, in words */
    const char *waits_for;    /* that keeps it: something from outside; or NULL */
    const char *note;         /* a set-up saved, a window missed, a batch mixed anew; or NULL */
};

/* What open work of a piece waits for from outside. */
struct outside_plan {
    const char *kind;      /* id of data/waits.tsv, or "sample": the client's signature on it */
    const char *name;      /* in words */
    int64_t expected_day;  /* as was said; INT64_MIN: nobody said */
    int64_t until_utc_min; /* as the days take it: not before tomorrow, until it is here */
};

struct days {
    struct day_task *rows; /* by start */
    size_t n;
    int64_t handle_utc_min, deliver_utc_min, load_utc_min; /* INT64_MIN: blocked */
    const char *blocked_by; /* what the dates wait for, or NULL; names
                               its piece among several */
    bool proven;
    double gap_frac;      /* distance to the bound: of what is late, else of the time to the end */
    bool gap_is_late;     /* it is of what is late */
    int64_t shared_n;     /* coats that go on with a wet tool */
    double saved_min;     /* set-up and clean-up that this spares */
    struct notices gates; /* dew point, temperature, humidity */
    double dew_degc;
};

/* ---- fittings (fitting.c) ---- */

struct fitting_line {
    const char *id, *what;
    const char *verdict;      /* words; numbers below */
    double size_mm, other_mm; /* screw length, cut width ...; what each is says `what`/`other` */
    const char *other;
    enum rank rank;
    const char *detail, *source;
    enum certainty certainty;
};

struct fitting_plan {
    struct fitting_line *rows;
    size_t n, cap;
};

/* ---- price (price.c) ---- */

struct cost_line {
    const char *id, *name;
    double hours, cent;
    const char *source;
};

struct price {
    struct cost_line *rows;
    size_t rows_n;
    double hours, labor_cent, material_cent, overhead_cent, cost_cent, fee_cent;
    double minimum_cent, price_cent, deposit_cent;
    double hour_cent;       /* what one hour earns at the price */
    double best_offer_cent; /* before buying: highest that still pays; may be negative */
    enum yes_no worth_it;
    const char **work; /* what the client is promised, one line each */
    size_t work_n;
    const char **excluded; /* what is not part of it, one line each */
    size_t excluded_n;
    const char *quote, *terms; /* text for the client, and its terms alone, one a line */
    struct notices notices;
};

/* ---- care (care.c) ---- */

struct care_line {
    const char *text;
    int64_t until_utc_min; /* INT64_MIN: always */
    const char *source;
};

/* ---- the whole ---- */

struct piece_plan {
    const char *id, *title;
    struct piece piece; /* completed: assumptions filled in */
    struct notices agreement;
    struct hazards hazards;
    struct inspection inspection;
    struct steps takedown, repairs, finish; /* finish: after the coats, fitting and packing */
    struct coats coats;
    struct surfaces surfaces;
    struct color_plan color;
    struct color_plan *colors; /* further colors of single parts */
    size_t colors_n;
    struct amounts amounts;
    struct supply_need *supplies;
    size_t supplies_n;
    struct fitting_plan fittings;
    struct price price;
    struct care_line *care;
    size_t care_n;
    int64_t handle_utc_min, deliver_utc_min, cured_utc_min; /* INT64_MIN: blocked or refused */
    const char *blocked_by;                                 /* what its dates wait for, or NULL */
    struct outside_plan *outside;                           /* what its open work waits for */
    size_t outside_n;
    const char *batch_of; /* piece whose sample card and batch serve this one as well; NULL: own */
    double batch_others_frac; /* of their hours, by paint, that other pieces are charged; 0: none */
    double minimum_others_frac; /* of the least that a job is done for; 0: none */
};

struct plan {
    const char *title;
    int64_t now_utc_min;
    struct shop shop; /* completed */
    struct piece_plan *pieces;
    size_t pieces_n;
    struct days days;      /* all pieces together: one pair of hands */
    struct notices settle; /* what must be settled before starting */
    struct basis *bases;
    size_t bases_n;
    struct assumption *assumed;
    size_t assumed_n;
};

/* Offset of the shop's clock from UTC, from that instant on; sorted. */
struct zone_span {
    int64_t from_utc_min;
    int offset_min;
};

/* A task that has begun, is done, or was accepted for a time. What has begun stays; what was
 * accepted moves only as far as it must when the days are planned again. */
struct task_kept {
    const char *piece, *id;
    int64_t begun_utc_min, done_utc_min; /* INT64_MIN: not yet */
    int64_t start_utc_min, end_utc_min;  /* accepted; INT64_MIN: never */
    int64_t not_before_utc_min;          /* cannot go on earlier; INT64_MIN: any time */
    const char *person; /* who is to do it, or did it, as day_task.who; NULL: not known */
};

struct plan_options {
    int64_t now_utc_min;
    const struct zone_span *zone; /* NULL: UTC */
    size_t zone_n;
    bool want_basis;
    enum unit_system units; /* of the texts; 0: the shop's */
    struct limit limit;
    uint64_t seed;
    /* Recipes are searched for this piece alone ("": for none); NULL: for all. The days do not hang
     * on them; amounts and price of the others then leave the stock of mixed paints out, and no
     * basis of theirs is worked out. */
    const char *recipes_of;
    const struct task_kept *kept;
    size_t kept_n;
    bool lay_anew; /* days from nothing, whatever was accepted */
    bool no_days;  /* amounts and prices alone: no timetable, no dates */
    /* How many of the other pieces are laid out before the job's first: the days of the same pieces
     * are then the same whichever of them the job begins with. */
    size_t first_turn;
};

/* Is what a task waits for afterwards drying? A smell test is over, and not dry. */
bool day_dries(const char *operation);

/* Plans a whole job.
 *
 *   t        the trade's tables
 *   job      as stated; not changed, must live as long as the plan
 *   arena    owns everything in *out_plan
 *   why      pointer into the job document and the reason, or NULL
 *
 * Errors: E_MISSING, E_REFERENCE, E_DOMAIN, E_DUPLICATE with the field; E_MEMORY.
 * A piece that must be refused is not an error: its hazards say so. */
enum status plan_make(const struct tables *t, const struct job *job,
                      const struct plan_options *options, struct arena *arena,
                      struct plan *out_plan, struct why *why);

#endif
