#include "core/base/status.h"
#include "test/check.h"

int main(void) {
    CASE("every status has a code, a sentence and an HTTP number; none outside the list crashes") {
        for (int s = 0; s < STATUS_COUNT; s++) {
            CHECK(status_http((enum status)s) >= 200 && status_http((enum status)s) < 600);
            CHECK(strlen(status_code((enum status)s)) > 0);
            CHECK(strlen(status_text((enum status)s)) > 0);
        }
        CHECK(status_text((enum status) - 1) != NULL);
        CHECK(status_text(STATUS_COUNT) != NULL);
    }
    CASE("a reason is cut, never overrun, and may quote itself") {
        struct why w;
        char longer[2000];
        memset(longer, 'x', sizeof longer);
        longer[1999] = 0;
        CHECK(why_say(&w, E_UNIT, "/a", "%s", longer) == E_UNIT);
        CHECK(strlen(w.text) == sizeof w.text - 1);
        why_say(&w, E_UNIT, w.field, "again: %.5s", w.text);
        CHECK_TEXT(w.text, "again: xxxxx");
        why_under(&w, "/pieces/0");
        CHECK_TEXT(w.field, "/pieces/0/a");
        CHECK(why_say(NULL, E_IO, "", "nobody asks") == E_IO);
    }
    return check_done();
}
