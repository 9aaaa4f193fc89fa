#include "core/work/promise.h"

#include "core/work/fact.h"

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

/* "Repair: Loose joint, reglued" is a loose joint to a client. */
static const char *repair(const char *text) {
    static const char head[] = "Repair: ";
    return strncmp(text, head, sizeof head - 1) ? text : text + sizeof head - 1;
}

static const char *coat(const struct room *r, const struct coat *c) {
    if (c->again)
        return ROOM_TEXT(r, "%s, %s more where it is used most", c->text,
                         c->coats > 1 ? ROOM_TEXT(r, "%lld", (long long)c->coats) : "one");
    return c->coats > 1 ? ROOM_TEXT(r, "%s, %lld coats", c->text, (long long)c->coats) : c->text;
}

/* What only goes back where it was, and the shop's own care, is no work of its own to a client. */
static bool is_fitted(const char *operation) {
    static const char *const fitted[] = {"fit_pulls", "cane_in", "mirror_in", "anchor",
                                         "touch_up_hardware"};
    for (size_t i = 0; operation && i < sizeof fitted / sizeof *fitted; i++)
        if (!strcmp(operation, fitted[i])) return true;
    return false;
}

/* Repairs are promised; tape and the smell test, which stand among them, are the shop's own care.
 */
static bool is_repair(const struct room *r, const char *operation) {
    const struct operations_row *op = operation_row(r->t, operation);
    return !op || strcmp(op->role, "takedown") != 0;
}

const char **promise_work(const struct room *r, const struct piece_plan *p, size_t *out_n) {
    size_t most = p->repairs.n + p->coats.n + p->finish.n;
    struct lines to = {arena_array(r->ledger->arena, most + 1, sizeof *to.rows), 0};
    *out_n = 0;
    if (!to.rows) return NULL;
    for (size_t i = 0; i < p->repairs.n; i++)
        if (is_repair(r, p->repairs.rows[i].operation)) add(&to, repair(p->repairs.rows[i].text));
    for (size_t i = 0; i < p->coats.n; i++) /* rubbing down belongs to the coats it lies between */
        if (p->coats.rows[i].role != ROLE_RUB) add(&to, coat(r, &p->coats.rows[i]));
    for (size_t i = 0; i < p->finish.n; i++)
        if (is_fitted(p->finish.rows[i].operation)) add(&to, p->finish.rows[i].text);
    *out_n = to.n;
    return to.rows;
}
