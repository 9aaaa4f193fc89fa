#include "codec/job_desc.h"

#include "core/work/job.h"

/* Bounds are what can be meant, not what is wise: the plan judges that. */
#define SIZE(S, stem, m, h) F_QTY(S, stem, m, DIM_LENGTH, 0, 20000, h)
#define VOLUME(S, stem, m, h) F_QTY(S, stem, m, DIM_VOLUME, 0, 1e6, h)
#define MONEY(S, stem, m, h) F_QTY(S, stem, m, DIM_MONEY, 0, 1e9, h)
#define SHARE(S, stem, m, h) F_QTY(S, stem, m, DIM_FRACTION, 0, 1, h)
#define TIME(S, stem, m, h) F_QTY(S, stem, m, DIM_DURATION, 0, 525600, h)
#define WARMTH(S, stem, m, h) F_QTY(S, stem, m, DIM_TEMPERATURE, -40, 60, h)

/* ---- shop ---- */

const char *const words_units[] = {"", "us", "metric", NULL};
static const char *const words_day[] = {"",    "mon", "tue",      "wed",   "thu", "fri",
                                        "sat", "sun", "weekdays", "daily", NULL};
const char *const words_measure[] = {"", "fl oz", "tsp", "ml", "gram", "part", "drop", NULL};

static const struct field shop_hours_fields[] = {
    {F_AT(struct shop_hours, day), .type = FIELD_WORD, .words = words_day, .flags = FLAG_REQUIRED,
     .help = "mon to sun, weekdays or daily"},
    {.name = "open",
     .offset = offsetof(struct shop_hours, open_min),
     .type = FIELD_CLOCK,
     .flags = FLAG_REQUIRED,
     .help = "from when someone works"},
    {.name = "close",
     .offset = offsetof(struct shop_hours, close_min),
     .type = FIELD_CLOCK,
     .flags = FLAG_REQUIRED,
     .help = "until when"},
};
DESC(desc_shop_hours, struct shop_hours, "shop_hours", "Working hours of one day or several.",
     shop_hours_fields);

static const struct field crew_fields[] = {
    F_ID(struct crew_member, id, FLAG_REQUIRED, "short name"),
    F_TEXT(struct crew_member, name, "name, as the days show it"),
    F_LIST(struct crew_member, hours, &desc_shop_hours, 64, "own hours; the shop's when left out"),
    F_DAYS(struct crew_member, days_off, 1000, "days off besides the shop's"),
    F_TEXTS(struct crew_member, only, 32,
            "ids of the operations that this one does; everything when left out"),
};
static DESC(desc_crew, struct crew_member, "crew_member", "One who works in the shop.",
            crew_fields);

static const struct field night_fields[] = {
    {.name = "night",
     .offset = offsetof(struct shop_night, day),
     .type = FIELD_DAY,
     .flags = FLAG_REQUIRED,
     .help = "on whose evening it begins"},
    {.name = "temperature",
     .offset = offsetof(struct shop_night, degc),
     .type = FIELD_QUANTITY,
     .dimension = DIM_TEMPERATURE,
     .min = -40,
     .max = 60,
     .flags = FLAG_REQUIRED,
     .help = "in the shop"},
};
static DESC(desc_night, struct shop_night, "shop_night", "A night colder than usual.",
            night_fields);

static const struct field shop_fields[] = {
    F_TEXT(struct shop, name, "name of the shop"),
    F_TEXT(struct shop, zone, "time zone, as in the IANA list: America/New_York"),
    F_WORD(struct shop, units, words_units, "units to show"),
    F_LIST(struct shop, hours, &desc_shop_hours, 64, "working hours"),
    F_DAYS(struct shop, days_off, 1000, "days on which nobody works"),
    F_INT(struct shop, people, 1, 8, "people who work"),
    F_LIST(struct shop, crew, &desc_crew, 8,
           "people with hours or tasks of their own, instead of their number"),
    F_QTY(struct shop, rate, rate_cent_per_h, DIM_RATE, 0, 100000, "what an hour of work costs"),
    F_QTY(struct shop, overhead, overhead_frac, DIM_FRACTION, 0, 5,
          "overhead on labor and materials"),
    F_QTY(struct shop, margin, margin_frac, DIM_FRACTION, 0, 0.95,
          "margin: profit as a share of the price"),
    F_QTY(struct shop, sale_fee, sale_fee_frac, DIM_FRACTION, 0, 0.9,
          "what a market keeps of the price"),
    SHARE(struct shop, deposit, deposit_frac, "deposit as a share of the price"),
    MONEY(struct shop, minimum, minimum_cent, "the least that a job is done for"),
    WARMTH(struct shop, day_temperature, day_degc, "in the shop by day"),
    WARMTH(struct shop, night_temperature, night_degc, "in the shop by night"),
    F_LIST(struct shop, nights, &desc_night, 400, "nights colder than that"),
    SHARE(struct shop, humidity, humidity_frac, "relative humidity"),
    F_QTY(struct shop, drying_area, drying_area_m2, DIM_AREA, 0, 10000,
          "floor on which parts may dry"),
    F_TRI(struct shop, booth, "sprayed coats go on and dry in a booth, one group at a time"),
    F_TRI(struct shop, sand_apart,
          "sanding is done in another room, so that it may go on beside wet film"),
    F_TEXTS(struct shop, in_one_go, 64,
            "ids of operations that no break or night interrupts; coats never are"),
    F_TRI(struct shop, within_windows,
          "no recoat window is planned to pass: work waits rather than that a film is scuffed"),
    F_WORD(struct shop, measure, words_measure, "what paint is measured with"),
    /* a cup, 236.6 ml, is the coarsest that paint is measured with (common practice) */
    F_QTY(struct shop, smallest, smallest_ml, DIM_POUR, 0, SMALLEST_MAX_ML,
          "smallest amount that can be measured well"),
    F_TEXTS(struct shop, tools, 64, "ids of the methods that the shop owns tools for"),
};
DESC(desc_shop, struct shop, "shop", "The shop: hours, rates, climate, measures.", shop_fields);

/* ---- shelf ---- */

const char *const words_sheen[] = {"",          "flat",  "velvet",     "eggshell", "satin",
                                   "semigloss", "gloss", "high gloss", NULL};
const char *const words_supply[] = {"",       "tape", "abrasive", "roller",   "brush", "rag",
                                    "filler", "glue", "cane",     "hardware", "other", NULL};
const char *const words_reading[] = {"", "instrument", "photo", "chart", "eye", NULL};

static const struct field mix_item_fields[] = {
    F_ID(struct mix_item, paint, FLAG_REQUIRED, "id of a paint on the shelf"),
    {F_AT(struct mix_item, parts), .type = FIELD_NUMBER, .min = 0, .max = 1e6,
     .flags = FLAG_REQUIRED, .help = "parts by volume"},
};
DESC(desc_mix_item, struct mix_item, "mix_item", "One paint of a mix.", mix_item_fields);

static const struct field spectrum_fields[] = {
    F_NUM(struct spectrum_said, first_nm, 300, 900, "wavelength of the first value in nm"),
    F_NUM(struct spectrum_said, step_nm, 0.5, 20, "step between values in nm"),
    F_NUMBERS(struct spectrum_said, values, 1000, "reflectances, 0 to 1"),
};
DESC(desc_spectrum, struct spectrum_said, "spectrum", "A measured reflectance.", spectrum_fields);

static const struct field paint_fields[] = {
    F_ID(struct paint, id, FLAG_REQUIRED | FLAG_KEY, "id, unique on the shelf"),
    {F_AT(struct paint, name), .type = FIELD_TEXT, .flags = FLAG_NAME,
     .help = "as on the can, unique on the shelf"},
    F_ID(struct paint, class, FLAG_CLASS,
         "kind of product: name or id of a row of data/product_classes.tsv"),
    F_COLOR(struct paint, color, "what it dries to"),
    F_LAB(struct paint, color, "the same as CSS Lab (D50, 2 degree): [L, a, b]"),
    F_RECORD(struct paint, spectrum, &desc_spectrum, "measured reflectance of a thick dry film"),
    F_WORD(struct paint, sheen, words_sheen, "sheen"),
    VOLUME(struct paint, stock, stock_ml, "how much is left"),
    VOLUME(struct paint, size, size_ml, "what one can holds"),
    MONEY(struct paint, cost, cost_cent, "what one can costs"),
    F_QTY(struct paint, density, density_g_per_ml, DIM_DENSITY, 0.5, 4, "density"),
    VOLUME(struct paint, smallest, smallest_ml, "smallest pour of this one"),
    F_TIME(struct paint, opened, opened_day, FIELD_DAY, "when it was opened"),
    F_LIST(struct paint, leftover_of, &desc_mix_item, 16, "a leftover: what it was mixed from"),
    F_ID(
        struct paint, can_of, 0,
        "another can of that paint, maybe of another lot: begins with what was learned of it; what "
        "is unsaid is that one's"),
    F_QTY(struct paint, label_spread, label_spread_m2_per_l, DIM_SPREAD, 0.5, 50, "label: spread"),
    SHARE(struct paint, label_solids, label_solids_frac, "label: solids by volume"),
    TIME(struct paint, label_touch, label_touch_min, "label: dry to touch"),
    TIME(struct paint, label_recoat, label_recoat_min, "label: recoat after"),
    TIME(struct paint, label_recoat_until, label_recoat_until_min,
         "label: recoat before, else scuff"),
    TIME(struct paint, label_handle, label_handle_min, "label: may be handled after"),
    TIME(struct paint, label_cure, label_cure_min, "label: cured after"),
    TIME(struct paint, label_pot_life, label_pot_life_min, "label: to be used within, once mixed"),
    WARMTH(struct paint, label_lowest, label_lowest_degc, "label: lowest temperature"),
    F_INT(struct paint, hides_in, 1, 12,
          "coats until a card that is half black and half white no longer shows through"),
    F_TEXT(struct paint, note, "note"),
};
DESC(desc_paint, struct paint, "paint",
     "Anything that comes out of a can: paint, primer, barrier, clear, wax, stain.", paint_fields);

static const struct field supply_fields[] = {
    F_ID(struct supply, id, FLAG_REQUIRED | FLAG_KEY, "id, unique among the supplies"),
    F_TEXT(struct supply, name, "name"),
    F_WORD(struct supply, kind, words_supply, "what it is"),
    F_NUM(struct supply, count, 0, 1e6, "how many are left"),
    MONEY(struct supply, cost, cost_cent, "what one costs"),
};
DESC(desc_supply, struct supply, "supply", "Tape, abrasive, rollers and the like.", supply_fields);

static const struct field sample_fields[] = {
    F_ID(struct sample, id, FLAG_KEY, "id, unique among the samples"),
    {F_AT(struct sample, items), .count_offset = offsetof(struct sample, items_n),
     .type = FIELD_LIST, .of = &desc_mix_item, .items_max = 16, .flags = FLAG_REQUIRED,
     .help = "what was mixed"},
    F_COLOR(struct sample, color, "what it dried to"),
    F_LAB(struct sample, color, "the same as CSS Lab (D50, 2 degree): [L, a, b]"),
    F_WORD(struct sample, read, words_reading, "how the color was read"),
    F_TRI(struct sample, wet, "was it still wet"),
    F_WORD(struct sample, sheen, words_sheen, "sheen"),
    F_TEXT(struct sample, note, "note"),
};
DESC(desc_sample, struct sample, "sample", "A known mix, painted on a card, dried, its color read.",
     sample_fields);

static const struct field shelf_fields[] = {
    F_LIST(struct shelf, paints, &desc_paint, 500, "paints, primers, clears"),
    F_LIST(struct shelf, supplies, &desc_supply, 500, "supplies"),
    F_LIST(struct shelf, samples, &desc_sample, 1000, "samples on record"),
};
DESC(desc_shelf_part, struct shelf, "shelf", "What is on the shelf, and samples of it.",
     shelf_fields);
DESC_DOCUMENT(desc_shelf, struct shelf, "shelf_document", "A shelf as a document of its own.",
              shelf_fields, "coatwright-shelf", 1);

/* ---- piece: tests ---- */

static const char *const words_wipe[] = {"", "clean", "greasy", NULL};
static const char *const words_drop[] = {"", "beads", "soaks", NULL};
static const char *const words_reaction[] = {"", "nothing", "softens", "dissolves", NULL};
static const char *const words_rag[] = {"", "clean", "brown", "red", NULL};
static const char *const words_lead[] = {"",
                                         "kit negative",
                                         "kit positive",
                                         "waiting",
                                         "lab negative",
                                         "lab positive",
                                         "xrf negative",
                                         "xrf positive",
                                         NULL};
static const char *const words_smell[] = {"", "none", "smoke", "urine", "musty", NULL};
static const char *const words_mold[] = {"", "none", "surface", "deep", NULL};
static const char *const words_pests[] = {"", "none", "old holes", "live borer", "bedbugs", NULL};
static const char *const words_outcome[] = {"", "passed", "failed", NULL};

static const struct field tests_fields[] = {
    F_WORD(struct piece_tests, wax_wipe, words_wipe, "mineral spirits on a white cloth"),
    F_TRI(struct piece_tests, spot_cleaned, "were the solvents tried where wax was taken off"),
    F_WORD(struct piece_tests, water_drop, words_drop, "a drop of water on the surface"),
    F_WORD(struct piece_tests, alcohol, words_reaction, "alcohol on a hidden place"),
    F_WORD(struct piece_tests, thinner, words_reaction, "lacquer thinner on a hidden place"),
    F_WORD(struct piece_tests, xylene, words_reaction, "xylene on a hidden place"),
    F_WORD(struct piece_tests, rag, words_rag, "damp rag rubbed on the darkest place"),
    F_TRI(struct piece_tests, dye_lifts, "does alcohol lift the red dye"),
    SHARE(struct piece_tests, tape_removed, tape_removed_frac, "area pulled off by the tape test"),
    F_QTY(struct piece_tests, film, film_um, DIM_FILM, 0, 10000, "thickness of the old film"),
    SHARE(struct piece_tests, moisture, moisture_frac, "pin meter reading"),
    WARMTH(struct piece_tests, moisture_at, moisture_at_degc, "temperature of the wood then"),
    F_WORD(struct piece_tests, lead, words_lead, "lead test"),
    SHARE(struct piece_tests, lead_content, lead_frac, "lead by weight, as the laboratory wrote"),
    F_WORD(struct piece_tests, smell, words_smell, "smell"),
    F_WORD(struct piece_tests, mold, words_mold, "mold"),
    F_WORD(struct piece_tests, pests, words_pests, "pests"),
    F_WORD(struct piece_tests, patch, words_outcome, "bleeding patch after 48 h"),
    F_WORD(struct piece_tests, test_board, words_outcome, "the whole system on this wood"),
    F_TEXTS(struct piece_tests, skipped, 64, "tests that are not made: ids of data/tests.tsv"),
};
DESC(desc_tests, struct piece_tests, "tests",
     "Tests on record, in the order in which they are made.", tests_fields);

/* ---- piece: parts, repairs, fittings ---- */

const char *const words_treatment[] = {"",    "paint", "paint no clear", "clear", "stain",
                                       "wax", "bare",  "mask",           "seal",  NULL};

static const struct field part_fields[] = {
    F_ID(struct part, id, FLAG_REQUIRED | FLAG_KEY, "id; one of the template's is changed by it"),
    F_TEXT(struct part, name, "name"),
    F_ID(struct part, group, 0, "parts of one group are worked and dry together"),
    F_ID(struct part, shape, 0, "kind of shape: box, panel, turned ..."),
    SIZE(struct part, a, size_mm[0], "first size, in the shape's own order"),
    SIZE(struct part, b, size_mm[1], "second size"),
    SIZE(struct part, c, size_mm[2], "third size"),
    SIZE(struct part, d, size_mm[3], "fourth size"),
    SIZE(struct part, e, size_mm[4], "fifth size"),
    SIZE(struct part, f, size_mm[5], "sixth size"),
    F_INT(struct part, count, 0, 2000, "how many of it"),
    F_TEXT(struct part, faces, "coated faces: letters f(ront) k (back) l r t b"),
    F_ID(struct part, profile, 0, "surface profile: id of a row of data/profile_factors.tsv"),
    F_ID(struct part, material, 0, "what it is made of: id of a row of data/materials.tsv"),
    F_WORD(struct part, treatment, words_treatment, "what is done to it"),
    F_COLOR(struct part, color, "another color than the piece's"),
    F_ID(struct part, product, FLAG_CLASS, "another paint or class for its color coats"),
    F_ID(struct part, clear, FLAG_CLASS,
         "another paint or class of clear, wax or oil over it, or none"),
    F_TRI(struct part, removable, "can it be taken off"),
};
DESC(desc_part, struct part, "part", "One kind of part.", part_fields);

static const struct field repair_fields[] = {
    F_ID(struct repair, kind, FLAG_REQUIRED, "kind of repair: id of a row of data/repairs.tsv"),
    F_ID(struct repair, part, 0, "which part"),
    F_INT(struct repair, count, 1, 1000, "how many"),
    MONEY(struct repair, cost, cost_cent,
          "what somebody else asks for it, all of them; instead of the usual material"),
    F_TEXT(struct repair, note, "note"),
};
static DESC(desc_repair, struct repair, "repair", "Something to be repaired.", repair_fields);

static const struct field wait_fields[] = {
    F_ID(struct outside_wait, kind, FLAG_REQUIRED,
         "what is waited for: id of a row of data/waits.tsv"),
    F_ID(struct outside_wait, before, 0,
         "id of the operation that waits; what the kind holds up when left out"),
    F_TIME(struct outside_wait, until, until_day, FIELD_DAY, "when it is expected"),
    F_TEXT(struct outside_wait, note, "what was ordered, who was asked"),
};
static DESC(desc_wait, struct outside_wait, "outside_wait",
            "Something from outside that work waits for.", wait_fields);

static const struct field pulls_fields[] = {
    F_INT(struct fitting_pulls, count, 0, 200, "pulls or knobs in all"),
    F_INT(struct fitting_pulls, holes, 1, 2, "holes of one: 1 knob, 2 pull"),
    SIZE(struct fitting_pulls, old_spacing, old_spacing_mm, "old holes, center to center"),
    SIZE(struct fitting_pulls, new_spacing, new_spacing_mm, "new holes, center to center"),
    SIZE(struct fitting_pulls, front_thickness, front_thickness_mm,
         "thickness of the drawer front"),
    SIZE(struct fitting_pulls, screw_gauge, screw_gauge_mm, "diameter of the screw"),
    SIZE(struct fitting_pulls, hole, hole_mm, "diameter of the old hole"),
    SIZE(struct fitting_pulls, backplate, backplate_mm, "width that a backplate covers"),
};
static DESC(desc_pulls, struct fitting_pulls, "pulls", "Pulls and knobs.", pulls_fields);

static const char *const words_panel[] = {"", "cane", "fabric", "panel", "glass", "mirror", NULL};
static const char *const words_hold[] = {"", "staple", "spline", "bead", NULL};
static const struct field panel_fields[] = {
    F_ID(struct fitting_panel, id, FLAG_KEY, "id, unique among the panels"),
    F_CHOICE(struct fitting_panel, kind, words_panel, FLAG_REQUIRED, "what fills the opening"),
    SIZE(struct fitting_panel, width, width_mm, "width of the opening"),
    SIZE(struct fitting_panel, height, height_mm, "height of the opening"),
    F_INT(struct fitting_panel, count, 1, 200, "how many"),
    F_CHOICE(struct fitting_panel, hold, words_hold, 0, "what holds it"),
    SIZE(struct fitting_panel, depth, depth_mm, "wood free behind it for a fastener"),
    SIZE(struct fitting_panel, rebate, rebate_mm, "how far its ledge lies below the frame"),
    SIZE(struct fitting_panel, reach, reach_mm,
         "how far down the stapler's nose gets beside the frame"),
    F_QTY(struct fitting_panel, groove, groove_mm, DIM_LENGTH, 0, 20,
          "width of the groove for a spline"),
    SIZE(struct fitting_panel, thickness, thickness_mm, "thickness"),
};
static DESC(desc_panel, struct fitting_panel, "panel",
            "Woven cane, fabric, panel or glass in an opening.", panel_fields);

static const char *const words_grain[] = {"", "flat", "quarter", NULL};
static const struct field slide_fields[] = {
    F_ID(struct fitting_slide, part, FLAG_REQUIRED, "which part"),
    SIZE(struct fitting_slide, gap, gap_mm, "gap per side"),
    SIZE(struct fitting_slide, height, height_mm, "height across the grain"),
    F_CHOICE(struct fitting_slide, grain, words_grain, 0, "how its boards were sawn"),
};
static DESC(desc_slide, struct fitting_slide, "slide",
            "Something that slides or swings in an opening.", slide_fields);

static const struct field fittings_fields[] = {
    F_RECORD(struct fittings, pulls, &desc_pulls, "pulls and knobs"),
    F_LIST(struct fittings, panels, &desc_panel, 64, "cane, fabric, glass"),
    F_LIST(struct fittings, slides, &desc_slide, 64, "what slides or swings"),
    F_ID(struct fittings, metal, 0, "metal of the old hardware: brass, steel, plated, painted ..."),
    SIZE(struct fittings, back_thickness, back_thickness_mm, "back panel to be nailed on"),
    SIZE(struct fittings, back_depth, back_depth_mm, "wood behind the back panel"),
    F_TRI(struct fittings, anchor, "is it anchored against tipping"),
};
static DESC(desc_fittings, struct fittings, "fittings", "Hardware, panels, clearances.",
            fittings_fields);

/* ---- piece: what was agreed and wanted ---- */

static const char *const words_purpose[] = {"", "client", "sale", "own", NULL};
static const char *const words_seat[] = {"", "wood", "woven", "upholstered", NULL};
static const char *const words_place[] = {"", "indoor", "kitchen", "bath", "outdoor", NULL};
static const char *const words_condition[] = {"", "sound", "worn", "damaged", "flaking", NULL};

static const struct field agreement_fields[] = {
    F_WORD(struct agreement, purpose, words_purpose, "for whom"),
    F_TEXT(struct agreement, client, "the client"),
    F_TEXT(struct agreement, use, "what it will be used for"),
    F_TEXTS(struct agreement, marks, 64,
            "condition when it came: scratches, rings, what is missing"),
    F_TIME(struct agreement, seen, seen_day, FIELD_DAY, "when its condition was written down"),
    F_TEXTS(struct agreement, agreed, 64, "what was agreed"),
    F_TEXTS(struct agreement, excluded, 64, "what is not part of the work"),
    MONEY(struct agreement, deposit, deposit_cent, "deposit paid"),
    MONEY(struct agreement, quoted, quoted_cent, "price that was quoted"),
    MONEY(struct agreement, asking, asking_cent, "price to be asked for it when it is done"),
    MONEY(struct agreement, bought, bought_cent, "price paid for the piece"),
    MONEY(struct agreement, storage_fee, storage_fee_cent,
          "storage fee, each week after pick-up is due"),
    F_TRI(struct agreement, sample_signed, "has the client signed the sample"),
    F_TIME(struct agreement, sample_expected, sample_expected_day, FIELD_DAY,
           "when the client is expected to sign it; no color goes on before"),
    F_TIME(struct agreement, due, due_day, FIELD_DAY, "when it must be ready"),
    F_INT(struct agreement, due_weight, 1, 100,
          "what a day late counts against other pieces: 1 as usual, 10 for a rush job"),
    F_TIME(struct agreement, arrives, arrives_day, FIELD_DAY, "when it comes into the shop"),
    F_TIME(struct agreement, signed, signed_day, FIELD_DAY, "when it was signed"),
    F_TIME(struct agreement, collect, collect_day, FIELD_DAY, "when it is fetched"),
    F_TIME(struct agreement, listed, listed_day, FIELD_DAY, "since when it is offered for sale"),
};
DESC(desc_agreement, struct agreement, "agreement", "What was agreed.", agreement_fields);

static const char *const words_top[] = {"",      "painted", "natural", "stained",
                                        "waxed", "oiled",   NULL};
static const struct field wanted_fields[] = {
    F_COLOR(struct wanted, color, "color wanted"),
    F_ID(struct wanted, product, FLAG_CLASS, "paint or class for the color coats"),
    F_ID(struct wanted, clear, FLAG_CLASS, "paint or class of the clear coats, or none"),
    F_ID(struct wanted, primer, FLAG_CLASS,
         "paint or class of the primer; unsaid: the rules choose"),
    F_WORD(struct wanted, sheen, words_sheen, "sheen wanted"),
    F_ID(struct wanted, method, 0, "how it is put on; unsaid: the rules choose"),
    F_CHOICE(struct wanted, top, words_top, 0, "what the top gets where it is not as the rest"),
    F_TEXTS(struct wanted, effects, 16, "stencil, glaze, distress ..."),
    F_INT(struct wanted, color_coats, 0, 12, "color coats"),
    F_INT(struct wanted, clear_coats, 0, 12, "clear coats"),
    F_INT(struct wanted, paints_max, 1, 5, "paints in a recipe at most"),
    F_INT(struct wanted, parts, 1, 200, "a recipe is so many parts in all"),
};
DESC(desc_wanted, struct wanted, "wanted", "What is wanted on it.", wanted_fields);

static const struct field piece_fields[] = {
    F_ID(struct piece, id, FLAG_KEY, "id, unique in the job"),
    F_TEXT(struct piece, title, "what to call it"),
    F_ID(struct piece, template, 0, "what it is: id of a row of data/piece_templates.tsv"),
    SIZE(struct piece, width, width_mm, "width"),
    SIZE(struct piece, depth, depth_mm, "depth"),
    SIZE(struct piece, height, height_mm, "height"),
    SIZE(struct piece, thickness, thickness_mm, "thickness of the boards"),
    SIZE(struct piece, bow, bow_mm, "rise of a bowed front in the middle"),
    F_INT(struct piece, drawers, 0, 100, "drawers"),
    F_INT(struct piece, doors, 0, 100, "doors"),
    F_INT(struct piece, shelves, 0, 100, "shelves"),
    F_INT(struct piece, slats, 0, 200, "slats"),
    F_INT(struct piece, legs, 0, 40, "legs"),
    F_INT(struct piece, count, 1, 200, "how many pieces of this kind"),
    SIZE(struct piece, leg, leg_mm, "thickness or height of a leg, as the template says"),
    SIZE(struct piece, opening, opening_mm, "opening, as the template says"),
    F_INT(struct piece, year, 1500, 2100, "made about"),
    F_ID(struct piece, wood, 0, "id of a row of data/species.tsv"),
    F_TRI(struct piece, veneer, "is it veneered"),
    F_QTY(struct piece, veneer_thickness, veneer_mm, DIM_LENGTH, 0, 6, "thickness of the veneer"),
    F_ID(struct piece, finish, 0, "what is on it now: id of a row of data/materials.tsv"),
    F_COLOR(struct piece, now_color, "what it looks like now"),
    F_WORD(struct piece, condition, words_condition, "condition of the old finish"),
    F_TRI(struct piece, knots, "are there knots"),
    F_TRI(struct piece, child, "is it for a child"),
    F_TRI(struct piece, drop_side, "does a crib have a drop side"),
    SIZE(struct piece, slat_gap, slat_gap_mm, "widest gap between the slats of a crib"),
    F_WORD(struct piece, seat, words_seat,
           "what one sits on: a woven seat stays and is masked, upholstery comes off"),
    F_WORD(struct piece, place, words_place, "where it will stand"),
    F_RECORD(struct piece, tests, &desc_tests, "tests on record"),
    F_RECORD(struct piece, agreement, &desc_agreement, "what was agreed"),
    F_RECORD(struct piece, wanted, &desc_wanted, "what is wanted on it"),
    F_LIST(struct piece, parts, &desc_part, 2000,
           "parts that differ from the template, or are added"),
    F_LIST(struct piece, repairs, &desc_repair, 200, "what is to be repaired"),
    F_LIST(struct piece, waits, &desc_wait, 20, "what work waits for from outside"),
    F_RECORD(struct piece, fittings, &desc_fittings, "hardware, panels, clearances"),
    F_TEXT(struct piece, note, "note"),
};
DESC(desc_piece, struct piece, "piece", "One piece of furniture.", piece_fields);

/* ---- job ---- */

static const struct field job_fields[] = {
    F_TEXT(struct job, title, "what to call the job"),
    F_TIME(struct job, start, start_local_min, FIELD_LOCAL, "not before; the shop's clock"),
    F_RECORD(struct job, shop, &desc_shop, "the shop"),
    F_RECORD(struct job, shelf, &desc_shelf_part, "the shelf"),
    {F_AT(struct job, pieces), .count_offset = offsetof(struct job, pieces_n), .type = FIELD_LIST,
     .of = &desc_piece, .items_max = 64, .flags = FLAG_REQUIRED, .help = "the pieces"},
};
DESC_DOCUMENT(desc_job, struct job, "job", "A job: shop, shelf and pieces.", job_fields,
              "coatwright-job", 1);
