/* What may go on what: one case for each rule, with the verdict that the trade gives.
 *
 * A case is a sound, clean, tested indoor piece of hard maple in a dark color; the third column
 * says what is otherwise. Every row of data/coat_rules.tsv must be matched by at least one case. */
#include "core/work/coats_rules.h"
#include "core/work/inspection.h"
#include "test/check.h"
#include "test/unit/trade_room.h"

#include <stdlib.h>

struct otherwise {
    struct trade_room r;
    struct facts f;
    const char *clear;
    double lightness;
    int64_t bleed; /* -1: as computed */
    bool natural, top, ours, fresh;
};

static void usual(struct otherwise *o) {
    *o = (struct otherwise){.lightness = 30, .bleed = -1};
    trade_open(&o->r);
    struct piece *p = &o->r.piece;
    p->finish = "lacquer", p->year = 1995, p->wood = "hard_maple", p->knots = YN_NO;
    p->tests.wax_wipe = WIPE_CLEAN, p->tests.tape_removed_frac = 0.02;
    p->tests.moisture_frac = 0.08, p->wanted.color.text = "color";
}

static bool say(struct otherwise *o, const char *word) {
    struct piece *p = &o->r.piece;
    const char *value = strchr(word, '=');
    double number = value ? strtod(value + 1, NULL) : 0;
#define IS(text) (!strcmp(word, text))
#define STARTS(text) (!strncmp(word, text "=", sizeof text))
    if (IS("-")) return true;
    if (IS("wax")) return p->tests.wax_wipe = WIPE_GREASY, true;
    if (IS("wax_unsaid")) return p->tests.wax_wipe = WIPE_UNSAID, true;
    if (IS("tape_unsaid")) return p->tests.tape_removed_frac = NAN, true;
    if (STARTS("tape")) return p->tests.tape_removed_frac = number / 100, true;
    if (STARTS("moisture")) return p->tests.moisture_frac = number / 100, true;
    if (STARTS("L")) return o->lightness = number, true;
    if (STARTS("bleed")) return o->bleed = (int64_t)number, true;
    if (IS("rag=brown")) return p->tests.rag = RAG_BROWN, true;
    if (IS("rag=red")) return p->tests.rag = RAG_RED, true;
    if (IS("dye_lifts")) return p->tests.dye_lifts = YN_YES, true;
    if (IS("patch_failed")) return p->tests.patch = OUTCOME_FAILED, true;
    if (IS("knots")) return p->knots = YN_YES, true;
    if (IS("smoke")) return p->tests.smell = SMELL_SMOKE, true;
    if (IS("urine")) return p->tests.smell = SMELL_URINE, true;
    if (IS("musty")) return p->tests.smell = SMELL_MUSTY, true;
    if (IS("wood=walnut")) return p->wood = "walnut", true;
    if (IS("wood=teak")) return p->wood = "teak", true;
    if (IS("wood=metal")) return p->wood = "metal", true;
    if (IS("pine")) return p->wood = "eastern_white_pine", p->knots = YN_UNSAID, true;
    if (IS("wood=poplar")) return p->wood = "poplar", true;
    if (IS("clear=shellac_clear")) return p->wanted.clear = "shellac_clear", true;
    if (IS("top")) return o->top = true;
    if (IS("kitchen")) return p->place = PLACE_KITCHEN, true;
    if (IS("bath")) return p->place = PLACE_BATH, true;
    if (IS("outdoor")) return p->place = PLACE_OUTDOOR, true;
    if (IS("child")) return p->child = YN_YES, true;
    if (IS("chest")) return p->template = "chest", true;
    if (IS("table")) return p->template = "dining_table", true;
    if (IS("spray")) return p->wanted.method = "hvlp", true;
    if (IS("ours")) return o->ours = true;
    if (IS("fresh")) return o->fresh = true;
    if (IS("natural")) return o->natural = true;
    if (IS("two_part")) {
        static const struct paint two = {
            .id = "2k", .class = "wb_enamel", .label_pot_life_min = 240, .label_recoat_min = NAN};
        static const struct shelf shelf = {.paints = (struct paint *)&two, .paints_n = 1};
        o->r.room.shelf = &shelf;
        return p->wanted.product = "2k", true;
    }
    return false;
}

static struct judgment judged(struct otherwise *o, const char *under, const char *over) {
    struct inspection in;
    CHECK(inspection_make(&o->r.room, &in, NULL) == OK);
    if (o->bleed >= 0) in.bleed_score = o->bleed;
    struct facts f;
    fact_make(&o->r.room, &in, &f);
    f.lightness = o->lightness, f.top_surface = o->top, f.ours = o->ours;
    f.treatment = o->natural ? TREAT_CLEAR : TREAT_PAINT;
    f.dry_min = o->fresh ? 1440 : NAN;
    return coats_judge(&f, under, over);
}

static bool rule_in(const struct judgment *j, const char *id) {
    for (size_t i = 0; i < j->rules_n; i++)
        if (!strcmp(j->rules[i]->id, id)) return true;
    return false;
}

static bool seen[2000];

static void mark_seen(const struct judgment *j) {
    for (size_t i = 0; i < j->rules_n; i++) seen[j->rules[i] - tables_builtin.coat_rules] = true;
}

static void case_row(char *line) {
    char *field[6] = {0};
    int n = 0;
    for (char *at = line; n < 6 && at; n++) {
        field[n] = at;
        at = strpbrk(at, "\t\n");
        if (at) *at++ = '\0';
    }
    CASE(field[4] ? field[4] : "a row without six columns") {
        struct otherwise o;
        usual(&o);
        CHECK(n == 6 && field[5] && *field[5]);
        for (char *w = strtok(field[2], " "); w; w = strtok(NULL, " ")) CHECK(say(&o, w));
        struct judgment j = judged(&o, field[0], field[1]);
        CHECK(j.verdict == verdict_named(field[3]));
        CHECK(rule_in(&j, field[4]));
        if (j.verdict != verdict_named(field[3]))
            printf("  %s on %s: decided by %s\n", field[1], field[0], j.rule ? j.rule->id : "none");
        mark_seen(&j);
        trade_close(&o.r);
    }
    check_close();
}

/* Every usual coat on every usual ground of a sound, clean, tested piece, printed as a table: what
 * the rules say of all pairs, so that no pair is found out in the shop. */
static void matrix(void) {
    static const char *const grounds[] = {"bare",        "shellac",     "lacquer",  "oil_varnish",
                                          "alkyd_paint", "latex_paint", "wb_clear", "chalk_paint",
                                          "milk_paint",  "laminate",    "oil",      "wax",
                                          "mdf",         "metal",       "paint",    "unknown"};
    static const char *const overs[] = {"shellac_clear", "wb_primer", "alkyd_primer", "chalk",
                                        "milk",          "wb_enamel", "alkyd_enamel", "wb_clear",
                                        "oil_clear",     "lacquer",   "wax"};
    static const char letters[] = "?YSWX?"; /* as the published tables: yes, prepare, wait, never */
    CASE("every usual coat on every usual ground has a verdict, a reason and a source") {
        struct otherwise o;
        usual(&o);
        printf("%-12s", "");
        for (size_t k = 0; k < sizeof overs / sizeof *overs; k++) printf(" %.6s", overs[k]);
        puts("");
        for (size_t i = 0; i < sizeof grounds / sizeof *grounds; i++) {
            printf("%-12s", grounds[i]);
            for (size_t k = 0; k < sizeof overs / sizeof *overs; k++) {
                struct judgment j = judged(&o, grounds[i], overs[k]);
                CHECK(j.verdict != VERDICT_UNKNOWN && j.rule);
                CHECK(j.rule && *j.rule->text && *j.rule->source);
                CHECK(j.verdict != VERDICT_NEVER || *j.rule->remedy || j.cure);
                if (j.verdict == VERDICT_UNKNOWN) printf("  %s on %s\n", overs[k], grounds[i]);
                printf(" %-6c", letters[j.verdict]);
            }
            puts("");
        }
        trade_close(&o.r);
    }
    check_close();
}

int main(int argc, char **argv) {
    FILE *f = argc > 1 ? fopen(argv[1], "r") : NULL;
    char line[512];
    if (!f) return puts("usage: test_coats TSV"), 1;
    while (fgets(line, sizeof line, f))
        if (*line != '#') case_row(line);
    fclose(f);
    matrix();
    CASE("every rule is matched by at least one case") {
        for (size_t i = 0; i < tables_builtin.coat_rules_n; i++) {
            CHECK(seen[i]);
            if (!seen[i]) printf("  %s\n", tables_builtin.coat_rules[i].id);
        }
    }
    CASE("a pair of which no rule speaks is UNKNOWN, never fine") {
        struct otherwise o;
        usual(&o);
        struct judgment j = judged(&o, "glass", "none");
        CHECK(j.verdict == VERDICT_UNKNOWN && !j.rule);
        trade_close(&o.r);
    }
    return check_done();
}
