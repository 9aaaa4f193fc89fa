/* Color work on the book's own shelf: what its samples teach, in the shop's words. */
#include "test/check.h"
#include "test/unit/ask_one.h"

static void cans(void) {
    CASE(
        "the last can of a line is learned from the samples of the first, alone on the shelf too") {
        asker_open(&a);
        CHECK(do_it("paint add",
                    "{\"name\":\"w1\",\"class\":\"wb_enamel\",\"color\":\"#f4f2ec\"}") == OK);
        CHECK(do_it("paint add", "{\"name\":\"w2\",\"can_of\":\"w1\"}") == OK);
        CHECK(do_it("paint add", "{\"name\":\"w3\",\"can_of\":\"w2\"}") == OK);
        CHECK(do_it("sample add", "{\"sample\":{\"items\":[{\"paint\":\"w1\",\"parts\":1}],"
                                  "\"color\":\"#e8e0d0\",\"read\":\"instrument\"}}") == OK);
        CHECK(do_it("paint remove", "{\"id\":\"w1\"}") == OK);
        CHECK(do_it("paint remove", "{\"id\":\"w2\"}") == OK);
        CHECK(do_it("shelf known", "{}") == OK);
        CHECK(count_of(answer, "\"residual\"") == 1);
        CHECK(!strstr(said(&a, answer, "hex"), "#f4f2ec")); /* no longer as it was written */
        asker_close(&a);
    }
}

int main(void) {
    cans();
    return check_done();
}
