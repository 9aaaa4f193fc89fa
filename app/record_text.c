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

/* "Spread, waterborne enamel, 4 in foam roller" */
static const char *subject(const struct tables *t, struct arena *a, const char *kind,
                           const char *operation, const char *class, const char *method) {
    const char *of[] = {name_of(t, "operation", operation), name_of(t, "class", class),
                        name_of(t, "method", method)};
    const char *text = strcmp(kind, "callback") != 0 ? entry_words(a, kind) : "Call-back";
    for (size_t i = 0; i < sizeof of / sizeof *of; i++)
        if (of[i]) text = arena_print(a, "%s, %s", text, of[i]);
    return text;
}

/* "Hours, Scuff: 1 h 20 min, usual 55 min" */
static const char *measured(const struct tables *t, const struct days_clock *c,
                            const struct record_row *r) {
    struct arena *a = c->arena;
    const char *text = subject(t, a, r->kind, r->operation, r->class, r->method),
               *is = figure(c, r->kind, r->actual), *usual = figure(c, r->kind, r->planned);
    if (is) text = arena_print(a, "%s: %s", text, is);
    return usual ? arena_print(a, "%s, usual %s", text, usual) : text;
}

const char *record_words(struct op_call *call, const struct record_row *r) {
    struct days_clock c;
    return days_clock_of_shop(call, &c, NULL) ? r->kind : measured(call->app->tables, &c, r);
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
    bool named = r->person && r->person[strspn(r->person, "0123456789")]; /* a crew of one is not */
    const char *const parts[] = {
        measured(call->app->tables, c, r), of_words(a, piece_name(call, r->piece), note_of(r)),
        named ? arena_print(a, "By %s", r->person) : NULL,
        r->corrects == INT64_MIN ? NULL
        : r->weight < 0          ? arena_print(a, "Takes back %lld", (long long)r->corrects)
                                 : arena_print(a, "Confirms %lld", (long long)r->corrects),
        asks ? arena_print(a,
                           "Far off, so nothing is learned from it; when it is right: coatwright "
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

static const char *learned_line(const struct tables *t, const struct days_clock *c,
                                const struct learned_row *r) {
    struct arena *a = c->arena;
    const char *left_out =
        r->questioned ? arena_print(a, "%lld left out: far off", (long long)r->questioned) : NULL;
    if (!r->used) { /* nothing to go by is not a factor of 1.00 */
        const char *const none[] = {
            arena_print(a, "%s: nothing learned yet",
                        subject(t, a, r->kind, r->operation, r->class, r->method)),
            left_out};
        return entry_sentences(a, none, sizeof none / sizeof *none);
    }
    const char *shop = figure(c, r->kind, r->shop), *usual = figure(c, r->kind, r->usual);
    const char *const parts[] = {
        arena_print(a, "%s: %s%s", subject(t, a, r->kind, r->operation, r->class, r->method),
                    shop ? arena_print(a, "%s here, usual %s, ", shop, usual ? usual : "not known")
                         : "",
                    arena_print(a, "%.2f times as usual", r->factor)),
        arena_print(a, "The next job %.2f to %.2f times", r->low, r->high),
        arena_print(a, "From %lld %s", (long long)r->used, r->used == 1 ? "record" : "records"),
        left_out};
    return entry_sentences(a, parts, sizeof parts / sizeof *parts);
}

enum status learned_print(struct op_call *call, const struct learned_row *rows, size_t n,
                          struct why *why) {
    struct days_clock c;
    enum status s = days_clock_of_shop(call, &c, why);
    for (size_t i = 0; !s && i < n; i++) {
        const char *line = learned_line(call->app->tables, &c, &rows[i]);
        if (!line) return why_no_memory(why);
        text_wrap(&call->out_body, 0, 2, line);
    }
    return s;
}
