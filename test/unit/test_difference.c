/* What differs between two JSON texts. Pointers by RFC 6901: ~ is ~0, / is ~1. */
#include "codec/difference.h"
#include "test/check.h"

static struct arena arena;
static struct difference_row *rows;

static size_t find(const char *before, const char *after, const char *inside) {
    size_t n = 0;
    struct why why;
    enum status s = difference_find(before, after, inside, 16, &arena, &rows, &n, &why);
    if (s) printf("%s\n", why.text);
    return s ? 99 : n;
}

int main(void) {
    arena_init(&arena, alloc_heap(), 0);
    CASE("equal texts differ nowhere, whatever their order") {
        CHECK(find("{\"a\":1,\"b\":[1,2]}", "{\"b\":[1,2],\"a\":1}", NULL) == 0);
    }
    CASE("changed, new and gone members") {
        CHECK(find("{\"a\":\"32 in\",\"b\":{\"c\":1}}", "{\"a\":\"33 in\",\"b\":{\"d\":true}}",
                   NULL) == 3);
        CHECK_TEXT(rows[0].pointer, "/a");
        CHECK_TEXT(rows[0].before, "32 in");
        CHECK_TEXT(rows[0].after, "33 in");
        CHECK_TEXT(rows[1].pointer, "/b/c");
        CHECK(rows[1].after == NULL);
        CHECK_TEXT(rows[2].pointer, "/b/d");
        CHECK_TEXT(rows[2].after, "true");
    }
    CASE("rows of lists, and keys with ~ and /") {
        CHECK(find("{\"a/b~\":[1,2,3]}", "{\"a/b~\":[1,5]}", NULL) == 2);
        CHECK_TEXT(rows[0].pointer, "/a~1b~0/1");
        CHECK_TEXT(rows[1].pointer, "/a~1b~0/2");
    }
    CASE("a member that holds JSON is looked into") {
        CHECK(find("{\"document\":\"{\\\"w\\\":\\\"1 in\\\"}\"}",
                   "{\"document\":\"{\\\"w\\\":\\\"2 in\\\"}\"}", "document") == 1);
        CHECK_TEXT(rows[0].pointer, "/document/w");
    }
    CASE("nothing before, nothing after, null is nothing") {
        CHECK(find(NULL, "{\"a\":1,\"b\":null}", NULL) == 1);
        CHECK(find("{\"a\":1}", NULL, NULL) == 1);
        CHECK(find("{", NULL, NULL) == 99);
    }
    arena_free(&arena);
    return check_done();
}
