/* Agreement, hazards, inspection: what is settled before a hand is laid on the piece. */
#include "app/sheet/pen.h"

#include <math.h>
#include <string.h>

static const char *purpose_text(enum purpose purpose) {
    switch (purpose) {
    case PURPOSE_CLIENT: return "For a client";
    case PURPOSE_SALE: return "For sale";
    case PURPOSE_OWN:
    case PURPOSE_UNSAID: break;
    }
    return "For own use";
}

static void money(struct pen *p, double cent, const char *what, const char *detail) {
    if (!isnan(cent))
        pen_row(p, SHEET_ROW, pen_quantity(p, DIM_MONEY, cent), what, detail, "As agreed");
}

static void date(struct pen *p, int64_t day, const char *what) {
    if (day != INT64_MIN) pen_row(p, SHEET_ROW, pen_date(p, day), what, NULL, "As you said");
}

/* What it looked like when it came, each mark by itself, and the day that was written down. */
static void condition(struct pen *p, const struct agreement *a) {
    const char *day =
        a->seen_day != INT64_MIN ? pen_print(p, "Written down %s", pen_date(p, a->seen_day)) : NULL;
    for (size_t i = 0; i < a->marks_n; i++)
        pen_row(p, SHEET_ROW, "When it came", pen_capital(p, a->marks[i]), NULL, day);
    if (!a->marks_n) date(p, a->seen_day, "Condition written down");
}

void sheet_agreement(struct pen *p) {
    const struct agreement *a = &p->piece->piece.agreement;
    struct sheet_row *r = pen_row(p, SHEET_ROW, purpose_text(a->purpose),
                                  a->client ? a->client : "Whom it is for", a->use, NULL);
    r->assumed = pen_assumed(p, pen_pointer(p, "/agreement/purpose"));
    condition(p, a);
    for (size_t i = 0; i < a->agreed_n; i++)
        pen_row(p, SHEET_ROW, "Agreed", a->agreed[i], NULL, NULL);
    for (size_t i = 0; i < a->excluded_n; i++)
        pen_row(p, SHEET_ROW, "Not included", a->excluded[i], NULL, NULL);
    date(p, a->arrives_day, "Comes into the shop");
    if (a->due_day != INT64_MIN)
        pen_row(p, SHEET_ROW, pen_date(p, a->due_day), "Due", NULL, "As agreed");
    date(p, a->collect_day, p->closed ? "Fetched" : "To be fetched");
    date(p, a->listed_day, "Offered for sale since");
    if (a->signed_day != INT64_MIN)
        pen_row(p, SHEET_ROW, pen_date(p, a->signed_day), "Signed", NULL, NULL);
    money(p, a->quoted_cent, "Quoted", NULL);
    money(p, a->deposit_cent, "Deposit", NULL);
    money(p, a->bought_cent, "Bought for", NULL);
    money(p, a->asking_cent, "Asking price", NULL);
    if (a->sample_signed)
        pen_row(p, SHEET_ROW, a->sample_signed == YN_YES ? "Signed" : "Not yet signed",
                "Sample card or test board", NULL, NULL);
    if (a->sample_expected_day != INT64_MIN && a->sample_signed != YN_YES)
        pen_row(p, SHEET_ROW, pen_date(p, a->sample_expected_day), "Sample to be signed", NULL,
                "As agreed");
    money(p, a->storage_fee_cent, "Storage, each week after pick-up is due", NULL);
    if (p->piece->piece.note) pen_row(p, SHEET_NOTE, NULL, "Your note", p->piece->piece.note, NULL);
    if (!p->closed) pen_notices(p, &p->piece->agreement);
}

void sheet_hazards(struct pen *p) {
    const struct hazards *h = &p->piece->hazards;
    struct notices rest = h->notices; /* the refusal stands at the head of the sheet, once */
    rest.rows = arena_array(p->arena, h->notices.n + 1, sizeof *rest.rows);
    rest.n = 0;
    p->failed |= !rest.rows;
    for (size_t i = 0; rest.rows && i < h->notices.n; i++)
        if (!h->refused || strcmp(h->notices.rows[i].text, h->refusal))
            rest.rows[rest.n++] = h->notices.rows[i];
    pen_notices(p, &rest);
    if (!h->refused && !h->notices.n)
        pen_row(p, SHEET_TEXT, NULL, NULL, "Nothing beyond the usual care is known.", NULL);
}

static const char *state_text(enum finding_state s) {
    switch (s) {
    case FINDING_TESTED: return "Tested";
    case FINDING_SEEN: return "As you said";
    case FINDING_ASSUMED: return "Assumed";
    case FINDING_TO_TEST: return "To be tested";
    case FINDING_UNSAID: break;
    }
    return NULL;
}

void sheet_inspection(struct pen *p) {
    const struct inspection *in = &p->piece->inspection;
    for (size_t i = 0; i < in->findings_n; i++) {
        const struct finding *f = &in->findings[i];
        struct sheet_row *r = pen_row(p, SHEET_ROW, f->verdict, f->name, f->detail, NULL);
        bool said = f->state == FINDING_SEEN && f->source && !strcmp(f->source, "CP");
        r->known = said        ? state_text(f->state)
                   : f->source ? pen_print(p, "%s. %s",
                                           state_text(f->state) ? state_text(f->state) : "Known",
                                           pen_known(p, CERTAINTY_UNSAID, f->source))
                               : state_text(f->state);
        r->assumed = f->state == FINDING_ASSUMED || f->state == FINDING_TO_TEST;
        r->pointer = pen_pointer(p, "/inspection/findings/%zu/verdict", i);
    }
    if (in->tests_n && !p->closed)
        pen_row(p, SHEET_HEAD, NULL,
                pen_begun(p) ? "Still to test, in this order"
                             : "Test before starting, in this order",
                NULL, NULL);
    for (size_t i = 0; i < in->tests_n && !p->closed; i++) {
        const struct test_to_do *t = &in->tests[i];
        pen_step(p, t->rank == RANK_STOP ? "First" : NULL, t->what,
                 pen_print(p, "%s%s%s", t->see ? t->see : "", t->see && t->means ? " " : "",
                           t->means ? t->means : ""),
                 pen_known(p, CERTAINTY_UNSAID, t->source));
    }
    const char *names = NULL;
    for (size_t i = 0; i < in->left_out_n && !p->closed; i++)
        names = names ? pen_print(p, "%s; %s", names, in->left_out[i]) : in->left_out[i];
    if (names)
        pen_row(p, SHEET_NOTE, NULL, "Not tested.",
                pen_print(p,
                          "%s. It stays unknown, and the work is planned with the care that "
                          "this takes.",
                          names),
                NULL);
}
