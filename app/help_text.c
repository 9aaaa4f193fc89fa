#include "app/help_text.h"
#include "app/days_words.h"
#include "app/entry_text.h"
#include "app/id_words.h"
#include "codec/text_wrap.h"
#include "codec/units_text.h"

#include <string.h>

enum { WORDS_AT = 14 }; /* column of what stands behind a label */

static void labelled(struct text *out, const char *label, const char *words) {
    if (!words || !*words) return;
    text_print(out, "  ");
    text_left(out, WORDS_AT - 2, label);
    text_wrap(out, WORDS_AT, WORDS_AT, words);
}

void defects_print(struct text *out, const struct defects_row *rows, size_t n) {
    for (size_t i = 0; i < n; i++) {
        if (i) text_print(out, "\n");
        text_wrap(out, 0, 0, rows[i].name);
        labelled(out, "Looks", rows[i].see);
        labelled(out, "Comes from", rows[i].cause);
        labelled(out, "Do now", rows[i].cure);
        labelled(out, "Next time", rows[i].prevent);
    }
}

/* "foam roller, 220 grit, 320 on curves" */
static const char *tool_words(struct op_call *call, const struct step_help *h) {
    struct arena *a = call->arena;
    const char *name = h->tool ? id_words(call->app->tables, "method", h->tool) : NULL,
               *words = name      ? name
                        : h->tool ? h->tool
                                  : "";
    if (h->grit)
        words = arena_print(a, "%s%s%lld grit", words, *words ? ", " : "", (long long)h->grit);
    if (words && h->grit_curves && h->grit_curves != h->grit)
        words = arena_print(a, "%s%s%lld grit on curves", words, *words ? ", " : "",
                            (long long)h->grit_curves);
    return words;
}

static void before(const struct days_clock *c, const struct help_answer *a, struct text *out) {
    for (size_t i = 0; i < a->blocked_n; i++) {
        text_print(out, "! ");
        text_wrap_print(out, 2, 2, "Must not be begun: %s %s", a->blocked[i].text,
                        a->blocked[i].remedy ? a->blocked[i].remedy : "");
    }
    for (size_t i = 0; i < a->cautions_n; i++) {
        const struct caution_view *v = &a->cautions[i];
        text_print(out, "! ");
        text_wrap_print(out, 2, 2, "%s %s", v->text, v->remedy ? v->remedy : "");
        if (v->read_utc_min != INT64_MIN)
            text_print(out, "  Read %s.\n", days_when(c, v->read_utc_min));
        else
            text_print(out, "  When it is read: coatwright piece accept %s caution --about %s\n",
                       a->piece, v->id);
    }
}

static void how(struct op_call *call, const struct days_clock *c, const struct help_answer *a,
                struct text *out) {
    const struct step_help *h = &a->step;
    labelled(out, "Why", h->why);
    labelled(out, "How", h->how);
    labelled(out, "With", tool_words(call, h));
    if (h->hands_min > 0) labelled(out, "Takes", days_span(c, h->hands_min));
    if (h->wait_min > 0) labelled(out, "Then waits", days_span(c, h->wait_min));
    for (size_t i = 0; i < a->notes_n; i++) {
        const char *topic = a->notes[i].topic;
        bool same = i && !strcmp(topic, a->notes[i - 1].topic);
        labelled(out, same ? "" : entry_words(call->arena, topic), a->notes[i].text);
    }
}

enum status help_print(struct op_call *call, const struct help_answer *a, struct why *why) {
    struct text *out = &call->out_body;
    struct days_clock c;
    enum status s = days_clock_of_shop(call, &c, why);
    if (s) return s;
    text_wrap_print(out, 0, 0, "%s: %s", a->piece_title, a->step.name);
    before(&c, a, out);
    text_print(out, "\n");
    how(call, &c, a, out);
    if (!a->defects_n) return OK;
    text_print(out, "\nWhat can go wrong\n\n");
    defects_print(out, a->defects, a->defects_n);
    return OK;
}
