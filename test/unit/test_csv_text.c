/* RFC 4180, section 2: its own examples (rules 1, 5, 6, 7), round trips, and what is refused. */
#include "codec/csv_text.h"
#include "test/check.h"

static struct arena arena;
static struct why why;

static size_t read_one(const char *text, const char **fields, enum status *out) {
    const char *at = text;
    size_t n = 0;
    *out = csv_read(&at, text + strlen(text), ',', 8, &arena, fields, &n, &why);
    return n;
}

int main(void) {
    const char *f[8];
    enum status s;
    arena_init(&arena, alloc_heap(), 0);
    CASE("RFC 4180 2.1 and 2.5: plain and quoted fields") {
        CHECK(read_one("aaa,bbb,ccc\r\n", f, &s) == 3 && s == OK);
        CHECK_TEXT(f[2], "ccc");
        CHECK(read_one("\"aaa\",\"bbb\",\"ccc\"\r\nzzz,yyy,xxx", f, &s) == 3 && s == OK);
        CHECK_TEXT(f[0], "aaa");
    }
    CASE("RFC 4180 2.6: line ends inside quotation marks") {
        CHECK(read_one("\"aaa\",\"b \r\nbb\",\"ccc\"\r\n", f, &s) == 3 && s == OK);
        CHECK_TEXT(f[1], "b \r\nbb");
    }
    CASE("RFC 4180 2.7: doubled quotation marks") {
        CHECK(read_one("\"aaa\",\"b\"\"bb\",\"ccc\"", f, &s) == 3 && s == OK);
        CHECK_TEXT(f[1], "b\"bb");
    }
    CASE("RFC 4180 2.4: spaces belong to the field, an empty field is one") {
        CHECK(read_one(" a ,,", f, &s) == 3 && s == OK);
        CHECK_TEXT(f[0], " a ");
        CHECK_TEXT(f[1], "");
        CHECK_TEXT(f[2], "");
    }
    CASE("wrong marks and too many fields are refused") {
        read_one("\"abc", f, &s);
        CHECK(s == E_SYNTAX);
        read_one("a\"b", f, &s);
        CHECK(s == E_SYNTAX);
        read_one("\"a\"b", f, &s);
        CHECK(s == E_SYNTAX);
        read_one("1,2,3,4,5,6,7,8,9", f, &s);
        CHECK(s == E_TOO_LARGE);
    }
    CASE("what is written is read back") {
        const char *const in[] = {"", "a,b", "say \"hi\"", "two\r\nlines", "\"", " x "};
        struct text t = {0};
        for (size_t i = 0; i < 6; i++) csv_field(&t, in[i], i == 0);
        csv_end(&t);
        CHECK(read_one(t.at, f, &s) == 6 && s == OK);
        for (size_t i = 0; i < 6; i++) CHECK_TEXT(f[i], in[i]);
        text_free(&t);
    }
    CASE("a text that a spreadsheet would compute stays a text (OWASP, CSV Injection)") {
        const char *const in[] = {"=1+1", "@SUM(A1)", "\t=cmd|x", "-2+3", "+a", "=\"a\",b"};
        const char *const out[] = {"'=1+1", "'@SUM(A1)", "'\t=cmd|x", "'-2+3", "'+a", "'=\"a\",b"};
        const char *const as_is[] = {"-12.50", "+1 (555) 010-0100", "-", "a=1", "12/11", "'x"};
        struct text t = {0};
        for (size_t i = 0; i < 6; i++) csv_field(&t, in[i], i == 0);
        csv_end(&t);
        CHECK(read_one(t.at, f, &s) == 6 && s == OK);
        for (size_t i = 0; i < 6; i++) CHECK_TEXT(f[i], out[i]);
        text_free(&t);
        for (size_t i = 0; i < 6; i++) csv_field(&t, as_is[i], i == 0);
        CHECK_TEXT(t.at, "-12.50,+1 (555) 010-0100,-,a=1,12/11,'x");
        text_free(&t);
    }
    CASE("numbers: shortest that reads back, unknown is empty") {
        struct text t = {0};
        csv_number(&t, 53.2, true);
        csv_number(&t, (double)NAN, false);
        csv_integer(&t, INT64_MIN, false);
        csv_integer(&t, -7, false);
        CHECK_TEXT(t.at, "53.2,,,-7");
        text_free(&t);
    }
    arena_free(&arena);
    return check_done();
}
