#include "app/sample_text.h"
#include "app/days_words.h"
#include "app/entry_text.h"
#include "codec/job_desc.h"

#include <string.h>

/* A can's name; its id once it is no longer in the book. */
static const char *paint_name(struct op_call *call, const char *id) {
    struct paint_row row;
    bool there = !row_get(call->book, &table_paint, "id", id, call->arena, &row, NULL);
    return there && row.name ? row.name : id;
}

/* "3 Light gray, 1 Ultramarine" */
static const char *mix_words(struct op_call *call, const struct sample *s) {
    const char *text = NULL;
    for (size_t i = 0; i < s->items_n; i++)
        text = arena_print(call->arena, "%s%s%g %s", text ? text : "", text ? ", " : "",
                           s->items[i].parts, paint_name(call, s->items[i].paint));
    return text;
}

static const char *dried_words(struct arena *a, const struct sample_row *row,
                               const struct sample *s) {
    static const char *const how[] = {[READ_INSTRUMENT] = ", read by instrument",
                                      [READ_PHOTO] = ", read from a photo",
                                      [READ_CHART] = ", read by chart",
                                      [READ_EYE] = ", read by eye"};
    const char *read = (size_t)s->read < sizeof how / sizeof *how ? how[s->read] : NULL;
    bool hex = row->color_hex && (!s->color.text || *s->color.text != '#');
    return arena_print(a, "%s %s%s%s%s%s%s", s->wet == YN_YES ? "Read wet:" : "Dried to",
                       s->color.text ? s->color.text : "", hex ? " (" : "",
                       hex ? row->color_hex : "", hex ? ")" : "",
                       s->sheen ? arena_print(a, ", %s", words_sheen[s->sheen]) : "",
                       read ? read : "");
}

static enum status sample_print(struct op_call *call, const struct days_clock *c,
                                const struct sample_row *row, size_t at, struct why *why) {
    struct sample s;
    desc_unsay(&desc_sample, &s);
    enum status status = document_read(&desc_sample, SPELL_INPUT, row->document,
                                       strlen(row->document), call->arena, &s, why);
    if (status) return status;
    const char *const parts[] = {dried_words(c->arena, row, &s), days_when(c, row->at_utc_min),
                                 s.note};
    const char *line = entry_sentences(c->arena, parts, sizeof parts / sizeof *parts);
    if (!line) return why_no_memory(why);
    entry_print(&call->out_body, at, row->id, mix_words(call, &s), line);
    return OK;
}

enum status samples_print(struct op_call *call, const struct list_answer *list, struct why *why) {
    struct days_clock c;
    enum status s = days_clock_of_shop(call, &c, why);
    const struct sample_row *rows = list->rows;
    size_t at = 0;
    for (size_t i = 0; i < list->rows_n; i++) at = entry_column(at, rows[i].id);
    for (size_t i = 0; !s && i < list->rows_n; i++) s = sample_print(call, &c, &rows[i], at, why);
    if (!s && list->next)
        text_print(&call->out_body, "More: coatwright samples --after %s\n", list->next);
    return s;
}
