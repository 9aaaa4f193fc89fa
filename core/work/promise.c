#include "core/work/promise.h"

#include "core/work/fact.h"

#include <math.h>
#include <string.h>

struct lines {
    const char **rows;
    size_t n;
};

/* Each once. */
static void add(struct lines *to, const char *text) {
    for (size_t i = 0; i < to->n; i++)
        if (!strcmp(to->rows[i], text)) return;
    to->rows[to->n++] = text;
}

/* "Repair: Loose joint, reglued" is a loose joint to a client, "Replace: Rotten foot" one that is.
 */
static const char *repair(const struct room *r, const char *text) {
    static const char mend[] = "Repair: ", anew[] = "Replace: ", other[] = "Refer: ";
    if (!strncmp(text, mend, sizeof mend - 1)) return text + sizeof mend - 1;
    if (!strncmp(text, anew, sizeof anew - 1))
        return ROOM_TEXT(r, "%s, replaced", text + sizeof anew - 1);
    if (!strncmp(text, other, sizeof other - 1))
        return ROOM_TEXT(r, "%s, by another workshop", text + sizeof other - 1);
    return text;
}

/* The shop's "Scuff, 220 grit" as the client reads it (operations.tsv); what follows a colon, which
 * paint or how many, stays. */
static const char *in_words(const struct room *r, const char *operation, const char *text) {
    const struct operations_row *op = operation_row(r->t, operation);
    if (!op || !strcmp(op->client, "-")) return text;
    size_t n = strlen(op->name);
    bool more = !strncmp(text, op->name, n) && text[n] == ':';
    return ROOM_TEXT(r, "%s%s", op->client, more ? text + n : "");
}

static const char *coat(const struct room *r, const struct coat *c) {
    const char *colon = strstr(c->text, ": "), *words = in_words(r, c->operation, c->text);
    if (c->again && colon)
        return ROOM_TEXT(r, "%s of %s, where it is used most",
                         c->coats > 1 ? ROOM_TEXT(r, "%lld more coats", (long long)c->coats)
                                      : "One more coat",
                         colon + 2);
    return c->coats > 1 ? ROOM_TEXT(r, "%s, %lld coats", words, (long long)c->coats) : words;
}

static bool gets(const struct room *r, const struct piece_plan *p, const char *group,
                 const char *line) {
    for (size_t i = 0; i < p->coats.n; i++) {
        const struct coat *c = &p->coats.rows[i];
        bool meant = !c->group || !group || !strcmp(c->group, group);
        if (meant && (!line || !strcmp(coat(r, c), line))) return true;
    }
    return false;
}

/* A coat that not all groups get says which: a client reads of priming, then of stripping, and must
 * not take both for the same wood. One more says itself where. */
static const char *coat_whose(const struct room *r, const struct piece_plan *p,
                              const struct coat *c) {
    const char *whose = NULL, *line = coat(r, c);
    if (c->again) return line;
    bool all = true;
    for (size_t i = 0; i < p->surfaces.groups_n; i++) {
        const struct surface_group *g = &p->surfaces.groups[i];
        if (!gets(r, p, g->id, NULL)) continue;
        if (!gets(r, p, g->id, line))
            all = false;
        else
            whose = whose ? ROOM_TEXT(r, "%s, %s", whose, g->name) : g->name;
    }
    return all || !whose ? line : ROOM_TEXT(r, "%s: %s", whose, line);
}

/* What is kept from the color the client reads too; the edge of wood that gets its own coats is the
 * shop's own care. */
static bool keeps_off(const struct work_step *w) {
    return w->operation && !strcmp(w->operation, "mask") && strchr(w->text, ':');
}

/* A repair that is no step of an operation is a row of repairs.tsv: always promised. */
static bool is_promised(const struct room *r, const char *operation) {
    const struct operations_row *op = operation_row(r->t, operation);
    return !op || op->promised == 1;
}

const char **promise_work(const struct room *r, const struct piece_plan *p, size_t *out_n) {
    size_t most = p->repairs.n + p->coats.n + p->finish.n;
    struct lines to = {arena_array(r->ledger->arena, most + 1, sizeof *to.rows), 0};
    *out_n = 0;
    if (!to.rows) {
        r->ledger->failed = true;
        return NULL;
    }
    for (size_t i = 0; i < p->repairs.n; i++) {
        const struct work_step *w = &p->repairs.rows[i];
        bool unpriced = w->referred && isnan(w->others_cent); /* not included */
        if ((is_promised(r, w->operation) || keeps_off(w)) && !unpriced)
            add(&to, repair(r, in_words(r, w->operation, w->text)));
    }
    for (size_t i = 0; i < p->coats.n; i++)
        if (is_promised(r, p->coats.rows[i].operation))
            add(&to, coat_whose(r, p, &p->coats.rows[i]));
    for (size_t i = 0; i < p->finish.n; i++)
        if (is_promised(r, p->finish.rows[i].operation))
            add(&to, in_words(r, p->finish.rows[i].operation, p->finish.rows[i].text));
    *out_n = to.n;
    return to.rows;
}
