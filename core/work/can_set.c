#include "core/work/can_set.h"

#include "core/work/defect.h"
#include "core/work/fact.h"

#include <math.h>
#include <string.h>

/* ---- the cheapest set ---- */

struct search {
    struct can_size size[CAN_SIZES]; /* cheapest by volume first */
    size_t place[CAN_SIZES], n;      /* where each stood */
    int64_t count[CAN_SIZES], best[CAN_SIZES];
    double best_price;
};

static double rate(const struct can_size *s) {
    return s->price / s->ml;
}

/* The sizes still to come cost at least the rate of the first of them. Fewer of this one leaves
 * more for those, so the bound only rises: the first that fails ends the row. */
static void search_from(struct search *s, size_t at, double rest_ml, double price) {
    const struct can_size *size = &s->size[at];
    int64_t most = rest_ml > 0 ? (int64_t)ceil(rest_ml / size->ml - 1e-9) : 0;
    if (at + 1 == s->n || !most) {
        s->count[at] = most;
        for (size_t i = at + 1; i < s->n; i++) s->count[i] = 0;
        price += (double)most * size->price;
        if (price < s->best_price - 1e-9) {
            s->best_price = price;
            memcpy(s->best, s->count, sizeof s->best);
        }
        return;
    }
    for (int64_t k = most; k >= 0; k--) {
        double left = rest_ml - (double)k * size->ml, so_far = price + (double)k * size->price;
        if (so_far + fmax(0, left) * rate(&s->size[at + 1]) >= s->best_price - 1e-9 && k < most)
            break;
        s->count[at] = k;
        search_from(s, at + 1, left, so_far);
    }
}

double can_set_choose(const struct can_size *sizes, size_t n, double need_ml, int64_t *count) {
    struct search s = {.n = n, .best_price = INFINITY};
    for (size_t i = 0; i < n; i++) {
        size_t to = i;
        for (; to > 0 && rate(&s.size[to - 1]) > rate(&sizes[i]); to--) {
            s.size[to] = s.size[to - 1];
            s.place[to] = s.place[to - 1];
        }
        s.size[to] = sizes[i];
        s.place[to] = i;
    }
    search_from(&s, 0, need_ml, 0);
    for (size_t i = 0; i < n; i++) count[s.place[i]] = s.best[i];
    return s.best_price;
}

/* ---- of a paint ---- */

struct sold {
    struct can_size sizes[CAN_SIZES];
    size_t n, own;         /* own: n where the can's size is not said */
    double cent_per_price; /* NAN: not known */
};

static const struct can_sizes_row *row_near(const struct tables *t, double ml) {
    for (size_t i = 0; i < t->can_sizes_n; i++)
        if (fabs(t->can_sizes[i].ml / ml - 1) < .02) return &t->can_sizes[i];
    return NULL;
}

/* A can of a size of its own is sold in that alone: what others of it cost is not known. */
static struct sold sold_of(const struct tables *t, enum unit_system units, const struct paint *can,
                           const char *class) {
    const struct product_classes_row *c = product_class_of(t, class);
    bool said = can && can->size_ml > 0;
    const struct can_sizes_row *own = said ? row_near(t, can->size_ml) : NULL;
    struct sold s = {.cent_per_price = (double)NAN};
    if (said && !own) {
        s.sizes[s.n++] = (struct can_size){"can", can->size_ml, 1};
        s.cent_per_price = can->cost_cent;
        return s;
    }
    const char *series = own ? own->units : units == UNITS_METRIC ? "metric" : "us";
    s.own = CAN_SIZES;
    for (size_t i = 0; i < t->can_sizes_n && s.n < CAN_SIZES; i++) {
        const struct can_sizes_row *r = &t->can_sizes[i];
        if (strcmp(r->units, series) != 0) continue;
        if (r != own && !word_listed(r->roles, c ? c->role : "")) continue;
        if (r == own) s.own = s.n;
        s.sizes[s.n++] = (struct can_size){r->name, r == own ? can->size_ml : r->ml, r->price};
    }
    if (own) s.cent_per_price = can->cost_cent / own->price;
    return s;
}

/* "2 quarts", "2 cans of 250 ml" */
static const char *counted(struct arena *arena, int64_t n, const char *name) {
    const char *of = strstr(name, " of ");
    int head = of ? (int)(of - name) : (int)strlen(name);
    return arena_print(arena, "%lld %.*s%s%s", (long long)n, head, name, n == 1 ? "" : "s",
                       of ? of : "");
}

struct can_set can_set_of(const struct tables *t, struct arena *arena, enum unit_system units,
                          const struct paint *can, const char *class, double need_ml) {
    struct can_set out = {.cost_cent = (double)NAN};
    int64_t count[CAN_SIZES];
    if (!(need_ml > 0) || (can && can->leftover_of_n)) return out;
    struct sold sold = sold_of(t, units, can, class);
    double price = can_set_choose(sold.sizes, sold.n, fmin(need_ml, 1e6), count);
    out.cost_cent = price * sold.cent_per_price;
    for (size_t i = sold.n; i-- > 0;) { /* the largest first */
        if (!count[i]) continue;
        const char *one = counted(arena, count[i], sold.sizes[i].name);
        out.text = out.cans && out.text && one ? arena_print(arena, "%s, %s", out.text, one) : one;
        out.cans += count[i];
        out.ml += (double)count[i] * sold.sizes[i].ml;
        out.estimated |= i != sold.own;
    }
    return out;
}
