#include "core/work/coats_rules.h"
#include "test/check.h"
#include "test/unit/trade_room.h"

static const struct tables *const t = &tables_builtin;

static bool source_known(const char *cell) {
    for (size_t i = 0; i < t->sources_n; i++) {
        size_t n = strlen(t->sources[i].id);
        if (!strncmp(cell, t->sources[i].id, n) && (!cell[n] || strchr(",; ", cell[n])))
            return true;
    }
    return false;
}

static bool under_known(const char *u) {
    return material_of(t, u) || strstr("any film opaque", u) != NULL;
}

static bool over_known(const char *o) {
    return coat_kind_of(t, o) || strstr("any none barrier primer color clear last", o) != NULL;
}

static void table_cases(void) {
    CASE("every rule's ground, coat, facts, verdict, preparation and source are known") {
        for (size_t i = 0; i < t->coat_rules_n; i++) {
            const struct coat_rules_row *r = &t->coat_rules[i];
            unsigned bits;
            bool good = under_known(r->under) && over_known(r->over) && fact_known(r->when) &&
                        verdict_named(r->verdict) != VERDICT_UNKNOWN &&
                        prep_parse(r->prep, &bits) && source_known(r->source) &&
                        certainty_of(r->certainty) != CERTAINTY_UNSAID;
            CHECK(good);
            if (!good) printf("  row %s\n", r->id);
        }
        CHECK(t->coat_rules_n >= 90);
    }
    CASE("no two rules of equal rank contradict") {
        for (size_t i = 0; i < t->coat_rules_n; i++)
            for (size_t k = i + 1; k < t->coat_rules_n; k++) {
                const struct coat_rules_row *a = &t->coat_rules[i], *b = &t->coat_rules[k];
                bool equal = !strcmp(a->under, b->under) && !strcmp(a->over, b->over) &&
                             !strcmp(a->when, b->when);
                CHECK(!equal);
                if (equal) printf("  %s and %s\n", a->id, b->id);
            }
    }
    CASE("what can never be put on says what to do instead") {
        for (size_t i = 0; i < t->coat_rules_n; i++)
            CHECK(strcmp(t->coat_rules[i].verdict, "never") || *t->coat_rules[i].remedy);
    }
}

static const struct coat *row_of(const struct piece_plan *p, enum coat_role role) {
    for (size_t i = 0; i < p->coats.n; i++)
        if (p->coats.rows[i].role == role) return &p->coats.rows[i];
    return NULL;
}

static void color_is(struct trade_room *r, const char *text, double lightness) {
    r->piece.wanted.color = (struct color_said){text, {lightness, 0, 0}};
}

static void system_cases(void) {
    CASE("oil clear over white is refused and a waterborne clear planned (common practice)") {
        struct trade_room r;
        trade_open(&r);
        r.piece.finish = "bare", r.piece.wanted.product = "wb_enamel";
        r.piece.wanted.clear = "oil_clear";
        color_is(&r, "white", 95);
        trade_surface(&r, "case", "sides", TREAT_PAINT, 2, 2);
        CHECK(trade_coats(&r, NULL) == OK);
        CHECK(r.plan.coats.refused.n == 1);
        CHECK_TEXT(row_of(&r.plan, ROLE_CLEAR)->class, "wb_clear");
        CHECK(row_of(&r.plan, ROLE_CLEAR)->coats == 2); /* thin and several */
        trade_close(&r);
    }
    CASE("a sound old film is scuffed with 220 grit (common practice)") {
        struct trade_room r;
        trade_open(&r);
        r.piece.finish = "lacquer", r.piece.year = 1995;
        color_is(&r, "green", 40);
        trade_surface(&r, "case", "sides", TREAT_PAINT, 2, 2);
        CHECK(trade_coats(&r, NULL) == OK);
        CHECK(row_of(&r.plan, ROLE_SCUFF) && row_of(&r.plan, ROLE_SCUFF)->grit == 220);
        trade_close(&r);
    }
    CASE("a wish that does not exist is an error that names the field") {
        struct trade_room r;
        struct why why;
        trade_open(&r);
        r.piece.finish = "bare", r.piece.wanted.clear = "varnish of Cremona";
        trade_surface(&r, "case", "sides", TREAT_PAINT, 2, 2);
        CHECK(trade_coats(&r, &why) == E_REFERENCE);
        CHECK_TEXT(why.field, "/pieces/0/wanted/clear");
        trade_close(&r);
    }
}

int main(void) {
    table_cases();
    system_cases();
    return check_done();
}
