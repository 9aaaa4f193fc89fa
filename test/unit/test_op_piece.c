/* Pieces and clients through the operations: as typed, checked before stored, stale and repeated
 * requests. */
#include "test/check.h"
#include "test/unit/ask.h"

#define CHEST                                                                                      \
    "{\"piece\":{\"title\":\"Bow-front chest\",\"template\":\"chest\",\"width\":\"32 3/4 in\","    \
    "\"depth\":\"18 in\",\"height\":\"34 in\",\"wanted\":{\"color\":\"#2f5d62\"},"                 \
    "\"agreement\":{\"client\":\"Lane\",\"due\":\"2026-10-19\"}}}"

static void parts(struct asker *q) {
    const char *answer;
    CASE("one part is changed, added, left out, and as the template has it again; undo goes back") {
        CHECK(ask(q, "piece add",
                  "{\"title\":\"Parted\",\"template\":\"chest\",\"width\":\"34 in\",\"depth\":\"18 "
                  "in\","
                  "\"color\":\"#35506b\",\"height\":\"40 in\"}",
                  &answer) == OK);
        CHECK(ask(q, "piece part",
                  "{\"id\":\"parted\",\"part\":\"drawer_box\",\"treatment\":\"bare\"}",
                  &answer) == OK &&
              strstr(answer, "{\"id\":\"drawer_box\",\"treatment\":\"bare\"}"));
        CHECK(ask(q, "piece part", "{\"id\":\"parted\",\"part\":\"drawer_box\",\"count\":3}",
                  &answer) == OK &&
              strstr(answer, "\"treatment\":\"bare\",\"count\":3"));
        CHECK(ask(q, "piece part",
                  "{\"id\":\"parted\",\"part\":\"gallery\",\"shape\":\"box\",\"a\":\"30 "
                  "in\",\"b\":\"4 "
                  "in\",\"c\":\"3/4 in\",\"treatment\":\"paint\"}",
                  &answer) == OK &&
              count_of(answer, "\"id\":\"gallery\"") == 1);
        CHECK(ask(q, "piece plan", "{\"id\":\"parted\"}", &answer) == OK &&
              strstr(answer, "gallery"));
        CHECK(ask(q, "piece part remove", "{\"id\":\"parted\",\"part\":\"gallery\"}", &answer) ==
                  OK &&
              !strstr(answer, "gallery"));
        CHECK(ask(q, "undo", "{}", &answer) == OK &&
              ask(q, "piece show", "{\"id\":\"parted\"}", &answer) == OK &&
              strstr(answer, "gallery"));
    }
    CASE("a part that cannot be is refused, and says what would be right") {
        CHECK(ask(q, "piece part", "{\"id\":\"parted\",\"part\":\"wing\",\"treatment\":\"bare\"}",
                  &answer) == E_MISSING);
        CHECK_TEXT(q->why.field, "/shape");
        CHECK(ask(q, "piece part", "{\"id\":\"parted\",\"part\":\"wing\",\"shape\":\"cloud\"}",
                  &answer) == E_REFERENCE);
        CHECK(ask(q, "piece part",
                  "{\"id\":\"parted\",\"part\":\"wing\",\"shape\":\"box\",\"a\":\"3 in\"}",
                  &answer) == E_MISSING);
        CHECK(ask(q, "piece part",
                  "{\"id\":\"parted\",\"part\":\"drawer_box\",\"a\":\"3 parsecs\"}",
                  &answer) == E_UNIT ||
              strstr(q->why.text, "parsecs"));
        CHECK(ask(q, "piece part remove", "{\"id\":\"parted\",\"part\":\"wing\"}", &answer) ==
              E_NOT_FOUND);
    }
}

static void another(struct asker *q) {
    const char *answer;
    CASE("another like one: its build, coats and color; not its age, tests, repairs or money") {
        CHECK(
            ask(q, "piece add",
                "{\"piece\":{\"title\":\"Four chairs\",\"template\":\"turned_chair\",\"count\":4,"
                "\"width\":\"17 in\",\"height\":\"35 in\",\"year\":1985,\"wood\":\"birch\","
                "\"finish\":\"oil_varnish\",\"condition\":\"worn\",\"tests\":{\"smell\":\"none\"},"
                "\"repairs\":[{\"kind\":\"loose_rung\",\"count\":5}],"
                "\"fittings\":{\"pulls\":{\"count\":8,\"holes\":1},\"panels\":[{\"id\":\"seat\","
                "\"kind\":\"cane\",\"width\":\"12 in\",\"height\":\"11 in\",\"count\":4}]},"
                "\"agreement\":{\"purpose\":\"client\",\"client\":\"Kay\",\"quoted\":\"$400\"},"
                "\"wanted\":{\"color\":\"#2a2a29\",\"color_coats\":3}}}",
                &answer) == OK);
        CHECK(ask(q, "piece again",
                  "{\"id\":\"four-chairs\",\"title\":\"Two more chairs\",\"count\":2}",
                  &answer) == OK);
        CHECK_TEXT(said(q, answer, "id"), "two-more-chairs");
        CHECK_TEXT(said(q, answer, "stage"), "looked_over");
        CHECK_TEXT(said(q, answer, "client_name"), "Kay");
        CHECK(strstr(answer, "\"wanted\":{\"color\":\"#2a2a29\",\"color_coats\":3}") &&
              strstr(answer, "\"wood\":\"birch\"") && strstr(answer, "\"purpose\":\"client\""));
        CHECK(!strstr(answer, "1985") && !strstr(answer, "tests") &&
              !strstr(answer, "loose_rung") && !strstr(answer, "$400") && !strstr(answer, "worn"));
        CHECK(strstr(answer, "\"pulls\":{\"count\":4,\"holes\":1}") &&
              strstr(answer, "\"height\":\"11 in\",\"count\":2}") &&
              count_of(answer, "\"count\":2") == 2);
        CHECK(ask(q, "piece plan", "{\"id\":\"two-more-chairs\"}", &answer) == OK);
        CHECK(ask(q, "undo", "{}", &answer) == OK &&
              ask(q, "piece show", "{\"id\":\"two-more-chairs\"}", &answer) == E_NOT_FOUND);
    }
    CASE("another like none, or without a name, is refused") {
        CHECK(ask(q, "piece again", "{\"id\":\"nowhere\",\"title\":\"x\"}", &answer) ==
              E_NOT_FOUND);
        CHECK(ask(q, "piece again", "{\"id\":\"four-chairs\"}", &answer) == E_MISSING);
        CHECK_TEXT(q->why.field, "/title");
        CHECK(ask(q, "piece again", "{\"id\":\"four-chairs\",\"title\":\" \"}", &answer) ==
              E_MISSING);
        CHECK(ask(q, "piece again", "{\"id\":\"four-chairs\",\"title\":\"x\",\"count\":0}",
                  &answer) == E_DOMAIN);
        CHECK(ask(q, "piece again", "{\"id\":\"four-chairs\",\"title\":\"x\",\"due\":\"soon\"}",
                  &answer) != OK);
        CHECK_TEXT(q->why.field, "/due");
    }
}

/* The bound of a document, over all its pieces. */
static void many_parts(struct asker *q) {
    const char *answer;
    CASE("2,001 parts in two pieces are more than a document may list") {
        struct text t = {0};
        text_print(&t, "{\"job\":{\"format\":\"coatwright-job\",\"version\":1,\"pieces\":[");
        for (int p = 0; p < 2; p++) {
            text_print(&t, "%s{\"parts\":[", p ? "," : "");
            for (int i = 0; i < 1000 + p; i++)
                text_print(&t, "%s{\"id\":\"p%d\"}", i ? "," : "", i);
            text_print(&t, "]}");
        }
        text_print(&t, "]}}");
        CHECK(ask(q, "plan", t.at, &answer) == E_TOO_LARGE);
        CHECK_TEXT(q->why.field, "/pieces");
        CHECK(strstr(q->why.text, "2001 parts"));
        text_free(&t);
    }
}

static void unknown_names(struct asker *q) {
    const char *answer;
    CASE("a piece or finish that no plan knows is refused as it is entered, with what was meant") {
        CHECK(ask(q, "piece add", "{\"template\":\"nihgtstand\",\"width\":\"18 in\"}", &answer) ==
              E_REFERENCE);
        CHECK_TEXT(q->why.field, "/piece/template");
        CHECK(strstr(q->why.text, "Did you mean nightstand?"));
        CHECK(ask(q, "piece add", "{\"piece\":{\"template\":\"chest\",\"finish\":\"lacker\"}}",
                  &answer) == E_REFERENCE);
        CHECK_TEXT(q->why.field, "/piece/finish");
        CHECK(strstr(q->why.text, "Did you mean lacquer?"));
        CHECK(ask(q, "piece change", "{\"id\":\"just-in\",\"finish\":\"pitch\"}", &answer) ==
              E_REFERENCE);
        CHECK(strstr(q->why.text, "Write one of bare,") && !strstr(q->why.text, "mean"));
    }
}

/* One card and one batch for both: neither price is that of a piece alone. */
static void shared_batch(struct asker *a) {
    const char *answer;
    CASE("money says the price of the sheet, also of pieces that share a batch") {
        CHECK(ask(a, "paint add",
                  "{\"name\":\"Batch white\",\"class\":\"wb_enamel\",\"color\":\"#f4f2ec\","
                  "\"stock\":\"2 gal\"}",
                  &answer) == OK);
        CHECK(ask(a, "paint add",
                  "{\"name\":\"Batch blue\",\"class\":\"wb_enamel\",\"color\":\"#1f3a60\","
                  "\"stock\":\"2 gal\"}",
                  &answer) == OK);
        for (int i = 1; i <= 2; i++) {
            char args[200];
            snprintf(
                args, sizeof args,
                "{\"title\":\"Sharer %d\",\"template\":\"bookcase\",\"width\":\"60 in\",\"depth\":"
                "\"12 in\",\"height\":\"84 in\",\"color\":\"#8090a8\"}",
                i);
            CHECK(ask(a, "piece add", args, &answer) == OK);
        }
        CHECK(ask(a, "money open", "{}", &answer) == OK);
        const int64_t in_list = said_int(a, strstr(answer, "\"id\":\"sharer-1\""), "price_cent");
        CHECK(ask(a, "money open", "{\"piece\":\"sharer-1\"}", &answer) == OK);
        CHECK(said_int(a, answer, "price_cent") == in_list);
        CHECK(ask(a, "piece plan", "{\"id\":\"sharer-1\"}", &answer) == OK);
        CHECK(said_int(a, strstr(answer, "\"price\":{"), "price_cent") == in_list);
    }
}

int main(void) {
    struct asker a;
    const char *answer, *again;
    asker_open(&a);
    CASE("a piece is kept as it was typed, its columns are taken out of it") {
        CHECK(ask(&a, "piece add", CHEST, &answer) == OK);
        CHECK_TEXT(said(&a, answer, "id"), "bow-front-chest");
        CHECK(strstr(answer, "\"width\":\"32 3/4 in\""));
        CHECK_NEAR(said_real(&a, answer, "width_mm"), 831.85, 1e-9);
        CHECK_TEXT(said(&a, answer, "stage"), "looked_over");
        CHECK_TEXT(said(&a, answer, "client"), "lane");
        CHECK_TEXT(said(&a, answer, "shown_hex"), "#2f5d62");
        CHECK(ask(&a, "piece show", "{\"id\":\"bow-front-chest\"}", &answer) == OK);
        CHECK_TEXT(said(&a, answer, "shown_hex"), "#2f5d62");
        CHECK_TEXT(said(&a, answer, "client_name"), "Lane");
        CHECK(ask(&a, "clients", "{}", &answer) == OK && count_of(answer, "\"id\"") == 1);
    }
    CASE("what is wrong is named by its pointer, and nothing was written") {
        int64_t before = a.revision;
        CHECK(ask(&a, "piece add", "{\"piece\":{\"template\":\"chest\",\"width\":\"12 parsecs\"}}",
                  &answer) == E_UNIT);
        CHECK_TEXT(a.why.field, "/piece/width");
        CHECK(ask(&a, "piece change",
                  "{\"id\":\"bow-front-chest\",\"piece\":{\"wanted\":{\"colour\":\"red\"}}}",
                  &answer) == E_UNKNOWN_KEY);
        CHECK_TEXT(a.why.field, "/piece/wanted/colour");
        CHECK(ask(&a, "pieces", "{}", &answer) == OK && count_of(answer, "\"id\"") == 1 &&
              a.revision == before);
    }
    CASE("a change is a merge patch (RFC 7396) on the document: null takes away") {
        CHECK(ask(&a, "piece change",
                  "{\"id\":\"bow-front-chest\",\"piece\":{\"width\":\"33 "
                  "in\",\"wanted\":{\"sheen\":\"satin\"},"
                  "\"agreement\":{\"due\":null}}}",
                  &answer) == OK);
        CHECK(strstr(answer, "\"color\":\"#2f5d62\"") && strstr(answer, "\"sheen\":\"satin\""));
        CHECK(!strstr(answer, "\"due\":"));
        CHECK_NEAR(said_real(&a, answer, "width_mm"), 838.2, 1e-9);
    }
    CASE("members may also be said one by one") {
        CHECK(ask(&a, "piece add",
                  "{\"template\":\"nightstand\",\"width\":\"18 "
                  "in\",\"color\":\"#f4efe4\",\"due\":\"2026-11-01\",\"stage\":\"agreed\"}",
                  &answer) == OK);
        CHECK_TEXT(said(&a, answer, "title"), "nightstand");
        CHECK_TEXT(said(&a, answer, "stage"), "agreed");
        CHECK(strstr(answer,
                     "\"wanted\":{\"color\":\"#f4efe4\"},\"agreement\":{\"due\":\"2026-11-01\"}"));
    }
    CASE("two who change the same piece: the second is told what was changed") {
        CHECK(ask(&a, "piece show", "{\"id\":\"bow-front-chest\"}", &answer) == OK);
        int64_t seen = said_int(&a, answer, "revision");
        a.if_revision = seen;
        CHECK(ask(&a, "piece change",
                  "{\"id\":\"bow-front-chest\",\"piece\":{\"depth\":\"19 in\"}}", &answer) == OK);
        a.if_revision = seen;
        CHECK(ask(&a, "piece change",
                  "{\"id\":\"bow-front-chest\",\"piece\":{\"depth\":\"20 in\"}}",
                  &answer) == E_STALE);
        CHECK(strstr(a.why.text, "depth"));
        CHECK(ask(&a, "piece show", "{\"id\":\"bow-front-chest\"}", &answer) == OK &&
              strstr(answer, "\"depth\":\"19 in\""));
    }
    CASE("a request that is repeated with its key is done once and answered the same") {
        a.key = "0123456789abcdef";
        CHECK(ask(&a, "piece add", CHEST, &answer) == OK);
        int64_t revision = a.revision;
        CHECK_TEXT(said(&a, answer, "id"), "bow-front-chest-2");
        a.key = "0123456789abcdef";
        CHECK(ask(&a, "piece add", CHEST, &again) == OK);
        CHECK_TEXT(again, answer);
        CHECK(a.revision == revision);
        a.key = "0123456789abcdef";
        CHECK(ask(&a, "piece add", "{\"title\":\"other\"}", &again) == E_CONFLICT);
        a.key = "short";
        CHECK(ask(&a, "piece add", "{\"title\":\"other\"}", &again) == E_SYNTAX);
        CHECK(ask(&a, "pieces", "{}", &again) == OK && count_of(again, "\"id\"") == 3);
    }
    CASE("lists: by stage, by client, by words, page by page") {
        CHECK(ask(&a, "pieces", "{\"stage\":\"agreed\"}", &answer) == OK &&
              count_of(answer, "\"id\"") == 1);
        CHECK(ask(&a, "pieces", "{\"client\":\"lane\"}", &answer) == OK &&
              count_of(answer, "\"id\"") == 2);
        CHECK(ask(&a, "pieces", "{\"q\":\"bow che\"}", &answer) == OK &&
              count_of(answer, "\"id\"") == 2);
        CHECK(ask(&a, "pieces", "{\"stage\":\"lost\"}", &answer) == E_DOMAIN);
        CHECK(ask(&a, "pieces", "{\"limit\":2}", &answer) == OK && count_of(answer, "\"id\"") == 2);
        char next[80];
        snprintf(next, sizeof next, "{\"limit\":2,\"after\":\"%s\"}", said(&a, answer, "next"));
        CHECK(ask(&a, "pieces", next, &answer) == OK && count_of(answer, "\"id\"") == 1 &&
              !strstr(answer, "next\""));
        CHECK(ask(&a, "pieces", "{\"after\":\"x\"}", &answer) == E_SYNTAX);
    }
    CASE("a piece that was removed is no longer listed") {
        CHECK(ask(&a, "piece remove", "{\"id\":\"bow-front-chest-2\"}", &answer) == OK);
        CHECK(ask(&a, "piece show", "{\"id\":\"bow-front-chest-2\"}", &answer) == E_NOT_FOUND);
        CHECK(ask(&a, "pieces", "{\"client\":\"lane\"}", &answer) == OK &&
              count_of(answer, "\"id\"") == 1);
    }
    CASE("clients: enter, change, clear a member, stale") {
        CHECK(ask(&a, "client add", "{\"name\":\"Hill\",\"phone\":\"555 0100\"}", &answer) == OK);
        int64_t seen = said_int(&a, answer, "revision");
        CHECK(ask(&a, "client change", "{\"id\":\"hill\",\"phone\":\"\",\"waits_for\":\"her yes\"}",
                  &answer) == OK);
        CHECK(!strstr(answer, "phone") && strstr(answer, "her yes"));
        a.if_revision = seen;
        CHECK(ask(&a, "client remove", "{\"id\":\"hill\"}", &answer) == E_STALE);
        CHECK(ask(&a, "client add", "{\"name\":\" \"}", &answer) == E_MISSING);
        CHECK(ask(&a, "client add", "{\"name\":\"Hill\",\"id\":\"hill\"}", &answer) == E_DUPLICATE);
    }
    CASE("a piece of a client that was named by id is of the client's name, also after a change of "
         "it") {
        CHECK(ask(&a, "client add", "{\"name\":\"Mill by the road\"}", &answer) == OK);
        CHECK(ask(&a, "piece add",
                  "{\"title\":\"Shelf of the mill\",\"template\":\"bookcase\",\"width\":\"30 "
                  "in\",\"depth\":\"10 in\",\"height\":\"40 "
                  "in\",\"color\":\"#35506b\",\"client\":\"mill-by-the-road\"}",
                  &answer) == OK);
        CHECK(ask(&a, "piece plan", "{\"id\":\"shelf-of-the-mill\"}", &answer) == OK &&
              strstr(answer, "Mill by the road") && !strstr(answer, "\"mill-by-the-road\""));
        CHECK(ask(&a, "client change", "{\"id\":\"mill-by-the-road\",\"name\":\"The old mill\"}",
                  &answer) == OK);
        CHECK(ask(&a, "piece plan", "{\"id\":\"shelf-of-the-mill\"}", &answer) == OK &&
              strstr(answer, "The old mill") && !strstr(answer, "Mill by the road"));
    }
    CASE("money knows the price of a piece that was only just entered or changed") {
        CHECK(ask(&a, "piece add",
                  "{\"title\":\"Just in\",\"template\":\"bookcase\",\"width\":\"30 "
                  "in\",\"depth\":\"10 in\",\"height\":\"40 in\",\"color\":\"#35506b\"}",
                  &answer) == OK);
        CHECK(ask(&a, "money open", "{\"piece\":\"just-in\"}", &answer) == OK);
        int64_t small = said_int(&a, answer, "price_cent");
        CHECK(small > 0);
        CHECK(ask(&a, "piece change",
                  "{\"id\":\"just-in\",\"piece\":{\"width\":\"60 in\",\"height\":\"84 in\"}}",
                  &answer) == OK);
        CHECK(ask(&a, "money open", "{\"piece\":\"just-in\"}", &answer) == OK);
        CHECK(said_int(&a, answer, "price_cent") > small);
    }
    shared_batch(&a);
    CASE("a piece of which only the days were planned has a price too: at once where money is "
         "asked for, in lists as soon as it is known what runs short") {
        CHECK(ask(&a, "piece add",
                  "{\"title\":\"Days only\",\"template\":\"bookcase\",\"width\":\"30 "
                  "in\",\"depth\":\"10 in\",\"height\":\"40 in\",\"color\":\"#35506b\"}",
                  &answer) == OK);
        CHECK(ask(&a, "today", "{\"days_only\":true}", &answer) == OK);
        CHECK(ask(&a, "piece show", "{\"id\":\"days-only\"}", &answer) == OK);
        const char *ready = said(&a, answer, "ready_utc_min");
        CHECK(*ready && !*said(&a, answer, "price_cent"));
        CHECK(ask(&a, "money open", "{\"piece\":\"days-only\"}", &answer) == OK &&
              said_int(&a, answer, "price_cent") > 0);
        CHECK(ask(&a, "shopping", "{}", &answer) == OK);
        CHECK(ask(&a, "piece show", "{\"id\":\"days-only\"}", &answer) == OK);
        CHECK(said_int(&a, answer, "price_cent") > 0 && said_int(&a, answer, "hours") > 0);
        CHECK_TEXT(said(&a, answer, "ready_utc_min"), ready);
    }
    CASE("its sheet says how it came, when it is fetched, and what was noted of it and of a "
         "repair") {
        CHECK(ask(&a, "piece add",
                  "{\"piece\":{\"title\":\"Noted\",\"template\":\"side_chair\",\"width\":\"18 in\","
                  "\"depth\":\"18 in\",\"height\":\"34 in\",\"wanted\":{\"color\":\"#35506b\"},"
                  "\"note\":\"It was her mother's.\",\"repairs\":[{\"kind\":\"loose_joint\","
                  "\"note\":\"the left hind leg\"}],\"agreement\":{\"marks\":[\"a ring on the "
                  "seat\"],"
                  "\"seen\":\"2026-10-02\",\"collect\":\"2026-11-20\"}}}",
                  &answer) == OK);
        CHECK(ask(&a, "piece plan", "{\"id\":\"noted\"}", &answer) == OK);
        static const char *const says[] = {"A ring on the seat", "Written down Oct 2, 2026",
                                           "Nov 20, 2026", "It was her mother's.",
                                           "the left hind leg. "};
        for (size_t i = 0; i < sizeof says / sizeof *says; i++)
            if (!strstr(answer, says[i])) CHECK_TEXT("not on the sheet", says[i]);
    }
    CASE(
        "a test that is not made is no longer asked for on the sheet; it says that it is unknown") {
        CHECK(ask(&a, "piece change",
                  "{\"id\":\"noted\",\"piece\":{\"finish\":\"oil_varnish\",\"year\":2001}}",
                  &answer) == OK);
        CHECK(ask(&a, "piece plan", "{\"id\":\"noted\"}", &answer) == OK);
        CHECK(strstr(answer, "Cut through the film") && !strstr(answer, "Not tested."));
        CHECK(ask(&a, "piece change",
                  "{\"id\":\"noted\",\"piece\":{\"tests\":{\"skipped\":[\"tape\"]}}}",
                  &answer) == OK);
        CHECK(ask(&a, "piece plan", "{\"id\":\"noted\"}", &answer) == OK);
        CHECK(!strstr(answer, "Cut through the film") && strstr(answer, "Not tested."));
        CHECK(strstr(answer, "\"left_out\":[\"Tape test\"]"));
    }
    parts(&a);
    another(&a);
    unknown_names(&a);
    many_parts(&a);
    asker_close(&a);
    return check_done();
}
