#include "app/op_plan.h"
#include "app/sheet/sheet.h"
#include "codec/plan_desc.h"

static const char *const kind_words[] = {"",     "row",  "step", "note", "mind",
                                         "stop", "text", "head", NULL};
static const char *const unit_words[] = {"", "us", "metric", NULL};

static const struct field row_fields[] = {
    F_WORD(struct sheet_row, kind, kind_words, "how it is shown"),
    F_TEXT(struct sheet_row, figure, "the figure, in the wanted units"),
    F_TEXT(struct sheet_row, what, "what it is"),
    F_TEXT(struct sheet_row, detail, "why, in a sentence"),
    F_TEXT(struct sheet_row, known, "how it is known"),
    F_BOOL(struct sheet_row, assumed, "nobody has said it"),
    F_TEXT(struct sheet_row, pointer, "where its basis stands"),
    F_TEXT(struct sheet_row, swatch, "color beside it, #rrggbb"),
    F_INT(struct sheet_row, number, 0, 0, "number of the step"),
    F_TEXT(struct sheet_row, task, "step, coat or part it stands for"),
};
static DESC(desc_sheet_row, struct sheet_row, "sheet_row", "One line of the sheet.", row_fields);

static const struct field section_fields[] = {
    F_TEXT(struct sheet_section, id, "id"),
    F_TEXT(struct sheet_section, title, "title"),
    F_TEXT(struct sheet_section, intro, "one sentence"),
    F_LIST(struct sheet_section, rows, &desc_sheet_row, 100000, "lines"),
};
static DESC(desc_sheet_section, struct sheet_section, "sheet_section", "One stage of the work.",
            section_fields);

static const struct field piece_fields[] = {
    F_TEXT(struct sheet_piece, id, "id"),
    F_TEXT(struct sheet_piece, title, "title"),
    F_LIST(struct sheet_piece, summary, &desc_sheet_row, 1000, "the summary"),
    F_LIST(struct sheet_piece, sections, &desc_sheet_section, 100, "in the order of the work"),
};
static DESC(desc_sheet_piece, struct sheet_piece, "sheet_piece", "The sheet of one piece.",
            piece_fields);

static const struct field sheet_fields[] = {
    F_TEXT(struct sheet, title, "title"),
    F_WORD(struct sheet, units, unit_words, "units of the figures"),
    F_LIST(struct sheet, summary, &desc_sheet_row, 1000, "what must be settled, over all pieces"),
    F_LIST(struct sheet, pieces, &desc_sheet_piece, 64, "pieces"),
};
static DESC(desc_sheet, struct sheet, "sheet", "The job sheet as rows to read.", sheet_fields);

/* The answer of a plan: the plan's own members at the top, so that pointers of figures resolve,
 * and the sheet beside them. */
#define PLAN_LIST(stem, m, n, d, most, h)                                                          \
    {                                                                                              \
        .name = stem, .offset = offsetof(struct plan_answer, plan.m),                              \
        .count_offset = offsetof(struct plan_answer, plan.n), .type = FIELD_LIST, .of = d,         \
        .items_max = most, .help = h                                                               \
    }
static const struct field answer_fields[] = {
    {"title", FIELD_TEXT, offsetof(struct plan_answer, plan.title), .help = "title"},
    F_TIME(struct plan_answer, now, plan.now_utc_min, FIELD_INSTANT, "when this was computed"),
    {"shop", FIELD_RECORD, offsetof(struct plan_answer, plan.shop), .of = &desc_shop,
     .help = "the shop, completed"},
    PLAN_LIST("pieces", pieces, pieces_n, &desc_piece_plan, 64, "pieces"),
    {"days", FIELD_RECORD, offsetof(struct plan_answer, plan.days), .of = &desc_days,
     .help = "all pieces together"},
    PLAN_LIST("settle", settle.rows, settle.n, &desc_notice, 1000,
              "what must be settled before starting"),
    PLAN_LIST("assumed", assumed, assumed_n, &desc_assumption, 100000, "what nobody has said"),
    {"basis", FIELD_MAP, offsetof(struct plan_answer, plan.bases),
     offsetof(struct plan_answer, plan.bases_n), .of = &desc_basis, .items_max = 100000,
     .help = "where the figures come from, by pointer; filled when asked for"},
    F_RECORD(struct plan_answer, sheet, &desc_sheet, "the sheet as rows to read"),
};
DESC(desc_plan_answer, struct plan_answer, "plan_answer", "A job, planned.", answer_fields);
