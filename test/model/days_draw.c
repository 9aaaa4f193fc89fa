/* Jobs drawn at random, planned, and what time does to them. */
#include "test/model/days_model.h"

#include "codec/job_desc.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

struct arena arena;
struct plan_answer answer;
struct why why;
struct random rnd;
char doc[16384];
int64_t now_min;
uint64_t seed;
struct task_kept kept[KEPT_MAX];
size_t kept_n;
static struct job job;
static char kept_words[KEPT_MAX][3][80];
static size_t doc_n;

/* ---- a job ---- */

int below(int n) {
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

void job_draw(void) {
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

void time_passes(int64_t until) {
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

enum status plan(void) {
    arena_free(&arena);
    arena_init(&arena, alloc_heap(), 0);
    why = (struct why){0};
    struct plan_ask ask = {
        .now_utc_min = now_min, .kept = kept, .kept_n = kept_n, .limit.steps = 8, .recipes_of = ""};
    enum status s = document_read(&desc_job, SPELL_INPUT, doc, doc_n, &arena, &job, &why);
    return s ? s : plan_of_job(&tables_builtin, &job, &ask, &arena, &answer, &why);
}
