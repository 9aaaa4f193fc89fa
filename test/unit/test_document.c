#include "codec/document.h"
#include "codec/job_desc.h"
#include "core/base/units.h"
#include "core/work/job.h"
#include "test/check.h"

#include <stdlib.h>

static struct arena arena;
static struct why why;
static struct job job;

static enum status read_job(const char *text) {
    why = (struct why){0};
    return document_read(&desc_job, SPELL_INPUT, text, strlen(text), &arena, &job, &why);
}

#define HEAD "{\"format\":\"coatwright-job\",\"version\":1,"

static const char *const whole = HEAD
    "\"title\":\"a chest\",\"start\":\"2026-10-12 08:00\","
    "\"shop\":{\"zone\":\"America/New_York\",\"rate\":\"$45/h\",\"humidity\":\"45 %\","
    "\"hours\":[{\"day\":\"weekdays\",\"open\":\"8:00 am\",\"close\":\"17:30\"}],"
    "\"days_off\":[\"2026-10-14\"],\"tools\":[\"brush\",\"roller\"]},"
    "\"shelf\":{\"paints\":[{\"id\":\"white\",\"lab\":[96,-1,2],\"stock\":\"1 qt\"},"
    "{\"id\":\"blue\",\"color\":\"#1f3f7a\",\"spectrum\":{\"first_nm\":400,\"step_nm\":10,"
    "\"values\":[0.1,0.2,0.25]}}],"
    "\"samples\":[{\"id\":\"s1\",\"items\":[{\"paint\":\"white\",\"parts\":3},"
    "{\"paint\":\"blue\",\"parts\":0.5}],\"lab\":[60,-5,-20],\"read\":\"photo\"}]},"
    "\"pieces\":[{\"id\":\"chest\",\"template\":\"chest\",\"width\":\"32 3/4 in\","
    "\"year\":1938,\"knots\":false,\"wanted\":{\"color\":\"#1f4e5a\",\"sheen\":\"High gloss\"},"
    "\"parts\":[{\"id\":\"top\",\"a\":\"2 ft\",\"count\":1}],"
    "\"tests\":{\"lead\":\"kit negative\",\"moisture\":\"9.5 %\"}}]}";

static void reading(void) {
    CASE("a whole document") {
        CHECK(read_job(whole) == OK);
        CHECK_TEXT(why.text, "");
        CHECK_TEXT(job.title, "a chest");
        CHECK(job.start_local_min == 20738 * 1440LL + 480);
        CHECK(job.shop.rate_cent_per_h == 4500);
        CHECK(job.shop.hours_n == 1 && job.shop.hours[0].day == WEEKDAYS);
        CHECK(job.shop.hours[0].open_min == 480 && job.shop.hours[0].close_min == 1050);
        CHECK(job.shop.days_off_n == 1 && job.shop.days_off[0] == 20740);
        CHECK(job.shop.tools_n == 2 && !strcmp(job.shop.tools[1], "roller"));
        CHECK(isnan(job.shop.margin_frac) && job.shop.people == INT64_MIN && !job.shop.name);
        CHECK(job.shelf.paints_n == 2);
        CHECK_NEAR(job.shelf.paints[0].stock_ml, ML_PER_US_QT, 1e-9);
        CHECK_TEXT(job.shelf.paints[0].color.text, "lab(96 -1 2)");
        CHECK(job.shelf.paints[1].spectrum.values_n == 3);
        CHECK(job.shelf.samples[0].items_n == 2 && job.shelf.samples[0].items[1].parts == 0.5);
        CHECK(job.shelf.samples[0].read == READ_PHOTO);
        CHECK(job.pieces_n == 1 && job.pieces[0].width_mm == 831.85 && job.pieces[0].year == 1938);
        CHECK(job.pieces[0].knots == YN_NO && job.pieces[0].child == YN_UNSAID);
        CHECK(job.pieces[0].wanted.sheen == SHEEN_HIGH_GLOSS);
        CHECK(job.pieces[0].parts[0].size_mm[0] == 609.6 &&
              isnan(job.pieces[0].parts[0].size_mm[1]));
        CHECK(job.pieces[0].tests.lead == LEAD_KIT_NEGATIVE);
        CHECK_NEAR(job.pieces[0].tests.moisture_frac, 0.095, 1e-15);
    }
    CASE("a byte order mark before it is passed over (RFC 8259, 8.1)") {
        struct text marked = {0};
        text_print(&marked, "\xef\xbb\xbf%s", whole);
        CHECK(read_job(marked.at) == OK && job.pieces_n == 1);
        text_free(&marked);
        CHECK(read_job("\xef\xbb\xbf\xef\xbb\xbf{}") == E_SYNTAX);
    }
}

/* What goes out comes in again, in both spellings, and prints the same. */
static void round_trip(enum spelling spelling) {
    struct text once = {0}, twice = {0};
    struct job back;
    CHECK(read_job(whole) == OK);
    CHECK(document_print(&desc_job, spelling, &job, 2, &once) == OK);
    CHECK(document_read(&desc_job, spelling, once.at, once.n, &arena, &back, &why) == OK);
    CHECK_TEXT(why.text, "");
    CHECK(document_print(&desc_job, spelling, &back, 2, &twice) == OK);
    CHECK_TEXT(twice.at, once.at);
    CHECK(back.pieces_n == 1 && back.pieces[0].width_mm == job.pieces[0].width_mm);
    CHECK(back.shop.rate_cent_per_h == 4500);
    text_free(&once);
    text_free(&twice);
}

static void printing(void) {
    CASE("input spelling goes there and back") round_trip(SPELL_INPUT);
    CASE("result spelling goes there and back") round_trip(SPELL_RESULT);
    CASE("input leaves out what is unsaid, results show their shape") {
        struct text t = {0};
        CHECK(read_job(HEAD "\"pieces\":[]}") == OK);
        document_print(&desc_job, SPELL_INPUT, &job, 0, &t);
        CHECK_TEXT(t.at, "{\"format\":\"coatwright-job\",\"version\":1}");
        t.n = 0;
        document_print(&desc_job, SPELL_RESULT, &job, 0, &t);
        CHECK(strstr(t.at, "\"pieces\":[]") && !strstr(t.at, "rate_cent_per_h"));
        text_free(&t);
    }
    CASE("text is escaped for pages and scripts") {
        struct text t = {0};
        text_json(&t, "a\"\\\n</script>&\u2028");
        CHECK_TEXT(t.at, "\"a\\\"\\\\\\n\\u003c/script\\u003e\\u0026\\u2028\"");
        text_free(&t);
    }
    CASE("what is no UTF-8 (RFC 3629, 3) is said as U+FFFD") {
        static const struct {
            const char *text, *want;
        } rows[] = {
            {"\u00e9 \u20ac \U0001f58c", "\"\u00e9 \u20ac \U0001f58c\""},
            {"cut\xc3", "\"cut\\ufffd\""},
            {"\x80", "\"\\ufffd\""},
            {"\xc0\x80", "\"\\ufffd\\ufffd\""},                       /* overlong NUL */
            {"\xed\xa0\x80", "\"\\ufffd\\ufffd\\ufffd\""},            /* surrogate */
            {"\xf4\x90\x80\x80", "\"\\ufffd\\ufffd\\ufffd\\ufffd\""}, /* above U+10FFFF */
        };
        for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
            struct text t = {0};
            text_json(&t, rows[i].text);
            CHECK_TEXT(t.at, rows[i].want);
            text_free(&t);
        }
    }
}

struct refusal {
    const char *text;
    enum status want;
    const char *field, *says;
};

static void refusals(void) {
    static const struct refusal rows[] = {
        {"{", E_SYNTAX, "", "too early"},
        {"[]", E_TYPE, "", "an object"},
        {"7", E_TYPE, "", "an object"},
        {"", E_SYNTAX, "", NULL},
        {"{}", E_MISSING, "/format", "coatwright-job"},
        {"{\"format\":\"coatwright-job\",\"version\":2,\"pieces\":[]}", E_NEWER, "/version",
         "newer"},
        {"{\"format\":\"coatwright-job\",\"version\":\"1\",\"pieces\":[]}", E_DOMAIN, "/version",
         "a whole number"},
        {"{\"format\":\"coatwright-job\",\"pieces\":[]}", E_MISSING, "/version", "is missing"},
        {HEAD "\"pieces\":[{\"width\":\"9e30 in\"}]}", E_DOMAIN, "/pieces/0/width",
         "A number so large is outside its range. Write between 0 in"},
        {HEAD "\"surprise\":1}", E_UNKNOWN_KEY, "/surprise", "\"surprise\""},
        {HEAD "\"shop\":{}}", E_MISSING, "/pieces", NULL},
        {HEAD "\"pieces\":[{\"widht\":\"3 in\"}]}", E_UNKNOWN_KEY, "/pieces/0/widht",
         "Did you mean \"width\"?"},
        {HEAD "\"pieces\":[{\"width_mm\":3}]}", E_UNKNOWN_KEY, "/pieces/0/width_mm",
         "Write \"width\" with its unit"},
        {HEAD "\"pieces\":[{\"width\":\"12 parsecs\"}]}", E_UNIT, "/pieces/0/width",
         "\"12 parsecs\" has no unit I know. Write inches"},
        {HEAD "\"shelf\":{\"paints\":[{\"id\":\"w\",\"stock\":40}]},\"pieces\":[]}", E_UNIT,
         "/shelf/paints/0/stock", "40 is missing its unit. Write 40 fl oz, 1 qt or 1.2 L."},
        {HEAD "\"pieces\":[{\"width\":true}]}", E_TYPE, "/pieces/0/width", "true or false"},
        {HEAD "\"pieces\":[{\"width\":null}]}", E_TYPE, "/pieces/0/width", "Leave"},
        {HEAD "\"pieces\":[{\"width\":\"-3 in\"}]}", E_DOMAIN, "/pieces/0/width",
         "between 0 in and"},
        {HEAD "\"pieces\":[{\"width\":\"90 m\"}]}", E_DOMAIN, "/pieces/0/width", "outside"},
        {HEAD "\"pieces\":[{\"width\":\"20000.1 mm\"}]}", E_DOMAIN, "/pieces/0/width",
         "A little over 787 13/32 in is outside"},
        {HEAD "\"pieces\":[{\"year\":1938.5}]}", E_TYPE, "/pieces/0/year", "whole"},
        {HEAD "\"pieces\":[{\"year\":90000}]}", E_DOMAIN, "/pieces/0/year", "1500"},
        {HEAD "\"pieces\":[{\"id\":\"a\"},{\"id\":\"a\"}]}", E_DUPLICATE, "/pieces/1/id",
         "number 0"},
        {HEAD "\"pieces\":[{\"id\":\"A b\"}]}", E_SYNTAX, "/pieces/0/id", "a-z"},
        {HEAD "\"pieces\":[{\"condition\":\"wron\"}]}", E_DOMAIN, "/pieces/0/condition",
         "Did you mean \"worn\"?"},
        {HEAD "\"pieces\":[{\"now_color\":\"bluish\"}]}", E_SYNTAX, "/pieces/0/now_color", NULL},
        {HEAD "\"pieces\":{}}", E_TYPE, "/pieces", "a list"},
        {HEAD "\"start\":\"tomorrow\",\"pieces\":[]}", E_SYNTAX, "/start", "2026-10-12 08:00"},
        {HEAD "\"title\":\"a\\u0000b\",\"pieces\":[]}", E_SYNTAX, "/title", NULL},
        {HEAD "\"title\":\"a\\u001b[2J\",\"pieces\":[]}", E_SYNTAX, "/title", "control"},
        {HEAD "\"title\":\"\xff\",\"pieces\":[]}", E_SYNTAX, "/title", "UTF-8"},
        {HEAD "\"shop\":{\"people\":1e999},\"pieces\":[]}", E_DOMAIN, "/shop/people", "large"},
        {HEAD "\"shop\":{\"name\":\"a\",\"name\":\"b\"},\"pieces\":[]}", E_DUPLICATE, "/shop/name",
         "twice"},
        {HEAD "\"shelf\":{\"paints\":[{\"id\":\"w\",\"color\":\"#fff0f0\",\"lab\":[1,2,3]}]}}",
         E_CONFLICT, "/shelf/paints/0/lab", "both"},
        {HEAD "\"shelf\":{\"paints\":[{\"id\":\"w\",\"name\":\"Deep blue\"},{\"id\":\"v\"},"
              "{\"id\":\"u\",\"name\":\" deep  Blue\"}]}}",
         E_DUPLICATE, "/shelf/paints/2/name", "both \"w\" (number 0) and \"u\" (number 2)"},
        {HEAD "\"shelf\":{\"paints\":[{\"name\":\"w\"}]}}", E_MISSING, "/shelf/paints/0/id", NULL},
        {HEAD "\"a/b~c\":1}", E_UNKNOWN_KEY, "/a~1b~0c", NULL},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
        CASE(rows[i].text[0] ? rows[i].text : "nothing at all") {
            enum status s = read_job(rows[i].text);
            if (s != rows[i].want)
                printf("  status %s, want %s\n", status_code(s), status_code(rows[i].want));
            CHECK(s == rows[i].want);
            CHECK_TEXT(why.field, rows[i].field);
            CHECK(why.text[0]);
            if (rows[i].says && !strstr(why.text, rows[i].says)) CHECK_TEXT(why.text, rows[i].says);
        }
}

static char *filled(size_t n, char c) {
    char *t = malloc(n + 1);
    memset(t, c, n);
    t[n] = 0;
    return t;
}

static void bounds(void) {
    CASE("ten million brackets") {
        char *t = filled(10000000, '[');
        CHECK(document_read(&desc_job, SPELL_INPUT, t, 10000000, &arena, &job, &why) ==
              E_TOO_LARGE);
        CHECK(document_read(&desc_job, SPELL_INPUT, t, 100000, &arena, &job, &why) == E_TOO_LARGE);
        CHECK(strstr(why.text, "64 levels"));
        free(t);
    }
    CASE("a text of 4,097 bytes") {
        char *t = filled(4097, 'x');
        struct text doc = {0};
        text_print(&doc, HEAD "\"title\":\"%s\",\"pieces\":[]}", t);
        CHECK(read_job(doc.at) == E_TOO_LARGE);
        CHECK_TEXT(why.field, "/title");
        text_free(&doc);
        free(t);
    }
    CASE("65 pieces") {
        struct text doc = {0};
        text_print(&doc, HEAD "\"pieces\":[{}");
        for (int i = 1; i < 65; i++) text_print(&doc, ",{}");
        text_print(&doc, "]}");
        CHECK(read_job(doc.at) == E_TOO_LARGE);
        CHECK_TEXT(why.field, "/pieces");
        text_free(&doc);
    }
    CASE("a small arena is said to be full") {
        struct arena small;
        arena_init(&small, alloc_heap(), 300);
        CHECK(document_read(&desc_job, SPELL_INPUT, whole, strlen(whole), &small, &job, &why) ==
              E_MEMORY);
        arena_free(&small);
    }
}

static void single_values(void) {
    CASE("a field from a command line") {
        struct shop shop;
        desc_unsay(&desc_shop, &shop);
        const struct field *rate = field_by_key(&desc_shop, SPELL_INPUT, "rate");
        CHECK(field_read(rate, "$50/h", &arena, &shop, &why) == OK && shop.rate_cent_per_h == 5000);
        CHECK(field_read(rate, "50", &arena, &shop, &why) == E_UNIT);
        CHECK_TEXT(why.field, "/rate");
        const struct field *tools = field_by_key(&desc_shop, SPELL_INPUT, "tools");
        CHECK(field_read(tools, "brush, roller", &arena, &shop, &why) == OK && shop.tools_n == 2);
        CHECK_TEXT(shop.tools[1], "roller");
        const struct field *people = field_by_key(&desc_shop, SPELL_INPUT, "people");
        CHECK(field_read(people, "3", &arena, &shop, &why) == OK && shop.people == 3);
        CHECK(field_read(people, "2.5", &arena, &shop, &why) == E_TYPE);
        const struct field *off = field_by_key(&desc_shop, SPELL_INPUT, "days_off");
        CHECK(field_read(off, "2026/10/14, Oct 15, 2026, 16 Oct 2026", &arena, &shop, &why) == OK);
        CHECK(shop.days_off_n == 3 && shop.days_off[0] == 20740 && shop.days_off[2] == 20742);
        CHECK(shop.days_off[1] == 20741);
        CHECK(field_read(off, "9999-12-31", &arena, &shop, &why) == E_DOMAIN);
        CHECK_TEXT(why.text, "\"9999-12-31\" is too far away. Write a year from 1900 to 2199.");
        CHECK(field_read(off, "1899-12-31", &arena, &shop, &why) == E_DOMAIN);
        CHECK(field_read(off, "2199-12-31", &arena, &shop, &why) == OK);
        const struct field *name = field_by_key(&desc_shop, SPELL_INPUT, "name");
        CHECK(field_read(name, "Zo\u00eb", &arena, &shop, &why) == OK);
        CHECK(field_read(name, "Zo\xeb", &arena, &shop, &why) == E_SYNTAX);
        CHECK_TEXT(why.text, "The text is not valid UTF-8 at byte 2.");
        const struct field *hours = field_by_key(&desc_shop, SPELL_INPUT, "hours");
        CHECK(field_read(hours, "[{\"day\":\"mon\",\"open\":\"8 am\",\"close\":\"5 pm\"}]", &arena,
                         &shop, &why) == OK);
        CHECK(field_read(hours, "[{\"day\":\"mon\"}]", &arena, &shop, &why) == E_MISSING);
        CHECK_TEXT(why.field, "/hours/0/open");
    }
    CASE("a class of product by its name") {
        struct paint paint;
        desc_unsay(&desc_paint, &paint);
        const struct field *class = field_by_key(&desc_paint, SPELL_INPUT, "class");
        CHECK(field_read(class, "Waterborne enamel", &arena, &paint, &why) == OK);
        CHECK_TEXT(paint.class, "wb_enamel");
        CHECK(field_read(class, "clear shellac, 2 lb cut", &arena, &paint, &why) == OK);
        CHECK_TEXT(paint.class, "shellac_clear");
        CHECK(field_read(class, "wb_clear", &arena, &paint, &why) == OK);
        CHECK_TEXT(paint.class, "wb_clear");
        CHECK(field_read(class, "House paint", &arena, &paint, &why) == E_REFERENCE);
        CHECK(strstr(why.text, "\"House paint\" is no class") &&
              strstr(why.text, "; alkyd primer"));
        CHECK_TEXT(paint.class, "wb_clear");
    }
    CASE("kept is one spelling of days and classes, all else as typed") {
        const char *kept = NULL;
        CHECK(document_spell(&desc_piece,
                             "{\"width\":\" 34  in\",\"agreement\":{\"due\":\"Dec 11, 2026\"},"
                             "\"parts\":[{\"id\":\"top\",\"product\":\"Paste wax\"}]}",
                             &arena, &kept, &why) == OK);
        CHECK_TEXT(kept, "{\"width\":\" 34  in\",\"agreement\":{\"due\":\"2026-12-11\"},"
                         "\"parts\":[{\"id\":\"top\",\"product\":\"wax\"}]}");
        CHECK(document_spell(&desc_shop, "{\"days_off\":[\"2026/10/14\",\"2026-10-15\"]}", &arena,
                             &kept, &why) == OK);
        CHECK_TEXT(kept, "{\"days_off\":[\"2026-10-14\",\"2026-10-15\"]}");
        const char *plain = "{ \"name\" : \"x\" }";
        CHECK(document_spell(&desc_shop, plain, &arena, &kept, &why) == OK && kept == plain);
    }
    CASE("merge patch, the examples of RFC 7396 appendix A that are objects") {
        static const char *const rows[][3] = {
            {"{\"a\":\"b\"}", "{\"a\":\"c\"}", "{\"a\":\"c\"}"},
            {"{\"a\":\"b\"}", "{\"b\":\"c\"}", "{\"a\":\"b\",\"b\":\"c\"}"},
            {"{\"a\":\"b\"}", "{\"a\":null}", "{}"},
            {"{\"a\":\"b\",\"b\":\"c\"}", "{\"a\":null}", "{\"b\":\"c\"}"},
            {"{\"a\":[\"b\"]}", "{\"a\":\"c\"}", "{\"a\":\"c\"}"},
            {"{\"a\":\"c\"}", "{\"a\":[\"b\"]}", "{\"a\":[\"b\"]}"},
            {"{\"a\":{\"b\":\"c\"}}", "{\"a\":{\"b\":\"d\",\"c\":null}}", "{\"a\":{\"b\":\"d\"}}"},
            {"{\"a\":[{\"b\":\"c\"}]}", "{\"a\":[1]}", "{\"a\":[1]}"},
            {"{\"e\":null}", "{\"a\":1}", "{\"e\":null,\"a\":1}"},
            {"{}", "{\"a\":{\"bb\":{\"ccc\":null}}}", "{\"a\":{\"bb\":{}}}"},
        };
        for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
            const char *got = NULL;
            CHECK(document_merge(rows[i][0], rows[i][1], &arena, &got, &why) == OK);
            CHECK_TEXT(got, rows[i][2]);
        }
        const char *got = "untouched";
        CHECK(document_merge("{}", "[1]", &arena, &got, &why) == E_TYPE);
        CHECK_TEXT(got, "untouched");
    }
    CASE("schemas name every member") {
        struct text t = {0};
        CHECK(schema_print(&desc_job, SPELL_INPUT, "job", &t) == OK);
        CHECK(strstr(t.at, "\"width\":{\"type\":\"string\"") && strstr(t.at, "\"piece\":{"));
        text_free(&t);
    }
}

int main(void) {
    arena_init(&arena, alloc_heap(), 0);
    reading();
    printing();
    refusals();
    bounds();
    single_values();
    arena_free(&arena);
    return check_done();
}
