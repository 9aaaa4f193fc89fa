/* Does the last coat give the sheen that was asked for? */
#include "core/work/coats_build.h"
#include "core/work/sheen.h"

#include <string.h>

static bool same(const char *a, const char *b) {
    return a && b && !strcmp(a, b);
}

/* The coat that one sees: the last film of the piece's painted parts. */
static const struct coat *last_film(const struct build *b) {
    const struct coat *last = NULL;
    for (size_t i = 0; i < b->p->coats.n; i++) {
        const struct coat *c = &b->p->coats.rows[i];
        if (c->role == ROLE_COLOR || c->role == ROLE_CLEAR || c->role == ROLE_WAX) last = c;
    }
    return last;
}

static void note(struct build *b, enum rank rank, const char *text, const char *remedy) {
    struct notice *n =
        notice_add(b->r->ledger, &b->p->coats.refused, rank, "sheen", text, "CP", CERTAINTY_COMMON);
    if (n) n->remedy = remedy;
}

void sheen_notes(struct build *b) {
    enum sheen want = b->r->piece->wanted.sheen;
    const struct coat *last = last_film(b);
    if (!want || !last) return;
    const struct room *r = b->r;
    const struct paint *can = shelf_paint(r->shelf, last->product);
    if (!can && last->role == ROLE_COLOR) can = can_of_class(b, last->class);
    if (same(last->class, "wax") && sheen_level(want) > sheen_level(SHEEN_SATIN))
        note(b, RANK_MIND,
             ROOM_TEXT(r, "Not reached: %s. Buffed wax comes to a soft satin, no further.",
                       sheen_name(want)),
             "A waterborne clear of that sheen.");
    else if (same(last->class, "chalk") || same(last->class, "milk"))
        note(b, RANK_NOTE, "It dries flat. The sheen comes from the coat that seals it.", NULL);
    else if (can && can->sheen && can->sheen != want)
        note(b, RANK_MIND,
             ROOM_TEXT(r,
                       "Get the last coat in %s. The can on the shelf is %s, and the sheen is that "
                       "of the last coat.",
                       sheen_name(want), sheen_name(can->sheen)),
             "Gloss below, the sheen wanted only last: matting piled up in several coats clouds.");
}
