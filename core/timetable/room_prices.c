/* Prices on holds, hands and order that show how little fits.
 *
 * The prices are those of a linear program whose columns are stretches of a place's sequence from
 * one morning to another. The longest path under its prices gives the next columns; rules that its
 * solution breaks become rows. Whatever they are, rounded to whole numbers the prices hold for
 * every timetable: all holds at their price, less what the rules allow at theirs, is no more than
 * the places earn. */
#include "core/timetable/deadline.h"
#include "core/timetable/room_inside.h"

#include <math.h>
#include <string.h>

enum {
    SCALE = 1024,      /* prices in 1 / SCALE of a minute of a place */
    NIGHT = 240,       /* minutes of a break at which sequences are cut */
    BUCKET = 5,        /* minutes in which hands are counted */
    HANDS_A_TIME = 12, /* rules added at one time */
    PIVOTS = 400,
};
static const double PRICE_NODE = 1e6, PRICE_HAND = 64, PRICE_COUNT = 1e4;
static const double FITS = 5e-5 /* of all */, BROKEN_HANDS = 1, BROKEN_COUNT = .5;

enum status room_prices_make(struct room *r, struct arena *arena) {
    size_t n = (size_t)r->minutes_n + 2;
    r->item_first = arena_array(arena, ROOM_COLUMNS + 1, sizeof *r->item_first);
    r->items = arena_array(arena, ROOM_ITEMS, sizeof *r->items);
    r->paid = arena_array(arena, n, sizeof *r->paid);
    r->nothing = arena_array(arena, n, sizeof *r->nothing);
    r->sums = arena_array(arena, n, sizeof *r->sums);
    if (!r->item_first || !r->items || !r->paid || !r->nothing || !r->sums) return E_MEMORY;
    for (int d = 0; d < ROOM_DEPTHS; d++)
        if (!(r->order[d] = arena_array(arena, n, sizeof *r->order[d]))) return E_MEMORY;
    return lp_make(&r->lp, ROOM_NODES + ROOM_CLASSES + ROOM_RULES, ROOM_COLUMNS, ROOM_ENTRIES,
                   arena);
}

int64_t room_rule_uses(const struct room *r, const struct room_rule *rule, int class, int start) {
    const struct room_class *x = &r->classes[class];
    switch (rule->kind) {
    case RULE_HANDS: {
        int from = start > rule->at ? start : rule->at;
        int to = start + x->work < rule->to ? start + x->work : rule->to;
        return to > from ? to - from : 0;
    }
    case RULE_ORDER:
        return (x->after && x->depth == rule->index + 1 && start < rule->at) -
               (x->before && x->depth == rule->index && x->until[start] + x->gap < rule->at);
    case RULE_EARLY: return class == rule->index && start < rule->at;
    case RULE_LATE: return class == rule->index && start >= rule->at;
    }
    return 0;
}

int64_t room_rule_most(const struct room *r, const struct room_rule *rule) {
    int64_t sum = 0;
    if (rule->kind == RULE_ORDER) return 0;
    if (rule->kind == RULE_HANDS)
        return all_worked(r->s, r->minutes[rule->to - 1] + 1) -
               all_worked(r->s, r->minutes[rule->at]);
    for (int k = 0; k < r->s->p->holds_n; k++) {
        const struct room_hold *h = &r->holds[k];
        if (h->class == rule->index)
            sum += rule->kind == RULE_EARLY ? h->first < rule->at : h->past > rule->at;
    }
    return sum;
}

/* Prices in whole numbers: of rules, as sums over the minutes that they are about. */
static void price_rules(struct room *r) {
    size_t n = (size_t)r->minutes_n + 2;
    memset(r->paid, 0, n * sizeof *r->paid);
    for (int d = 0; d < ROOM_DEPTHS; d++) memset(r->order[d], 0, n * sizeof *r->order[d]);
    for (int k = 0; k < r->rules_n; k++) {
        struct room_rule *rule = &r->rules[k];
        double price = r->lp.price[r->nodes_n + r->classes_n + k];
        rule->price = price > 0 ? (int64_t)(price * SCALE) : 0;
        if (rule->kind == RULE_ORDER && rule->at > 0)
            r->order[rule->index][rule->at - 1] += rule->price;
        for (int i = rule->at; rule->kind == RULE_HANDS && i < rule->to; i++)
            r->paid[i + 1] += rule->price;
    }
    for (int i = 0; i <= r->minutes_n; i++) r->paid[i + 1] += r->paid[i];
    for (int d = 0; d < ROOM_DEPTHS; d++)
        for (int i = r->minutes_n; i >= 0; i--) r->order[d][i] += r->order[d][i + 1];
}

/* What each start earns. */
static void price_starts(struct room *r) {
    price_rules(r);
    for (int c = 0; c < r->classes_n; c++) {
        struct room_class *x = &r->classes[c];
        const int64_t *late =
            x->after && x->depth <= ROOM_DEPTHS ? r->order[x->depth - 1] : r->nothing;
        const int64_t *soon = x->before && x->depth < ROOM_DEPTHS ? r->order[x->depth] : r->nothing;
        double price = r->lp.price[r->nodes_n + c];
        x->price = price > 0 ? (int64_t)(price * SCALE) : 0;
        for (int i = x->first; i < x->past; i++) {
            int end = i + x->work, ready = x->until[i] + x->gap;
            if (end > r->minutes_n) end = r->minutes_n;
            if (ready > r->minutes_n) ready = r->minutes_n;
            if (x->until[i] < 0) ready = 0;
            x->earns[i] = x->price - (r->paid[end] - r->paid[i]) - late[i] + soon[ready];
        }
        for (int k = 0; k < r->rules_n; k++) {
            const struct room_rule *rule = &r->rules[k];
            if ((rule->kind != RULE_EARLY && rule->kind != RULE_LATE) || rule->index != c) continue;
            int from = rule->kind == RULE_LATE ? rule->at : x->first;
            int to = rule->kind == RULE_LATE ? x->past : rule->at;
            for (int i = from; i < to; i++) x->earns[i] -= rule->price;
        }
    }
}

/* Sequences on from minute i, up to the next minute at which other classes may start; that one. */
static int go_on(struct room *r, int i, int first, int past) {
    const struct room_class *may[ROOM_CLASSES];
    int64_t *value = r->value;
    int n = 0;
    for (int c = 0; c < r->classes_n; c++) {
        const struct room_class *x = &r->classes[c];
        if (x->first > i && x->first < past) past = x->first;
        if (i < x->first || i >= x->past) continue;
        if (x->past < past) past = x->past;
        may[n++] = x;
    }
    for (; i < past; i++) {
        if (i > first && value[i - 1] > value[i]) value[i] = value[i - 1], r->by[i] = -1;
        for (int m = 0; m < n; m++) {
            int e = may[m]->until[i];
            if (e <= i || value[i] + may[m]->earns[i] <= value[e]) continue;
            value[e] = value[i] + may[m]->earns[i];
            r->by[e] = (int)(may[m] - r->classes);
            r->since[e] = i;
        }
    }
    return past;
}

/* What one place earns at most, and the sequence that does; *out_n starts in order of time. */
static int64_t best_path(struct room *r, struct room_item *path, int most, int *out_n) {
    int first = r->nodes[0], past = 0;
    for (int c = 0; c < r->classes_n; c++)
        if (r->classes[c].past > past) past = r->classes[c].past;
    for (int i = first; i <= r->minutes_n; i++) r->value[i] = 0, r->by[i] = -1;
    for (int i = first; i < past;) i = go_on(r, i, first, past);
    int best = first, n = 0;
    for (int i = first; i <= r->minutes_n; i++)
        if (r->value[i] > r->value[best]) best = i;
    for (int i = best; i > first;)
        if (r->by[i] >= 0) {
            i = r->since[i];
            n++;
        } else {
            i--;
        }
    *out_n = n <= most ? n : 0; /* too many to take in: still a proof */
    for (int i = best, k = n; i > first;)
        if (r->by[i] >= 0) {
            int c = r->by[i];
            i = r->since[i];
            if (--k < most) path[k] = (struct room_item){c, i};
        } else {
            i--;
        }
    return r->value[best];
}

static bool put_items(struct room *r, int col, const struct room_rule *rule, int row) {
    int64_t sum = 0;
    for (int k = r->item_first[col]; k < r->item_first[col + 1]; k++)
        sum += room_rule_uses(r, rule, r->items[k].class, r->items[k].start);
    return !sum || lp_put(&r->lp, col, row, (double)sum);
}

/* A stretch from node `from` to node `to` (nodes_n: for good) as a column, if it saves anything.
 * false: no more room. */
static bool add_stretch(struct room *r, int from, int to, const struct room_item *item, int n,
                        bool *out_added) {
    struct lp *lp = &r->lp;
    int at = lp->cols ? r->item_first[lp->cols] : 0;
    int col = lp_column(lp), entries = lp->entries;
    if (col < 0 || at + n > ROOM_ITEMS) return false;
    r->item_first[col] = at;
    if (n) memcpy(r->items + at, item, (size_t)n * sizeof *item);
    r->item_first[col + 1] = at + n;
    bool room = lp_put(lp, col, from, 1);
    if (to < r->nodes_n) room = room && lp_put(lp, col, to, -1);
    for (int c = 0; c < r->classes_n; c++) {
        int times = 0;
        for (int k = 0; k < n; k++) times += item[k].class == c;
        if (times) room = room && lp_put(lp, col, r->nodes_n + c, -times);
    }
    for (int k = 0; k < r->rules_n; k++)
        room = room && put_items(r, col, &r->rules[k], r->nodes_n + r->classes_n + k);
    if (lp_reduced(lp, col) < -1e-6)
        *out_added = true;
    else if (n)
        lp->cols--, lp->entries = entries;
    return room;
}

/* The best sequence, cut at the nodes where the place is free. */
static bool add_path(struct room *r, const struct room_item *path, int n, bool *out_added) {
    int node = 0, begun = 0;
    for (int k = 0; k < n; k++) {
        int start = path[k].start, stop = k + 1 < n ? path[k + 1].start : r->minutes_n;
        int end = r->classes[path[k].class].until[start], to = node;
        while (node + 1 < r->nodes_n && begun == k && r->nodes[node + 1] <= start) node++;
        for (to = node; to < r->nodes_n && r->nodes[to] < end; to++)
            ;
        if (k + 1 < n && (to >= r->nodes_n || r->nodes[to] > stop)) continue;
        if (!add_stretch(r, node, to, path + begun, k + 1 - begun, out_added)) return false;
        node = to, begun = k + 1;
    }
    return true;
}

/* ---- rules that the linear program's solution breaks ---- */

/* Sums so far, over starts, of what it does. */
static void accumulate(double *sum, int n) {
    for (int i = 0; i < n; i++) sum[i + 1] += sum[i];
}

static bool add_rule(struct room *r, struct room_rule rule) {
    struct lp *lp = &r->lp;
    if (r->rules_n == ROOM_RULES) return false;
    rule.most = room_rule_most(r, &rule);
    for (int c = 0; c < lp->cols; c++)
        if (!put_items(r, c, &rule, lp->rows)) return false;
    r->rules[r->rules_n++] = rule;
    lp_join(lp, (double)rule.most + 1e-5 * r->rules_n,
            rule.kind == RULE_HANDS ? PRICE_HAND : PRICE_COUNT);
    return true;
}

/* Fills sums[i] with what `kind` counts before each minute i: +1 a start of the class or depth, -1
 * a start that is ready; for hands the minutes that they are at work. */
static void count_starts(struct room *r, enum room_rule_kind kind, int index) {
    memset(r->sums, 0, ((size_t)r->minutes_n + 2) * sizeof *r->sums);
    for (int b = 0; b < r->lp.rows; b++) {
        int col = r->lp.basis[b];
        if (col < 0) continue;
        double value = r->lp.value[b];
        for (int k = r->item_first[col]; k < r->item_first[col + 1]; k++) {
            int c = r->items[k].class, start = r->items[k].start;
            const struct room_class *x = &r->classes[c];
            if (kind == RULE_HANDS) {
                for (int i = start; i < start + x->work && i < r->minutes_n; i++)
                    r->sums[i] += value;
            } else if (kind == RULE_ORDER) {
                if (x->after && x->depth == index + 1) r->sums[start + 1] += value;
                int ready = x->until[start] + x->gap;
                if (x->before && x->depth == index && ready < r->minutes_n)
                    r->sums[ready + 1] -= value;
            } else if (c == index) {
                r->sums[start + 1] += value;
            }
        }
    }
    if (kind != RULE_HANDS) accumulate(r->sums, r->minutes_n + 1);
}

static int separate_hands(struct room *r) {
    struct room_rule found[HANDS_A_TIME];
    double worst[HANDS_A_TIME];
    int n = 0, added = 0;
    count_starts(r, RULE_HANDS, 0);
    for (int i = r->nodes[0]; i < r->minutes_n;) {
        struct room_rule rule = {RULE_HANDS, 0, i, i + 1, 0, 0};
        double by = r->sums[i];
        while (rule.to < r->minutes_n && rule.to < i + BUCKET &&
               r->minutes[rule.to] == r->minutes[rule.to - 1] + 1)
            by += r->sums[rule.to++];
        by -= (double)room_rule_most(r, &rule);
        i = rule.to;
        if (by <= BROKEN_HANDS) continue;
        int k = n < HANDS_A_TIME ? n++ : n; /* the worst in front */
        for (; k > 0 && worst[k - 1] < by; k--)
            if (k < HANDS_A_TIME) found[k] = found[k - 1], worst[k] = worst[k - 1];
        if (k < HANDS_A_TIME) found[k] = rule, worst[k] = by;
    }
    for (int k = 0; k < n; k++) added += add_rule(r, found[k]);
    return added;
}

/* The minute of each day at which more of a depth have begun than can be ready. */
static int separate_order(struct room *r, int depth) {
    int added = 0, at[ROOM_NODES] = {0};
    count_starts(r, RULE_ORDER, depth);
    for (int d = 0; d < r->nodes_n; d++) {
        int to = d + 1 < r->nodes_n ? r->nodes[d + 1] : r->minutes_n;
        double worst = BROKEN_COUNT;
        for (int i = r->nodes[d] + 1; i <= to; i++)
            if (r->sums[i] > worst) worst = r->sums[i], at[d] = i;
    }
    for (int d = 0; d < r->nodes_n; d++)
        if (at[d]) added += add_rule(r, (struct room_rule){RULE_ORDER, depth, at[d], 0, 0, 0});
    return added;
}

/* More of a class begun before a minute, or after it, than have dates that let them. */
static int separate_dates(struct room *r, int class) {
    struct room_rule early = {0}, late = {0};
    double worst_early = BROKEN_COUNT, worst_late = BROKEN_COUNT;
    if (r->classes[class].n < 2) return 0;
    count_starts(r, RULE_EARLY, class);
    for (int k = 0; k < r->s->p->holds_n; k++) {
        const struct room_hold *h = &r->holds[k];
        if (h->class != class) continue;
        struct room_rule rule = {RULE_EARLY, class, h->first, 0, 0, 0};
        double by = r->sums[rule.at] - (double)room_rule_most(r, &rule);
        if (by > worst_early) worst_early = by, early = rule;
        rule = (struct room_rule){RULE_LATE, class, h->past, 0, 0, 0};
        by = r->sums[r->minutes_n] - r->sums[rule.at] - (double)room_rule_most(r, &rule);
        if (by > worst_late) worst_late = by, late = rule;
    }
    return (early.at && add_rule(r, early)) + (late.at && add_rule(r, late));
}

static int separate(struct room *r) {
    int added = separate_hands(r), depth = 0;
    for (int c = 0; c < r->classes_n; c++)
        if (r->classes[c].depth > depth) depth = r->classes[c].depth;
    for (int d = 0; d < depth && d < ROOM_DEPTHS; d++) added += separate_order(r, d);
    for (int c = 0; c < r->classes_n; c++) added += separate_dates(r, c);
    return added;
}

/* ---- */

/* Rows for nodes and classes; columns that wait from a node to the next. */
static bool begin(struct room *r, int64_t places) {
    struct lp *lp = &r->lp;
    lp_clear(lp);
    r->rules_n = r->nodes_n = 0;
    int first = r->minutes_n, past = 0;
    for (int c = 0; c < r->classes_n; c++) {
        if (r->classes[c].first < first) first = r->classes[c].first;
        if (r->classes[c].past > past) past = r->classes[c].past;
    }
    if (first >= past) return false;
    r->nodes[r->nodes_n++] = first;
    for (int i = first + 1; i < past && r->nodes_n < ROOM_NODES; i++)
        if (r->minutes[i] - r->minutes[i - 1] > NIGHT) r->nodes[r->nodes_n++] = i;
    for (int k = 0; k < r->nodes_n; k++)
        lp_join(lp, (k ? 0 : (double)places) + 1e-5 * (k + 1), PRICE_NODE);
    for (int c = 0; c < r->classes_n; c++) {
        const struct room_class *x = &r->classes[c];
        lp_join(lp, -x->n + 1e-6 * c, (double)x->weight);
    }
    bool added = false;
    for (int k = 0; k + 1 < r->nodes_n; k++)
        if (!add_stretch(r, k, k + 1, NULL, 0, &added)) return false;
    lp_solve(lp, 0);
    return true;
}

bool room_overfull(struct room *r, int64_t places, int rounds, int looks,
                   const struct limit *limit) {
    struct room_item path[512];
    double fits = 0;
    if (!begin(r, places)) return false;
    for (int c = 0; c < r->classes_n; c++)
        fits += FITS * r->classes[c].n * (double)r->classes[c].weight;
    for (int round = 0; round < rounds && !limit_asked(limit); round++) {
        int n;
        bool added = false;
        price_starts(r);
        int64_t gain = -places * best_path(r, path, 512, &n);
        for (int c = 0; c < r->classes_n; c++) gain += r->classes[c].n * r->classes[c].price;
        for (int k = 0; k < r->rules_n; k++) gain -= r->rules[k].most * r->rules[k].price;
        if (gain > 0) return true;
        if (!add_path(r, path, n, &added)) return false;
        lp_solve(&r->lp, PIVOTS);
        if (added && lp_excess(&r->lp) > fits) continue;
        if (looks-- <= 0 || !separate(r)) return false;
        lp_solve(&r->lp, PIVOTS);
    }
    return false;
}
