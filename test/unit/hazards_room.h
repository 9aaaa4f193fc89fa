/* The hazards of one piece, and what they say. */
#ifndef TEST_UNIT_HAZARDS_ROOM_H
#define TEST_UNIT_HAZARDS_ROOM_H

#include "core/work/hazard.h"
#include "test/check.h"
#include "test/unit/trade_room.h"

static inline const struct notice *notice_on(const struct notices *n, const char *topic,
                                             enum rank rank) {
    for (size_t i = 0; i < n->n; i++)
        if (!strcmp(n->rows[i].topic, topic) && n->rows[i].rank >= rank) return &n->rows[i];
    return NULL;
}

static inline struct hazards hazards_of(struct trade_room *t, struct inspection *in) {
    struct hazards h = {0};
    CHECK(inspection_make(&t->room, in, NULL) == OK);
    CHECK(hazard_make(&t->room, in, &h, NULL) == OK);
    return h;
}

static inline bool has(const struct hazards *h, const char *id) {
    for (size_t i = 0; i < h->notices.n; i++)
        if (h->notices.rows[i].id && !strcmp(h->notices.rows[i].id, id)) return true;
    return false;
}

#endif
