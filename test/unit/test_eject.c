/* Mending a timetable task by task; every place is counted by hand. */
#include "core/timetable/standing.h"
#include "test/check.h"
#include "test/model/timetable_judge.h"

enum { DAY = 1440, MOST = 9 };

static struct timetable_span hours[40];
static struct timetable_person person = {"the finisher", 0, hours, 0};
static struct timetable_task task[MOST];
static struct timetable_place stood[MOST];
static struct timetable_lag lag[2];
static struct timetable_hold hold[2];
static struct timetable_resource place = {.name = "the drying place", .capacity = 1};
static struct timetable_setup brush = {"brush", 5, 10, 60};
static struct timetable_problem problem;
static struct timetable_answer old, answer;
static struct timetable_change *changes;
static int changes_n;
static struct arena arena;
static struct why why;

/* 8 to 12 and 13 to 17; an hour each, from these starts; the first has begun. */
static void day_of(int tasks, const int64_t *starts) {
    person.windows_n = 0;
    for (int day = 0; day < 20; day++) {
        hours[person.windows_n++] = (struct timetable_span){day * DAY + 480, day * DAY + 720};
        hours[person.windows_n++] = (struct timetable_span){day * DAY + 780, day * DAY + 1020};
    }
    for (int i = 0; i < tasks; i++) {
        const int64_t no = TIMETABLE_UNSAID, from = starts[i], to = starts[i] + 60;
        task[i] = (struct timetable_task){.work_min = 60,
                                          .person = TIMETABLE_ANYBODY,
                                          .piece = TIMETABLE_NONE,
                                          .setup = TIMETABLE_NONE,
                                          .release = no,
                                          .due = no,
                                          .weight = 1,
                                          .wait = no};
        stood[i] = (struct timetable_place){.start = from,
                                            .end = to,
                                            .block_from = from,
                                            .block_to = to,
                                            .follows = TIMETABLE_NONE};
    }
    task[0].state = TIMETABLE_FIXED;
    task[0].fixed_start = starts[0], task[0].fixed_end = starts[0] + 60;
    old = (struct timetable_answer){.places = stood, .tasks_n = tasks};
    problem = (struct timetable_problem){.now = 500,
                                         .tasks = task,
                                         .lags = lag,
                                         .persons = &person,
                                         .resources = &place,
                                         .holds = hold,
                                         .setups = &brush,
                                         .tasks_n = tasks,
                                         .persons_n = 1,
                                         .resources_n = 1,
                                         .setups_n = 1};
}

static bool replanned(void) {
    why = (struct why){0};
    enum status s = timetable_replan(&problem, &old, NULL, (struct limit){0}, 1, &arena, &answer,
                                     &changes, &changes_n, &why);
    const char *bad = s ? why.text : timetable_judge(&problem, &answer);
    if (bad) printf("%s\n", bad);
    return !bad;
}

/* How many stand elsewhere. */
static int moved(void) {
    int n = 0;
    for (int i = 0; i < problem.tasks_n; i++) n += answer.places[i].start != stood[i].start;
    return n;
}

static void slip_cases(void) {
    CASE("what the slip pushes away takes the gap later in the day, nobody else moves") {
        day_of(7, (int64_t[]){480, 540, 600, 660, 780, 900, 960});
        task[0].fixed_end += 60;
        CHECK(replanned() && moved() == 1);
        CHECK(answer.places[1].start == 840);
    }
    CASE("what is promised takes another's place, and that one the gap") {
        day_of(7, (int64_t[]){480, 540, 600, 660, 780, 900, 960});
        task[0].fixed_end += 60;
        task[1].due = 660;
        CHECK(replanned() && moved() == 2);
        CHECK(answer.places[1].start == 600 && answer.places[2].start == 840);
        CHECK(answer.score.lateness == 0);
    }
    CASE("one that is promised as well does not give way: the next does") {
        day_of(7, (int64_t[]){480, 540, 600, 660, 780, 900, 960});
        task[0].fixed_end += 60;
        task[1].due = 720, task[2].due = 660;
        CHECK(replanned() && moved() == 2);
        CHECK(answer.places[1].start == 660 && answer.places[3].start == 840);
        CHECK(answer.score.lateness == 0);
    }
    CASE("a place held longer: the coat that was to have it waits, other work stays") {
        /* the first coat is dry at 660, the second is on the place then */
        day_of(5, (int64_t[]){480, 660, 540, 600, 780});
        lag[0] =
            (struct timetable_lag){"dry", 0, 4, false, 120, TIMETABLE_UNSAID, TIMETABLE_NONE, -1};
        lag[1] = (struct timetable_lag){
            "dry", 1, 4, false, TIMETABLE_UNSAID, TIMETABLE_UNSAID, TIMETABLE_NONE, -1};
        hold[0] = (struct timetable_hold){0, 0, 0, 1, 0};
        hold[1] = (struct timetable_hold){1, 1, 0, 1, TIMETABLE_NONE};
        problem.lags_n = 2, problem.holds_n = 2;
        CHECK(replanned() && moved() == 0);
        task[0].fixed_end += 30; /* dry at 690: too late for an hour before noon */
        CHECK(replanned() && moved() == 2);
        CHECK(answer.places[2].start == 660); /* pushed by the hands */
        CHECK(answer.places[1].start == 840);
        CHECK(answer.places[3].start == 600 && answer.places[4].start == 780);
    }
    CASE("what cannot be in time is as little late as it can be") {
        day_of(3, (int64_t[]){480, 540, 600});
        task[0].fixed_end += 60;
        task[1].due = 600, task[2].due = 660;
        task[2].weight = 2;
        CHECK(replanned());
        CHECK(answer.places[2].start == 600 && answer.places[1].start == 660);
        CHECK(answer.score.lateness == 120);
    }
}

static void wet_cases(void) {
    struct shop shop;
    struct standing s;
    CASE("of three coats with one brush the middle one goes: the last goes on with the first's") {
        day_of(4, (int64_t[]){1020, 485, 545, 605});
        for (int i = 1; i < 4; i++) task[i].setup = 0;
        problem.now = 480;
        CHECK(shop_make(&problem, &arena, &shop, &why) == OK && standing_make(&s, &shop, &arena));
        standing_clear(&s);
        for (int i = 1; i < 4; i++)
            CHECK(standing_resume(&s, i, 0, stood[i].start, i > 1 ? i - 1 : -1, i < 3));
        standing_settle(&s);
        CHECK(s.loose_n == 0 && s.stand[1].block_from == 480 && s.stand[1].block_to == 545);
        CHECK(s.stand[3].block_from == 605 && s.stand[3].block_to == 675);
        standing_take(&s, 2);
        standing_settle(&s);
        CHECK(s.loose_n == 1 && s.stand[1].followed == 3 && s.stand[3].follows == 1);
        CHECK(s.stand[1].block_to == 545 && s.stand[3].block_from == 605);
    }
    CASE("where the brush would be dry by then it is cleaned and set up again") {
        brush.keep_wet_min = 20;
        standing_clear(&s);
        for (int i = 1; i < 4; i++)
            CHECK(standing_resume(&s, i, 0, stood[i].start, i > 1 ? i - 1 : -1, i < 3));
        standing_settle(&s);
        standing_take(&s, 2);
        standing_settle(&s);
        CHECK(s.loose_n == 1 && s.stand[1].followed == -1 && s.stand[3].follows == -1);
        CHECK(s.stand[1].block_to == 555 && s.stand[3].block_from == 600);
    }
    CASE("asked for a place that is taken it names who gives way, and what that costs") {
        struct bid b;
        double price[] = {1, 2, 3, 4};
        CHECK(!standing_bid(&s, 2, 0, 485, NULL, 1e9, &b));
        CHECK(!standing_bid(&s, 2, 0, 485, price, 2, &b));
        CHECK(standing_bid(&s, 2, 0, 485, price, 2.5, &b));
        CHECK(b.gives_n == 1 && b.gives[0] == 1 && b.cost == 2);
        standing_put(&s, 2, &b);
        CHECK(s.stand[2].start == 485 && !s.stand[1].placed && s.loose_n == 1);
    }
}

int main(void) {
    arena_init(&arena, alloc_heap(), 0);
    slip_cases();
    wet_cases();
    arena_free(&arena);
    return check_done();
}
