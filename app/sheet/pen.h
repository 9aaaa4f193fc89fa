/* The hand that writes the sheet: rows are added to the section at hand; figures are turned into
 * words in the wanted units; what is assumed is known from the plan's own list. */
#ifndef APP_SHEET_PEN_H
#define APP_SHEET_PEN_H

#include "app/sheet/sheet.h"

struct pen {
    const struct tables *t;
    const struct plan *plan;
    const struct piece_plan *piece; /* at hand, or NULL */
    const char *at;                 /* its pointer, "/pieces/0" */
    const struct sheet_standing *standing;
    const struct sheet_closed *closed; /* the piece is, or NULL */
    const struct basis **bases;        /* [bases_n] of the plan, by pointer */
    const struct zone_span *zone;
    size_t zone_n;
    enum unit_system units;
    struct arena *arena;
    bool failed;
    struct sheet_row scratch; /* written on where there is no memory for a row */
    /* the section at hand */
    struct sheet_row *rows;
    size_t rows_n, rows_cap;
    int64_t number;
};

/* Puts the plan's bases in order, of which every figure looks one up; false: no memory. */
bool pen_open(struct pen *p);

/* ---- words; never NULL but where said ---- */

const char *pen_print(struct pen *p, const char *fmt, ...) __attribute__((format(printf, 2, 3)));
/* Its first letter large: tools and the like are words of a list, but begin a sentence here. */
const char *pen_capital(struct pen *p, const char *s);
/* The first sentence of a text; NULL of NULL. */
const char *pen_sentence(struct pen *p, const char *s);
const char *pen_quantity(struct pen *p, enum dimension d, double value);
/* Of which price the piece's hourly figure speaks: "at the asking price". */
const char *pen_price(const struct pen *p);
/* What was quoted, or is asked for a piece for sale; NAN: neither. */
double pen_said_cent(const struct pen *p);
const char *pen_range(struct pen *p, double low_ml, double high_ml); /* 46 to 64 fl oz */
const char *pen_measure(struct pen *p, double ml,
                        double g_per_ml); /* as the shop pours: 13 1/8 fl oz, 390 ml, 7.6 g */
const char *pen_span(struct pen *p, double minutes);         /* 3 h 20 min, 2 days */
const char *pen_hands(struct pen *p, double hours);          /* hands-on: 3 h 20 min, 40 h */
const char *pen_when(struct pen *p, int64_t utc_min);        /* Thu, Oct 15, 6:40 pm */
const char *pen_clock(struct pen *p, int64_t utc_min);       /* 6:40 pm */
const char *pen_day(struct pen *p, int64_t utc_min);         /* Thu, Oct 15 */
const char *pen_date(struct pen *p, int64_t day);            /* Oct 15, 2026 */
int64_t pen_local_day(const struct pen *p, int64_t utc_min); /* days since 1970 */
const char *pen_known(struct pen *p, enum certainty c, const char *source);
const char *pen_tool(struct pen *p, const char *tool); /* a method's name; else the text itself */
const char *pen_swatch(struct pen *p, const double lab[3]); /* #rrggbb of CSS Lab D50 */
bool pen_assumed(const struct pen *p, const char *pointer); /* is it in plan->assumed? */
const struct basis *pen_basis(const struct pen *p, const char *pointer);
/* "at" + formatted tail, as a pointer into the result */
const char *pen_pointer(struct pen *p, const char *fmt, ...) __attribute__((format(printf, 2, 3)));

/* ---- how far the piece is ---- */

bool pen_begun(const struct pen *p);                       /* anything of it has, or it is closed */
bool pen_task_done(const struct pen *p, const char *task); /* by a day_task's id */
bool pen_done(const struct pen *p, const char *operation); /* it has such tasks, and all are */

/* ---- rows ---- */

/* Adds a row to the section at hand; the returned row may be completed until the next call.
 * Never NULL (a scratch row when memory is out). Empty texts are kept as NULL. */
struct sheet_row *pen_row(struct pen *p, enum sheet_kind kind, const char *figure, const char *what,
                          const char *detail, const char *known);
/* A figure whose basis and doubt are looked up by its pointer in the result. */
struct sheet_row *pen_figure(struct pen *p, const char *pointer, const char *figure,
                             const char *what, const char *detail);
struct sheet_row *pen_step(struct pen *p, const char *figure, const char *what, const char *detail,
                           const char *known);
/* What to do alone; where: where the whole of it stands. */
void pen_notice_short(struct pen *p, const struct notice *n, const char *where);
void pen_notices(struct pen *p, const struct notices *n);

void pen_begin(struct pen *p);
void pen_end(struct pen *p, struct sheet_section *out, const char *id, const char *title,
             const char *intro);

/* ---- sections ---- */

typedef void pen_section(struct pen *p); /* writes the rows of one section */
pen_section sheet_agreement, sheet_hazards, sheet_inspection, sheet_takedown, sheet_coats,
    sheet_surfaces, sheet_color, sheet_amounts, sheet_days, sheet_fittings, sheet_price, sheet_care;

#endif
