#include "codec/plan_desc.h"

#include "codec/job_desc.h"
#include "core/work/plan.h"

/* ---- words ---- */

static const char *const certainty_words[] = {"",
                                              "exact",
                                              "measured",
                                              "label",
                                              "published",
                                              "one trade source",
                                              "common practice",
                                              "from memory",
                                              "assumed",
                                              "as said",
                                              NULL};
static const char *const rank_words[] = {"", "note", "mind", "stop", NULL};
static const char *const state_words[] = {"", "tested", "seen", "assumed", "to test", NULL};
static const char *const verdict_words[] = {"",      "holds",   "prepare", "wait",
                                            "never", "unknown", NULL};
static const char *const role_words[] = {"",        "clean",  "strip", "scuff", "spot_seal",
                                         "barrier", "primer", "rub",   "stain", "color",
                                         "effect",  "clear",  "wax",   NULL};
static const char *const dimension_words[] = {
    "",         "length",      "film",     "area",  "volume", "mass",  "density", "spread",
    "duration", "temperature", "fraction", "money", "rate",   "force", "pour",    NULL};
_Static_assert(sizeof dimension_words / sizeof *dimension_words == DIMENSION_COUNT + 1,
               "a word for each dimension");

/* A quantity of a result: any finite value, unsaid values left out. */
#define Q(S, stem, m, dim, h) F_QTY(S, stem, m, dim, 0, 0, h)
#define N(S, m, h) F_NUM(S, m, 0, 0, h)
#define I(S, m, h) F_INT(S, m, 0, 0, h)
#define T(S, m, h) F_TEXT(S, m, h)
#define W(S, m, w, h) F_WORD(S, m, w, h)
#define AT(S, stem, m, h)                                                                          \
    { .name = #stem, .offset = offsetof(S, m), .type = FIELD_INSTANT, .help = h }
#define LIST_OF(S, stem, m, n, d, h)                                                               \
    {                                                                                              \
        .name = #stem, .offset = offsetof(S, m), .count_offset = offsetof(S, n),                   \
        .type = FIELD_LIST, .of = &d, .items_max = 100000, .help = h                               \
    }
#define L(S, m, d, h) LIST_OF(S, m, m, m##_n, d, h)

/* ---- basis, assumptions, notices ---- */

static const struct field basis_input_fields[] = {
    T(struct basis_input, name, "what went in"),
    T(struct basis_input, text, "a word"),
    F_BY_UNIT(struct basis_input, value, unit,
              "or a number, in the canonical unit of its dimension"),
    W(struct basis_input, unit, dimension_words, "what the number measures"),
};
static DESC(desc_basis_input, struct basis_input, "basis_input", "One input of a figure.",
            basis_input_fields);

static const struct field basis_fields[] = {
    T(struct basis, pointer, "JSON pointer of the figure in this result"),
    L(struct basis, inputs, desc_basis_input, "what it came from"),
    T(struct basis, rule, "the formula in words"),
    T(struct basis, source, "id of the source and place in it"),
    T(struct basis, cited, "the source as people read it"),
    W(struct basis, certainty, certainty_words, "how sure it is"),
    F_BY_UNIT(struct basis, low, unit, "9 of 10 lie above"),
    F_BY_UNIT(struct basis, high, unit, "9 of 10 lie below"),
    W(struct basis, unit, dimension_words, "what low and high measure"),
};
DESC(desc_basis, struct basis, "basis", "Where one figure comes from.", basis_fields);

static const struct field assumption_fields[] = {
    T(struct assumption, pointer, "JSON pointer into the job document"),
    T(struct assumption, text, "the word that was assumed"),
    F_BY_UNIT(struct assumption, value, unit,
              "or the number, in the canonical unit of its dimension"),
    W(struct assumption, unit, dimension_words, "what the number measures"),
    T(struct assumption, why, "why this value"),
    T(struct assumption, source, "id of the source"),
};
DESC(desc_assumption, struct assumption, "assumption", "A value nobody has said.",
     assumption_fields);

static const struct field notice_fields[] = {
    W(struct notice, rank, rank_words, "stop: work must not go on; mind; note"),
    T(struct notice, id, "which caution: row of data/hazards.tsv"),
    T(struct notice, topic, "what it is about, one word"),
    T(struct notice, text, "what to do and why"),
    T(struct notice, remedy, "what may be done instead"),
    T(struct notice, blocks, "what waits for it: gates or operations, spaces between"),
    T(struct notice, signs, "the words about it that the client signs"),
    T(struct notice, source, "id of the source"),
    W(struct notice, certainty, certainty_words, "how sure it is"),
};
DESC(desc_notice, struct notice, "notice", "Something to be minded.", notice_fields);

#define NOTICES(S, stem, m, h) LIST_OF(S, stem, m.rows, m.n, desc_notice, h)

/* ---- inspection and hazards ---- */

static const struct field finding_fields[] = {
    T(struct finding, id, "what was looked at"),
    T(struct finding, name, "its name"),
    T(struct finding, verdict, "what it is"),
    T(struct finding, detail, "what was seen and what it means"),
    W(struct finding, state, state_words, "how it is known"),
    T(struct finding, source, "id of the source"),
};
static DESC(desc_finding, struct finding, "finding", "One finding of the inspection.",
            finding_fields);

static const struct field test_fields[] = {
    T(struct test_to_do, id, "which test"),
    T(struct test_to_do, what, "do this"),
    T(struct test_to_do, see, "look for that"),
    T(struct test_to_do, means, "it means"),
    W(struct test_to_do, rank, rank_words, "stop: before anything else"),
    T(struct test_to_do, source, "id of the source"),
};
static DESC(desc_test, struct test_to_do, "test_to_do", "A test to make before starting.",
            test_fields);

static const struct field inspection_fields[] = {
    L(struct inspection, findings, desc_finding, "what is known"),
    L(struct inspection, tests, desc_test, "what to test, in this order"),
    F_TEXTS(struct inspection, left_out, 64,
            "tests that are not made; what they tell stays unknown"),
    T(struct inspection, finish, "material that is on it"),
    I(struct inspection, bleed_score, "risk that stain travels into the paint"),
    F_TRI(struct inspection, wax, "is there wax on it"),
    F_TRI(struct inspection, lead_cleared, "is lead ruled out"),
    F_TRI(struct inspection, holds, "may the old film stay"),
    Q(struct inspection, moisture, moisture_frac, DIM_FRACTION, "moisture of the wood, corrected"),
};
static DESC(desc_inspection, struct inspection, "inspection", "What it is and what is on it.",
            inspection_fields);

static const struct field hazards_fields[] = {
    NOTICES(struct hazards, notices, notices, "cautions and gates"),
    F_BOOL(struct hazards, refused, "the piece must not be done"),
    T(struct hazards, refusal, "why"),
    T(struct hazards, instead, "what may be done instead"),
};
static DESC(desc_hazards, struct hazards, "hazards", "What can hurt someone.", hazards_fields);

/* ---- surfaces ---- */

static const struct field surface_fields[] = {
    F_RECORD(struct surface, part, &desc_part, "the part, completed"),
    Q(struct surface, each, each_m2, DIM_AREA, "geometric area of one"),
    N(struct surface, factor, "profile factor"),
    Q(struct surface, coated, coated_m2, DIM_AREA, "all of this kind, under color"),
    Q(struct surface, clear, clear_m2, DIM_AREA, "of it under clear"),
    Q(struct surface, bare, bare_m2, DIM_AREA, "stays bare"),
    Q(struct surface, masked, masked_m2, DIM_AREA, "masked"),
    Q(struct surface, sealed, sealed_m2, DIM_AREA, "bare, sealed with shellac"),
    Q(struct surface, mask_edge, mask_edge_mm, DIM_LENGTH, "edge to be taped"),
    Q(struct surface, glass, glass_m2, DIM_AREA, "taken off for glass and mirrors"),
    Q(struct surface, inset, inset_m2, DIM_AREA,
      "taken off for woven cane or what is let in and masked"),
};
static DESC(desc_surface, struct surface, "surface", "One kind of part and its area.",
            surface_fields);

static const struct field group_fields[] = {
    T(struct surface_group, id, "id"),
    T(struct surface_group, name, "name"),
    {.name = "first",
     .offset = offsetof(struct surface_group, first),
     .type = FIELD_INT,
     .help = "first row of surfaces"},
    {.name = "n",
     .offset = offsetof(struct surface_group, n),
     .type = FIELD_INT,
     .help = "how many rows"},
    Q(struct surface_group, coated, coated_m2, DIM_AREA, "under color"),
    Q(struct surface_group, clear, clear_m2, DIM_AREA, "under clear"),
    Q(struct surface_group, bare, bare_m2, DIM_AREA, "stays bare"),
    Q(struct surface_group, sealed, sealed_m2, DIM_AREA, "bare, sealed with shellac"),
    F_BOOL(struct surface_group, lies_flat, "off the piece, dries flat"),
    Q(struct surface_group, floor, floor_m2, DIM_AREA, "floor it takes while drying"),
    T(struct surface_group, tool, "method of coating"),
    T(struct surface_group, tool_why, "why this one"),
    T(struct surface_group, tool_source, "id of the source"),
};
static DESC(desc_group, struct surface_group, "surface_group",
            "Parts that are worked and dry together.", group_fields);

static const struct field surfaces_fields[] = {
    LIST_OF(struct surfaces, rows, rows, rows_n, desc_surface, "parts"),
    L(struct surfaces, groups, desc_group, "groups"),
    Q(struct surfaces, coated, coated_m2, DIM_AREA, "under color in all"),
    Q(struct surfaces, clear, clear_m2, DIM_AREA, "under clear in all"),
    Q(struct surfaces, bare, bare_m2, DIM_AREA, "stays bare"),
    Q(struct surfaces, masked, masked_m2, DIM_AREA, "masked"),
    Q(struct surfaces, sealed, sealed_m2, DIM_AREA, "bare, sealed with shellac"),
};
static DESC(desc_surfaces, struct surfaces, "surfaces", "What gets coated and what stays bare.",
            surfaces_fields);

/* ---- work ---- */

static const struct field step_fields[] = {
    T(struct work_step, id, "id"),
    T(struct work_step, operation, "row of the operations"),
    T(struct work_step, text, "what to do"),
    T(struct work_step, why, "why"),
    T(struct work_step, how, "technique or material"),
    Q(struct work_step, hands, hands_min, DIM_DURATION, "hands-on"),
    Q(struct work_step, wait, wait_min, DIM_DURATION, "clamp, cure or dry before what follows"),
    Q(struct work_step, material, material_cent, DIM_MONEY, "material, all of them"),
    I(struct work_step, count, "how many"),
    T(struct work_step, bag, "label of the bag"),
    T(struct work_step, source, "id of the source"),
    W(struct work_step, certainty, certainty_words, "how sure it is"),
};
static DESC(desc_step, struct work_step, "work_step", "A step that is not a coat.", step_fields);

static const struct field coat_fields[] = {
    T(struct coat, id, "id"),
    T(struct coat, group, "group of parts"),
    W(struct coat, role, role_words, "what it is for"),
    T(struct coat, operation, "row of the operations"),
    T(struct coat, product, "product on the shelf"),
    T(struct coat, class, "class of product"),
    I(struct coat, coats, "how many"),
    Q(struct coat, area, area_m2, DIM_AREA, "of the group, under this coat"),
    I(struct coat, grit, "grit on flats"),
    I(struct coat, grit_curves, "grit on curves"),
    T(struct coat, tool, "tool on flats"),
    T(struct coat, tool_curves, "tool on curves and slats"),
    W(struct coat, verdict, verdict_words, "does it hold on what is below"),
    T(struct coat, rule, "row of the coat rules"),
    T(struct coat, text, "what to do"),
    T(struct coat, why, "why"),
    T(struct coat, how, "technique"),
    T(struct coat, remedy, "what makes it hold"),
    Q(struct coat, hands, hands_min, DIM_DURATION, "hands-on, one coat on this group"),
    Q(struct coat, touch, touch_min, DIM_DURATION, "dry to touch"),
    Q(struct coat, recoat, recoat_min, DIM_DURATION, "next coat from"),
    Q(struct coat, recoat_until, recoat_until_min, DIM_DURATION,
      "next coat without scuffing until"),
    Q(struct coat, handle, handle_min, DIM_DURATION, "may be handled"),
    Q(struct coat, cure, cure_min, DIM_DURATION, "cured"),
    Q(struct coat, film, film_um, DIM_FILM, "dry film of one coat"),
    F_COLOR(struct coat, color, "of a color coat that is not the piece's own color"),
    T(struct coat, source, "id of the source"),
    W(struct coat, certainty, certainty_words, "how sure it is"),
};
static DESC(desc_coat, struct coat, "coat", "One step of the coating system.", coat_fields);

static const struct field coats_fields[] = {
    LIST_OF(struct coats, rows, rows, n, desc_coat, "in the order of the work"),
    NOTICES(struct coats, refused, refused, "what was asked for and would not hold"),
    F_BOOL(struct coats, test_board, "color coats wait for a test board"),
    T(struct coats, test_board_why, "why"),
    F_BOOL(struct coats, test_first,
           "every coat waits two days for it: it is made on the old film"),
    Q(struct coats, film, film_um, DIM_FILM, "whole build on one face"),
};
static DESC(desc_coats, struct coats, "coats", "The coating system.", coats_fields);

/* ---- color and amounts ---- */

static const struct field recipe_line_fields[] = {
    T(struct recipe_line, paint, "paint on the shelf"),
    T(struct recipe_line, name, "its name"),
    N(struct recipe_line, parts, "parts by volume"),
    Q(struct recipe_line, volume, ml, DIM_VOLUME, "to pour"),
};
static DESC(desc_recipe_line, struct recipe_line, "recipe_line", "One paint of a recipe.",
            recipe_line_fields);

static const struct field color_fields[] = {
    F_COLOR(struct color_plan, target, "the color wanted"),
    T(struct color_plan, product, "paint that is used as it is"),
    T(struct color_plan, batch, "batch that is mixed of it: the lines are what is in it"),
    L(struct color_plan, lines, desc_recipe_line, "what to mix"),
    I(struct color_plan, parts, "sum of the parts"),
    {.name = "lab",
     .offset = offsetof(struct color_plan, lab),
     .type = FIELD_NUMBERS,
     .fixed = 3,
     .help = "predicted color, CSS Lab D50"},
    N(struct color_plan, difference, "CIEDE2000 to the target"),
    N(struct color_plan, expected_difference, "expected, doubt included"),
    N(struct color_plan, difference_90, "9 of 10 mixes are nearer than this"),
    F_BOOL(struct color_plan, proven, "no better recipe on this grid"),
    N(struct color_plan, bound, "nothing on this grid is nearer"),
    NOTICES(struct color_plan, notices, notices, "what to mind"),
};
static DESC(desc_color_plan, struct color_plan, "color_plan", "The color and how it is mixed.",
            color_fields);

static const struct field amount_fields[] = {
    T(struct amount, product, "product on the shelf"),
    T(struct amount, name, "name"),
    T(struct amount, class, "class of product"),
    W(struct amount, role, role_words, "what it is for"),
    Q(struct amount, area, area_m2, DIM_AREA, "area of one coat"),
    I(struct amount, coats, "coats"),
    Q(struct amount, more, more_m2, DIM_AREA, "of it under more coats"),
    I(struct amount, more_coats, "so many more"),
    Q(struct amount, spread, spread_m2_per_l, DIM_SPREAD, "spread"),
    Q(struct amount, film, film_ml, DIM_VOLUME, "stays on the piece"),
    Q(struct amount, loss, loss_frac, DIM_FRACTION, "lost by the method"),
    Q(struct amount, session, session_ml, DIM_VOLUME, "left in tool and tray, each session"),
    N(struct amount, sessions, "sessions"),
    Q(struct amount, need, need_ml, DIM_VOLUME, "likeliest need"),
    Q(struct amount, low, low_ml, DIM_VOLUME, "1 in 10 needs less"),
    Q(struct amount, high, high_ml, DIM_VOLUME, "1 in 10 needs more"),
    Q(struct amount, mix, mix_ml, DIM_VOLUME, "to have ready"),
    Q(struct amount, mixed, mixed_ml, DIM_VOLUME, "of it mixed already"),
    Q(struct amount, stock, stock_ml, DIM_VOLUME,
      "at hand: on the shelf, or left by the pieces before"),
    Q(struct amount, buy, buy_ml, DIM_VOLUME, "to buy"),
    F_BOOL(struct amount, after_others, "pieces before this one take of it"),
    I(struct amount, cans, "cans to buy"),
    T(struct amount, cans_text, "of which sizes; missing: of several paints"),
    Q(struct amount, left, left_ml, DIM_VOLUME, "likely left over"),
    Q(struct amount, cost, cost_cent, DIM_MONEY, "cost of what is used"),
};
static DESC(desc_amount, struct amount, "amount", "How much of one product.", amount_fields);

static const struct field supply_fields[] = {
    T(struct supply_need, id, "id"),
    T(struct supply_need, name, "name"),
    T(struct supply_need, kind, "tape, abrasive, cane, hardware ..."),
    N(struct supply_need, count, "how many"),
    T(struct supply_need, unit, "of what"),
    Q(struct supply_need, cost, cost_cent, DIM_MONEY, "cost"),
    T(struct supply_need, source, "id of the source"),
};
static DESC(desc_supply_need, struct supply_need, "supply_need", "Tape, abrasive, rollers.",
            supply_fields);

/* ---- days ---- */

static const struct field task_fields[] = {
    T(struct day_task, id, "id"),
    T(struct day_task, piece, "piece"),
    T(struct day_task, group, "group of parts"),
    T(struct day_task, name, "what to do"),
    T(struct day_task, operation, "row of the operations"),
    T(struct day_task, person, "who does it, where the shop tells people apart"),
    Q(struct day_task, hands, hands_min, DIM_DURATION, "hands-on"),
    AT(struct day_task, start, start_utc_min, "start"),
    AT(struct day_task, end, end_utc_min, "end"),
    AT(struct day_task, dry_until, dry_until_utc_min, "dry, may be followed"),
    AT(struct day_task, window_end, window_end_utc_min, "next coat without scuffing until"),
    AT(struct day_task, stack, stack_utc_min, "hard enough to be stacked: takes less floor"),
    F_TEXT(struct day_task, who, "who does it, by public name"),
    F_TEXT(struct day_task, stack_how, "how it may be stacked"),
    F_BOOL(struct day_task, pauses, "stops at a break or over night and goes on until its end"),
    Q(struct day_task, setup, setup_min, DIM_DURATION, "getting ready, before the start"),
    Q(struct day_task, cleanup, cleanup_min, DIM_DURATION, "cleaning up, after the end"),
    Q(struct day_task, extra, extra_min, DIM_DURATION, "scuffing or mixing anew, in front of it"),
    Q(struct day_task, saved, saved_min, DIM_DURATION,
      "set-up and clean-up that a wet tool spares"),
    T(struct day_task, held_by, "what keeps it from being earlier"),
    T(struct day_task, waits_for, "something from outside that keeps it"),
    T(struct day_task, note, "a set-up saved, a window missed, a batch mixed anew"),
};
static DESC(desc_task, struct day_task, "day_task", "One task with its clock times.", task_fields);

static const struct field outside_fields[] = {
    T(struct outside_plan, kind, "row of the waits, or sample: the client's signature on it"),
    T(struct outside_plan, name, "in words"),
    F_TIME(struct outside_plan, expected, expected_day, FIELD_DAY, "when it is expected, as said"),
    AT(struct outside_plan, until, until_utc_min,
       "as the days take it: not before tomorrow, until it is here"),
};
static DESC(desc_outside, struct outside_plan, "outside",
            "Something from outside that open work waits for.", outside_fields);

static const struct field days_fields[] = {
    LIST_OF(struct days, rows, rows, n, desc_task, "tasks by start"),
    AT(struct days, handle, handle_utc_min, "everything may be handled"),
    AT(struct days, deliver, deliver_utc_min, "may be delivered"),
    AT(struct days, load, load_utc_min, "may be loaded and used fully"),
    T(struct days, blocked_by, "what the dates wait for"),
    F_BOOL(struct days, proven, "no order delivers sooner"),
    Q(struct days, gap, gap_frac, DIM_FRACTION,
      "distance to the bound: of what is late, else of the time to the end"),
    F_BOOL(struct days, gap_is_late, "the distance is of what is late"),
    I(struct days, shared_n, "coats that go on with a wet tool"),
    Q(struct days, saved, saved_min, DIM_DURATION, "set-up and clean-up that this spares"),
    NOTICES(struct days, gates, gates, "temperature, humidity, dew point"),
    Q(struct days, dew, dew_degc, DIM_TEMPERATURE, "dew point of the shop's air"),
};
DESC(desc_days, struct days, "days", "The days of the workshop.", days_fields);

/* ---- fittings, price, care ---- */

static const struct field fitting_fields[] = {
    T(struct fitting_line, id, "id"),
    T(struct fitting_line, what, "what"),
    T(struct fitting_line, verdict, "verdict"),
    Q(struct fitting_line, size, size_mm, DIM_LENGTH, "length or width"),
    Q(struct fitting_line, second, other_mm, DIM_LENGTH, "second length"),
    T(struct fitting_line, other, "what the second length is"),
    W(struct fitting_line, rank, rank_words, "note, mind, stop"),
    T(struct fitting_line, detail, "how and why"),
    T(struct fitting_line, source, "id of the source"),
    W(struct fitting_line, certainty, certainty_words, "how sure it is"),
};
static DESC(desc_fitting_line, struct fitting_line, "fitting_line", "One thing to be fitted.",
            fitting_fields);

static const struct field cost_fields[] = {
    T(struct cost_line, id, "id"),
    T(struct cost_line, name, "name"),
    N(struct cost_line, hours, "hours"),
    Q(struct cost_line, cost, cent, DIM_MONEY, "money"),
    T(struct cost_line, source, "id of the source"),
};
static DESC(desc_cost_line, struct cost_line, "cost_line", "One line of the cost.", cost_fields);

static const struct field price_fields[] = {
    LIST_OF(struct price, rows, rows, rows_n, desc_cost_line, "lines"),
    N(struct price, hours, "hands-on hours"),
    Q(struct price, labor, labor_cent, DIM_MONEY, "labor"),
    Q(struct price, material, material_cent, DIM_MONEY, "materials and supplies"),
    Q(struct price, overhead, overhead_cent, DIM_MONEY, "overhead"),
    Q(struct price, cost, cost_cent, DIM_MONEY, "cost in all"),
    Q(struct price, fee, fee_cent, DIM_MONEY, "sale fee"),
    Q(struct price, minimum, minimum_cent, DIM_MONEY, "below this it costs money"),
    Q(struct price, price, price_cent, DIM_MONEY, "price"),
    Q(struct price, deposit, deposit_cent, DIM_MONEY, "deposit"),
    Q(struct price, hour, hour_cent, DIM_RATE, "what one hour earns"),
    Q(struct price, best_offer, best_offer_cent, DIM_MONEY, "highest price to buy it for"),
    F_TRI(struct price, worth_it, "is it worth buying and doing"),
    F_TEXTS(struct price, work, 256, "what the client is promised, one line each"),
    F_TEXTS(struct price, excluded, 256, "what is not part of it, one line each"),
    T(struct price, quote, "text for the client"),
    T(struct price, terms, "the terms of it alone, one a line"),
    NOTICES(struct price, notices, notices, "what to mind"),
};
static DESC(desc_price, struct price, "price", "What it costs and what to charge.", price_fields);

static const struct field care_fields[] = {
    T(struct care_line, text, "what the owner must know"),
    AT(struct care_line, until, until_utc_min, "until then"),
    T(struct care_line, source, "id of the source"),
};
static DESC(desc_care_line, struct care_line, "care_line", "One line of the care card.",
            care_fields);

/* ---- the whole ---- */

#define STEPS(S, stem, m, h) LIST_OF(S, stem, m.rows, m.n, desc_step, h)

static const struct field piece_fields[] = {
    T(struct piece_plan, id, "id"),
    T(struct piece_plan, title, "title"),
    F_RECORD(struct piece_plan, piece, &desc_piece, "the piece, completed"),
    NOTICES(struct piece_plan, agreement, agreement, "agreement"),
    F_RECORD(struct piece_plan, hazards, &desc_hazards, "hazards"),
    F_RECORD(struct piece_plan, inspection, &desc_inspection, "inspection"),
    STEPS(struct piece_plan, takedown, takedown, "take-down"),
    STEPS(struct piece_plan, repairs, repairs, "repairs"),
    STEPS(struct piece_plan, finish, finish, "fitting and packing"),
    F_RECORD(struct piece_plan, coats, &desc_coats, "coats"),
    F_RECORD(struct piece_plan, surfaces, &desc_surfaces, "surfaces"),
    F_RECORD(struct piece_plan, color, &desc_color_plan, "color"),
    L(struct piece_plan, colors, desc_color_plan, "further colors of single parts"),
    LIST_OF(struct piece_plan, amounts, amounts.rows, amounts.n, desc_amount, "per product"),
    NOTICES(struct piece_plan, amount_notices, amounts.notices, "what to mind of the amounts"),
    L(struct piece_plan, supplies, desc_supply_need, "supplies"),
    LIST_OF(struct piece_plan, fittings, fittings.rows, fittings.n, desc_fitting_line, "fittings"),
    F_RECORD(struct piece_plan, price, &desc_price, "price"),
    L(struct piece_plan, care, desc_care_line, "care card"),
    AT(struct piece_plan, handle, handle_utc_min, "may be handled"),
    AT(struct piece_plan, deliver, deliver_utc_min, "may be delivered"),
    AT(struct piece_plan, cured, cured_utc_min, "cured"),
    T(struct piece_plan, blocked_by, "what its dates wait for"),
    L(struct piece_plan, outside, desc_outside, "what its open work waits for from outside"),
};
DESC(desc_piece_plan, struct piece_plan, "piece_plan", "One piece, planned.", piece_fields);
