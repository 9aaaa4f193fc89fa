/* Words and pictures of a listing. */
#include "app/handed.h"
#include "app/zone.h"
#include "codec/text_wrap.h"
#include "codec/time_text.h"
#include "core/work/basis.h"
#include "core/work/fact.h"
#include "core/work/wood.h"

#include <string.h>

struct shot {
    const char *id, *what, *why, *kind, *source;
    bool taken;
};
static const struct field shot_fields[] = {
    F_TEXT(struct shot, id, "which picture"),
    F_TEXT(struct shot, what, "what it shows"),
    F_TEXT(struct shot, why, "why"),
    F_TEXT(struct shot, kind, "kind of the book's pictures that will do"),
    F_BOOL(struct shot, taken, "the book has pictures of this kind"),
    F_TEXT(struct shot, source, "id of the source"),
};
static DESC(desc_shot, struct shot, "listing_picture", "A picture that a listing wants.",
            shot_fields);

struct listing {
    const char *text, *unsaid;
    struct shot *pictures;
    size_t pictures_n;
};
static const struct field listing_fields[] = {
    F_TEXT(struct listing, text, "words to begin with, from the plan and the record"),
    F_TEXT(struct listing, unsaid, "what of the work nobody ticked off; missing: all of it was"),
    F_LIST(struct listing, pictures, &desc_shot, 100, "pictures to take, in their order"),
};
static DESC(desc_listing, struct listing, "listing", "Words and pictures for a listing.",
            listing_fields);

static enum status shots_of(struct op_call *call, const struct handed *h, struct listing *l,
                            struct why *why) {
    const struct tables *t = call->app->tables;
    struct picture_row *pictures;
    size_t n;
    struct ledger quiet;
    ledger_init(&quiet, call->arena, false);
    struct room room = {.t = t,
                        .shop = &h->plan.plan.shop,
                        .shelf = &h->gathered.job.shelf,
                        .piece = &h->piece->piece,
                        .at = "",
                        .ledger = &quiet};
    struct facts f;
    enum status s = handed_pictures(call, h->piece->id, &pictures, &n, why);
    if (s) return s;
    fact_make(&room, &h->piece->inspection, &f);
    f.coats = &h->piece->coats;
    l->pictures = arena_array(call->arena, t->listing_pictures_n + 1, sizeof *l->pictures);
    if (!l->pictures) return why_no_memory(why);
    for (size_t i = 0; i < t->listing_pictures_n; i++) {
        const struct listing_pictures_row *row = &t->listing_pictures[i];
        if (!fact_holds(&f, row->when)) continue;
        struct shot *shot = &l->pictures[l->pictures_n++];
        *shot = (struct shot){row->id, row->what, row->why, row->kind, row->source, false};
        for (size_t k = 0; k < n; k++)
            shot->taken |= pictures[k].kind && !strcmp(pictures[k].kind, row->kind);
    }
    return OK;
}

static const char *day_of(struct op_call *call, const struct handed *h, int64_t utc_min) {
    char text[40];
    if (utc_min == INT64_MIN) return NULL;
    date_print(zone_day(h->plan.plan.shop.zone, utc_min, call->arena), text, sizeof text);
    return arena_text(call->arena, text);
}

static void listing_lines(struct op_call *call, const struct handed *h, struct text *out) {
    enum { CARE_LINES = 4 };
    const struct piece_plan *p = h->piece;
    const char *size = handed_size(call, h), *wood = handed_wood(call, h);
    const char *cured = day_of(call, h, p->cured_utc_min);
    bool board = wood_is_board(call->app->tables, p->piece.wood);
    text_print(out, "%s%s%s.", p->title, size ? ", " : "", size ? size : "");
    if (wood) text_print(out, board ? "\nMade of %s." : "\nWood: %s.", wood);
    if (p->piece.year != INT64_MIN) text_print(out, "\nMade about %lld.", (long long)p->piece.year);
    for (size_t i = 0; i < p->price.work_n; i++) text_print(out, "\n%s.", p->price.work[i]);
    for (size_t i = 0; i < p->inspection.findings_n; i++)
        if (!strcmp(p->inspection.findings[i].id, "lead"))
            text_print(out, "\nLead: %s.", p->inspection.findings[i].verdict);
    if (cured) text_print(out, "\nFully cured on %s; light use until then.", cured);
    for (size_t i = 0, lines = 0; i < p->care_n && lines < CARE_LINES; i++)
        if (p->care[i].until_utc_min == INT64_MIN && p->care[i].text && *p->care[i].text)
            text_print(out, "\n%s", p->care[i].text), lines++;
}

/* NULL when memory is out. */
static const char *listing_text(struct op_call *call, const struct handed *h) {
    struct text lines = {0};
    listing_lines(call, h, &lines);
    const char *text = lines.failed ? NULL : arena_text(call->arena, lines.at);
    text_free(&lines);
    return text;
}

static enum status listing(struct op_call *call, struct why *why) {
    struct listing *l = call->result;
    struct handed *h;
    enum status s = handed_make(call, &h, why);
    if (s) return s;
    if (h->piece->hazards.refused)
        return why_say(why, E_REFUSED, "/id", "A refused piece is not offered. %s",
                       h->piece->hazards.refusal);
    if ((s = shots_of(call, h, l, why)) || (s = handed_unsaid(call, h, &l->unsaid, why))) return s;
    l->text = listing_text(call, h);
    if (!l->text) return why_no_memory(why);
    text_print(&call->out_body, "%s\n", l->text);
    if (l->unsaid)
        text_wrap(&call->out_body, 0, 0,
                  arena_print(call->arena, "\n%s Take out what was not done.", l->unsaid));
    text_print(&call->out_body, "\nPictures\n");
    for (size_t i = 0; i < l->pictures_n; i++) {
        text_print(&call->out_body, "  %s ", l->pictures[i].taken ? "there" : "take ");
        text_wrap(&call->out_body, 8, 8,
                  arena_print(call->arena, "%s %s", l->pictures[i].what, l->pictures[i].why));
    }
    return OK;
}

static const struct op rows[] = {
    {"piece listing", OP_GET, "/api/pieces/{id}/listing", &desc_handed_args, &desc_listing,
     positional_id, OP_READS | OP_SLOW, "words for a listing, and the pictures it wants", listing},
};
extern const struct ops ops_listing;
const struct ops ops_listing = {rows, sizeof rows / sizeof *rows};
