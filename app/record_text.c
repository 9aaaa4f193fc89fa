#include "app/record_text.h"
#include "app/days_words.h"
#include "app/entry_text.h"
#include "app/id_words.h"
#include "codec/units_text.h"

#include <math.h>
#include <string.h>

enum {
    NUMBER = 6,
    WHEN = 23
}; /* columns of a record's number and of its moment, as in a history */

static const char *name_of(const struct tables *t, const char *member, const char *id) {
    const char *name = id ? id_words(t, member, id) : NULL;
    return name ? name : id;
}

/* A figure in what its kind is measured in; a call-back has none. */
static const char *figure(const struct days_clock *c, const char *kind, double v) {
    if (isnan(v) || !strcmp(kind, "callback")) return NULL;
    if (!strcmp(kind, "spread")) return units_text(c->arena, DIM_SPREAD, c->units, v);
    if (!strcmp(kind, "loss")) return units_text(c->arena, DIM_FRACTION, c->units, v);
    return units_text(c->arena, DIM_DURATION, c->units, v);
}

/* "Hours, Scuff: 1 h 20 min, usual 55 min" */
static const char *measured(const struct tables *t, const struct days_clock *c,
                            const struct record_row *r) {
    struct arena *a = c->arena;
    bool callback = !strcmp(r->kind, "callback");
    const char *of[] = {name_of(t, "operation", r->operation), name_of(t, "class", r->class),
                        name_of(t, "method", r->method)};
    const char *text = callback ? "Call-back" : entry_words(a, r->kind),
               *is = figure(c, r->kind, r->actual), *usual = figure(c, r->kind, r->planned);
    for (size_t i = 0; i < sizeof of / sizeof *of; i++)
        if (of[i]) text = arena_print(a, "%s, %s", text, of[i]);
    if (is) text = arena_print(a, "%s: %s", text, is);
    return usual ? arena_print(a, "%s, usual %s", text, usual) : text;
}

static const char *piece_name(struct op_call *call, const char *id) {
    struct piece_row row;
    if (!id) return NULL;
    bool there = !row_get(call->book, &table_piece, "id", id, call->arena, &row, NULL);
    return there && row.title ? row.title : id;
}

/* A record that came of a task has the task's name as its note (task done). */
static const char *note_of(const struct record_row *r) {
    size_t n = r->piece ? strlen(r->piece) : 0;
    bool task = n && r->note && !strncmp(r->note, r->piece, n) && r->note[n] == '-';
    return task ? NULL : r->note;
}

/* "Bow-front chest: white ring on the top" */
static const char *of_words(struct arena *a, const char *piece, const char *note) {
    return piece && note ? arena_print(a, "%s: %s", piece, note) : piece ? piece : note;
}

static const char *sentence(struct op_call *call, const struct days_clock *c,
                            const struct record_row *r) {
    struct arena *a = c->arena;
    bool asks = r->doubted && r->weight > 0;
    const char *const parts[] = {
        measured(call->app->tables, c, r), of_words(a, piece_name(call, r->piece), note_of(r)),
        r->person ? arena_print(a, "By %s", r->person) : NULL,
        r->corrects == INT64_MIN ? NULL
        : r->weight < 0          ? arena_print(a, "Takes back %lld", (long long)r->corrects)
                                 : arena_print(a, "Confirms %lld", (long long)r->corrects),
        asks ? arena_print(a,
                           "Far off, so nothing is learnt from it; when it is right: coatwright "
                           "record confirm %lld",
                           (long long)r->number)
             : NULL};
    return entry_sentences(a, parts, sizeof parts / sizeof *parts);
}

enum status records_print(struct op_call *call, const struct list_answer *list, struct why *why) {
    struct days_clock c;
    enum status s = days_clock_of_shop(call, &c, why);
    const struct record_row *rows = list->rows;
    struct text *out = &call->out_body;
    enum { AT = NUMBER + 2 + WHEN };
    for (size_t i = 0; !s && i < list->rows_n; i++) {
        const char *words = sentence(call, &c, &rows[i]);
        if (!words) return why_no_memory(why);
        text_print(out, "%*lld  ", NUMBER, (long long)rows[i].number);
        text_left(out, WHEN, days_when(&c, rows[i].at_utc_min));
        text_wrap(out, AT, AT, words);
    }
    if (!s && list->next) text_print(out, "More: coatwright records --after %s\n", list->next);
    return s;
}
