#include "app/sheet/sheet.h"

#include "app/sheet/pen.h"
#include "codec/text_wrap.h"

#include <math.h>
#include <string.h>

struct section_row {
    const char *id, *title;
    pen_section *write;
    bool always; /* shown although the piece is refused */
};

/* In the order of the work. */
static const struct section_row sections[] = {
    {"agreement", "Agreement", sheet_agreement, true},
    {"hazards", "Hazards", sheet_hazards, true},
    {"inspection", "Inspection", sheet_inspection, true},
    {"takedown", "Take-down and repairs", sheet_takedown, false},
    {"coats", "Coats", sheet_coats, false},
    {"surfaces", "Surfaces", sheet_surfaces, false},
    {"color", "Color", sheet_color, false},
    {"amounts", "Amounts", sheet_amounts, false},
    {"days", "Days", sheet_days, false},
    {"fittings", "Fittings", sheet_fittings, false},
    {"price", "Price", sheet_price, false},
    {"care", "Care", sheet_care, false},
};
enum { SECTIONS = sizeof sections / sizeof *sections };

/* "34 × 20 × 41 in": the unit stands once, behind the last. */
static void summary_size(struct pen *p) {
    const struct piece *q = &p->piece->piece;
    const double mm[] = {q->width_mm, q->depth_mm, q->height_mm};
    const char *size = "";
    for (size_t i = 0; i < 3; i++) {
        if (isnan(mm[i])) continue;
        const char *one = pen_quantity(p, DIM_LENGTH, mm[i]), *unit = strrchr(one, ' ');
        size = pen_print(p, "%s%s%.*s", size, *size ? " × " : "",
                         i < 2 && unit ? (int)(unit - one) : (int)strlen(one), one);
    }
    pen_row(p, SHEET_ROW, size, "Size",
            pen_print(p, "Width%s and height%s.", isnan(q->depth_mm) ? "" : ", depth",
                      q->count > 1 ? pen_print(p, " of each of %lld", (long long)q->count) : ""),
            NULL);
}

static void summary_color(struct pen *p) {
    const struct color_plan *c = &p->piece->color;
    if (c->lines_n) {
        const char *names = "";
        for (size_t i = 0; i < c->lines_n; i++)
            names = pen_print(p, "%s%s%s", names, i ? ", " : "",
                              c->lines[i].name ? c->lines[i].name : c->lines[i].paint);
        struct sheet_row *r =
            pen_row(p, SHEET_ROW, c->target.text, "Color",
                    c->batch                  ? pen_print(p, "Mixed: %s.", names)
                    : isnan(c->difference_90) ? pen_print(p, "%s as it is.", names)
                    : c->lines_n == 1 ? pen_print(p, "%s as it is; expected difference %.1f.",
                                                  names, c->expected_difference)
                                      : pen_print(p, "Mixed from %s; expected difference %.1f.",
                                                  names, c->expected_difference),
                    NULL);
        r->swatch = pen_swatch(p, c->lab);
    } else if (c->product) {
        struct sheet_row *r = pen_row(p, SHEET_ROW, "From the can", "Color", c->product, NULL);
        r->swatch = pen_swatch(p, c->lab);
    }
}

static const char *role_text(enum coat_role role) {
    switch (role) {
    case ROLE_COLOR: return "Color to mix";
    case ROLE_CLEAR: return "Clear";
    case ROLE_PRIMER: return "Primer";
    case ROLE_BARRIER: return "Barrier";
    case ROLE_STAIN: return "Stain";
    case ROLE_WAX: return "Last coat";
    default: return NULL;
    }
}

static void summary_amounts(struct pen *p) {
    const struct amounts *a = &p->piece->amounts;
    double color_ml = 0;
    size_t color_rows = 0, first = 0;
    for (size_t i = 0; i < a->n; i++)
        if (a->rows[i].role == ROLE_COLOR) {
            if (!color_rows) first = i;
            color_rows++;
            color_ml += a->rows[i].mix_ml;
        }
    if (color_rows)
        pen_figure(p, color_rows == 1 ? pen_pointer(p, "/amounts/%zu/mix_ml", first) : "",
                   pen_quantity(p, DIM_VOLUME, color_ml), "Color to have ready",
                   color_rows > 1 ? pen_print(p, "Of %zu paints; see Color.", color_rows)
                                  : a->rows[first].name);
    for (size_t i = 0; i < a->n; i++)
        if (a->rows[i].role != ROLE_COLOR && role_text(a->rows[i].role))
            pen_figure(p, pen_pointer(p, "/amounts/%zu/mix_ml", i),
                       pen_quantity(p, DIM_VOLUME, a->rows[i].mix_ml), role_text(a->rows[i].role),
                       a->rows[i].name);
}

static void summary_settle(struct pen *p) {
    const struct notices *n = &p->piece->hazards.notices;
    for (size_t i = 0; i < n->n; i++)
        if (n->rows[i].rank == RANK_STOP)
            pen_notice_short(p, &n->rows[i], "In full under Hazards.");
    const struct notices *price = &p->piece->price.notices;
    for (size_t i = 0; i < price->n && !pen_begun(p); i++) {
        const char *text = price->rows[i].text, *rest = text + text_sentence(text);
        if (price->rows[i].rank == RANK_STOP)
            pen_notice_short(p, &price->rows[i], *rest ? rest + 1 : NULL);
    }
    if (p->piece->coats.test_board && !pen_done(p, "test_board"))
        pen_row(p, SHEET_MIND, NULL, "Make a test board first.", p->piece->coats.test_board_why,
                NULL);
    if (p->piece->inspection.tests_n && !pen_done(p, "inspect"))
        pen_row(p, SHEET_NOTE, NULL,
                pen_print(p, "%zu test%s before starting.", p->piece->inspection.tests_n,
                          p->piece->inspection.tests_n == 1 ? "" : "s"),
                "They stand in the section Inspection, in their order.", NULL);
}

/* What was agreed or is asked is the price; what the plan would ask now stands beside it. */
static void summary_price(struct pen *p) {
    const struct price *c = &p->piece->price;
    double said_cent = pen_said_cent(p);
    bool sale = p->piece->piece.agreement.purpose == PURPOSE_SALE;
    if (isnan(c->price_cent) || c->price_cent <= 0) return;
    const char *hours = pen_print(p, "%s hands-on; %s an hour earns %s.", pen_hands(p, c->hours),
                                  pen_price(p), pen_quantity(p, DIM_MONEY, round(c->hour_cent)));
    if (isnan(said_cent))
        pen_figure(p, pen_pointer(p, "/price/price_cent"),
                   pen_quantity(p, DIM_MONEY, c->price_cent), "Price", hours);
    else
        pen_row(
            p, SHEET_ROW, pen_quantity(p, DIM_MONEY, said_cent),
            sale ? "Asking price" : "Price, as quoted",
            pen_print(p, "Planned now: %s. %s", pen_quantity(p, DIM_MONEY, c->price_cent), hours),
            NULL);
}

/* What it came to, where an open piece has its date and price. */
static void summary_closed(struct pen *p) {
    const struct sheet_closed *c = p->closed;
    const char *detail = NULL;
    if (!isnan(c->hours)) detail = pen_print(p, "%s hands-on", pen_hands(p, c->hours));
    if (!isnan(c->price_cent))
        detail = pen_print(p, "%s%s%s", detail ? detail : "", detail ? ", " : "",
                           pen_quantity(p, DIM_MONEY, c->price_cent));
    if (detail && !isnan(c->hour_cent))
        detail =
            pen_print(p, "%s: an hour earned %s", detail, pen_quantity(p, DIM_RATE, c->hour_cent));
    pen_row(p, SHEET_ROW, pen_date(p, pen_local_day(p, c->utc_min)), "Closed",
            detail ? pen_print(p, "%s.", detail) : NULL, NULL);
}

static void sheet_piece_summary(struct pen *p) {
    const struct piece_plan *q = p->piece;
    if (!isnan(q->piece.width_mm)) summary_size(p);
    if (q->hazards.refused) {
        pen_row(p, SHEET_STOP, NULL, "This job is refused.", q->hazards.refusal, NULL);
        if (q->hazards.instead) pen_row(p, SHEET_NOTE, NULL, "Instead", q->hazards.instead, NULL);
        return;
    }
    summary_color(p);
    summary_amounts(p);
    if (p->closed) {
        summary_closed(p);
        return;
    }
    if (q->deliver_utc_min != INT64_MIN)
        pen_figure(p, pen_pointer(p, "/deliver_utc_min"), pen_when(p, q->deliver_utc_min),
                   "May be delivered", pen_sentence(p, q->blocked_by)); /* in full under Days */
    summary_price(p);
    summary_settle(p);
}

static bool warned(const struct piece_plan *q, const struct notice *n) {
    for (size_t i = 0; i < q->hazards.notices.n; i++)
        if (!strcmp(q->hazards.notices.rows[i].text, n->text)) return true;
    return false;
}

/* What stops several pieces, each once with their names; of a single piece its own summary says
 * it. */
static void settle(struct pen *p) {
    const struct notices *n = &p->plan->settle;
    for (size_t i = 0; i < n->n && p->plan->pieces_n > 1; i++) {
        const char *whose = "";
        bool said = false;
        for (size_t k = 0; k < i; k++) said |= !strcmp(n->rows[k].text, n->rows[i].text);
        for (size_t k = 0; k < p->plan->pieces_n; k++)
            if (warned(&p->plan->pieces[k], &n->rows[i]))
                whose = pen_print(p, "%s%s%s", whose, *whose ? "; " : "", p->plan->pieces[k].title);
        if (!said) pen_notice_short(p, &n->rows[i], whose);
    }
}

static enum status piece_write(struct pen *p, struct sheet_piece *out) {
    *out = (struct sheet_piece){.id = p->piece->id, .title = p->piece->title};
    pen_begin(p);
    sheet_piece_summary(p);
    out->summary = p->rows;
    out->summary_n = p->rows_n;
    out->sections = arena_array(p->arena, SECTIONS, sizeof *out->sections);
    if (!out->sections) return E_MEMORY;
    for (size_t i = 0; i < SECTIONS; i++) {
        if (p->piece->hazards.refused && !sections[i].always) continue;
        pen_begin(p);
        sections[i].write(p);
        pen_end(p, &out->sections[out->sections_n++], sections[i].id, sections[i].title, NULL);
    }
    return OK;
}

enum status sheet_make(const struct tables *t, const struct plan *plan, size_t pieces_n,
                       const struct sheet_standing *standing, const struct zone_span *zone,
                       size_t zone_n, enum unit_system units, struct arena *arena,
                       struct sheet *out_sheet) {
    struct pen p = {.t = t,
                    .plan = plan,
                    .standing = standing,
                    .zone = zone,
                    .zone_n = zone_n,
                    .units = units ? units : plan->shop.units,
                    .arena = arena};
    struct sheet s = {.title = plan->title, .units = p.units, .pieces_n = pieces_n};
    s.pieces = arena_array(arena, pieces_n, sizeof *s.pieces);
    if (!s.pieces || !pen_open(&p)) return E_MEMORY;
    for (size_t i = 0; i < pieces_n; i++) {
        p.piece = &plan->pieces[i];
        p.closed = i ? NULL : standing->closed;
        p.at = pen_print(&p, "/pieces/%zu", i);
        if (piece_write(&p, &s.pieces[i])) return E_MEMORY;
    }
    p.at = "";
    pen_begin(&p);
    if (pieces_n == plan->pieces_n) settle(&p);
    s.summary = p.rows;
    s.summary_n = p.rows_n;
    if (p.failed) return E_MEMORY;
    *out_sheet = s;
    return OK;
}
