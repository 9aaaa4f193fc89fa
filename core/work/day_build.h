/* Inside of the timetable's tasks: what the files day_*.c share while they build those of a piece.
 */
#ifndef CORE_WORK_DAY_BUILD_H
#define CORE_WORK_DAY_BUILD_H

#include "core/work/day_tasks.h"

struct day_build {
    const struct tables *t;
    const struct plan *plan;
    const struct plan_options *o;
    struct ledger *l;
    const struct day_ask *ask;
    struct day_tasks *out;
    size_t piece; /* at hand */
    size_t turn;  /* which in the days' order it is */
};

/* The piece of n whose turn it is: job order, but the first comes after as many as the options say,
 * at the latest behind all. */
static inline size_t day_piece_in_turn(const struct plan_options *o, size_t n, size_t turn) {
    size_t first = o->first_turn < n ? o->first_turn : n - 1;
    return turn < first ? turn + 1 : turn == first ? 0 : turn;
}

/* Where a chain of work stands: its last task and what must pass before the next. */
struct day_chain {
    const char *group;
    int last; /* TIMETABLE_NONE: nothing yet */
    double wait_min, until_min;
    const char *film;        /* class of the film whose drying the wait is; NULL: a clock */
    const struct coat *coat; /* last film, for handling and cure */
    int coat_task, first_coat_task;
    int back; /* task of the last film's back, where both sides are coated; TIMETABLE_NONE */
};

static inline const struct piece_plan *day_piece(const struct day_build *b) {
    return &b->plan->pieces[b->piece];
}

/* ---- day_tasks.c: TIMETABLE_NONE without memory */
int day_task_add(struct day_build *b, struct day_meta meta, bool pausable);
int day_lag_add(struct day_build *b, struct timetable_lag lag);
/* `to` not before wait_min after the end of `from`. */
struct timetable_lag day_after(int from, int to, double wait_min, int climate);
/* Is it the seal against a smell, or a film that lies under it, as stain does? The seal is what
 * barrier lies below all color of its parts. */
bool day_in_seal(const struct day_build *b, const struct coat *film);
/* The smell test that proves the seal when it is dry and before anything goes on it; NULL: none. */
const struct work_step *day_seal_test(const struct day_build *b);
/* Row of the climates for a class of product and stage; TIMETABLE_NONE: by the clock. */
int day_climate_of(struct day_build *b, const char *class, bool hardening);
/* A task whose operation a hazard blocks waits for the result from outside. */
void day_gate(struct day_build *b, int task, const char *operation);
/* Gives a lag from a film to the next one its recoat window, and what missing it costs: scuffing
 * that share of the next coat's area, in the place of what is rubbed there between coats. */
void day_window(const struct day_build *b, struct timetable_lag *lag, double until_min,
                const struct coat *next, double share);
/* The next task of a chain, after what the last one asks for. next: the film that it lays on, or
 * NULL; a recoat window is an edge only for a film that follows directly: whatever is sanded first
 * needs no window. */
void day_chain_follow(struct day_build *b, struct day_chain *c, int task, const struct coat *next);

/* ---- day_coats.c */
bool day_is_film(enum coat_role r);
/* Every coat of the piece, each group in a chain of its own. cleaning: what comes before the
 * repairs, washing and stripping; else all that follows. */
void day_coats(struct day_build *b, struct day_chain *chains, size_t n, bool cleaning);

/* ---- day_air.c: no dust beside wet film */
void day_air(struct day_build *b, const struct day_chain *chains, size_t n, size_t first_task);

/* ---- day_room.c: what drying takes of floor, booth and air */
void day_hold_add(struct day_build *b, struct timetable_hold hold);
/* Is there not room for everything side by side? Else nobody need stack anything. */
bool day_crowded(const struct day_build *b);
/* A lag beside that of the task's drying, over after `min` already; TIMETABLE_NONE: there is none,
 * or it is not over sooner. */
int day_sooner_lag(struct day_build *b, int task, double min);
void day_room(struct day_build *b, const struct day_chain *chains, size_t n, size_t first_task);

/* ---- day_color.c: what must be there before a coat can go on */
/* The whole system on a board of this wood: color coats wait until it has dried and passed. */
void day_test_board(struct day_build *b, const struct day_chain *start, size_t first_task);
/* A color that is mixed is seen dry on a card before the batch is made; what lives only so long in
 * the pot is mixed for its coats. */
void day_mixing(struct day_build *b, size_t first_task);

/* Color coats of a piece that is painted from another one's batch wait for that. When the tasks of
 * all pieces are there. */
void day_batch_shared(struct day_build *b);

/* ---- day_check.c */
/* What goes on as a coat: its class (NULL: none), its name on the shelf or that of the class, and
 * the lowest temperature at which it may, by its label before its class; NAN: unknown. */
struct day_coating {
    const struct product_classes_row *class;
    const char *name;
    double lowest_degc;
};
struct day_coating day_coating_of(const struct tables *t, const struct shelf *shelf,
                                  const struct coat *k);
/* Said once, however many coats it holds for. text NULL: nothing. */
void day_mind(struct ledger *l, struct notices *out, const char *topic, const char *text,
              const char *remedy);

/* ---- day_sample.c */
/* Batch and color coats of a client's piece wait until the sample is signed. */
void day_sample(struct day_build *b);

#endif
