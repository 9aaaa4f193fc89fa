/* How coats become days: shared set-ups, both sides, breaks, recoat windows, pot life, dust, a
 * smell that is judged. What is expected of the trade is common practice unless another source
 * stands beside it. */
#include "test/check.h"
#include "test/unit/days_plan.h"

static void setup_cases(void) {
    CASE("case and drawers of one paint are set up and cleaned up once, and that is said") {
        CHECK(plan("", WHITE "}", STAND("", "")) == OK);
        const struct day_task *a = task("stand-case-color-coat1"),
                              *b = task("stand-drawers-color-coat1");
        const struct day_task *first = a->start_utc_min < b->start_utc_min ? a : b,
                              *second = first == a ? b : a;
        CHECK(first->setup_min > 0 && first->cleanup_min == 0);
        CHECK(second->setup_min == 0);
        CHECK(says(second->note, "Goes on with the wet") && says(second->note, "min saved"));
        CHECK(days()->shared_n > 0 && days()->saved_min > 0);
    }
    CASE("a tool waits wet no longer than it can: shellac an hour, water paint four") {
        CHECK(plan("", WHITE "}", STAND("", ",'primer':'shellac_clear'")) == OK);
        for (size_t i = 0; i < days()->n; i++) {
            const struct day_task *t = &days()->rows[i];
            if (!says(t->note, "Goes on with")) continue;
            bool spirit = !strcmp(t->operation, "barrier");
            int64_t last = INT64_MIN;
            for (size_t k = 0; k < i; k++)
                if (!strcmp(days()->rows[k].operation, t->operation))
                    last = days()->rows[k].end_utc_min;
            CHECK(last != INT64_MIN && t->start_utc_min - last <= (spirit ? 60 : 240));
        }
    }
    CASE("two colors are two products: nothing is shared between them") {
        CHECK(plan("",
                   WHITE "},"
                         "{'id':'blue','name':'Blue','class':'wb_enamel','color':'#234a70',"
                         "'stock':'2 L'}",
                   STAND(",'parts':[{'id':'drawer_front','color':'#234a70','product':'blue'}]",
                         "")) == OK);
        CHECK(!says(task("stand-drawers-color-coat1")->note, "Case"));
        CHECK(!says(task("stand-case-color-coat1")->note, "Drawers"));
    }
    CASE("hours in the price do not hang on how the days turn out") {
        CHECK(plan("", WHITE "}", STAND("", "")) == OK);
        double one = answer.plan.pieces[0].price.hours;
        CHECK(plan(",'people':2", WHITE "}", STAND("", "")) == OK);
        CHECK_NEAR(answer.plan.pieces[0].price.hours, one, 1e-9);
    }
    CASE("what one of a set would take alone is what it takes alone") {
        char alone[32];
        bool told = false;
        CHECK(plan("", WHITE "}", STAND("", "")) == OK);
        basis_hands(answer.plan.pieces[0].price.hours, alone);
        CHECK(plan("", WHITE "}", STAND(",'count':3", "")) == OK);
        const struct notices *n = &answer.plan.pieces[0].price.notices;
        for (size_t i = 0; i < n->n; i++)
            told |= says(n->rows[i].text, "3 alike") && says(n->rows[i].text, alone);
        CHECK(told);
    }
}

static void side_cases(void) {
    CASE("a door is coated on its back first, and its show face when that is dry to touch") {
        CHECK(plan("", WHITE "}", STAND(",'drawers':1,'doors':1", "")) == OK);
        const struct day_task *back = task("stand-doors-color-coat1-back"),
                              *face = task("stand-doors-color-coat1");
        CHECK(says(back->name, "back") && says(face->name, "show face"));
        CHECK(back->start_utc_min > 0 && face->start_utc_min >= back->end_utc_min + 90);
        CHECK(task("stand-doors-color-coat2-back")->start_utc_min >= face->end_utc_min + 300);
        double hands = back->hands_min + face->hands_min;
        const struct coats *c = &answer.plan.pieces[0].coats;
        for (size_t i = 0; i < c->n; i++)
            if (!strcmp(c->rows[i].id, "stand-doors-color"))
                CHECK_NEAR(hands, c->rows[i].hands_min, 1e-9);
    }
    CASE("drawer fronts show one face: they are coated in one go") {
        CHECK(plan("", WHITE "}", STAND("", "")) == OK);
        for (size_t i = 0; i < days()->n; i++) CHECK(!strstr(days()->rows[i].name, "show face"));
    }
}

static bool is_coat(const struct day_task *t) {
    return !strcmp(t->operation, "color") || !strcmp(t->operation, "clear") ||
           !strcmp(t->operation, "primer") || !strcmp(t->operation, "barrier");
}

static void break_cases(void) {
    CASE("stripping pauses at noon and over night, a coat is laid on in one go") {
        CHECK(plan(",'hours':[{'day':'daily','open':'8:00 am','close':'12:00 pm'},"
                   "{'day':'daily','open':'1:00 pm','close':'4:00 pm'}]",
                   WHITE "}",
                   "{'id':'big','template':'wardrobe','width':'60 in','depth':'24 in',"
                   "'height':'84 in','finish':'oil_varnish','condition':'flaking','year':1995,"
                   "'wood':'hard_maple','wanted':{'color':'#f4f2ec','product':'white'}}") == OK);
        int paused = 0, coats = 0;
        for (size_t i = 0; i < days()->n; i++) {
            const struct day_task *t = &days()->rows[i];
            int64_t day = t->start_utc_min / DAY * DAY, noon = day + 12 * 60;
            double takes = (double)(t->end_utc_min - t->start_utc_min);
            bool broken = (t->start_utc_min < noon && t->end_utc_min > noon) ||
                          t->end_utc_min > day + 16 * 60;
            if (is_coat(t)) coats++, CHECK(!broken || t->hands_min > 4 * 60);
            CHECK(t->pauses == broken);
            if (!is_coat(t) && broken) paused++, CHECK(takes >= t->hands_min + 59);
        }
        CHECK(coats > 3 && paused > 0);
    }
    CASE("little room to dry: one waits for the other's place, and says so") {
        const char *two =
            STAND("", "") ",{'id':'other','title':'Other','template':'nightstand',"
                          "'width':'24 in','depth':'16 in','height':'28 in','finish':'lacquer',"
                          "'year':1995,'wood':'hard_maple',"
                          "'wanted':{'color':'#f4f2ec','product':'white'}}";
        CHECK(plan(",'drying_area':'10 m2'", WHITE "}", two) == OK);
        int64_t wide = days()->deliver_utc_min;
        CHECK(plan(",'drying_area':'0.4 m2'", WHITE "}", two) == OK);
        CHECK(days()->deliver_utc_min > wide);
        int waits = 0;
        for (size_t i = 0; i < days()->n; i++)
            waits += says(days()->rows[i].held_by, "room to dry");
        CHECK(waits > 0);
    }
}

static void window_cases(void) {
    /* oil clear as a class: next coat after 9 h, without scuffing before 12 h
     * (product_classes.tsv); no shop that closes in the evening can keep that */
    CASE("a recoat window that hours cannot keep costs a scuff, in minutes and in words") {
        CHECK(plan("", WHITE "}", STAND("", ",'top':'natural','clear':'oil_clear'")) == OK);
        int missed = notes("is missed: scuff first, ");
        CHECK(missed > 0);
        for (size_t i = 0; i < days()->n; i++) {
            const struct day_task *t = &days()->rows[i];
            if (says(t->note, "scuff first") && t->end_utc_min - t->start_utc_min < 8 * 60)
                CHECK((double)(t->end_utc_min - t->start_utc_min) > t->hands_min - 11);
        }
    }
    CASE("a shop that would rather wait than scuff plans no window to pass") {
        /* a label with 24 h to 32 h: over a weekend it passes, from Monday to Friday it need not */
        const char *weekend = ",'label_recoat':'22 h','label_recoat_until':'32 h'}";
        char paint[300];
        snprintf(paint, sizeof paint, "%s%s", WHITE, weekend);
        CHECK(plan("", paint, STAND("", ",'clear':'none'")) == OK);
        int64_t soon = days()->deliver_utc_min;
        CHECK(plan(",'within_windows':true", paint, STAND("", ",'clear':'none'")) == OK);
        CHECK(notes("is missed") == 0 && days()->deliver_utc_min >= soon);
        for (int start = 0; start < 7; start++) {
            now_min = OCTOBER_5 + 6 * 60 + start * DAY;
            CHECK(plan(",'within_windows':true", paint, STAND("", ",'clear':'none'")) == OK);
            CHECK(notes("is missed") == 0 && !minded("window"));
        }
        now_min = OCTOBER_5 + 6 * 60;
    }
    CASE("what hours cannot keep is planned with its scuff, and said once") {
        CHECK(plan(",'within_windows':true", WHITE "}",
                   STAND("", ",'top':'natural','clear':'oil_clear'")) == OK);
        CHECK(notes("is missed: scuff first, ") > 0);
        CHECK(minded("do not let the next coat on in its window") ||
              minded("keeps every recoat window"));
    }
    CASE("a label that takes the next coat later than it may is two facts that cannot both be") {
        CHECK(plan("", WHITE ",'label_recoat':'6 h','label_recoat_until':'4 h'}", STAND("", "")) ==
              E_DOMAIN);
        CHECK(!strcmp(why.field, "/shelf/paints/0/label_recoat_until"));
        CHECK(says(why.text, "6 h") && says(why.text, "4 h"));
    }
}

static void pot_cases(void) {
    CASE("two-part paint is mixed for its coats, and again when the pot is too old") {
        CHECK(plan("", WHITE ",'label_pot_life':'3 h'}", STAND("", "")) == OK);
        const struct day_task *mix = task("stand-pot-white");
        CHECK(mix->start_utc_min >= 0 && !strcmp(mix->name, "Mix White"));
        CHECK(notes("too old by then: mix anew first, 15 min.") > 0);
        for (size_t i = 0; i < days()->n; i++) {
            const struct day_task *t = &days()->rows[i];
            if (strcmp(t->operation, "color")) continue;
            CHECK(t->start_utc_min >= mix->end_utc_min);
            bool old = t->end_utc_min > mix->end_utc_min + 180;
            CHECK(old == says(t->note, "mix anew"));
        }
    }
    CASE("milk paint is for the day it was mixed on, paint from a can for ever") {
        CHECK(plan("",
                   "{'id':'white','name':'Milk white','class':'milk','color':'#f4f2ec',"
                   "'stock':'3 L'}",
                   STAND("", "")) == OK);
        CHECK(task("stand-pot-white")->start_utc_min > 0);
        CHECK(plan("", WHITE "}", STAND("", "")) == OK);
        for (size_t i = 0; i < days()->n; i++) CHECK(!strstr(days()->rows[i].id, "-pot-"));
    }
    CASE("a mix lives as long as that of its paints that spoils first, looked up or not") {
        const char *two = "{'id':'white','name':'White','class':'wb_enamel','color':'#f4f2ec',"
                          "'stock':'3 L'%s},{'id':'black','name':'Black','class':'wb_enamel',"
                          "'color':'#202020','stock':'1 L'%s}";
        const char *gray = "{'id':'stand','title':'Nightstand','template':'nightstand','width':"
                           "'24 in','depth':'16 in','height':'28 in','finish':'lacquer','year':"
                           "1995,'wood':'hard_maple','wanted':{'color':'#9a9a98'}}";
        char paints[400];
        for (int i = 0; i < 3; i++) { /* of one part, or both of two: they do not mix */
            snprintf(paints, sizeof paints, two, i ? ",'label_pot_life':'2 h'" : "",
                     i == 0   ? ""
                     : i == 1 ? ",'label_pot_life':'90 min'"
                              : ",'label_pot_life':'3 h'");
            CHECK(plan("", paints, gray) == OK);
            const struct day_task *mix = task("stand-mix");
            int64_t life = i == 0 ? INT64_MAX / 2 : i == 1 ? 90 : 120;
            int coats = 0;
            for (size_t k = 0; k < days()->n; k++) {
                const struct day_task *t = &days()->rows[k];
                if (strcmp(t->operation, "color")) continue;
                coats++;
                CHECK((t->end_utc_min - mix->end_utc_min > life) == says(t->note, "mix anew"));
            }
            CHECK(coats > 0 && (notes("too old by then: mix anew first") > 0) == (i > 0));
            int64_t ready = days()->deliver_utc_min;
            no_recipes = true;
            CHECK(plan("", paints, gray) == OK && days()->deliver_utc_min == ready);
            no_recipes = false;
        }
    }
    CASE("a recipe that takes the one can of two parts among others is a two-part finish: no gun "
         "without supplied air (NIOSH 96-111)") {
        const char *shelf = WHITE "},{'id':'gray','class':'wb_enamel','color':'#9a9a98',"
                                  "'stock':'2 L','label_pot_life':'2 h'}";
        for (int gray = 0; gray < 2; gray++) {
            char piece[400];
            snprintf(piece, sizeof piece,
                     "{'id':'stand','template':'nightstand','width':'24 in','depth':'16 in',"
                     "'height':'28 in','finish':'lacquer','year':1995,'wood':'hard_maple',"
                     "'wanted':{'color':'%s','method':'hvlp'}}",
                     gray ? "#9a9a98" : "#f4f2ec");
            CHECK(plan("", shelf, piece) == OK);
            const struct notices *n = &answer.plan.pieces[0].hazards.notices;
            int stops = 0, labels = 0;
            for (size_t i = 0; i < n->n; i++) {
                stops += n->rows[i].rank == RANK_STOP && !strcmp(n->rows[i].id, "two_part_spray");
                labels += !strcmp(n->rows[i].id, "two_part_label");
            }
            CHECK(stops == gray && labels == gray);
        }
    }
    CASE("a pot that lives shorter than one coat takes is said") {
        CHECK(plan("", WHITE ",'label_pot_life':'10 min'}", STAND("", "")) == OK);
        CHECK(minded("longer than its mix can be used"));
    }
}

/* ---- dust ---- */

static const struct coat *coat_of(const struct day_task *t) {
    for (size_t i = 0; i < answer.plan.pieces_n; i++)
        for (size_t k = 0; k < answer.plan.pieces[i].coats.n; k++) {
            const struct coat *c = &answer.plan.pieces[i].coats.rows[k];
            if (!strncmp(c->id, t->id, strlen(c->id)) && !strcmp(c->operation, t->operation))
                return c;
        }
    return NULL;
}
static bool sands(const struct day_task *t) {
    return !strcmp(t->operation, "scuff") || !strcmp(t->operation, "nib");
}
/* Sandings that reach into the time in which a film is wet: from its start until dry to touch. */
static int dusted(void) {
    int n = 0;
    for (size_t i = 0; i < days()->n; i++)
        for (size_t k = 0; k < days()->n; k++) {
            const struct day_task *dust = &days()->rows[i], *film = &days()->rows[k];
            const struct coat *c = coat_of(film);
            if (!sands(dust) || !c || !(c->touch_min > 0)) continue;
            n += dust->start_utc_min < film->end_utc_min + (int64_t)c->touch_min &&
                 dust->end_utc_min > film->start_utc_min;
        }
    return n;
}

static void dust_cases(void) {
    static const char *const two =
        STAND("", "") ",{'id':'other','title':'Other','template':'chest','width':'34 in',"
                      "'depth':'18 in','height':'40 in','finish':'lacquer','year':1995,"
                      "'wood':'hard_maple','wanted':{'color':'#f4f2ec','product':'white'}}";
    CASE("nothing is sanded beside wet film, on whatever piece (common practice)") {
        CHECK(plan("", WHITE "}", two) == OK);
        CHECK(dusted() == 0);
        CHECK(plan(",'people':2", WHITE "}", two) == OK);
        CHECK(dusted() == 0);
    }
    CASE("unless there is another room to sand in") {
        CHECK(plan(",'people':2,'sand_apart':true", WHITE "}", two) == OK);
        CHECK(dusted() > 0);
    }
    CASE("a top that keeps its wood gets its coats when the color is on, and is sanded by itself") {
        const bool planned =
            plan("", WHITE "}",
                 "{'id':'stand','template':'nightstand','width':'24 in','depth':'16 in',"
                 "'height':'28 in','place':'kitchen',"
                 "'wanted':{'color':'#2a2a2a','top':'waxed'}}") == OK;
        CHECK(planned);
        if (!planned) return;
        CHECK(task("stand-top-clear-coat1")->start_utc_min >
              task("stand-case-color-coat2")->end_utc_min);
    }
    CASE("case and drawers are sanded together before either is coated again") {
        CHECK(plan("", WHITE "}", STAND("", "")) == OK);
        const struct day_task *coat = task("stand-drawers-color-coat1");
        CHECK(task("stand-case-nib")->end_utc_min <= coat->start_utc_min);
        CHECK(task("stand-drawers-nib")->end_utc_min <=
              task("stand-case-color-coat1")->start_utc_min);
    }
}

static void smell_case(const char *shop, const char *piece) {
    CASE("a smell is judged when all is sealed, before tape and color, whatever the top is") {
        int64_t sealed = INT64_MIN, colored = INT64_MAX;
        const bool planned = plan(shop, WHITE "}", piece) == OK;
        CHECK(planned);
        if (!planned) return;
        for (size_t i = 0; i < days()->n; i++) {
            const struct day_task *t = &days()->rows[i];
            if (!strcmp(t->operation, "barrier")) sealed = t->end_utc_min;
            if (!strcmp(t->operation, "color") && colored == INT64_MAX) colored = t->start_utc_min;
        }
        const struct day_task *smell = task("stand-smell_test");
        CHECK(sealed <= smell->start_utc_min && smell->end_utc_min + 3 * DAY <= colored);
        for (size_t i = 0; i < days()->n; i++)
            if (!strcmp(days()->rows[i].operation, "mask"))
                CHECK(days()->rows[i].start_utc_min >= smell->end_utc_min + 3 * DAY);
    }
}

static void smell_cases(void) {
    smell_case("", STAND(",'tests':{'smell':'urine'}", ""));
    smell_case("", STAND(",'tests':{'smell':'urine'}", ",'top':'waxed'"));
    smell_case("", STAND(",'tests':{'smell':'urine'}", ",'top':'stained'"));
    smell_case("", STAND(",'tests':{'smell':'musty'}", ",'top':'natural'"));
    /* on a floor that does not hold all at once: it is put together for the test */
    smell_case(",'drying_area':'4 ft2'", STAND(",'tests':{'smell':'urine'}", ""));
}

int main(void) {
    setup_cases();
    side_cases();
    break_cases();
    window_cases();
    pot_cases();
    dust_cases();
    smell_cases();
    arena_free(&arena);
    return check_done();
}
