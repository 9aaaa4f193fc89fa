/* By when each task must be over, what is shut to it, why it stands where it stands, and what a
 * problem may not say: small shops, counted by hand. */
#include "core/timetable/deadline.h"
#include "core/timetable/shop_bound.h"
#include "core/timetable/shut.h"
#include "test/check.h"
#include "test/model/timetable_judge.h"
#include "test/unit/open_shop.h"

enum { DAYS = 4, TASKS = 4 };

static struct timetable_span hours[2 * DAYS], brief[1] = {{600, 900}};
static struct timetable_person person[2];
static struct timetable_task task[TASKS];
static struct timetable_lag lag[TASKS];
static struct timetable_setup setup[2];
static struct timetable_rate rate[2];
static struct timetable_climate climate;
static struct timetable_span shut[2];
static struct timetable_resource place;
static struct timetable_hold hold[2];
static struct timetable_problem problem;
static struct timetable_answer answer;
static struct arena arena;
static struct shop shop;
static struct why why;

static void open_shop(int tasks, int lags) {
    person[0] = (struct timetable_person){"the finisher", 0, hours, open_hours(hours, DAYS)};
    person[1] = (struct timetable_person){"the helper", 0, brief, 1};
    open_chain(task, lag, TASKS);
    setup[0] = setup[1] = (struct timetable_setup){"gun", 30, 0, 0};
    rate[0] = (struct timetable_rate){0, 1000}, rate[1] = (struct timetable_rate){900, 500};
    climate = (struct timetable_climate){rate, 2};
    shut[0] = (struct timetable_span){600, 700}, shut[1] = (struct timetable_span){900, 950};
    place = (struct timetable_resource){"rack", 3, shut, 0};
    hold[0] = hold[1] = (struct timetable_hold){0, 0, 0, 1, TIMETABLE_NONE};
    problem = (struct timetable_problem){.tasks = task,
                                         .lags = lag,
                                         .persons = person,
                                         .resources = &place,
                                         .holds = hold,
                                         .setups = setup,
                                         .climates = &climate,
                                         .tasks_n = tasks,
                                         .lags_n = lags,
                                         .persons_n = 1,
                                         .resources_n = 1,
                                         .setups_n = 2,
                                         .climates_n = 1};
}

static enum status make(void) {
    why = (struct why){0};
    return shop_make(&problem, &arena, &shop, &why);
}

static enum status solve(void) {
    why = (struct why){0};
    return timetable_solve(&problem, (struct limit){.steps = 50}, 1, &arena, &answer, &why);
}

static void cases_deadlines(void) {
    int64_t latest[TASKS];
    CASE("two hours in a row from 8: over at 10 with no wait, at 12 with two hours of it") {
        open_shop(2, 1);
        CHECK(!make() && deadlines(&shop, 600, INT64_MAX, latest));
        CHECK(latest[0] == 540 && latest[1] == 600);
        CHECK(!deadlines(&shop, 599, INT64_MAX, latest));
        lag[0].min_min = 120;
        CHECK(!make() && deadlines(&shop, 720, INT64_MAX, latest) && latest[0] == 540);
        CHECK(!deadlines(&shop, 719, INT64_MAX, latest));
        CHECK(deadlines(&shop, 839, INT64_MAX, latest) && latest[0] == 540); /* not 1 to 1:59 */
        CHECK(deadlines(&shop, 840, INT64_MAX, latest) && latest[0] == 660);
        task[0].release = 481;
        CHECK(!make() && !deadlines(&shop, 839, INT64_MAX, latest));
    }
    CASE("a promise at 11:40 for two, 40 allowed: 20 minutes late, and no later than the finish") {
        open_shop(2, 1);
        task[1].due = 700, task[1].weight = 2, lag[0].min_min = 120;
        CHECK(!make() && deadlines(&shop, 1020, 40, latest) && latest[1] == 720);
        CHECK(!deadlines(&shop, 1020, 39, latest)); /* 19: at 11:59 */
        CHECK(deadlines(&shop, 720, 1000, latest) && latest[1] == 720);
        CHECK(deadlines(&shop, 1020, INT64_MAX, latest) && latest[1] == 1020);
    }
    CASE("who may do it decides how late it can begin") {
        open_shop(1, 0);
        problem.persons_n = 2;
        CHECK(!make() && start_before(&shop, 0, 900) == 840);
        CHECK(start_before(&shop, 0, 800) == 740); /* the helper has no lunch */
        task[0].person = 0;
        CHECK(!make() && start_before(&shop, 0, 800) == 660);
        CHECK(start_before(&shop, 0, 539) == INT64_MIN);
        task[0].person = TIMETABLE_NOBODY;
        CHECK(!make() && start_before(&shop, 0, 539) == 479);
    }
    CASE("a closing time is one when nobody else is at work") {
        open_shop(1, 0);
        problem.persons_n = 2;
        CHECK(!make() && closing_before(&shop, 1021) == 1020);
        CHECK(closing_before(&shop, 1020) == INT64_MIN); /* 10 to 3 joins the halves of the day */
        CHECK(closing_before(&shop, DAY + 780) == DAY + 720);
        CHECK(all_worked(&shop, 720) == 240 + 120 && all_worked(&shop, 800) == 260 + 200);
    }
    CASE("all can be over when a task that may be the last can end") {
        open_shop(2, 1);
        CHECK(!make() && over_from(&shop, 0) == 540 && over_from(&shop, 541) == 541);
        CHECK(over_from(&shop, 720) == 720 && over_from(&shop, 721) == 840);
        CHECK(task_end_from(&shop, 1, 840) == 840 && task_end_from(&shop, 1, 1021) == DAY + 540);
        task[1].pausable = true; /* its last minute */
        CHECK(!make() && over_from(&shop, 721) == 781 && task_end_from(&shop, 0, 721) == 840);
        task[1].pausable = false;
        task[1].state = TIMETABLE_FIXED, task[1].fixed_start = 700, task[1].fixed_end = 730;
        CHECK(!make() && over_from(&shop, 721) == 730); /* it stands; the one before does not end */
        lag[0].from_start = true;                       /* which may now be the last too */
        CHECK(!make() && over_from(&shop, 731) == 840 && over_from(&shop, 700) == 700);
    }
}

static void cases_goes_on(void) {
    CASE("what another task waits for is not the last, wherever it stands in the list") {
        open_shop(3, 1);
        task[0].state = TIMETABLE_FIXED, task[0].fixed_end = 10;
        lag[0].from = 1, lag[0].to = 2, task[1].work_min = 10;
        CHECK(!make() && over_from(&shop, 481) == 540 && over_from(&shop, 9) == 10);
        task[2].work_min = 0; /* nobody is at it: the ten minutes are the last */
        CHECK(!make() && over_from(&shop, 485) == 485);
        task[2].person = TIMETABLE_NOBODY, task[2].work_min = 5;
        lag[0].min_min = TIMETABLE_UNSAID, task[2].release = 2000;
        CHECK(!make() && task_end_from(&shop, 1, 481) == 490);
    }
}

static void cases_shut(void) {
    CASE("two hours of drying meet 10 to 11:40, when it is shut, unless over by then") {
        open_shop(2, 1);
        place.shut_n = 2, problem.holds_n = 1;
        hold[0].until_lag = 0, lag[0].min_min = 120;
        CHECK(!make() && shut_until(&shop, 0, 420, 480) == 420);
        CHECK(shut_until(&shop, 0, 421, 481) == 700 && shut_until(&shop, 0, 699, 760) == 700);
        CHECK(shut_until(&shop, 0, 700, 780) == 700 && shut_until(&shop, 0, 730, 790) == 950);
        CHECK(shut_end_before(&shop, 0, 440, 500) == 480); /* dry at 10 */
        CHECK(shut_end_before(&shop, 0, 420, 480) == 480);
        CHECK(shut_end_before(&shop, 0, 740, 800) == 780);
        /* from 2 pm it would meet 3 pm, from 11 it meets 11, and before 8 nobody works */
        CHECK(start_before(&shop, 0, 890) == INT64_MIN && start_before(&shop, 0, 1020) == 960);
        lag[0].climate = 0; /* half as fast after 3 pm: nothing of it before */
        CHECK(!make() && shut_end_before(&shop, 0, 740, 800) == 780);
        shut[1] = (struct timetable_span){1000, 1010}; /* 100 as usual count 50 after 3 pm */
        CHECK(shut_end_before(&shop, 0, 780, 840) == 830);
        CHECK(shut_until(&shop, 0, 770, 830) == 770 && shut_until(&shop, 0, 771, 831) == 1010);
    }
    CASE("held while it is worked on alone, and what lasts from its start") {
        open_shop(2, 1);
        place.shut_n = 1, problem.holds_n = 1;
        CHECK(!make() && shut_until(&shop, 0, 540, 600) == 540);
        CHECK(shut_until(&shop, 0, 541, 601) == 700 && shut_end_before(&shop, 0, 541, 601) == 600);
        lag[0].min_min = 120, lag[0].from_start = true, hold[0].until_lag = 0;
        CHECK(!make() && shut_until(&shop, 0, 480, 500) == 480);
        CHECK(shut_until(&shop, 0, 481, 501) == 700 && shut_end_before(&shop, 0, 481, 501) == 501);
        hold[0].amount = 0;
        CHECK(!make() && shut_until(&shop, 0, 481, 501) == 481);
    }
    CASE("alike is what is shut at the same times for as long") {
        open_shop(3, 2);
        place.shut_n = 1, problem.holds_n = 2;
        lag[1].from = 1, lag[1].to = 2;
        lag[0].to = 2, lag[0].min_min = lag[1].min_min = 120;
        hold[0].until_lag = 0;
        hold[1] = (struct timetable_hold){1, 1, 0, 2, 1};
        CHECK(!make() && shut_alike(&shop, 0, 1) && !shut_alike(&shop, 0, 2));
        lag[1].min_min = 121;
        CHECK(!make() && !shut_alike(&shop, 0, 1));
        lag[1].min_min = 120, lag[1].climate = 0;
        CHECK(!make() && !shut_alike(&shop, 0, 1));
        lag[1].climate = TIMETABLE_NONE, lag[1].from_start = true;
        CHECK(!make() && !shut_alike(&shop, 0, 1));
        hold[1].until_lag = TIMETABLE_NONE;
        CHECK(!make() && !shut_alike(&shop, 0, 1));
    }
}

static void cases_answers(void) {
    CASE("as long as the longest time at work, without a pause: it is done in that time") {
        open_shop(1, 0);
        task[0].work_min = 240;
        CHECK(solve() == OK && answer.places[0].start == 480 && answer.places[0].end == 720);
        task[0].work_min = 241;
        CHECK(solve() == E_IMPOSSIBLE && strstr(why.text, "240 minutes"));
    }
    CASE("over at its hour a promise is kept; a minute later it is late, for three") {
        open_shop(1, 0);
        task[0].due = 540, task[0].weight = 3;
        CHECK(solve() == OK && answer.places[0].late_min == 0 && answer.score.lateness == 0);
        task[0].due = 539;
        CHECK(solve() == OK && answer.places[0].late_min == 1 && answer.score.lateness == 3);
        CHECK(answer.proven && answer.bound.lateness == 3);
    }
    CASE("two tools of half an hour's set-up, both promised for 10: one is an hour late") {
        struct timetable_score bound; /* 8:30 to 9:30, 10 to 11 */
        open_shop(2, 0);
        for (int i = 0; i < 2; i++) task[i].setup = i, task[i].due = 600, task[i].weight = 1;
        CHECK(solve() == OK && answer.score.lateness == 60 && answer.score.finish == 660);
        CHECK(answer.proven && !make() && !shop_bound(&shop, &arena, &bound));
        CHECK(bound.lateness == 60 && bound.finish == 660);
    }
    CASE("a pause as long as the gap belongs to the sitting: an hour of lunch, begun or still "
         "open") {
        for (int begun = 0; begun <= 2; begun++) {
            open_shop(2, 0);
            for (int i = 0; i < 2; i++) {
                task[i].work_min = 240;
                if (i >= begun) continue;
                task[i].state = TIMETABLE_FIXED, task[i].fixed_person = 0;
                task[i].fixed_start = i ? 780 : 480, task[i].fixed_end = i ? 1020 : 720;
            }
            if (begun) problem.now = 720;
            problem.sitting_gap_min = 60;
            CHECK(solve() == OK && answer.score.finish == 1020 && answer.score.sittings == 1);
            problem.sitting_gap_min = 59;
            CHECK(solve() == OK && answer.score.finish == 1020 && answer.score.sittings == 2);
        }
    }
    CASE("why it stands where it stands: the hour, the person, the place, what follows") {
        open_shop(2, 0);
        CHECK(solve() == OK);
        int second = answer.places[1].start > answer.places[0].start;
        CHECK(answer.places[!second].reason == TIMETABLE_BY_HOURS &&
              answer.places[!second].reason_index == 0);
        CHECK(answer.places[second].reason == TIMETABLE_BY_PERSON &&
              answer.places[second].reason_index == !second);
        open_shop(3, 1); /* the rack is full while the first one dries, until 11 */
        lag[0].to = 2, lag[0].min_min = 120;
        task[2].release = 900;
        hold[0] = (struct timetable_hold){0, 0, 0, 3, 0};
        hold[1] = (struct timetable_hold){1, 1, 0, 1, TIMETABLE_NONE};
        task[0].due = 540, task[0].weight = 1;
        problem.holds_n = 2;
        CHECK(solve() == OK && !timetable_judge(&problem, &answer));
        CHECK(answer.places[1].start == 660 && answer.places[1].reason == TIMETABLE_BY_RESOURCE);
        CHECK(answer.places[1].reason_index == 0);
        CHECK(answer.places[2].reason == TIMETABLE_BY_RELEASE);
        open_shop(2, 1); /* within an hour of the first one, and not before 3 pm */
        lag[0].max_min = 60, task[1].release = 900;
        CHECK(solve() == OK && answer.places[1].start == 900 && answer.places[0].end == 840);
        CHECK(answer.places[0].reason == TIMETABLE_BY_NEXT && answer.places[0].reason_index == 0);
        task[1].release = 930; /* at 1:30 pm, when the shop is open anyway */
        CHECK(solve() == OK && answer.places[0].start == 810);
        CHECK(answer.places[0].reason == TIMETABLE_BY_NEXT && answer.places[0].reason_index == 0);
        task[0].release = 700; /* too late for the morning: it waits for 1 pm in any case */
        task[1].release = 900;
        CHECK(solve() == OK && answer.places[0].start == 780);
        CHECK(answer.places[0].reason == TIMETABLE_BY_HOURS && answer.places[0].reason_index == 0);
    }
}

/* What is said may not be so; all else may. */
static void refused(enum status want, const char *field) {
    enum status s = make();
    if (s != want || strcmp(why.field, field))
        printf("%s refused as %d, want %d at %s\n", why.field, (int)s, (int)want, field);
    CHECK(s == want && !strcmp(why.field, field));
    open_shop(2, 1);
    problem.holds_n = 1;
}

static void cases_refused(void) {
    open_shop(2, 1);
    problem.holds_n = 1;
    CASE("an index one past the end is no index") {
        task[1].person = 1, refused(E_REFERENCE, "/tasks/1/person");
        task[1].setup = 2, refused(E_REFERENCE, "/tasks/1/setup");
        lag[0].to = 2, refused(E_REFERENCE, "/lags/0/from");
        lag[0].climate = 1, refused(E_REFERENCE, "/lags/0/climate");
        hold[0].resource = 1, refused(E_REFERENCE, "/holds/0/resource");
        hold[0].last = 2, refused(E_REFERENCE, "/holds/0/first");
        hold[0].until_lag = 1, refused(E_REFERENCE, "/holds/0/until_lag");
        hold[0].last = hold[0].first = 1, hold[0].until_lag = 0;
        refused(E_REFERENCE, "/holds/0/until_lag");
        task[0].state = TIMETABLE_FIXED, task[0].fixed_end = 9, task[0].fixed_person = 1;
        refused(E_DOMAIN, "/tasks/0/fixed_start");
    }
    CASE("numbers end where they are said to") {
        task[0].work_min = 100001, refused(E_DOMAIN, "/tasks/0/work_min");
        task[0].work_min = -1, refused(E_DOMAIN, "/tasks/0/work_min");
        task[0].weight = 1000001, refused(E_DOMAIN, "/tasks/0/weight");
        task[0].state = TIMETABLE_FIXED, task[0].fixed_start = 9, task[0].fixed_end = 8;
        refused(E_DOMAIN, "/tasks/0/fixed_start");
        problem.sitting_gap_min = 100001, refused(E_DOMAIN, "/sitting_gap_min");
        setup[1].cleanup_min = 1441, refused(E_DOMAIN, "/setups/1/setup_min");
        lag[0].scuff_min = 100001, refused(E_DOMAIN, "/lags/0/scuff_min");
        lag[0].min_min = 60, lag[0].max_min = 59, refused(E_IMPOSSIBLE, "/lags/0");
        lag[0].min_min = -1, lag[0].climate = 0, refused(E_DOMAIN, "/lags/0/min_min");
        hold[0].amount = -1, refused(E_DOMAIN, "/holds/0/amount");
        lag[0].min_min = 60, lag[0].max_min = 60, refused(OK, "");
        lag[0].min_min = -60, refused(OK, "");
    }
    CASE("times are in order and do not touch; the last rate is above nothing") {
        rate[1].from = 0, refused(E_DOMAIN, "/climates/0/rates");
        rate[1].progress_permille = 0, refused(E_DOMAIN, "/climates/0/rates");
        rate[0].progress_permille = 4001, refused(E_DOMAIN, "/climates/0/rates");
        rate[0].progress_permille = 0, refused(OK, "");
        hours[1].from = 720, refused(E_DOMAIN, "/persons/0/windows");
        hours[1].to = 780, refused(E_DOMAIN, "/persons/0/windows");
        place.shut_n = 2, shut[1].from = 700, refused(E_DOMAIN, "/resources/0/shut");
    }
    CASE("twice two of three places for one task are too many") {
        problem.holds_n = 2, hold[0].amount = hold[1].amount = 2;
        CHECK(make() == E_IMPOSSIBLE && strstr(why.text, "4 of rack"));
        refused(E_IMPOSSIBLE, "/holds/1");
        problem.holds_n = 2, hold[0].amount = 2, refused(OK, "");
    }
}

int main(void) {
    arena_init(&arena, alloc_heap(), 0);
    cases_deadlines();
    cases_goes_on();
    cases_shut();
    cases_answers();
    cases_refused();
    arena_free(&arena);
    return check_done();
}
