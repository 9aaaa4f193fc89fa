/* The days of whole jobs: what waits for the outside, the booth, and people with hours and tasks of
 * their own. The shop is on UTC; `now` is Saturday 2026-10-03, 4:00 am. */
#include "app/op_plan.h"
#include "codec/job_desc.h"
#include "core/work/day_build.h"
#include "test/check.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum { NOW = 29850000, DAY = 1440, TOUCH_MIN = 30 /* of such a paint at least */ };

static struct arena arena;
static struct plan_answer answer;
static struct why why;

/* What was accepted of an earlier plan; its texts must outlive the arena. */
static struct task_kept kept[100];
static char kept_ids[100][64];
static size_t kept_n;
static int64_t now_min = NOW;

static void accept_days(void) {
    kept_n = 0;
    for (size_t i = 0; i < answer.plan.days.n && i < 100; i++) {
        const struct day_task *t = &answer.plan.days.rows[i];
        snprintf(kept_ids[i], sizeof kept_ids[i], "%s", t->id);
        kept[kept_n++] = (struct task_kept){.piece = "stand",
                                            .id = kept_ids[i],
                                            .begun_utc_min = INT64_MIN,
                                            .done_utc_min = INT64_MIN,
                                            .start_utc_min = t->start_utc_min,
                                            .end_utc_min = t->end_utc_min,
                                            .not_before_utc_min = INT64_MIN};
    }
}

static enum status plan(const char *shop, const char *piece) {
    static struct job job;
    char doc[4096];
    int n = snprintf(
        doc, sizeof doc,
        "{\"format\":\"coatwright-job\",\"version\":1,\"shop\":{\"zone\":\"UTC\"%s},"
        "\"shelf\":{\"paints\":[{\"id\":\"white\",\"name\":\"White\",\"class\":\"wb_enamel\","
        "\"color\":\"#f4f2ec\",\"stock\":\"2 L\"}]},\"pieces\":[{\"id\":\"stand\","
        "\"title\":\"Nightstand\",\"template\":\"nightstand\",\"width\":\"24 in\",\"depth\":\"16 "
        "in\",\"height\":\"28 in\",\"finish\":\"lacquer\",\"year\":1995,\"wood\":\"hard_maple\","
        "\"wanted\":{\"color\":\"#f4f2ec\",\"product\":\"white\"%s}]}",
        shop, piece);
    arena_free(&arena);
    arena_init(&arena, alloc_heap(), 0);
    why = (struct why){0};
    struct plan_ask ask = {.now_utc_min = now_min, .kept = kept, .kept_n = kept_n};
    enum status s = document_read(&desc_job, SPELL_INPUT, doc, (size_t)n, &arena, &job, &why);
    return s ? s : plan_of_job(&tables_builtin, &job, &ask, &arena, &answer, &why);
}

/* Start of the first task of an operation; 0: there is none. */
static int64_t first_start(const char *operation) {
    for (size_t i = 0; i < answer.plan.days.n; i++)
        if (!strcmp(answer.plan.days.rows[i].operation, operation))
            return answer.plan.days.rows[i].start_utc_min;
    return 0;
}

static const struct day_task *task(const char *operation) {
    for (size_t i = 0; i < answer.plan.days.n; i++)
        if (!strcmp(answer.plan.days.rows[i].operation, operation))
            return &answer.plan.days.rows[i];
    return NULL;
}

static void wait_cases(void) {
    CASE("the color waits for the client's yes, what comes before does not") {
        CHECK(plan("", "}") == OK);
        int64_t clean = first_start("clean"), color = first_start("color");
        CHECK(clean && color > clean);
        CHECK(plan("", "},\"waits\":[{\"kind\":\"client\",\"until\":\"2026-10-20\"}]") == OK);
        CHECK(first_start("clean") == clean);
        CHECK(first_start("color") >= NOW / DAY * DAY + 17 * DAY);
        CHECK(task("color") && task("color")->held_by &&
              strstr(task("color")->held_by, "client's yes"));
    }
    CASE("what waits for two things waits for the later, whichever is said first") {
        static const char *const both[] = {
            "},\"waits\":[{\"kind\":\"client\",\"until\":\"2026-10-20\"},{\"kind\":\"part\","
            "\"before\":\"color\",\"until\":\"2026-10-14\"}]",
            "},\"waits\":[{\"kind\":\"part\",\"before\":\"color\",\"until\":\"2026-10-14\"},"
            "{\"kind\":\"client\",\"until\":\"2026-10-20\"}]"};
        for (int i = 0; i < 2; i++) {
            CHECK(plan("", both[i]) == OK);
            CHECK(first_start("color") >= NOW / DAY * DAY + 17 * DAY);
            CHECK(task("color") && strstr(task("color")->held_by, "client's yes"));
        }
    }
    CASE("without a date the usual time is taken and listed as assumed") {
        CHECK(plan("", "},\"waits\":[{\"kind\":\"part\",\"before\":\"drawers_in\"}]") == OK);
        CHECK(first_start("drawers_in") >= NOW + 10 * DAY);
        bool listed = false;
        for (size_t i = 0; i < answer.plan.assumed_n; i++)
            listed = listed || strstr(answer.plan.assumed[i].pointer, "/waits/0/until");
        CHECK(listed);
    }
    CASE("what cannot be waited for is named") {
        CHECK(plan("", "},\"waits\":[{\"kind\":\"weather\"}]") == E_REFERENCE);
        CHECK(!strcmp(why.field, "/pieces/0/waits/0/kind") && strstr(why.text, "laboratory"));
        CHECK(plan("", "},\"waits\":[{\"kind\":\"part\",\"before\":\"cane_in\"}]") == E_REFERENCE);
        CHECK(!strcmp(why.field, "/pieces/0/waits/0/before") && strstr(why.text, "color"));
    }
}

static const struct outside_plan *sample_wait(void) {
    const struct piece_plan *p = &answer.plan.pieces[0];
    return p->outside_n && !strcmp(p->outside[0].kind, "sample") ? &p->outside[0] : NULL;
}

static bool assumed(const char *pointer) {
    for (size_t i = 0; i < answer.plan.assumed_n; i++)
        if (strstr(answer.plan.assumed[i].pointer, pointer)) return true;
    return false;
}

#define CLIENT(MORE) "},\"agreement\":{\"purpose\":\"client\"" MORE "}"

static void sample_cases(void) {
    CASE("the color waits for the client's signature: the card dry, then three days") {
        CHECK(plan("", "}") == OK && !sample_wait());
        int64_t clean = first_start("clean");
        CHECK(plan("", CLIENT("")) == OK);
        CHECK(first_start("clean") == clean);
        CHECK(sample_wait() && sample_wait()->expected_day == INT64_MIN);
        CHECK(first_start("color") >= NOW + 3 * DAY);
        CHECK(task("color")->waits_for && task("color")->held_by &&
              strstr(task("color")->held_by, "signed sample"));
        CHECK(assumed("/agreement/sample_expected"));
    }
    CASE("with a day: not before it, and nothing is assumed of it") {
        CHECK(plan("", CLIENT(",\"sample_expected\":\"2026-10-20\"")) == OK);
        CHECK(first_start("color") >= NOW / DAY * DAY + 17 * DAY);
        CHECK(first_start("color") < NOW / DAY * DAY + 19 * DAY);
        CHECK(!assumed("/agreement/sample_expected"));
        CHECK(sample_wait() && sample_wait()->expected_day != INT64_MIN);
    }
    CASE("it was expected and is not here: nothing before tomorrow, and the wait is still said") {
        CHECK(plan("", CLIENT(",\"sample_expected\":\"2026-09-01\"")) == OK);
        CHECK(sample_wait() && sample_wait()->until_utc_min == (NOW / DAY + 1) * DAY);
        CHECK(first_start("color") >= (NOW / DAY + 1) * DAY);
        CHECK(plan("", "},\"waits\":[{\"kind\":\"client\",\"until\":\"2026-09-01\"}]") == OK);
        CHECK(first_start("color") >= (NOW / DAY + 1) * DAY);
        CHECK(answer.plan.pieces[0].outside_n == 1);
    }
    CASE("a signed sample holds up nothing, nor does a piece that is nobody's") {
        CHECK(plan("", "}") == OK);
        int64_t color = first_start("color");
        CHECK(plan("", CLIENT(",\"sample_signed\":true")) == OK);
        CHECK(first_start("color") == color && !sample_wait());
        CHECK(plan("", "},\"agreement\":{\"purpose\":\"sale\"}") == OK);
        CHECK(first_start("color") == color && !sample_wait());
    }
    CASE("a coat that was begun all the same waits no more") {
        CHECK(plan("", CLIENT("")) == OK);
        accept_days();
        for (size_t i = 0; i < kept_n; i++)
            if (strstr(kept[i].id, "-color"))
                kept[i].begun_utc_min = NOW - 60 + (int64_t)i, kept[i].done_utc_min = NOW - 30;
        CHECK(plan("", CLIENT("")) == OK && !sample_wait());
        kept_n = 0;
    }
    CASE("a day too far off is named") {
        CHECK(plan("", CLIENT(",\"sample_expected\":\"2030-01-01\"")) == E_DOMAIN);
        CHECK(!strcmp(why.field, "/pieces/0/agreement/sample_expected"));
    }
}

static void booth_cases(void) {
    const char *sprayed = ",\"method\":\"hvlp\"}";
    CASE("no two sprayed coats are in the booth at once") {
        CHECK(plan(",\"tools\":[\"hvlp\",\"brush\"],\"booth\":true", sprayed) == OK);
        const struct days *d = &answer.plan.days;
        int sprays = 0;
        for (size_t i = 0; i < d->n; i++)
            for (size_t k = 0; k < d->n; k++) {
                const struct day_task *a = &d->rows[i], *b = &d->rows[k];
                if (i == k || strcmp(a->operation, "color") || strcmp(b->operation, "color"))
                    continue;
                sprays++;
                CHECK(a->start_utc_min >= b->end_utc_min + TOUCH_MIN ||
                      b->start_utc_min >= a->end_utc_min + TOUCH_MIN);
            }
        CHECK(sprays > 0);
        int64_t with = d->deliver_utc_min;
        CHECK(plan(",\"tools\":[\"hvlp\",\"brush\"]", sprayed) == OK);
        CHECK(answer.plan.days.deliver_utc_min <= with);
    }
}

static void crew_cases(void) {
    const char *two = ",\"crew\":[{\"id\":\"ann\",\"name\":\"Ann\",\"only\":[\"color\",\"clear\"],"
                      "\"hours\":[{\"day\":\"tue\",\"open\":\"9:00 am\",\"close\":\"5:00 pm\"}]},"
                      "{\"id\":\"ben\",\"name\":\"Ben\",\"days_off\":[\"2026-10-05\"]}]";
    CASE("each works in own hours, on own tasks, not on own days off") {
        CHECK(plan(two, "}") == OK);
        int ben = 0;
        for (size_t i = 0; i < answer.plan.days.n; i++) {
            const struct day_task *t = &answer.plan.days.rows[i];
            int64_t day = t->start_utc_min / DAY;
            CHECK(t->person != NULL);
            if (t->person && !strcmp(t->person, "Ann"))
                CHECK((day + 3) % 7 == 1 &&
                      (!strcmp(t->operation, "color") || !strcmp(t->operation, "clear")));
            if (t->person && !strcmp(t->person, "Ben")) ben++, CHECK(day != NOW / DAY + 2);
        }
        CHECK(ben > 0);
    }
    CASE("the shop's days off are everybody's, whatever days one has off besides") {
        CHECK(plan(",\"days_off\":[\"2026-10-06\"],\"crew\":[{\"id\":\"ann\"},{\"id\":\"ben\","
                   "\"days_off\":[\"2026-10-05\"]}]",
                   "}") == OK);
        int ben = 0;
        for (size_t i = 0; i < answer.plan.days.n; i++) {
            const struct day_task *t = &answer.plan.days.rows[i];
            int64_t day = t->start_utc_min / DAY - NOW / DAY; /* 2: Monday the fifth */
            CHECK(day != 3);
            if (t->person && !strcmp(t->person, "ben")) ben++, CHECK(day != 2);
        }
        CHECK(ben > 0);
    }
    CASE("who does one thing only does nothing else, though the others are seldom there") {
        CHECK(
            plan(
                ",\"crew\":[{\"id\":\"ann\",\"hours\":[{\"day\":\"tue\",\"open\":\"8:00 am\","
                "\"close\":\"6:00 pm\"}]},{\"id\":\"kim\",\"only\":[\"color\"],\"hours\":[{\"day\":"
                "\"tue\",\"open\":\"8:00 am\",\"close\":\"6:00 pm\"}]},"
                "{\"id\":\"ben\",\"only\":[\"clean\"]}]",
                "}") == OK);
        for (size_t i = 0; i < answer.plan.days.n; i++) {
            const struct day_task *t = &answer.plan.days.rows[i];
            if (t->person && !strcmp(t->person, "ben")) CHECK_TEXT(t->operation, "clean");
        }
    }
    CASE("a task that nobody does is named") {
        CHECK(plan(",\"crew\":[{\"id\":\"ann\",\"only\":[\"color\"]}]", "}") == E_DOMAIN);
        CHECK(!strcmp(why.field, "/shop/crew") && strstr(why.text, "Nobody does"));
        CHECK(plan(",\"crew\":[{\"id\":\"ann\",\"only\":[\"juggle\"]}]", "}") == E_REFERENCE);
        CHECK(!strcmp(why.field, "/shop/crew/0/only/0"));
    }
    CASE("two alike are no slower than one") {
        CHECK(plan("", "}") == OK);
        int64_t one = answer.plan.days.deliver_utc_min;
        CHECK(plan(",\"people\":2", "}") == OK);
        CHECK(answer.plan.days.deliver_utc_min <= one);
    }
}

/* Tasks that stand elsewhere than where they were accepted. */
static size_t moved(void) {
    size_t n = 0;
    for (size_t i = 0; i < answer.plan.days.n; i++)
        for (size_t k = 0; k < kept_n; k++)
            n += !strcmp(kept[k].id, answer.plan.days.rows[i].id) &&
                 kept[k].start_utc_min != answer.plan.days.rows[i].start_utc_min;
    return n;
}

static void keep_cases(void) {
    CASE("accepted days stand when nothing happened") {
        CHECK(plan("", "}") == OK);
        accept_days();
        CHECK(kept_n > 10);
        CHECK(plan("", "}") == OK && moved() == 0);
    }
    CASE("a late day moves what must move, and no accepted task comes earlier") {
        const int64_t before = kept[kept_n - 1].start_utc_min;
        CHECK(plan(",\"days_off\":[\"2026-10-05\"]", "}") == OK);
        CHECK(moved() > 0);
        for (size_t i = 0; i < answer.plan.days.n; i++)
            for (size_t k = 0; k < kept_n; k++)
                if (!strcmp(kept[k].id, answer.plan.days.rows[i].id))
                    CHECK(answer.plan.days.rows[i].start_utc_min >= kept[k].start_utc_min);
        CHECK(answer.plan.days.rows[answer.plan.days.n - 1].start_utc_min >= before);
    }
    CASE("a task that cannot go on moves with what follows it; what came before stays") {
        size_t at = kept_n / 2;
        int64_t until = kept[at].start_utc_min + 2 * DAY;
        kept[at].not_before_utc_min = until;
        CHECK(plan("", "}") == OK);
        CHECK(moved() > 0 && moved() <= kept_n - at);
        for (size_t i = 0; i < answer.plan.days.n; i++)
            if (!strcmp(kept[at].id, answer.plan.days.rows[i].id))
                CHECK(answer.plan.days.rows[i].start_utc_min >= until);
        kept[at].not_before_utc_min = INT64_MIN;
    }
    CASE("what has begun stays where it was") {
        kept[0].begun_utc_min = kept[0].start_utc_min;
        now_min = kept[0].start_utc_min + 5;
        CHECK(plan("", "}") == OK);
        CHECK(answer.plan.days.rows[0].start_utc_min == kept[0].begun_utc_min);
    }
    CASE("what is under way ends after the break, the next morning, or at night where it was begun "
         "then (by hand: open 8 to 12 and 12:30 to 4:30)") {
        size_t at = 0;
        now_min = NOW;
        kept[0].begun_utc_min = INT64_MIN;
        CHECK(plan("", "}") == OK);
        for (size_t i = 0; i < answer.plan.days.n; i++)
            if (!strcmp(answer.plan.days.rows[i].operation, "scuff")) at = i;
        const struct day_task *t = &answer.plan.days.rows[at];
        const int64_t work = (int64_t)ceil(t->hands_min), monday = NOW - 4 * 60 + 2 * DAY;
        CHECK(work > 25 && work < 240);
        const struct {
            int64_t begun, now, end;
        } cases[] = {{8 * 60, 8 * 60 + 5, 8 * 60 + work},
                     {12 * 60 - 20, 12 * 60 - 5, 12 * 60 + 30 + work - 20},
                     {16 * 60 + 20, 16 * 60 + 40, DAY + 8 * 60 + work - 10},
                     {16 * 60 + 20, DAY + 7 * 60, DAY + 8 * 60 + work - 10},
                     {20 * 60, 20 * 60 + 5, 20 * 60 + work}};
        for (size_t i = 0; i < kept_n; i++)
            if (!strcmp(kept[i].id, t->id)) at = i;
        for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
            kept[at].begun_utc_min = monday + cases[i].begun, now_min = monday + cases[i].now;
            CHECK(
                plan(",\"hours\":[{\"day\":\"daily\",\"open\":\"8:00 am\",\"close\":\"12:00 pm\"},"
                     "{\"day\":\"daily\",\"open\":\"12:30 pm\",\"close\":\"4:30 pm\"}]",
                     "}") == OK);
            for (size_t k = 0; k < answer.plan.days.n; k++)
                if (!strcmp(answer.plan.days.rows[k].id, kept[at].id))
                    CHECK(answer.plan.days.rows[k].end_utc_min == monday + cases[i].end);
        }
    }
    kept_n = 0;
    now_min = NOW;
}

static void floor_cases(void) {
    CASE("parts lie on one another where the floor is too small for all of them side by side") {
        /* in whole dm2 11 + 20 + 30; none of what has no size there, nor of a refused piece */
        struct surface_group one[] = {{.floor_m2 = .101}, {.floor_m2 = .2}, {.floor_m2 = NAN}},
                             two[] = {{.floor_m2 = .295}}, no[] = {{.floor_m2 = 9}};
        struct piece_plan pieces[3];
        memset(pieces, 0, sizeof pieces);
        pieces[0].surfaces.groups = one, pieces[0].surfaces.groups_n = 3;
        pieces[1].surfaces.groups = two, pieces[1].surfaces.groups_n = 1;
        pieces[2].surfaces.groups = no, pieces[2].surfaces.groups_n = 1;
        pieces[2].hazards.refused = true;
        struct plan p = {.pieces = pieces, .pieces_n = 3};
        struct day_ask ask = {.floor_dm2 = 61};
        struct day_build b = {.plan = &p, .ask = &ask};
        CHECK(!day_crowded(&b));
        ask.floor_dm2 = 60;
        CHECK(day_crowded(&b));
    }
}

int main(void) {
    floor_cases();
    wait_cases();
    sample_cases();
    booth_cases();
    crew_cases();
    keep_cases();
    arena_free(&arena);
    return check_done();
}
