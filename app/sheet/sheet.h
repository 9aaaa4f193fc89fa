/* The job sheet as rows that a person reads: made once from the plan, shown by terminal, browser
 * and paper alike. Figures are already text in the wanted units.
 *
 * A row is a line of a cookbook: the figure, what it is, why, how it is known. */
#ifndef APP_SHEET_SHEET_H
#define APP_SHEET_SHEET_H

#include "core/work/plan.h"

enum sheet_kind {
    SHEET_UNSAID,
    SHEET_ROW,  /* figure, what, detail, known */
    SHEET_STEP, /* the same, numbered, with a box to tick */
    SHEET_NOTE,
    SHEET_MIND,
    SHEET_STOP,
    SHEET_TEXT, /* a paragraph (detail) */
    SHEET_HEAD  /* a small heading inside a section (what) */
};

struct sheet_row {
    enum sheet_kind kind;
    const char *figure, *what, *detail, *known;
    bool assumed;
    const char *pointer; /* of the basis in the plan, or NULL */
    const char *swatch;  /* #rrggbb beside the row, or NULL */
    int64_t number;      /* of a step; INT64_MIN none */
    const char *task;    /* id of the day_task or step it stands for, or NULL */
};

struct sheet_section {
    const char *id;    /* agreement, hazards, inspection, takedown, coats, surfaces, color,
                          amounts, days, fittings, price, care */
    const char *title; /* Agreement, ..., Take-down and repairs, ... */
    const char *intro;
    struct sheet_row *rows;
    size_t rows_n;
};

struct sheet_piece {
    const char *id, *title;
    struct sheet_row *summary; /* what, color, amounts to mix, days, price, what must be settled */
    size_t summary_n;
    struct sheet_section *sections;
    size_t sections_n;
};

struct sheet {
    const char *title;
    enum unit_system units;
    struct sheet_row *summary;
    size_t summary_n;
    struct sheet_piece *pieces;
    size_t pieces_n;
};

/* What a closed piece came to; NAN where nobody said. */
struct sheet_closed {
    int64_t utc_min;
    double hours, price_cent, hour_cent;
};

/* How far pieces of the book are; all zero: nothing has begun. What is over is no longer asked for,
 * and what was decided no longer advised against. */
struct sheet_standing {
    const struct task_kept *kept; /* [kept_n] */
    size_t kept_n;
    const struct sheet_closed *closed; /* the first piece is; NULL: it is open */
};

/* Of the first pieces_n pieces; what stops several, at the top, only where it is of all.
 * Errors: E_MEMORY. */
enum status sheet_make(const struct tables *t, const struct plan *plan, size_t pieces_n,
                       const struct sheet_standing *standing, const struct zone_span *zone,
                       size_t zone_n, enum unit_system units, struct arena *arena,
                       struct sheet *out_sheet);

#endif
