#include "app/history_text.h"
#include "app/days_words.h"
#include "app/id_words.h"
#include "codec/json_outline.h"
#include "codec/text_wrap.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

enum { NUMBER = 6, WHEN = 23 }; /* columns of a change's number and of its moment */

static const char moment[] = "_utc_min";

static bool is_moment(const char *member) {
    size_t n = strlen(member), k = sizeof moment - 1;
    return n > k && !strcmp(member + n - k, moment);
}

/* An id that names no row, as a stage is, is words with _ for blanks. */
static const char *id_spelt(const struct days_clock *c, const char *value) {
    if (value[strspn(value, "abcdefghijklmnopqrstuvwxyz_")]) return value;
    char *words = arena_text(c->arena, value);
    for (char *at = words; at && *at; at++)
        if (*at == '_') *at = ' ';
    return words ? words : value;
}

/* A moment on the shop's clock, what an id names; all else is in words already. */
static const char *value_words(const struct tables *t, const struct days_clock *c,
                               const char *member, const char *value) {
    if (!value) return NULL;
    if (!strcmp(value, "true")) return "yes";
    if (!strcmp(value, "false")) return "no";
    if (*value == '[' || *value == '{') {
        struct text line = {0};
        json_line(value, &line);
        const char *words = line.at ? arena_text(c->arena, line.at) : NULL;
        text_free(&line);
        return words ? words : value;
    }
    if (!is_moment(member)) {
        const char *last = strrchr(member, '/'),
                   *name = id_words(t, last ? last + 1 : member, value);
        return name ? name : id_spelt(c, value);
    }
    char *end;
    long long at = strtoll(value, &end, 10);
    return *value && !*end ? days_when(c, at) : value;
}

/* "width: 34 in, now 33 in" */
static const char *changed_line(const struct tables *t, const struct days_clock *c,
                                const struct changed *d) {
    struct text name = {0};
    const char *before = value_words(t, c, d->member, d->before),
               *after = value_words(t, c, d->member, d->after);
    size_t n = strlen(d->member) - (is_moment(d->member) ? sizeof moment - 1 : 0);
    const char *member = arena_print(c->arena, "%.*s", (int)n, d->member);
    if (!member) return NULL;
    member_words(member, &name);
    const char *words = name.at ? name.at : d->member;
    const char *line = !after    ? arena_print(c->arena, "%s: %s, now nothing", words, before)
                       : !before ? arena_print(c->arena, "%s: %s", words, after)
                                 : arena_print(c->arena, "%s: %s, now %s", words, before, after);
    text_free(&name);
    return line;
}

/* "Bow-front chest: width (piece changed)"; what says by itself what was done is capital only. */
static const char *sentence(const struct days_clock *c, const struct history_row *r) {
    const char *done = r->done ? r->done : r->operation ? r->operation : "";
    const char *back = r->undone_by == INT64_MIN ? ""
                       : r->undoes == INT64_MIN  ? "; taken back"
                                                 : "; not any more";
    if (r->what && *r->what && r->undoes != INT64_MIN)
        return arena_print(c->arena, "%s%s", r->what, back);
    if (!r->what || !*r->what || !strcasecmp(r->what, done))
        return arena_print(c->arena, "%s%s", done, back);
    bool itself = r->what[strspn(r->what, "abcdefghijklmnopqrstuvwxyz")] == ':';
    char *text = itself ? arena_print(c->arena, "%s%s", r->what, back)
                        : arena_print(c->arena, "%s (%s)%s", r->what, done, back);
    char *word = text && !itself ? text + strlen(r->what) + 2 : text;
    if (word && itself && *word >= 'a' && *word <= 'z') *word = (char)(*word - 'a' + 'A');
    if (word && !itself && *word >= 'A' && *word <= 'Z') *word = (char)(*word - 'A' + 'a');
    return text;
}

static bool change_print(struct text *out, const struct tables *t, const struct days_clock *c,
                         const struct history_row *r) {
    char number[24];
    snprintf(number, sizeof number, "%lld", (long long)r->revision);
    const char *when = days_when(c, r->at_utc_min), *words = sentence(c, r);
    if (!when || !words) return false;
    text_print(out, "%*s  ", NUMBER, number);
    size_t at = NUMBER + 2, w = text_columns(when, strlen(when));
    text_print(out, "%s%*s", when, w < WHEN ? (int)(WHEN - w) : 1, "");
    text_wrap(out, at + (w < WHEN ? WHEN : w + 1), at + WHEN, words);
    for (size_t i = 0; i < r->changed_n; i++) {
        const char *line = changed_line(t, c, &r->changed[i]);
        if (!line) return false;
        text_print(out, "%*s", (int)at + WHEN, "");
        text_wrap(out, at + WHEN, at + WHEN + 2, line);
    }
    return true;
}

enum status history_print(struct op_call *call, const struct history_row *rows, size_t n,
                          const char *piece, const char *next, struct why *why) {
    struct days_clock c;
    enum status s = days_clock_of_shop(call, &c, why);
    for (size_t i = 0; !s && i < n; i++)
        if (!change_print(&call->out_body, call->app->tables, &c, &rows[i])) s = why_no_memory(why);
    if (s || !n) return s;
    text_print(&call->out_body, "To take one back: coatwright undo NUMBER\n");
    if (next)
        text_print(&call->out_body, "More: coatwright %s%s --after %s\n",
                   piece ? "piece history " : "history", piece ? piece : "", next);
    return OK;
}
