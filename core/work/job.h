/* The job as a person states it: shop, shelf, pieces. Plain data in canonical units.
 *
 * Read from a job document by codec/job_desc.c; the core never sees JSON. What was not said is
 * NAN (double), INT64_MIN (int64_t), 0 (every enum starts with an UNSAID value 0) or NULL (text,
 * lists with n = 0). The core never changes a job: it fills a copy and lists each assumption.
 * Texts and arrays belong to whoever made the job (usually one arena).
 *
 * Instants without a zone ("local") are minutes since 1970-01-01 00:00 on the shop's own clock;
 * days are days since 1970-01-01. */
#ifndef CORE_WORK_JOB_H
#define CORE_WORK_JOB_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum yes_no { YN_UNSAID, YN_NO, YN_YES };

/* ---- shop ---- */

enum unit_system { UNITS_UNSAID, UNITS_US, UNITS_METRIC };
enum shop_day { DAY_UNSAID, MON, TUE, WED, THU, FRI, SAT, SUN, WEEKDAYS, DAILY };
enum measure {
    MEASURE_UNSAID,
    MEASURE_FL_OZ,
    MEASURE_TSP,
    MEASURE_ML,
    MEASURE_GRAM,
    MEASURE_PART,
    MEASURE_DROP
};

struct shop_hours {
    enum shop_day day;
    int64_t open_min, close_min; /* minutes from midnight, 0..1440 */
};

/* What the shop's own records say against the class's usual figure (core/work/learn.h). */
struct learnt {
    const char *what;   /* "spread", "loss", "hours", "drying" */
    const char *class;  /* id of data/product_classes.tsv, or of data/operations.tsv for hours */
    const char *method; /* id of data/methods.tsv, or NULL: any */
    double factor;      /* shop / class default */
    double log_sd;      /* of a single job around it */
    int64_t records;    /* behind it, questioned ones left out; 0: nothing is known */
    /* Without the records of one piece, for the plan of that piece: work must not be foretold from
     * itself, or its price drifts while it is done. */
    const char *without;
    const struct learnt *apart; /* n = 0: no piece at hand has records of this */
    size_t apart_n;
};

/* One who works in the shop, with hours and tasks of their own. */
struct crew_member {
    const char *id, *name;
    struct shop_hours *hours; /* n = 0: the shop's */
    size_t hours_n;
    int64_t *days_off; /* besides the shop's */
    size_t days_off_n;
    const char **only; /* ids of data/operations.tsv that this one does; n = 0: everything */
    size_t only_n;
};

/* A night that was, or will be, colder in the shop than its nights are. */
struct shop_night {
    int64_t day; /* on whose evening it begins */
    double degc;
};

enum { SMALLEST_MAX_ML = 240 }; /* a cup: nothing coarser measures paint (common practice) */

struct shop {
    const char *name;
    const char *zone; /* IANA, "America/New_York" */
    enum unit_system units;
    struct shop_hours *hours;
    size_t hours_n;
    int64_t *days_off; /* days */
    size_t days_off_n;
    int64_t people;           /* where crew is not said */
    struct crew_member *crew; /* people who are told apart */
    size_t crew_n;
    double rate_cent_per_h, overhead_frac, margin_frac, sale_fee_frac, deposit_frac, minimum_cent;
    double day_degc, night_degc, humidity_frac;
    struct shop_night *nights; /* other than night_degc */
    size_t nights_n;
    double drying_area_m2;  /* floor on which parts may dry */
    enum yes_no booth;      /* sprayed coats go on and dry in a booth, one group at a time */
    enum yes_no sand_apart; /* sanding is done in another room: it may go on beside wet film */
    const char **in_one_go; /* ids of data/operations.tsv that no break interrupts, besides coats */
    size_t in_one_go_n;
    enum yes_no within_windows; /* no recoat window is planned to pass, where hours allow it */
    enum measure measure;       /* what paint is measured with */
    double smallest_ml;         /* smallest amount that can be measured well */
    const char *smallest_was;   /* more was kept than is taken, this; not in the document */
    const char **tools;         /* ids of data/methods.tsv that the shop owns */
    size_t tools_n;
    const struct learnt *learnt; /* from the shop's records; not in the document */
    size_t learnt_n;
};

/* ---- shelf ---- */

/* A color as it was written, and as CSS Lab: D50, 2 degree observer, L 0..100. text NULL: unsaid */
struct color_said {
    const char *text;
    double lab[3];
};

struct spectrum_said { /* reflectance 0..1 at first_nm, first_nm + step_nm, ...; n = 0: unsaid */
    double first_nm, step_nm;
    double *values;
    size_t values_n;
};

struct mix_item {
    const char *paint; /* id on the shelf */
    double parts;      /* by volume */
};

enum sheen {
    SHEEN_UNSAID,
    SHEEN_FLAT,
    SHEEN_VELVET,
    SHEEN_EGGSHELL,
    SHEEN_SATIN,
    SHEEN_SEMIGLOSS,
    SHEEN_GLOSS,
    SHEEN_HIGH_GLOSS
};

/* Anything that comes out of a can: paint, primer, barrier, clear, wax, stain. */
struct paint {
    const char *id, *name;
    const char *class; /* id of data/product_classes.tsv */
    bool class_taken;  /* nobody said it (core/work/unsaid_class.h) */
    struct color_said color;
    struct spectrum_said spectrum;
    enum sheen sheen;
    double stock_ml, size_ml, cost_cent; /* cost of one can of size_ml */
    double density_g_per_ml;
    double smallest_ml; /* smallest pour of this one */
    int64_t opened_day;
    struct mix_item *leftover_of; /* a leftover: what it was mixed from */
    size_t leftover_of_n;
    const char *can_of; /* another can of that paint, maybe of another lot (core/work/cans.h) */
    /* what its label says; beats the class default */
    double label_spread_m2_per_l, label_solids_frac, label_touch_min, label_recoat_min,
        label_recoat_until_min, label_handle_min, label_cure_min, label_lowest_degc,
        label_pot_life_min;
    int64_t hides_in; /* coats until the black and white of a card no longer showed */
    const char *note;
};

enum supply_kind {
    SUPPLY_UNSAID,
    SUPPLY_TAPE,
    SUPPLY_ABRASIVE,
    SUPPLY_ROLLER,
    SUPPLY_BRUSH,
    SUPPLY_RAG,
    SUPPLY_FILLER,
    SUPPLY_GLUE,
    SUPPLY_CANE,
    SUPPLY_HARDWARE,
    SUPPLY_OTHER
};

struct supply {
    const char *id, *name;
    enum supply_kind kind;
    double count, cost_cent; /* how many are left; cost of one */
};

enum reading { READ_UNSAID, READ_INSTRUMENT, READ_PHOTO, READ_CHART, READ_EYE };

struct sample {
    const char *id;
    struct mix_item *items;
    size_t items_n;
    struct color_said color; /* what it dried to */
    enum reading read;
    enum yes_no wet;
    enum sheen sheen;
    const char *note;
};

struct shelf {
    struct paint *paints;
    size_t paints_n;
    struct supply *supplies;
    size_t supplies_n;
    struct sample *samples;
    size_t samples_n;
    struct paint *gone; /* off the shelf, with another can on it: learnt from, never poured */
    size_t gone_n;
};

/* ---- piece ---- */

enum reaction { REACTION_UNSAID, REACTION_NOTHING, REACTION_SOFTENS, REACTION_DISSOLVES };
enum wipe { WIPE_UNSAID, WIPE_CLEAN, WIPE_GREASY };
enum drop { DROP_UNSAID, DROP_BEADS, DROP_SOAKS };
enum rag { RAG_UNSAID, RAG_CLEAN, RAG_BROWN, RAG_RED };
enum lead {
    LEAD_UNSAID,
    LEAD_KIT_NEGATIVE,
    LEAD_KIT_POSITIVE,
    LEAD_WAITING, /* a chip is at the laboratory */
    LEAD_LAB_NEGATIVE,
    LEAD_LAB_POSITIVE,
    LEAD_XRF_NEGATIVE,
    LEAD_XRF_POSITIVE
};
enum smell { SMELL_UNSAID, SMELL_NONE, SMELL_SMOKE, SMELL_URINE, SMELL_MUSTY };
enum mold { MOLD_UNSAID, MOLD_NONE, MOLD_SURFACE, MOLD_DEEP };
enum pests { PESTS_UNSAID, PESTS_NONE, PESTS_OLD_HOLES, PESTS_LIVE_BORER, PESTS_BEDBUGS };
enum outcome { OUTCOME_UNSAID, OUTCOME_PASSED, OUTCOME_FAILED };

/* Tests on record, in the order in which they are made. */
struct piece_tests {
    enum wipe wax_wipe;       /* mineral spirits on white cloth */
    enum yes_no spot_cleaned; /* wax: the solvents are tried where it was taken off */
    enum drop water_drop;
    enum reaction alcohol, thinner, xylene;
    enum rag rag;             /* damp rag rubbed on the darkest place */
    enum yes_no dye_lifts;    /* does alcohol lift the red dye? */
    double tape_removed_frac; /* area pulled off by the tape test */
    double film_um;           /* thickness of the old film */
    double moisture_frac;     /* pin meter reading */
    double moisture_at_degc;  /* temperature of the wood then; the meter is set for 70 F */
    enum lead lead;
    double lead_frac; /* by weight, what the laboratory wrote */
    enum smell smell;
    enum mold mold;
    enum pests pests;
    enum outcome patch;      /* bleeding patch, 48 h */
    enum outcome test_board; /* the whole system on this wood */
    const char *
        *skipped; /* ids of data/tests.tsv that are not made; what they tell stays unknown */
    size_t skipped_n;
};

enum treatment {
    TREAT_UNSAID,
    TREAT_PAINT,          /* color and clear */
    TREAT_PAINT_NO_CLEAR, /* color, but no clear coat (runners, slats where it would pool) */
    TREAT_CLEAR,          /* natural: stripped or cleaned, clear only */
    TREAT_STAIN,          /* natural: stain or tone, then clear */
    TREAT_WAX,            /* natural: wax or oil only */
    TREAT_BARE,           /* stays as it is */
    TREAT_MASK,           /* stays as it is and must be masked */
    TREAT_SEAL            /* bare wood that is sealed with shellac and seen no different */
};

enum { PART_SIZES = 6 };

/* One kind of part. From the template, or said; a said part with a template's id overrides what it
 * says of it, one with a new id is added. */
struct part {
    const char *id, *name;
    const char *group; /* parts of one group are worked and dry together ("case", "drawers") */
    const char *shape; /* id of a shape (core/work/shape.h) */
    double size_mm[PART_SIZES]; /* in the shape's own order (a, b, c, ... in the document) */
    int64_t count;
    const char *faces;   /* which faces are coated, for a box: letters f(ront) k (back) l r t b */
    const char *profile; /* row of data/profile_factors.tsv; NULL: plain geometry */
    const char *material;
    enum treatment treatment;
    struct color_said color; /* another color than the piece's */
    const char *product;     /* another paint or class for its color coats than the piece's */
    const char *clear;       /* another clear or last coat, or "none" */
    enum yes_no removable;
};

struct repair {
    const char *kind; /* id of data/repairs.tsv */
    const char *part;
    int64_t count;
    double cost_cent; /* what somebody else asks for it, all of them; NAN: unsaid */
    const char *note;
};

/* Something from outside that work must wait for. */
struct outside_wait {
    const char *kind;   /* id of data/waits.tsv */
    const char *before; /* id of data/operations.tsv; NULL: what the kind holds up */
    int64_t until_day;  /* when it is expected; INT64_MIN: the kind's usual time */
    const char *note;
};

struct fitting_pulls {
    int64_t count;                         /* pulls or knobs in all */
    int64_t holes;                         /* holes of one: 1 knob, 2 pull */
    double old_spacing_mm, new_spacing_mm; /* center to center */
    double front_thickness_mm, screw_gauge_mm, hole_mm;
    double backplate_mm; /* width that a backplate covers */
};

struct fitting_panel { /* woven cane, fabric, thin panel, glass */
    const char *id;
    const char *kind; /* cane, fabric, panel, glass, mirror */
    double width_mm, height_mm;
    int64_t count;
    const char *hold; /* staple, spline, bead */
    double depth_mm;  /* wood free behind it for a fastener */
    double rebate_mm; /* how far its ledge lies below the frame */
    double reach_mm;  /* how far down the stapler's nose gets beside the frame */
    double groove_mm; /* groove width, for a spline */
    double thickness_mm;
};

struct fitting_slide { /* something that slides or swings in an opening */
    const char *part;
    double gap_mm; /* per side */
    double height_mm;
    const char *grain; /* flat, quarter */
};

struct fittings {
    struct fitting_pulls pulls;
    struct fitting_panel *panels;
    size_t panels_n;
    struct fitting_slide *slides;
    size_t slides_n;
    const char *metal; /* of the old hardware that goes back: id of data/hardware_metals.tsv */
    double back_thickness_mm, back_depth_mm; /* back panel to be nailed on, wood behind it */
    enum yes_no anchor;
};

enum purpose { PURPOSE_UNSAID, PURPOSE_CLIENT, PURPOSE_SALE, PURPOSE_OWN };
enum seat { SEAT_UNSAID, SEAT_WOOD, SEAT_WOVEN, SEAT_UPHOLSTERED };
enum place { PLACE_UNSAID, PLACE_INDOOR, PLACE_KITCHEN, PLACE_BATH, PLACE_OUTDOOR };
enum condition {
    CONDITION_UNSAID,
    CONDITION_SOUND,
    CONDITION_WORN,
    CONDITION_DAMAGED,
    CONDITION_FLAKING
};

struct agreement {
    enum purpose purpose;
    const char *client;
    const char *use;    /* what it will be used for */
    const char **marks; /* its condition when it came: scratches, rings, what is missing */
    size_t marks_n;
    int64_t seen_day; /* when that was written down */
    const char **agreed, **excluded;
    size_t agreed_n, excluded_n;
    double deposit_cent, quoted_cent, asking_cent, bought_cent, storage_fee_cent;
    enum yes_no sample_signed;
    int64_t sample_expected_day; /* when the client is expected to sign it; INT64_MIN: not said */
    int64_t due_day, signed_day;
    int64_t arrives_day; /* when it comes into the shop; INT64_MIN: it is there */
    int64_t due_weight;  /* of a day late against other pieces; 1 when not said */
    int64_t collect_day; /* when it is fetched; storage_fee for each week after it */
    int64_t listed_day;  /* since when it is offered for sale */
};

/* What is wanted on it. Classes are ids of data/product_classes.tsv; products are shelf ids. */
struct wanted {
    struct color_said color;
    const char *product; /* paint or class for the color coats */
    const char *clear;   /* paint or class, or "none" */
    const char *primer;  /* paint or class; NULL lets the rules choose */
    enum sheen sheen;
    const char *method;   /* id of data/methods.tsv; NULL lets the rules choose */
    const char *top;      /* painted, natural, stained, waxed, oiled */
    const char **effects; /* ids of data/operations.tsv: stencil, glaze, distress, ... */
    size_t effects_n;
    int64_t color_coats, clear_coats;
    int64_t paints_max; /* paints in a recipe */
    int64_t parts;      /* the measuring grid: a recipe is so many parts in all */
    const char *tint;   /* not said: the color, where the product is a stain that is bought in it */
};

/* Paint that is mixed already for a piece's own color: what is in it is on the shelf no more. */
struct pour {
    const char *paint, *name; /* id of a paint of the shelf, or of one that has left it */
    double ml;
};
struct mixed_batch {
    const char *id, *name;
    const char *piece, *piece_id; /* title and id of the piece that it was mixed for */
    const char *class;            /* of the paint in it; NULL not known */
    const struct pour *pours;     /* pours_n > 0 */
    size_t pours_n;
    double ml;       /* of it, > 0 */
    double taken_ml; /* of it, by pieces that are not planned beside this one */
    double lab[3];   /* CSS Lab D50: as it dried, else as predicted; NAN not known */
    int64_t made_utc_min;
    bool dried; /* a card of it was read */
    bool left;  /* what was left, as it stands on the shelf: its own piece takes no more of it */
};

struct piece {
    const char *id, *title;
    const char *template;                               /* id of data/piece_templates.tsv */
    double width_mm, depth_mm, height_mm, thickness_mm; /* board thickness */
    double bow_mm;                                      /* front's rise in the middle */
    int64_t drawers, doors, shelves, slats, legs, count;
    double leg_mm, opening_mm; /* leg thickness or height as the template says */
    int64_t year;              /* made about */
    const char *wood;          /* id of data/species.tsv */
    enum yes_no veneer;
    double veneer_mm;
    const char *finish;          /* id of data/materials.tsv: what is on it now */
    struct color_said now_color; /* what it looks like now */
    enum condition condition;
    enum yes_no knots, child, drop_side;
    double slat_gap_mm; /* cribs */
    enum seat seat;     /* what one sits on: woven stays and is masked, upholstery comes off */
    enum place place;
    struct piece_tests tests;
    struct agreement agreement;
    struct wanted wanted;
    struct part *parts;
    size_t parts_n;
    struct repair *repairs;
    size_t repairs_n;
    struct outside_wait *waits;
    size_t waits_n;
    struct fittings fittings;
    const char *note;
    const struct mixed_batch *batch; /* NULL: nothing is mixed; no member of a job document */
    const struct mixed_batch *sister_batch; /* of its color, mixed for another of the same owner */
};

struct job {
    const char *title;
    int64_t start_local_min; /* not before */
    struct shop shop;
    struct shelf shelf;
    struct piece *pieces;
    size_t pieces_n;
};

#endif
