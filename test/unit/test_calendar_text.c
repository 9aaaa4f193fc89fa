/* The calendar file: shape, folding, escapes, and what libical reads from it. Sources: RFC 5545;
 * libical 3 as a general reference library (skipped where it is absent). */
#include "codec/calendar_text.h"
#include "codec/time_text.h"
#include "test/check.h"

#ifdef HAVE_LIBICAL
#include <libical/ical.h>
#endif

static const char long_note[] =
    "Scuff with 220 grit; vacuum, wipe.\nThen the second coat, thin \\ even: "
    "\xC3\xA9t\xC3\xA9 \xE2\x80\x94 \xE2\x80\x94 \xE2\x80\x94 \xE2\x80\x94 \xE2\x80\x94 "
    "\xE2\x80\x94 "
    "\xE2\x80\x94 \xE2\x80\x94 \xE2\x80\x94 \xE2\x80\x94 \xE2\x80\x94 \xE2\x80\x94 done";

static struct calendar_event event[3];
static struct calendar days;

static int64_t at(int64_t year, int month, int dom, int hour, int min) {
    return day_of_date(year, month, dom) * 1440 + hour * 60 + min;
}

static void make(void) {
    event[0] = (struct calendar_event){"chest.coat-1",
                                       "Coat 1, drawer fronts",
                                       long_note,
                                       "chest",
                                       CALENDAR_WORK,
                                       at(2028, 2, 29, 12, 0),
                                       at(2028, 2, 29, 12, 45),
                                       10,
                                       "Ida",
                                       -300,
                                       -300};
    event[1] = (struct calendar_event){"chest.coat-1.dry",
                                       "Dries; do not touch",
                                       NULL,
                                       "chest",
                                       CALENDAR_DRYING,
                                       at(2028, 2, 29, 12, 45),
                                       at(2028, 3, 1, 3, 30),
                                       -1,
                                       NULL,
                                       -300,
                                       -240};
    event[2] = (struct calendar_event){"chest.coat-1.edge",
                                       "Recoat by then",
                                       NULL,
                                       NULL,
                                       CALENDAR_WINDOW,
                                       at(2028, 3, 1, 3, 30),
                                       at(2028, 3, 3, 12, 45),
                                       120,
                                       NULL,
                                       0,
                                       0};
    days = (struct calendar){"job 7/b", "Shop", at(2028, 2, 28, 8, 0), 4, event, 3};
}

static bool lines_are_right(const char *s) {
    for (size_t n = 0; *s; s++) {
        if (*s == '\n') return false; /* bare */
        if (*s == '\r') {
            if (s[1] != '\n') return false;
            if (((unsigned char)s[2] & 0xC0) == 0x80) return false;
            if (s[2] == ' ' && ((unsigned char)s[3] & 0xC0) == 0x80) return false;
            n = 0;
            s++;
            continue;
        }
        if (++n > 75) return false;
    }
    return true;
}

#ifdef HAVE_LIBICAL
static icalcomponent *nth(icalcomponent *all, int n) {
    icalcomponent *c = icalcomponent_get_first_component(all, ICAL_VEVENT_COMPONENT);
    while (n-- > 0) c = icalcomponent_get_next_component(all, ICAL_VEVENT_COMPONENT);
    return c;
}

static void check_by_reference(const char *text) {
    icalcomponent *all = icalparser_parse_string(text);
    CHECK(all != NULL);
    if (!all) return;
    CHECK(icalcomponent_count_errors(all) == 0);
    CHECK(icalrestriction_check(all) == 1);
    CHECK(icalcomponent_count_errors(all) == 0);
    CHECK(icalcomponent_count_components(all, ICAL_VEVENT_COMPONENT) == 3);
    icalcomponent *first = nth(all, 0), *edge = nth(all, 2);
    CHECK_TEXT(icalcomponent_get_summary(first), "Ida: Coat 1, drawer fronts");
    CHECK_TEXT(icalcomponent_get_description(first), long_note);
    CHECK(icalcomponent_get_sequence(first) == 4);
    CHECK(icaltime_as_timet(icalcomponent_get_dtstart(first)) ==
          (time_t)event[0].from_utc_min * 60);
    CHECK(icaltime_as_timet(icalcomponent_get_dtend(first)) == (time_t)event[0].to_utc_min * 60);
    CHECK(icalcomponent_count_components(first, ICAL_VALARM_COMPONENT) == 1);
    CHECK(icalcomponent_count_components(nth(all, 1), ICAL_VALARM_COMPONENT) == 0);
    icalcomponent *bell = icalcomponent_get_first_component(edge, ICAL_VALARM_COMPONENT);
    icalproperty *when = icalcomponent_get_first_property(bell, ICAL_TRIGGER_PROPERTY);
    CHECK(icaldurationtype_as_int(icalproperty_get_trigger(when).duration) == -120 * 60);
    icalcomponent_free(all);
}
#endif

int main(void) {
    struct text t = {0}, again = {0};
    make();
    CASE("no line is longer than 75 octets, none is cut inside a character") {
        CHECK(calendar_print(&days, &t, NULL) == OK);
        CHECK(lines_are_right(t.at));
        CHECK(strstr(t.at, "SUMMARY:Ida: Coat 1\\, drawer fronts\r\n") != NULL);
        CHECK(strstr(t.at, "DTSTART:20280229T120000Z\r\n") != NULL);
        CHECK(strstr(t.at, "TRIGGER;RELATED=END:-PT120M\r\n") != NULL);
    }
    CASE("the UID stays when times and revision change, and differs between events") {
        CHECK(strstr(t.at, "UID:job_207_2fb.chest_2ecoat-1@coatwright.invalid\r\n") != NULL);
        days.revision = 5;
        event[0].from_utc_min += 1440, event[0].to_utc_min += 1440;
        CHECK(calendar_print(&days, &again, NULL) == OK);
        CHECK(strstr(again.at, "UID:job_207_2fb.chest_2ecoat-1@coatwright.invalid\r\n") != NULL);
        CHECK(strstr(again.at, "SEQUENCE:5\r\n") != NULL);
        make();
    }
    CASE("libical reads it without complaint and finds what was written") {
#ifdef HAVE_LIBICAL
        check_by_reference(t.at);
#else
        SKIP("libical is not installed");
#endif
    }
    CASE("without days it is a calendar all the same: RFC 5545 wants one component at least") {
        struct calendar none = {.name = "Nothing yet"};
        struct text x = {0};
        CHECK(calendar_print(&none, &x, NULL) == OK && lines_are_right(x.at));
#ifdef HAVE_LIBICAL
        icalcomponent *all = icalparser_parse_string(x.at);
        CHECK(all && icalcomponent_count_components(all, ICAL_ANY_COMPONENT) == 1);
        CHECK(all && icalrestriction_check(all) && !icalcomponent_count_errors(all));
        if (all) icalcomponent_free(all);
#endif
        text_free(&x);
    }
    CASE("what is wrong is named: two ids alike, an end before its begin, a missing id") {
        struct text x = {0};
        struct why why;
        event[1].id = event[0].id;
        CHECK(calendar_print(&days, &x, &why) == E_DUPLICATE);
        CHECK_TEXT(why.field, "/events/1");
        make();
        event[2].to_utc_min = event[2].from_utc_min - 1;
        CHECK(calendar_print(&days, &x, &why) == E_DOMAIN);
        make();
        event[0].id = NULL;
        CHECK(calendar_print(&days, &x, &why) == E_MISSING);
        make();
        event[0].from_utc_min = INT64_MIN; /* blocked: left out */
        CHECK(calendar_print(&days, &x, &why) == OK);
        CHECK(strstr(x.at, "Coat 1") == NULL && strstr(x.at, "Recoat") != NULL);
        make();
        text_free(&x);
    }
    CASE("the same rows as comma-separated text") {
        struct text x = {0};
        CHECK(calendar_print_csv(&days, &x, NULL) == OK);
        CHECK(strstr(x.at, "kind,id,piece,person,summary,note,from,to,minutes,utc_offset\r\n") ==
              x.at);
        CHECK(strstr(x.at, "\"Coat 1, drawer fronts\"") != NULL);
        CHECK(strstr(x.at, "2028-02-29 07:45,2028-02-29 23:30,885,UTC-05:00\r\n") != NULL);
        text_free(&x);
    }
    text_free(&t);
    text_free(&again);
    return check_done();
}
