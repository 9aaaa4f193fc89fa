/* Whole jobs drawn at random, planned, and judged by the rows alone: hours, people, drying, floor,
 * booth, dates and waits, windows and what is paid for them. Nothing of core/work/day_*.c is used.
 * The rules are common practice (docs/decisions/0012); the tables give times and layers. */
#include "app/op_plan.h"
#include "codec/job_desc.h"
#include "core/base/random.h"
#include "test/check.h"

#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { DAY = 1440, MONDAY = 20731 /* 2026-10-05 */, NOW = MONDAY * DAY + 6 * 60, PIECES_MAX = 4 };

static struct arena arena;
static struct plan_answer answer;
static struct why why;
static struct job job;
static struct random rnd;
static char doc[16384];
static size_t doc_n;
static int64_t now_min;
static uint64_t seed;

/* ---- a job ---- */

static int below(int n) {
    return (int)random_below(&rnd, (uint32_t)n);
}

static const char *one_of(const char *const *words) {
    int n = 0;
    while (words[n]) n++;
    return words[below(n)];
}

__attribute__((format(printf, 1, 2))) static void add(const char *format, ...) {
    va_list list;
    va_start(list, format);
    doc_n += (size_t)vsnprintf(doc + doc_n, sizeof doc - doc_n, format, list);
    va_end(list);
}

static void shop_draw(void) {
    add("'shop':{'zone':'UTC','night_temperature':'%d °C','day_temperature':'21 °C'",
        14 + below(8));
    if (below(2)) add(",'drying_area':'%d.%d m2'", 1 + below(3), below(10));
    if (below(3) == 0) add(",'booth':true");
    if (below(3) == 0) add(",'sand_apart':true");
    if (below(3) == 0) add(",'within_windows':true");
    if (below(2)) add(",'tools':['hvlp','brush','foam_roller']");
    if (below(3) == 0)
        add(",'hours':[{'day':'weekdays','open':'8:00 am','close':'12:00 pm'},"
            "{'day':'weekdays','open':'1:00 pm','close':'5:00 pm'}]");
    if (below(3) == 0) add(",'days_off':['2026-10-%02d']", 6 + below(20));
    if (below(3) == 0)
        add(",'crew':[{'id':'ann','name':'Ann'%s},{'id':'ben','name':'Ben'%s}]",
            below(2) ? ",'only':['color','clear','primer']" : "",
            below(2) ? ",'days_off':['2026-10-08']" : "");
    else if (below(3) == 0)
        add(",'people':%d", 2 + below(2));
    add("}");
}

static void piece_draw(int i) {
    static const char *const what[] = {"nightstand", "kitchen_doors", "bookcase",
                                       "side_table", "blanket_chest", NULL};
    static const char *const finish[] = {"lacquer", "latex_paint", "oil_varnish", NULL};
    static const char *const paint[] = {"white", "oil", "clay", "two", NULL};
    static const char *const top[] = {"natural", "waxed", "stained", "oiled", NULL};
    static const char *const smell[] = {"musty", "urine", "smoke", NULL};
    add("%s{'id':'p%d','title':'Piece %d','template':'%s','width':'%d in','depth':'16 in',"
        "'height':'28 in','finish':'%s','year':1995,'wood':'hard_maple'",
        i ? "," : "", i, i, one_of(what), 18 + below(20), one_of(finish));
    if (below(3) == 0) add(",'doors':%d", 1 + below(3));
    if (below(3) == 0) add(",'drawers':%d", 1 + below(4));
    if (below(4) == 0) add(",'place':'kitchen'");
    if (below(4) == 0) add(",'tests':{'smell':'%s'}", one_of(smell));
    add(",'wanted':{'color':'%s'", below(3) ? "#f4f2ec" : below(2) ? "#7f8c8d" : "#2a2a2a");
    if (below(3)) add(",'product':'%s'", one_of(paint));
    if (below(4) == 0) add(",'method':'hvlp'");
    if (below(3) == 0) add(",'top':'%s'", one_of(top));
    if (below(4) == 0) add(",'clear':'%s'", below(2) ? "oil_clear" : "wb_clear");
    add("},'agreement':{'purpose':'sale'");
    if (below(2)) add(",'due':'2026-10-%02d','due_weight':%d", 10 + below(20), 1 + below(9));
    if (below(3) == 0) add(",'arrives':'2026-10-%02d'", 6 + below(4));
    add("}");
    if (below(4) == 0) add(",'waits':[{'kind':'client','until':'2026-10-%02d'}]", 7 + below(8));
    add("}");
}

static void job_draw(void) {
    doc_n = 0;
    add("{'format':'coatwright-job','version':1,");
    shop_draw();
    add(",'shelf':{'paints':["
        "{'id':'white','name':'White','class':'wb_enamel','color':'#f4f2ec','stock':'5 L'},"
        "{'id':'black','name':'Black','class':'wb_enamel','color':'#202020','stock':'2 L'},"
        "{'id':'oil','name':'Oil white','class':'alkyd_enamel','color':'#f0eee6','stock':'5 L'},"
        "{'id':'clay','name':'Clay','class':'chalk','color':'#e9e4d8','stock':'5 L'},"
        "{'id':'two','name':'Two-part','class':'wb_enamel','color':'#f4f2ec','stock':'5 L',"
        "'label_pot_life':'3 h'}]},'pieces':[");
    int n = 1 + below(PIECES_MAX);
    for (int i = 0; i < n; i++) piece_draw(i);
    add("]}");
    for (char *c = doc; *c; c++)
        if (*c == '\'') *c = '"';
}

/* ---- what was promised, begun and done ---- */

enum { KEPT_MAX = 600 };
static struct task_kept kept[KEPT_MAX];
static char kept_words[KEPT_MAX][3][80];
static size_t kept_n;

/* Accepts the days; what lies before `until` is done as planned, or a little later. */
static void time_passes(int64_t until) {
    const struct days *d = &answer.plan.days;
    kept_n = 0;
    for (size_t i = 0; i < d->n && i < KEPT_MAX; i++) {
        const struct day_task *t = &d->rows[i];
        int64_t late = below(4) ? 0 : below(90);
        bool begun = t->start_utc_min + late <= until, done = t->end_utc_min + late <= until;
        snprintf(kept_words[i][0], sizeof kept_words[i][0], "%s", t->piece);
        snprintf(kept_words[i][1], sizeof kept_words[i][1], "%s", t->id);
        snprintf(kept_words[i][2], sizeof kept_words[i][2], "%s", t->who ? t->who : "");
        kept[kept_n++] =
            (struct task_kept){.piece = kept_words[i][0],
                               .id = kept_words[i][1],
                               .begun_utc_min = begun ? t->start_utc_min + late : INT64_MIN,
                               .done_utc_min = done ? t->end_utc_min + late : INT64_MIN,
                               .start_utc_min = t->start_utc_min,
                               .end_utc_min = t->end_utc_min,
                               .not_before_utc_min = INT64_MIN,
                               .person = t->who ? kept_words[i][2] : NULL};
    }
    now_min = until;
}

static enum status plan(void) {
    arena_free(&arena);
    arena_init(&arena, alloc_heap(), 0);
    why = (struct why){0};
    struct plan_ask ask = {
        .now_utc_min = now_min, .kept = kept, .kept_n = kept_n, .limit.steps = 8, .recipes_of = ""};
    enum status s = document_read(&desc_job, SPELL_INPUT, doc, doc_n, &arena, &job, &why);
    return s ? s : plan_of_job(&tables_builtin, &job, &ask, &arena, &answer, &why);
}

/* ---- the judge ---- */

static int wrong_n;
static void wrong(const struct day_task *t, const char *what) {
    if (wrong_n++ < 5)
        printf("  seed %llu, %s %s: %s\n", (unsigned long long)seed, t->piece, t->id, what);
}

static const struct task_kept *kept_of(const struct day_task *t) {
    for (size_t i = 0; i < kept_n; i++)
        if (!strcmp(kept[i].id, t->id) && !strcmp(kept[i].piece, t->piece)) return &kept[i];
    return NULL;
}
static bool stands(const struct day_task *t) {
    const struct task_kept *k = kept_of(t);
    return k && k->begun_utc_min != INT64_MIN;
}

static const struct piece_plan *piece_of(const struct day_task *t) {
    for (size_t i = 0; i < answer.plan.pieces_n; i++)
        if (!strcmp(answer.plan.pieces[i].id, t->piece)) return &answer.plan.pieces[i];
    return NULL;
}

/* The row of the coat that a task lays on or prepares, and which of its coats: the id is that of
 * the row with "-coat2" and "-back" where there are several. */
static const struct coat *coat_of(const struct day_task *t, int *nth, bool *back) {
    const struct piece_plan *p = piece_of(t);
    for (size_t i = 0; p && i < p->coats.n; i++) {
        const struct coat *k = &p->coats.rows[i];
        size_t n = strlen(k->id);
        if (strncmp(t->id, k->id, n)) continue;
        const char *rest = t->id + n;
        *nth = 1;
        if (!strncmp(rest, "-coat", 5)) *nth = (int)strtol(rest + 5, (char **)&rest, 10);
        *back = !strcmp(rest, "-back");
        if (!*rest || *back) return k;
    }
    return NULL;
}

static bool films(const struct coat *k) {
    return k->role != ROLE_STRIP && k->role != ROLE_SCUFF && !isnan(k->recoat_min) &&
           k->film_um > 0;
}

/* Is the shop, or that one, at work in this whole minute? */
static bool open_at(const struct day_task *t, int64_t at) {
    const struct shop *s = &answer.plan.shop;
    int64_t day = at / DAY, minute = at % DAY, weekday = (day + 3) % 7; /* 1970-01-01: Thursday */
    for (size_t i = 0; i < s->days_off_n; i++)
        if (s->days_off[i] == day) return false;
    for (size_t i = 0; t->person && i < s->crew_n; i++)
        for (size_t k = 0; !strcmp(s->crew[i].name, t->person) && k < s->crew[i].days_off_n; k++)
            if (s->crew[i].days_off[k] == day) return false;
    for (size_t i = 0; i < s->hours_n; i++) {
        const struct shop_hours *h = &s->hours[i];
        bool on = h->day == DAILY || (h->day == WEEKDAYS && weekday < 5) ||
                  (int64_t)h->day - MON == weekday;
        if (on && minute >= h->open_min && minute < h->close_min) return true;
    }
    return false;
}

/* Minutes of the block in which hands were on it, and whether a closed one lies between. */
static int64_t open_minutes(const struct day_task *t, int64_t from, int64_t to) {
    int64_t n = 0;
    for (int64_t at = from; at < to; at++) n += open_at(t, at);
    return n;
}

static void judge_hours(const struct day_task *t) {
    int64_t from = t->start_utc_min - (int64_t)t->setup_min,
            to = t->end_utc_min + (int64_t)t->cleanup_min;
    if (stands(t)) return;
    if (t->start_utc_min < now_min) wrong(t, "begins in the past");
    if (t->end_utc_min == t->start_utc_min) return;
    int64_t open = open_minutes(t, from, to);
    if (!t->pauses && open < to - from) wrong(t, "goes on while the shop is closed");
    if (t->pauses && (!open_at(t, t->start_utc_min) || !open_at(t, t->end_utc_min - 1)))
        wrong(t, "begins or ends while the shop is closed");
    if ((double)open < t->hands_min - t->saved_min + t->extra_min - 60 && t->saved_min == 0 &&
        t->setup_min + t->cleanup_min > 0)
        wrong(t, "has less time than it takes");
}

/* No more at work than there are; nobody at two things. What stands is as it was. */
static void judge_people(void) {
    const struct days *d = &answer.plan.days;
    const struct shop *s = &answer.plan.shop;
    int64_t people = s->crew_n ? (int64_t)s->crew_n : s->people > 0 ? s->people : 1;
    for (size_t i = 0; i < d->n; i++) {
        const struct day_task *t = &d->rows[i];
        int64_t at = t->start_utc_min - (int64_t)t->setup_min, busy = 0, same = 0;
        if (stands(t) || t->end_utc_min == t->start_utc_min) continue;
        for (size_t k = 0; k < d->n; k++) {
            const struct day_task *o = &d->rows[k];
            bool over = o->start_utc_min - (int64_t)o->setup_min <= at &&
                        at < o->end_utc_min + (int64_t)o->cleanup_min && !stands(o);
            busy += over;
            same += over && t->person && o->person && !strcmp(t->person, o->person);
        }
        if (busy > people || same > 1) wrong(t, "more hands than there are");
    }
}

/* The next coat of a group, on the same side, not before the one below may be gone over. Nights
 * are not warmer than days here, so drying takes at least the time that the coat's row says. */
static void judge_drying(const struct day_task *t) {
    const struct days *d = &answer.plan.days;
    int nth, other_nth;
    bool back, other_back;
    const struct coat *k = coat_of(t, &nth, &back);
    const struct task_kept *was = kept_of(t);
    if (!k || !films(k) || !k->group) return;
    /* done late, and what follows may have been begun before it was dry: nobody asked */
    if (stands(t) && was->done_utc_min != was->end_utc_min) return;
    for (size_t i = 0; i < d->n; i++) {
        const struct day_task *o = &d->rows[i];
        const struct coat *next =
            strcmp(o->piece, t->piece) ? NULL : coat_of(o, &other_nth, &other_back);
        if (!next || !next->group || strcmp(next->group, k->group) || stands(o)) continue;
        bool above = next > k || (next == k && other_nth > nth);
        bool turned = next == k && other_nth == nth && back && !other_back;
        if (above && back == other_back &&
            o->start_utc_min < t->end_utc_min + (int64_t)k->recoat_min)
            wrong(o, "goes on before the coat below is dry");
        if (turned && o->start_utc_min < t->end_utc_min + (int64_t)k->touch_min)
            wrong(o, "is turned while it is wet");
    }
}

/* A window that is missed is paid for. */
static void judge_window(const struct day_task *t) {
    const struct days *d = &answer.plan.days;
    int nth, other_nth;
    bool back, other_back;
    const struct coat *k = coat_of(t, &nth, &back);
    if (!k || t->window_end_utc_min == INT64_MIN) return;
    for (size_t i = 0; i < d->n; i++) {
        const struct day_task *o = &d->rows[i];
        const struct coat *next =
            strcmp(o->piece, t->piece) ? NULL : coat_of(o, &other_nth, &other_back);
        if (next != k || other_nth != nth + 1 || other_back != back || stands(o)) continue;
        if (o->start_utc_min > t->window_end_utc_min && !(o->extra_min > 0))
            wrong(o, "misses a window and pays nothing");
    }
}

static void judge_dates(const struct day_task *t) {
    const struct piece_plan *p = piece_of(t);
    if (!p || stands(t)) return;
    if (p->piece.agreement.arrives_day != INT64_MIN &&
        t->start_utc_min < p->piece.agreement.arrives_day * DAY)
        wrong(t, "is worked on before it has arrived");
    for (size_t i = 0; i < p->piece.waits_n; i++)
        if (!strcmp(t->operation, "color") && t->start_utc_min < p->piece.waits[i].until_day * DAY)
            wrong(t, "does not wait for the client's yes");
}

/* ---- room ---- */

static int64_t layers_of(const struct piece_plan *p, const struct surface_group *g) {
    int64_t parts = 0, bears = INT64_MAX;
    for (size_t i = g->first; i < g->first + g->n; i++)
        if (p->surfaces.rows[i].coated_m2 > 0 || p->surfaces.rows[i].clear_m2 > 0)
            parts += p->surfaces.rows[i].part.count;
    for (size_t i = 0; i < p->coats.n; i++) {
        const struct coat *k = &p->coats.rows[i];
        if (!films(k) || (k->group && strcmp(k->group, g->id))) continue;
        int64_t row = 1;
        for (size_t c = 0; c < tables_builtin.product_classes_n; c++)
            if (k->class && !strcmp(tables_builtin.product_classes[c].id, k->class))
                row = !strcmp(tables_builtin.product_classes[c].cure, "evaporates") ? 4 : 3;
        if (row < bears) bears = row;
    }
    return !g->lies_flat ? 1 : parts < bears ? parts : bears;
}

static bool is_of(const struct day_task *t, const struct piece_plan *p, const char *group) {
    int nth;
    bool back;
    const struct coat *k = strcmp(t->piece, p->id) ? NULL : coat_of(t, &nth, &back);
    return k && films(k) && (!k->group || !strcmp(k->group, group));
}

static int64_t dry_at(const struct day_task *t) {
    return t->dry_until_utc_min > t->end_utc_min ? t->dry_until_utc_min : t->end_utc_min;
}

static const struct day_task *smell_test_of(const struct piece_plan *p) {
    for (size_t i = 0; i < answer.plan.days.n; i++) {
        const struct day_task *t = &answer.plan.days.rows[i];
        if (!strcmp(t->piece, p->id) && !strcmp(t->operation, "smell_test")) return t;
    }
    return NULL;
}

/* Floor in dm2 that a group takes at a moment: nothing before its first film, after its last is dry
 * to handle, and while the piece stands together to be smelt; its stack's while every film on it
 * is hard; all of it else. */
static double floor_at(const struct piece_plan *p, const struct surface_group *g, int64_t at,
                       bool stacks) {
    const struct days *d = &answer.plan.days;
    const struct day_task *last = NULL, *final = NULL, *test = smell_test_of(p);
    for (size_t i = 0; i < d->n; i++) {
        const struct day_task *t = &d->rows[i];
        if (!is_of(t, p, g->id)) continue;
        if (t->start_utc_min <= at) last = t;
        final = t;
    }
    double full = ceil(g->floor_m2 * 100);
    if (!last || !final) return 0;
    bool to_smell = test && last->start_utc_min < test->start_utc_min;
    if ((last == final || to_smell) && at >= dry_at(last)) return 0;
    bool hard = stacks && last->stack_utc_min != INT64_MIN && at >= last->stack_utc_min;
    return hard ? ceil(full / (double)layers_of(p, g)) : full;
}

static int stacked_n;
static void judge_room(void) {
    const struct plan *plan = &answer.plan;
    double floor = plan->shop.drying_area_m2 * 100;
    for (size_t i = 0; i < plan->days.n; i++) {
        int64_t at = plan->days.rows[i].start_utc_min;
        double taken = 0, flat = 0;
        bool all_fit = true, asked = false;
        for (size_t p = 0; p < plan->pieces_n; p++)
            for (size_t g = 0; g < plan->pieces[p].surfaces.groups_n; g++) {
                const struct surface_group *of = &plan->pieces[p].surfaces.groups[g];
                if (!(of->floor_m2 > 0) || plan->pieces[p].hazards.refused) continue;
                all_fit = all_fit && of->floor_m2 * 100 <= floor;
                asked = asked || is_of(&plan->days.rows[i], &plan->pieces[p], of->id);
                taken += floor_at(&plan->pieces[p], of, at, true);
                flat += floor_at(&plan->pieces[p], of, at, false);
            }
        if (!all_fit || stands(&plan->days.rows[i])) continue;
        if (asked && taken > floor) wrong(&plan->days.rows[i], "no floor left to dry on");
        stacked_n += asked && flat > floor && taken <= floor;
    }
}

static void judge_booth(void) {
    const struct days *d = &answer.plan.days;
    int nth;
    bool back;
    if (answer.plan.shop.booth != YN_YES) return;
    for (size_t i = 0; i < d->n; i++) {
        const struct day_task *a = &d->rows[i];
        const struct coat *k = coat_of(a, &nth, &back);
        if (!k || !films(k) || !k->tool || strcmp(k->tool, "hvlp")) continue;
        for (size_t j = 0; j < d->n; j++) {
            const struct day_task *b = &d->rows[j];
            const struct coat *o = coat_of(b, &nth, &back);
            if (i == j || !o || !films(o) || !o->tool || strcmp(o->tool, "hvlp") || stands(b))
                continue;
            if (b->start_utc_min >= a->start_utc_min &&
                b->start_utc_min < a->end_utc_min + (int64_t)k->touch_min)
                wrong(b, "is sprayed while the booth is taken");
        }
    }
}

static bool makes_dust(const struct day_task *t) {
    for (size_t i = 0; t->operation && i < tables_builtin.operations_n; i++)
        if (!strcmp(tables_builtin.operations[i].id, t->operation))
            return tables_builtin.operations[i].grit > 0;
    return false;
}

/* No dust beside what is not yet dry to touch, but where sanding has a room of its own. */
static void judge_air(void) {
    const struct days *d = &answer.plan.days;
    int nth;
    bool back;
    if (answer.plan.shop.sand_apart == YN_YES) return;
    for (size_t i = 0; i < d->n; i++) {
        const struct day_task *film = &d->rows[i];
        const struct coat *k = coat_of(film, &nth, &back);
        if (!k || !films(k)) continue;
        for (size_t j = 0; j < d->n; j++) {
            const struct day_task *dust = &d->rows[j];
            if (!makes_dust(dust) || (stands(film) && stands(dust))) continue;
            int64_t wet = film->end_utc_min + (stands(film) ? 0 : (int64_t)k->touch_min);
            if (dust->start_utc_min < wet && film->start_utc_min < dust->end_utc_min)
                wrong(dust, "makes dust beside a wet film");
        }
    }
}

static void judge(void) {
    const struct days *d = &answer.plan.days;
    for (size_t i = 0; i < d->n; i++) {
        const struct day_task *t = &d->rows[i];
        for (size_t k = i + 1; k < d->n; k++)
            if (!strcmp(d->rows[k].id, t->id) && !strcmp(d->rows[k].piece, t->piece))
                wrong(t, "stands there twice");
        judge_hours(t);
        judge_drying(t);
        judge_window(t);
        judge_dates(t);
    }
    judge_people();
    judge_room();
    judge_booth();
    judge_air();
}

/* ---- seeds ---- */

static int unmoved(void) {
    int moved = 0;
    for (size_t i = 0; i < answer.plan.days.n; i++) {
        const struct day_task *t = &answer.plan.days.rows[i];
        const struct task_kept *k = kept_of(t);
        moved += !k || k->start_utc_min != t->start_utc_min;
    }
    return moved;
}

/* One task cannot go on for a day or two: it waits, and pieces that have nothing to do with it
 * mostly stay where they were. Adds to the tasks of other pieces, and how many of them moved. */
static void slip(int *others, int *others_moved) {
    if (!kept_n) return;
    size_t at = (size_t)below((int)kept_n);
    struct task_kept *late = &kept[at];
    late->not_before_utc_min = late->start_utc_min + DAY + below(DAY);
    enum status s = plan();
    if (s) printf("  seed %llu: %s %s\n", (unsigned long long)seed, why.field, why.text);
    CHECK(s == OK);
    if (s) return;
    judge();
    for (size_t i = 0; i < answer.plan.days.n; i++) {
        const struct day_task *t = &answer.plan.days.rows[i];
        const struct task_kept *k = kept_of(t);
        if (k == late && t->start_utc_min < late->not_before_utc_min)
            wrong(t, "goes on before it can");
        if (!strcmp(t->piece, late->piece)) continue;
        *others += 1;
        *others_moved += k && k->start_utc_min != t->start_utc_min;
    }
    late->not_before_utc_min = INT64_MIN;
}

static void seeds(uint64_t from, uint64_t to) {
    int planned = 0, impossible = 0, replanned = 0, others = 0, others_moved = 0;
    for (seed = from; seed < to; seed++) {
        random_seed(&rnd, seed);
        kept_n = 0;
        now_min = NOW;
        job_draw();
        enum status s = plan();
        bool ours = strstr(why.text, "wait for each other"); /* rules of the trade, not facts */
        if (!ours && (s == E_DOMAIN || s == E_IMPOSSIBLE)) { /* due before it comes, nobody there */
            impossible++;
            continue;
        }
        if (s)
            printf("  seed %llu: %s %s\n%s\n", (unsigned long long)seed, why.field, why.text, doc);
        CHECK(s == OK);
        if (s) continue;
        planned++;
        judge();
        time_passes(NOW);
        CHECK(plan() == OK);
        int moved = unmoved();
        if (moved)
            printf("  seed %llu: %d move though nothing happened\n", (unsigned long long)seed,
                   moved);
        CHECK(moved == 0);
        slip(&others, &others_moved);
        time_passes(NOW + below(12 * DAY));
        s = plan();
        if (s) printf("  seed %llu: %s %s\n", (unsigned long long)seed, why.field, why.text);
        CHECK(s == OK);
        if (s) continue;
        replanned++;
        judge();
    }
    printf("%d planned, %d planned again, %d impossible; %d coats found room only by stacking\n",
           planned, replanned, impossible, stacked_n);
    printf("after a slip %d of %d tasks of other pieces move\n", others_moved, others);
    CHECK(others_moved * 10 < others);
    CHECK(planned > impossible && replanned > 0);
    CHECK(wrong_n == 0);
}

int main(int argc, char **argv) {
    uint64_t from = argc > 2 ? strtoull(argv[1], NULL, 10) : 0,
             to = argc > 2 ? strtoull(argv[2], NULL, 10) : 120;
    CASE("random jobs, planned and planned again, break no rule") {
        seeds(from, to);
        CHECK(argc > 2 || stacked_n > 0);
    }
    arena_free(&arena);
    return check_done();
}
