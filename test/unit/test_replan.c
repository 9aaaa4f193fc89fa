/* Planning again in the book: a slip, a cold night, a day off, a rush job; what moves is told
 * before it is kept, and the calendar that is read again follows. The shop is on America/New_York,
 * its clock set back on 2026-11-01 (IANA; from memory). Sources: RFC 5545; libical as a reference
 * library (skipped where it is absent); what is expected of the trade is common practice. */
#include "app/op_days.h"
#include "test/check.h"
#include "test/unit/ask_one.h"

#ifdef HAVE_LIBICAL
#include <libical/ical.h>
#endif

enum { OCT_26_7_AM = (20752 * 24 + 11) * 60 /* Monday, on New York's clock */ };

static enum status piece_add(const char *title, const char *agreement) {
    char args[1000];
    snprintf(args, sizeof args,
             "{\"title\":\"%s\",\"piece\":{\"template\":\"nightstand\",\"width\":\"24 in\","
             "\"depth\":\"16 in\",\"height\":\"28 in\",\"finish\":\"lacquer\",\"year\":1995,"
             "\"wood\":\"hard_maple\",\"agreement\":{%s},"
             "\"wanted\":{\"color\":\"#f4f2ec\",\"product\":\"white\"}}}",
             title, agreement);
    return do_it("piece add", args);
}

static void begin(void) {
    asker_open(&a);
    a.now_utc_min = OCT_26_7_AM;
    CHECK(do_it("shop change",
                "{\"shop\":{\"zone\":\"America/New_York\",\"units\":\"us\","
                "\"day_temperature\":\"68 F\",\"night_temperature\":\"64 F\"}}") == OK);
    CHECK(do_it("paint add",
                "{\"name\":\"White\",\"paint\":{\"id\":\"white\",\"class\":\"wb_enamel\","
                "\"color\":\"#f4f2ec\",\"stock\":\"3 L\"}}") == OK);
    CHECK(piece_add("Left stand", "\"due\":\"2026-11-06\"") == OK);
    CHECK(piece_add("Right stand", "") == OK);
}

/* Public name of the n-th task of an operation in the days; "" when there is none. */
static const char *task_of(const char *operation) {
    char word[80];
    CHECK(do_it("days", "{}") == OK);
    snprintf(word, sizeof word, "\"operation\":\"%s\"", operation);
    const char *tasks = strstr(answer, "\"tasks\":["), *at = tasks ? strstr(tasks, word) : NULL;
    if (!at) return "";
    while (at > tasks && strncmp(at, "{\"id\":", 6)) at--;
    return said(&a, at, "id");
}

/* Nobody has looked for wax, so it is wiped with spirits: the cautions of that are read first. */
static void cautions_read(const char *start) {
    for (int i = 0; i < 5 && do_it("task start", start) == E_REFUSED; i++) {
        char piece[40] = "", about[40] = "", accept[200];
        const char *at = strstr(a.why.text, "piece accept ");
        if (!at || sscanf(at, "piece accept %39s caution --about %39[a-z_]", piece, about) != 2)
            return;
        snprintf(accept, sizeof accept, "{\"id\":\"%s\",\"kind\":\"caution\",\"about\":\"%s\"}",
                 piece, about);
        CHECK(do_it("piece accept", accept) == OK);
    }
}

static void accept_cases(void) {
    CASE("before anything was accepted nothing can move, and that is said") {
        CHECK(do_it("days replan", "{}") == OK);
        CHECK(!*said(&a, answer, "count") && !strstr(answer, "new,"));
    }
    CASE("accepted days stand") {
        CHECK(do_it("days accept", "{}") == OK);
        CHECK(do_it("days replan", "{}") == OK);
        CHECK_TEXT(said(&a, answer, "count"), "Nothing moves.");
        CHECK(strstr(answer, "\"changes\":[]") && strstr(answer, "\"promises\":[]"));
    }
}

/* What would move is told; the book has not changed by asking. Kept, it stands; taken back, the old
 * days stand again. */
static void order_cases(void) {
    bool proven;
    CASE("how good the order is stands in words, and accepted days are not called the best found") {
        CHECK(do_it("days", "{}") == OK);
        const char *order = said(&a, answer, "order");
        proven = strstr(answer, "\"proven\":true") != NULL;
        CHECK(strstr(order, proven ? "that is proven" : "As accepted") != NULL);
        CHECK(do_it("days", "{\"anew\":true}") == OK);
        order = said(&a, answer, "order");
        CHECK(strstr(order, "proven") || strstr(order, "shorter") || strstr(order, "late"));
    }
    CASE("what comes late is not told as a share of the whole time") {
        CHECK(do_it("piece change", "{\"id\":\"left-stand\",\"piece\":{\"agreement\":{\"due\":"
                                    "\"2026-10-27\"}}}") == OK);
        CHECK(do_it("days", "{}") == OK);
        const char *order = said(&a, answer, "order");
        proven = strstr(answer, "\"proven\":true") != NULL;
        CHECK(proven || strstr(answer, "\"gap_is_late\":true") == NULL ||
              (!strstr(order, "shorter") && strstr(order, "late")));
        CHECK(do_it("undo", "{}") == OK);
    }
}

static void clock_cases(void) {
    CASE("a change of the clocks while there is work is said, with its day; none else") {
        CHECK(do_it("days", "{\"now\":\"2026-10-29T12:00Z\",\"anew\":true}") == OK);
        CHECK_TEXT(said(&a, answer, "clock"), "The clocks are set back 1 h on Sun, Nov 1.");
        CHECK(do_it("days", "{\"now\":\"2027-03-11T12:00Z\",\"anew\":true}") == OK);
        CHECK_TEXT(said(&a, answer, "clock"), "The clocks are set forward 1 h on Sun, Mar 14.");
        /* on the evening before, 8:30 pm on the shop's clock, when in London it is tomorrow */
        CHECK(do_it("days", "{\"now\":\"2026-11-01T00:30Z\",\"anew\":true}") == OK);
        CHECK_TEXT(said(&a, answer, "clock"), "The clocks are set back 1 h on Sun, Nov 1.");
        CHECK(do_it("days", "{\"now\":\"2026-11-01T12:00Z\",\"anew\":true}") == OK);
        CHECK(!strstr(answer, "\"clock\"")); /* they were, this morning */
    }
}

static void tried_then_kept(const char *args, const char *member) {
    CHECK(do_it("days replan", args) == OK);
    CHECK(strstr(said(&a, answer, "count"), "tasks move") && strstr(answer, " instead of "));
    CHECK(do_it("shop", "{}") == OK && !strstr(answer, member));
    CHECK(do_it("days replan", "{}") == OK);
    CHECK_TEXT(said(&a, answer, "count"), "Nothing moves.");
    CHECK(do_it("days accept", args) == OK);
    CHECK(do_it("shop", "{}") == OK && strstr(answer, member));
    CHECK(do_it("days replan", "{}") == OK);
    CHECK_TEXT(said(&a, answer, "count"), "Nothing moves.");
    CHECK(do_it("undo", "{}") == OK);
    CHECK(do_it("shop", "{}") == OK && !strstr(answer, member));
    CHECK(do_it("days replan", "{}") == OK);
    CHECK_TEXT(said(&a, answer, "count"), "Nothing moves.");
}

static void if_cases(void) {
    CASE("a day off is tried, kept, and taken back") {
        tried_then_kept("{\"off\":\"2026-10-27\"}", "2026-10-27");
    }
    CASE("which pieces it makes ready on another day is told; as it stands none is") {
        CHECK(do_it("days replan", "{\"off\":\"2026-10-27\"}") == OK);
        const char *ready = strstr(answer, "\"ready\":[");
        CHECK(ready && strstr(ready, ": ready ") && strstr(ready, ": ready ") < strchr(ready, ']'));
        CHECK(do_it("days replan", "{}") == OK && strstr(answer, "\"ready\":[]"));
    }
    CASE("so is a cold night") {
        tried_then_kept("{\"cold\":\"2026-10-27\",\"night\":\"40 F\"}", "2026-10-27");
    }
    CASE("half a question is asked back, with the member that is missing") {
        CHECK(do_it("days replan", "{\"cold\":\"2026-10-26\"}") == E_MISSING);
        CHECK_TEXT(a.why.field, "/night");
        CHECK(do_it("days replan", "{\"night\":\"40 F\"}") == E_MISSING);
        CHECK_TEXT(a.why.field, "/cold");
        CHECK(do_it("days replan", "{\"person\":\"ann\"}") == E_MISSING);
        CHECK(do_it("days replan", "{\"off\":\"2026-10-27\",\"person\":\"ann\"}") == E_REFERENCE);
        CHECK_TEXT(a.why.field, "/person");
    }
    CASE("one of two is off: only that one") {
        CHECK(do_it("shop change",
                    "{\"shop\":{\"crew\":[{\"id\":\"ann\",\"name\":\"Ann\"},{\"id\":\"ben\","
                    "\"name\":\"Ben\",\"days_off\":[\"2026-12-24\"]}]}}") == OK);
        CHECK(do_it("days accept", "{\"anew\":true,\"off\":\"2026-10-28\",\"person\":\"ben\"}") ==
              OK);
        CHECK(do_it("shop", "{}") == OK && strstr(answer, "\"2026-12-24\",\"2026-10-28\""));
        CHECK(strstr(answer, "\"days_off\":[]") ||
              !strstr(answer, "\"days_off\":[\"2026-10-28\"]"));
        CHECK(do_it("undo", "{}") == OK && do_it("undo", "{}") == OK);
    }
}

static void label_cases(void) {
    CASE("a label that contradicts itself does not get onto the shelf") {
        CHECK(do_it("paint change", "{\"id\":\"white\",\"paint\":{\"label_recoat\":\"6 h\","
                                    "\"label_recoat_until\":\"4 h\"}}") == E_DOMAIN);
        CHECK_TEXT(a.why.field, "/paint/label_recoat_until");
        CHECK(strstr(a.why.text, "after 6 h") && strstr(a.why.text, "before 4 h"));
    }
}

static void slip_cases(void) {
    char args[160];
    CASE("a coat that is still wet moves what hangs on it, in words") {
        const char *coat = task_of("color");
        snprintf(args, sizeof args, "{\"id\":\"%s\",\"until\":\"2026-10-29 08:00\"}", coat);
        CHECK(*coat && do_it("task slip", args) == OK);
        CHECK(do_it("days replan", "{}") == OK);
        CHECK(strstr(answer, "coat 1: Thu, Oct 29, ") && strstr(answer, "\"promises\":[]"));
        CHECK(!strstr(answer, "Prime"));
        CHECK(!strstr(answer, "Left stand") != !strstr(answer, "Right stand"));
        CHECK(do_it("undo", "{}") == OK);
    }
    CASE("years ahead is refused with its field") {
        snprintf(args, sizeof args, "{\"id\":\"%s\",\"until\":\"2031-01-01 08:00\"}",
                 task_of("color"));
        CHECK(do_it("task slip", args) == E_DOMAIN);
        CHECK_TEXT(a.why.field, "/until");
    }
}

static void gone_cases(void) {
    CASE("what is no longer needed is said, once") {
        CHECK(do_it("piece change", "{\"id\":\"right-stand\",\"piece\":{\"wanted\":{\"clear\":"
                                    "\"none\"}}}") == OK);
        CHECK(do_it("days replan", "{}") == OK);
        CHECK(strstr(said(&a, answer, "count"), "no longer needed") &&
              strstr(answer, "Clear coat: waterborne clear, coat 1: no longer needed."));
        CHECK(do_it("days accept", "{}") == OK && do_it("days replan", "{}") == OK);
        CHECK_TEXT(said(&a, answer, "count"), "Nothing moves.");
        CHECK(do_it("undo", "{}") == OK && do_it("undo", "{}") == OK);
        CHECK(do_it("days replan", "{}") == OK);
        CHECK_TEXT(said(&a, answer, "count"), "Nothing moves.");
    }
}

static void rush_cases(void) {
    CASE("a rush job comes in: its tasks are new, what was promised stays promised") {
        CHECK(piece_add("Rush stand", "\"due\":\"2026-11-05\",\"due_weight\":10") == OK);
        CHECK(do_it("days replan", "{}") == OK);
        CHECK(strstr(said(&a, answer, "count"), " new."));
        CHECK(strstr(answer, "Rush stand, Photographs before: new, "));
        CHECK(!strstr(answer, "Rush stand would be ready"));
        CHECK(!strstr(answer, "Left stand would be ready"));
        CHECK(do_it("days accept", "{}") == OK);
    }
    CASE("a wait that ends after the promised day is named beside it") {
        CHECK(do_it("piece change",
                    "{\"id\":\"rush-stand\",\"piece\":{\"waits\":[{\"kind\":\"client\","
                    "\"until\":\"2026-11-16\"}]}}") == OK);
        CHECK(do_it("days replan", "{}") == OK);
        CHECK(strstr(answer, "Rush stand would be ready") &&
              strstr(answer, "It waits for the client's yes until Mon, Nov 16, after that day."));
        CHECK(do_it("undo", "{}") == OK);
    }
}

/* ---- the calendar ---- */

static size_t count(const char *text, const char *word) {
    size_t n = 0;
    for (; (text = strstr(text, word)); text += strlen(word)) n++;
    return n;
}

#ifdef HAVE_LIBICAL
static icalcomponent *read_calendar(const char *text) {
    icalcomponent *all = icalparser_parse_string(text);
    CHECK(all && icalcomponent_count_errors(all) == 0 && icalrestriction_check(all) == 1);
    return all;
}
static icalcomponent *by_uid(icalcomponent *all, const char *uid) {
    icalcomponent *e = icalcomponent_get_first_component(all, ICAL_VEVENT_COMPONENT);
    while (e && strcmp(icalcomponent_get_uid(e), uid))
        e = icalcomponent_get_next_component(all, ICAL_VEVENT_COMPONENT);
    return e;
}

/* Every event of the first file is found again in the second, later in sequence. */
static void read_again(const char *before, const char *after) {
    icalcomponent *one = read_calendar(before), *two = read_calendar(after);
    int moved = 0;
    icalcomponent *e = icalcomponent_get_first_component(one, ICAL_VEVENT_COMPONENT);
    for (; e; e = icalcomponent_get_next_component(one, ICAL_VEVENT_COMPONENT)) {
        icalcomponent *same = by_uid(two, icalcomponent_get_uid(e));
        CHECK(same != NULL);
        if (!same) continue;
        CHECK(icalcomponent_get_sequence(same) > icalcomponent_get_sequence(e));
        moved +=
            icaltime_compare(icalcomponent_get_dtstart(same), icalcomponent_get_dtstart(e)) != 0;
        icaltimetype from = icalcomponent_get_dtstart(same), to = icalcomponent_get_dtend(same);
        CHECK(icaltime_is_utc(from) && icaltime_compare(from, to) <= 0);
    }
    CHECK(moved > 0);
    icalcomponent_free(one);
    icalcomponent_free(two);
}
#endif

static void calendar_cases(void) {
    char args[160];
    CASE("tasks, drying and windows are events; sittings and windows ring") {
        CHECK(do_it("calendar", "{}") == OK);
        CHECK(count(answer, "BEGIN:VEVENT") > 40 && count(answer, "/window") == 0);
        CHECK(count(answer, "TRIGGER:-PT10M") > 3);
        CHECK(count(answer, "TRIGGER:-PT10M") < count(answer, "BEGIN:VEVENT") / 4);
        CHECK(count(answer, "TRIGGER;RELATED=END:-PT60M") > 0);
        CHECK(count(answer, "SUMMARY:Ready: ") == 3);
    }
    CASE("read again after a slip, the same events stand at their new times") {
        CHECK(do_it("calendar", "{}") == OK);
        const char *before = answer;
        const char *coat = task_of("color");
        snprintf(args, sizeof args, "{\"id\":\"%s\",\"until\":\"2026-10-29 08:00\"}", coat);
        CHECK(do_it("task slip", args) == OK && do_it("calendar", "{}") == OK);
#ifdef HAVE_LIBICAL
        read_again(before, answer);
#else
        (void)before;
        SKIP("libical is not installed");
#endif
    }
    CASE("what is done stays in the calendar where it was, and no longer rings") {
        a.now_utc_min += 3 * 60;
        const char *first = task_of("photo_before");
        snprintf(args, sizeof args, "{\"id\":\"%s\",\"took\":\"9 min\"}", first);
        CHECK(do_it("task done", args) == OK && do_it("calendar", "{}") == OK);
        const char *event = strstr(answer, "Photographs before");
        CHECK(event && strstr(event, "END:VEVENT") < strstr(event, "BEGIN:VALARM"));
    }
    CASE("a coat that is on rings before its window closes, until the next one is begun") {
        CHECK(do_it("task done", "{\"id\":\"left-stand-case-color-coat1\"}") == OK);
        CHECK(do_it("calendar", "{}") == OK);
        const char *edge = strstr(answer, "left-stand-case-color-coat1_2fwindow");
        CHECK(edge && strstr(edge, "BEGIN:VALARM") < strstr(edge, "END:VEVENT"));
        CHECK(do_it("task start", "{\"id\":\"left-stand-case-color-coat2\"}") == OK);
        CHECK(do_it("calendar", "{}") == OK);
        edge = strstr(answer, "left-stand-case-color-coat1_2fwindow");
        CHECK(!edge || strstr(edge, "END:VEVENT") < strstr(edge, "BEGIN:VALARM"));
        CHECK(do_it("undo", "{}") == OK && do_it("undo", "{}") == OK);
    }
    CASE("across the clock change a morning stays a morning: 8 am is 12:00 UTC, then 13:00; the "
         "table has the shop's clock") {
        CHECK(do_it("days table", "{}") == OK && count(answer, "\r\nwork,") > 30);
        int mornings = 0;
        for (const char *line = answer; (line = strstr(line, "\r\nwork,")); line++) {
            const char *from = strstr(line, ",2026-1"); /* the first time of the line */
            if (!from || strncmp(from + 1, "2026-11-02", 10)) continue;
            CHECK(atoi(from + 12) >= 8);
            mornings += atoi(from + 12) == 8;
            const char *end = strstr(line + 2, "\r\n");
            CHECK(end && !strncmp(end - 10, ",UTC-05:00", 10));
        }
        CHECK(mornings > 0);
        CHECK(do_it("days", "{}") == OK);
        const char *tasks = strstr(answer, "\"tasks\":[");
        int64_t before = INT64_MIN, after = INT64_MIN;
        for (const char *at = tasks; at && (at = strstr(at, "\"start_utc_min\":")); at++) {
            int64_t start = strtoll(at + 16, NULL, 10), day = start / 1440;
            if (day < 20758 && (before == INT64_MIN || start % 1440 < before))
                before = start % 1440;
            if (day >= 20758 && (after == INT64_MIN || start % 1440 < after)) after = start % 1440;
        }
        CHECK(before >= 12 * 60 && before < 13 * 60);
        CHECK(after >= 13 * 60 && after < 14 * 60);
    }
}

static void person_cases(void) {
    char args[200];
    const char *two = "{\"shop\":{\"crew\":[{\"id\":\"ann\",\"name\":\"Ann\"},"
                      "{\"id\":\"ben\",\"name\":\"Ben\"}]}}";
    CASE("nobody can be named in a shop that names nobody, and no stranger in one that does") {
        snprintf(args, sizeof args, "{\"id\":\"%s\",\"person\":\"ben\"}", task_of("clean"));
        CHECK(do_it("task start", args) == E_REFERENCE && strstr(a.why.text, "crew"));
        CHECK(do_it("shop change", two) == OK);
        snprintf(args, sizeof args, "{\"id\":\"%s\",\"person\":\"eve\"}", task_of("clean"));
        CHECK(do_it("task start", args) == E_REFERENCE);
        CHECK_TEXT(a.why.field, "/person");
        CHECK(strstr(a.why.text, "ann, ben"));
    }
    CASE("who is to do it is accepted with the days, and a new plan names the same") {
        CHECK(do_it("days accept", "{\"anew\":true}") == OK && do_it("days", "{}") == OK);
        char before[64000];
        snprintf(before, sizeof before, "%s", strstr(answer, "\"tasks\":["));
        CHECK(strstr(before, "\"who\":\"ann\"") && strstr(before, "\"who\":\"ben\""));
        CHECK(do_it("days", "{}") == OK);
        CHECK(!strncmp(strstr(answer, "\"tasks\":["), before, strlen(before)));
        CHECK(do_it("days replan", "{}") == OK);
        CHECK_TEXT(said(&a, answer, "count"), "Nothing moves.");
    }
    CASE("a rush job over two people: what was promised stays promised") {
        CHECK(piece_add("Second rush", "\"due\":\"2026-11-04\",\"due_weight\":10") == OK);
        CHECK(do_it("days replan", "{}") == OK);
        CHECK(strstr(said(&a, answer, "count"), " new."));
        CHECK(!strstr(answer, "Left stand would be ready"));
        CHECK(!strstr(answer, "Second rush would be ready"));
        CHECK(do_it("undo", "{}") == OK);
    }
    CASE("who did it stands in the days, in the record of the hours and in the log") {
        const char *task = task_of("photos");
        if (!*task) task = task_of("clean");
        snprintf(args, sizeof args, "{\"id\":\"%s\",\"person\":\"ben\"}", task);
        cautions_read(args);
        CHECK_TEXT(said(&a, answer, "who"), "ben");
        snprintf(args, sizeof args, "{\"id\":\"%s\",\"took\":\"25 min\"}", task);
        CHECK(do_it("task done", args) == OK);
        CHECK(do_it("records", "{}") == OK && strstr(answer, "\"person\":\"ben\""));
        CHECK(do_it("records", "{\"person\":\"ben\"}") == OK &&
              strstr(answer, "\"person\":\"ben\""));
        CHECK(do_it("records", "{\"person\":\"ann\"}") == OK && !strstr(answer, "\"number\""));
        CHECK(do_it("history", "{}") == OK && strstr(answer, ", by Ben"));
        CHECK(do_it("undo", "{}") == OK && do_it("undo", "{}") == OK);
    }
}

int main(void) {
    begin();
    accept_cases();
    order_cases();
    clock_cases();
    if_cases();
    label_cases();
    slip_cases();
    gone_cases();
    rush_cases();
    calendar_cases();
    person_cases();
    asker_close(&a);
    return check_done();
}
