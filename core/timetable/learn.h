/* Search that learns from its conflicts, over integer bounds (lazy clause generation).
 *
 * Every variable x has two signed forms: 2x stands for x, 2x+1 for -x; low[s] is the lower bound
 * of a signed form, so that an upper bound of x is -low[2x+1]. A literal {s, k} says "form s is at
 * least k"; its negation is {s ^ 1, 1 - k}. A clause is a disjunction of literals. Every change of
 * a bound is an event on a trail with the reason for it, from which a conflict is traced back to
 * a new clause (first unique implication point).
 *
 * Source: Ohrimenko, Stuckey and Codish 2009, Constraints 14, "Propagation via lazy clause
 * generation"; bounds as literals without Boolean copies after Bit-Monnot 2023, "Enhancing hybrid
 * CP-SAT search for disjunctive scheduling"; clause activity and restarts as in MiniSat
 * (Een and Soerensson 2004), from memory. */
#ifndef CORE_TIMETABLE_LEARN_H
#define CORE_TIMETABLE_LEARN_H

#include "core/base/arena.h"
#include "core/base/limit.h"

#include <stdbool.h>
#include <stdint.h>

struct lit {
    int32_t s, k;
};
static inline struct lit lit_not(struct lit l) {
    return (struct lit){l.s ^ 1, 1 - l.k};
}
static inline struct lit at_least(int x, int32_t k) {
    return (struct lit){2 * x, k};
}
static inline struct lit at_most(int x, int32_t k) {
    return (struct lit){2 * x + 1, -k};
}

enum reason_kind { BY_CHOICE, BY_CLAUSE, BY_ARC, BY_ARC_OFF, BY_POOL };
struct reason {
    enum reason_kind kind;
    int32_t ref; /* clause, arc, or place in the pool */
};

struct event {
    int32_t s, k, was; /* form, new and old lower bound */
    int32_t before;    /* event that set `was`; -1: bound from the start */
    int32_t level;
    struct reason why;
};

/* While `when` holds (when.s < 0: always): to >= from + min, on signed forms. */
struct learn_arc {
    int32_t from, to, min;
    struct lit when;
};

struct watch {
    int32_t clause;
    struct lit other; /* if this holds the clause needs no look */
};
struct watch_list {
    struct watch *item;
    int32_t n, room;
};

struct learn;

/* A constraint of the caller's: looks at the bounds, calls learn_set with reasons, and returns
 * false on conflict. */
struct propagator {
    bool (*run)(struct learn *e, void *ctx);
    void *ctx;
    bool queued;
};

struct learn {
    int vars_n, level_n;
    int32_t *low;       /* [2 * vars_n] */
    int32_t *last;      /* [2 * vars_n] newest event of each form, -1 */
    int32_t *base;      /* [vars_n] lower bound at the beginning: literals of x are base+1.. */
    int32_t *first_lit; /* [vars_n + 1] place of a variable's literals in the arrays below */
    struct event *trail;
    int32_t trail_n, trail_room, head;
    int32_t *level_at; /* [room] trail_n when a level began */
    int level_room;

    struct learn_arc *arcs;
    int arcs_n, arcs_room;
    int32_t *arc_first;              /* of each form: arcs from it, once sorted */
    int32_t *when_first, *when_item; /* of each form: arcs whose `when` is on it */

    struct propagator *propagators;
    int propagators_n;
    int32_t *wake_first, *wake_item; /* of each variable: propagators that look at it */

    int32_t *clauses; /* one after the other: length, activity, depth, literals */
    int32_t clauses_n, clauses_room;
    struct watch_list *watches; /* of each literal and its negation, by watches_of */
    int32_t *learnt;            /* places of learnt clauses */
    int32_t learnt_n, learnt_room, learnt_most;
    float *order; /* [learnt_room] working memory of learn_reduce */

    struct lit *pool;                   /* explanations: length in .s of the first, then literals */
    int32_t pool_n, pool_room, because; /* because: where the newest begins */

    struct lit *conflict; /* what cannot hold together */
    int32_t conflict_n;
    struct lit *out; /* the clause being learnt, negated */
    int32_t out_n;
    int32_t *need;   /* [trail_room] bound that the analysis needs of an event; INT32_MIN none */
    int32_t *marked; /* events that have a need, or had one */
    int32_t marked_n;
    int32_t *best_of;      /* [2 * vars_n] newest needed event of a form, -1 */
    struct lit *why_stack; /* explanations of a recursion, [why_room] */
    int32_t why_room;
    uint32_t *level_seen, level_stamp;

    float *activity; /* of literals */
    int32_t *heap, *heap_pos, heap_n;
    float bump, clause_bump;
    uint64_t restart_at;
    int restarts;
    int32_t *phase; /* [vars_n] value in the best answer; INT32_MIN none */

    struct arena *arena;
    bool out_of_memory, dead; /* dead: a contradiction without choices */
    uint64_t conflicts;
};

/* Variables with initial bounds low..high; room for arcs and propagators that follow. */
bool learn_make(struct learn *e, int vars, const int32_t *low, const int32_t *high, int arcs_room,
                int propagators_room, struct arena *arena);
void learn_arc(struct learn *e, struct learn_arc arc); /* and its contrapositive */
/* After the last arc. wake: pairs (variable, propagator). */
bool learn_ready(struct learn *e, const int32_t (*wake)[2], int wake_n);

static inline bool learn_holds(const struct learn *e, struct lit l) {
    return e->low[l.s] >= l.k;
}
static inline bool learn_fails(const struct learn *e, struct lit l) {
    return e->low[l.s ^ 1] >= 1 - l.k;
}
static inline int32_t learn_low(const struct learn *e, int x) {
    return e->low[2 * x];
}
static inline int32_t learn_high(const struct learn *e, int x) {
    return -e->low[2 * x + 1];
}

/* Event that made a literal hold that holds now; -1: it held from the start. */
static inline int32_t learn_event_of(const struct learn *e, struct lit l) {
    int32_t i = e->last[l.s];
    while (i >= 0 && e->trail[i].was >= l.k) i = e->trail[i].before;
    return i;
}

/* Reasons of a propagator: begin, add literals that hold, then set or fail. */
void learn_because(struct learn *e);
void learn_and(struct learn *e, struct lit l);
bool learn_set(struct learn *e, struct lit l); /* by the reason just built; false on conflict */
bool learn_fail(struct learn *e);              /* the literals just built cannot hold together */

enum learn_result { LEARN_ANSWER, LEARN_NONE, LEARN_LIMIT };

/* Searches on until all variables below `decide` are fixed (LEARN_ANSWER: bounds are the answer
 * and stay until the next call), or no answer exists, or `conflicts` more have been met, or
 * stop(). Variables without active literals are fixed in order of their lower bound when
 * `in_order`, else only after all active literals. */
enum learn_result learn_search(struct learn *e, int decide, bool in_order, uint64_t conflicts,
                               const struct limit *limit);

/* Takes a bound for good; goes back to the root. false: contradiction. */
bool learn_root(struct learn *e, struct lit l);

#endif
