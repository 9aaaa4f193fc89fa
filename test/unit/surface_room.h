/* A piece whose surfaces are made of its template. */
#ifndef TEST_UNIT_SURFACE_ROOM_H
#define TEST_UNIT_SURFACE_ROOM_H

#include "core/work/surface.h"
#include "core/work/template.h"
#include "test/check.h"
#include "test/unit/trade_room.h"

static inline struct part part_unsaid(const char *id) {
    struct part p = {.id = id, .count = INT64_MIN};
    for (int i = 0; i < PART_SIZES; i++) p.size_mm[i] = NAN;
    return p;
}

static inline enum status surfaces_of(struct trade_room *tr, struct surfaces *s, struct why *why) {
    return surface_make(&tr->room, s, why);
}

static inline const struct surface *row_of(const struct surfaces *s, const char *id) {
    for (size_t i = 0; i < s->rows_n; i++)
        if (!strcmp(s->rows[i].part.id, id)) return &s->rows[i];
    return NULL;
}

static inline void groups_hold(const struct surfaces *s) {
    size_t rows = 0;
    double coated = 0;
    for (size_t g = 0; g < s->groups_n; g++) {
        CHECK(s->groups[g].first == rows && s->groups[g].n > 0);
        CHECK(s->groups[g].tool && *s->groups[g].tool_why && *s->groups[g].tool_source);
        rows += s->groups[g].n;
        coated += s->groups[g].coated_m2;
    }
    CHECK(rows == s->rows_n);
    CHECK_NEAR(coated, s->coated_m2, 1e-12);
}

#endif
