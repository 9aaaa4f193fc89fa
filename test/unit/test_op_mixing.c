/* Batches and the shelf in the book: what is poured, corrected, left over, labeled; recipes,
 * samples and readings of what is wet. */
#include "app/book.h"
#include "test/check.h"
#include "test/unit/ask_one.h"

/* The answer behind the proof of the whole: what is said of its grid. */
static const char *grid_said(void) {
    const char *rows = strstr(answer, "\"tradeoff\""),
               *cells = rows ? strstr(rows, "\"cells\"") : NULL;
    return cells ? cells : "";
}

static void mixing(void) {
    CASE("a batch takes from the shelf what was poured, by its parts") {
        CHECK(do_it("paint add", "{\"name\":\"Black\",\"paint\":{\"class\":\"wb_enamel\",\"color\":"
                                 "\"#222\",\"stock\":\"1 qt\"}}") == OK);
        CHECK(do_it("paint add", "{\"name\":\"Warm white\",\"class\":\"wb_enamel\",\"color\":"
                                 "\"#f4efe4\",\"stock\":\"1 qt\"}") == OK);
        CHECK(
            do_it("batch add",
                  "{\"name\":\"Gray\",\"target\":\"#808080\",\"items\":[{\"paint\":\"warm-white\","
                  "\"parts\":3},{\"paint\":\"black\",\"parts\":1}],\"amount\":\"400 ml\"}") == OK);
        CHECK_TEXT(said(&a, answer, "id"), "gray");
        CHECK(*said(&a, answer, "predicted_hex") == '#');
        CHECK(do_it("paint show", "{\"id\":\"warm-white\"}") == OK);
        CHECK_NEAR(said_real(&a, answer, "stock_ml"), 946.352946 - 300, 1e-9);
        CHECK(do_it("paint show", "{\"id\":\"black\"}") == OK);
        CHECK_NEAR(said_real(&a, answer, "stock_ml"), 946.352946 - 100, 1e-9);
        CHECK(do_it("batch add", "{\"name\":\"x\",\"items\":[{\"paint\":\"none\",\"parts\":1}],"
                                 "\"amount\":\"1 ml\"}") == E_REFERENCE);
        CHECK_TEXT(a.why.field, "/items/0/paint");
    }
    CASE("a batch that dried to another color becomes a sample, and what to add is said") {
        CHECK(do_it("batch correct",
                    "{\"id\":\"gray\",\"dried\":\"#9a9a98\",\"read\":\"instrument\"}") == OK &&
              strstr(answer, "\"advice\":\"add\""));
        CHECK(said_real(&a, answer, "difference_now") > 5);
        CHECK_NEAR(said_real(&a, answer, "after_ml"), 400 + said_real(&a, answer, "amount_ml"),
                   1e-6);                                        /* one paint, black */
        CHECK(said_real(&a, answer, "fresh_amount_ml") >= 395 && /* a fresh one beside it */
              said_real(&a, answer, "fresh_expected_difference") > 0);
        CHECK(do_it("samples", "{\"paint\":\"black\"}") == OK &&
              count_of(answer, "\"document\"") == 1);
        CHECK(do_it("batch show", "{\"id\":\"gray\"}") == OK && strstr(answer, "#9a9a98"));
    }
    CASE("a fresh batch that is expected no nearer than this one dried is not offered") {
        CHECK(do_it("batch correct",
                    "{\"id\":\"gray\",\"dried\":\"#808080\",\"read\":\"instrument\"}") == OK &&
              strstr(answer, "\"advice\":\"leave\"") && !strstr(answer, "fresh_hex"));
        CHECK(do_it("undo", "{}") == OK);
    }
    CASE("what is poured into a batch is in it, and it has not dried again") {
        CHECK(do_it("batch pour", "{\"id\":\"gray\",\"items\":[{\"paint\":\"black\",\"amount\":"
                                  "\"100 ml\"}]}") == OK);
        CHECK_NEAR(said_real(&a, answer, "amount_ml"), 500, 1e-9);
        CHECK(!strstr(answer, "\"dried\"") && count_of(answer, "\"paint\"") == 2);
        CHECK(strstr(answer, "\"name\":\"Black\"") && strstr(answer, "\"parts\":2,"));
        CHECK(do_it("batch pour", "{\"id\":\"gray\",\"items\":[{\"paint\":\"none\",\"amount\":"
                                  "\"1 ml\"}]}") == E_REFERENCE);
        CHECK_TEXT(a.why.field, "/items/0/paint");
        CHECK(do_it("batch pour", "{\"id\":\"gray\",\"items\":[{\"paint\":\"black\",\"amount\":"
                                  "\"-1 ml\"}]}") == E_DOMAIN);
    }
    CASE("what is left of a batch is a paint that knows what it was mixed of") {
        CHECK(do_it("batch left", "{\"id\":\"gray\",\"amount\":\"50 ml\"}") == OK);
        CHECK_NEAR(said_real(&a, answer, "left_ml"), 50, 1e-6);
        CHECK(do_it("paint show", "{\"id\":\"gray-left\"}") == OK &&
              strstr(answer, "\"leftover\":true") && strstr(answer, "leftover_of"));
        CHECK(do_it("batch left", "{\"id\":\"gray\",\"amount\":\"30 ml\"}") == OK);
        CHECK_NEAR(said_real(&a, answer, "left_ml"), 30, 1e-6);
        CHECK(do_it("batch left", "{\"id\":\"gray\",\"amount\":\"900 ml\"}") == E_DOMAIN);
        CHECK(do_it("recipes", "{\"target\":\"#808080\",\"paints_max\":2}") == OK &&
              strstr(answer, "gray-left"));
    }
    CASE("what is mixed for a piece is its recipe, and none of it is asked for again") {
        CHECK(do_it("piece add", "{\"title\":\"Gray table\",\"piece\":{\"template\":"
                                 "\"side_table\",\"width\":\"20 in\",\"height\":\"24 in\","
                                 "\"finish\":\"bare\",\"wanted\":{\"color\":\"#808080\"}}}") == OK);
        CHECK(do_it("batch add", "{\"piece\":\"gray-table\",\"target\":\"#808080\",\"items\":[{"
                                 "\"paint\":\"warm-white\",\"parts\":2},{\"paint\":\"black\","
                                 "\"parts\":2}],\"amount\":\"40 ml\"}") == OK);
        CHECK(do_it("piece plan", "{\"id\":\"gray-table\"}") == OK);
        CHECK_TEXT(said(&a, answer, "batch"), "gray-table");
        CHECK(strstr(answer, "\"parts\":50,\"volume_ml\":20") && strstr(answer, "In the batch"));
        CHECK(strstr(answer, "\"mixed_ml\":40") && /* far too little */
              strstr(answer, "more by the same recipe"));
        CHECK(do_it("batch correct",
                    "{\"id\":\"gray-table\",\"dried\":\"#707070\",\"read\":\"instrument\"}") == OK);
        CHECK(do_it("piece plan", "{\"id\":\"gray-table\"}") == OK &&
              strstr(answer, "The batch dried to another color than is wanted."));
        CHECK(do_it("piece change", "{\"id\":\"gray-table\",\"color\":\"#f0ead8\"}") == OK);
        CHECK(do_it("piece plan", "{\"id\":\"gray-table\"}") == OK &&
              !strstr(answer, "In the batch")); /* mixed for another color */
        for (int i = 0; i < 4; i++) CHECK(do_it("undo", "{}") == OK);
    }
    CASE(
        "a batch that is enough ticks its task, in the change that logs it; a small one does not") {
        CHECK(do_it("piece add", "{\"title\":\"Ash table\",\"piece\":{\"template\":"
                                 "\"side_table\",\"width\":\"20 in\",\"height\":\"24 in\","
                                 "\"finish\":\"bare\",\"wanted\":{\"color\":\"#808080\"}}}") == OK);
        static const char *const amounts[] = {"40 ml", "900 ml"};
        for (int i = 0; i < 2; i++) {
            char args[300];
            snprintf(args, sizeof args,
                     "{\"piece\":\"ash-table\",\"target\":\"#808080\",\"items\":[{\"paint\":"
                     "\"warm-white\",\"parts\":2},{\"paint\":\"black\",\"parts\":2}],"
                     "\"amount\":\"%s\"}",
                     amounts[i]);
            CHECK(do_it("batch add", args) == OK);
            CHECK_TEXT(said(&a, answer, "ticked"), i ? "Mix the batch" : "");
        }
        CHECK(do_it("batches", "{\"piece\":\"ash-table\"}") == OK);
        CHECK(count_of(answer, "\"piece\":\"ash-table\"") == 2 &&
              !strstr(answer, "\"id\":\"gray\""));
        CHECK_NEAR(said_real(&a, answer, "amount_ml"), 900, 1e-9); /* the newest first, */
        CHECK(count_of(answer, "\"paint\":\"black\"") == 2);       /* each with its paints */
        CHECK(do_it("task done", "{\"id\":\"ash-table-mix\"}") == E_CONFLICT);
        CHECK(do_it("piece show", "{\"id\":\"ash-table\"}") == OK);
        CHECK_TEXT(said(&a, answer, "stage"), "in_work");
        CHECK(do_it("undo", "{}") == OK && do_it("task undone", "{\"id\":\"ash-table-mix\"}") ==
                                               E_NOT_FOUND); /* batch and task as one */
        CHECK(do_it("undo", "{}") == OK && do_it("undo", "{}") == OK);
    }
    CASE("what is left of another batch of that name gets a number") {
        CHECK(do_it("batch add", "{\"name\":\"Gray\",\"items\":[{\"paint\":\"black\",\"parts\":1}],"
                                 "\"amount\":\"10 ml\"}") == OK);
        char args[80];
        snprintf(args, sizeof args, "{\"id\":\"%s\",\"amount\":\"5 ml\"}", said(&a, answer, "id"));
        CHECK(do_it("batch left", args) == OK);
        CHECK(do_it("paints", "{}") == OK && strstr(answer, "\"Gray, left 2\""));
        CHECK(do_it("undo", "{}") == OK && do_it("undo", "{}") == OK);
    }
    CASE(
        "a kept recipe is found, mixed again, found anew when a paint has changed, and taken off") {
        CHECK(do_it("recipe keep", "{\"name\":\"Slate\",\"target\":\"#808080\",\"items\":[{"
                                   "\"paint\":\"warm-white\",\"parts\":3},{\"paint\":\"black\","
                                   "\"parts\":1}]}") == OK);
        CHECK(*said(&a, answer, "color_hex") == '#' && said_real(&a, answer, "difference") > 0);
        CHECK(do_it("search", "{\"q\":\"slate\"}") == OK && strstr(answer, "\"recipe\""));
        CHECK(do_it("recipe again", "{\"id\":\"slate\"}") == OK && strstr(answer, "\"same\":true"));
        CHECK(said_real(&a, answer, "difference") < 0.1);
        const char *target = said(&a, answer, "target");
        CHECK(do_it("paint change", "{\"id\":\"black\",\"color\":\"#5a2020\"}") == OK);
        CHECK(do_it("recipe again", "{\"id\":\"slate\"}") == OK);
        CHECK(strstr(answer, "\"same\":false") && strstr(answer, "#5a2020") &&
              said_real(&a, answer, "difference") > 1);
        CHECK_TEXT(said(&a, answer, "target"), target); /* the color stays what it was */
        CHECK(do_it("batch again", "{\"id\":\"gray\"}") == OK && strstr(answer, "#5a2020"));
        struct text ask_again = {0};
        text_print(&ask_again, "{\"target\":\"%s\",\"recipe\":\"slate\"}", target);
        CHECK(do_it("recipes", ask_again.at) == OK && strstr(answer, "\"recipes\":[{"));
        text_free(&ask_again);
        CHECK(do_it("recipe keep", "{\"name\":\" \",\"items\":[{\"paint\":\"black\","
                                   "\"parts\":1}]}") == E_MISSING);
        CHECK(do_it("recipe remove", "{\"id\":\"slate\"}") == OK);
        CHECK(do_it("recipes kept", "{}") == OK && !strstr(answer, "slate"));
        CHECK(do_it("undo", "{}") == OK && do_it("recipes kept", "{}") == OK &&
              strstr(answer, "slate"));
        CHECK(do_it("paint change", "{\"id\":\"black\",\"color\":\"#222\"}") == OK);
    }
    CASE("bad input of the shelf and of mixes is named where it is") {
        CHECK(do_it("paint add", "{\"name\":\"warm WHITE\",\"class\":\"wb_enamel\"}") ==
              E_DUPLICATE);
        CHECK_TEXT(a.why.field, "/paint/name");
        CHECK(do_it("paint change", "{\"id\":\"black\",\"name\":\"Warm white\"}") == E_DUPLICATE);
        CHECK(do_it("shelf mix", "{\"items\":\"warm-white=3,black=-1\"}") == E_DOMAIN);
        CHECK_TEXT(a.why.field, "/items/1");
        CHECK(do_it("recipes", "{\"target\":\"#808080\",\"amount\":\"100 gal\"}") == E_IMPOSSIBLE);
        CHECK(strstr(a.why.text, "may be bought"));
        CHECK(do_it("recipes", "{\"target\":\"#808080\",\"amount\":\"100 gal\",\"buy\":true}") ==
              OK);
        CHECK(do_it("recipes", "{\"target\":\"lab(50 120 0)\"}") == OK &&
              strstr(answer, "No paint at all can have this color"));
    }
    CASE("a book from before with two paints of one name: said of both, and an undo may still be") {
        struct book *old;
        struct paint_row row;
        CHECK(!store_write(a.app.store, "test", a.now_utc_min, &old, NULL));
        CHECK(!row_get(old, &table_paint, "id", "black", &a.arena, &row, NULL));
        const char *document = row.document;
        row.name = "Warm  white";
        row.document = "{\"id\":\"black\",\"name\":\"Warm  "
                       "white\",\"class\":\"wb_enamel\",\"color\":\"#222\"}";
        CHECK(!row_change(old, &table_paint, &row, NULL) && !store_commit(old, NULL));
        CHECK(do_it("shelf known", "{}") == OK);
        CHECK(count_of(answer, "has the same name: rename one") == 2);
        CHECK(do_it("paint add", "{\"name\":\"Lamp\",\"class\":\"wb_enamel\"}") == OK);
        CHECK(do_it("undo", "{}") == OK); /* it did not make them so */
        CHECK(do_it("paint change", "{\"id\":\"black\",\"name\":\"Black\"}") == OK);
        CHECK(do_it("shelf known", "{}") == OK && !strstr(answer, "same name"));
        CHECK(!store_write(a.app.store, "test", a.now_utc_min, &old, NULL));
        CHECK(!row_get(old, &table_paint, "id", "black", &a.arena, &row, NULL));
        row.document = document; /* with its stock and all */
        CHECK(!row_change(old, &table_paint, &row, NULL) && !store_commit(old, NULL));
    }
    CASE("how well colors are known, what is reached, how it hides") {
        CHECK(do_it("shelf known", "{}") == OK && strstr(answer, "\"id\":\"black\"") &&
              said_real(&a, answer, "expected_difference") > 0);
        CHECK(do_it("shelf reach", "{\"target\":\"lab(60 50 40)\"}") == OK &&
              strstr(answer, "\"inside\":false") && strstr(answer, "would bring it from"));
        CHECK(do_it("shelf reach", "{\"target\":\"#808080\"}") == OK);
        CHECK(do_it("hiding", "{\"items\":\"warm-white=3\",\"ground\":\"#000\"}") == OK);
        double off = said_real(&a, answer, "difference");
        CHECK(do_it("hiding", "{\"items\":\"warm-white=3\",\"ground\":\"#eee\"}") == OK);
        CHECK(said_real(&a, answer, "difference") < off); /* of the first coat */
        /* cards tell how strong paints are beside each other: of a white alone no more than before
         */
        static const char white[] = "{\"items\":\"warm-white=1\",\"ground\":\"#5b3f2e\"}";
        CHECK(do_it("hiding", white) == OK);
        const int64_t alone = said_int(&a, answer, "coats");
        CHECK(do_it("sample add",
                    "{\"sample\":{\"items\":[{\"paint\":\"warm-white\",\"parts\":8},"
                    "{\"paint\":\"black\",\"parts\":1}],\"color\":\"#c5c2ba\"}}") == OK);
        CHECK(do_it("hiding", white) == OK);
        CHECK(alone > 1 && said_int(&a, answer, "coats") == alone);
        CHECK(do_it("undo", "{}") == OK);
        /* tried over black and white it hides that card, which is the same as any dark ground, in
         * as many coats as were seen */
        for (int n = 2; n <= 5; n++) {
            CHECK(do_it("paint change",
                        arena_print(&a.arena, "{\"id\":\"warm-white\",\"hides_in\":%d}", n)) == OK);
            CHECK(do_it("hiding", "{\"items\":\"warm-white=1\",\"ground\":\"#222\"}") == OK);
            CHECK(said_int(&a, answer, "coats") == n && said_int(&a, answer, "jars_tried") == 1);
            CHECK(said_int(&a, answer, "coats_if_weak") == n);
        }
        CHECK(do_it("paint change", "{\"id\":\"warm-white\",\"hides_in\":13}") == E_DOMAIN);
        CHECK(do_it("paint change", "{\"id\":\"warm-white\",\"paint\":{\"hides_in\":null}}") == OK);
        for (int dark = 0; dark < 2; dark++) { /* what hides half as well takes no fewer coats */
            CHECK(do_it("hiding", dark ? "{\"items\":\"warm-white=3\",\"ground\":\"#000\"}"
                                       : "{\"items\":\"black=1\",\"ground\":\"#fff\"}") == OK);
            const int64_t coats = said_int(&a, answer, "coats"),
                          weak = said_int(&a, answer, "coats_if_weak");
            CHECK(coats >= 1 && weak >= coats && weak <= 6);
            if (dark) CHECK(weak > coats && strstr(answer, "half as well"));
            CHECK(strstr(answer, "ISO 6504-3"));
        }
    }
    CASE("a mix as pours: marks add up, the strongest last and little by little") {
        CHECK(do_it("steps", "{\"items\":\"warm-white=3,black=1\",\"amount\":\"8 fl oz\"}") == OK);
        CHECK(strstr(answer, "\"text\":\"6 fl oz\"") && strstr(answer, "\"mark\":\"8 fl oz\"") &&
              strstr(answer, "\"check\":true"));
        CHECK(do_it("steps", "{\"items\":\"warm-white=3,black=-1\",\"amount\":\"8 fl oz\"}"));
        CHECK(strstr(a.why.field, "/items"));
    }
    CASE("with an amount, stock and the measure bind") {
        CHECK(do_it("recipes", "{\"target\":\"#222222\",\"amount\":\"1 gal\"}") == OK ||
              a.why.text[0]);
        CHECK(!strstr(answer, "\"black\",\"name\":\"Black\",\"parts\":64"));
        CHECK(do_it("recipes",
                    "{\"target\":\"#808080\",\"amount\":\"8 fl oz\",\"measure\":\"tsp\"}") == OK &&
              strstr(answer, "cup"));
    }
    CASE("on a scale the parts are as fine as it shows, as far as a proof goes; on spoons 64") {
        /* 200 g at 1.2 g/ml by .1 g: 2000 steps, four of them a part */
        CHECK(do_it("recipes", "{\"target\":\"#808080\",\"amount\":\"166.667 ml\",\"measure\":"
                               "\"gram\",\"step\":\"0.083333 ml\",\"paints_max\":2}") == OK);
        CHECK(said_int(&a, grid_said(), "parts") == 500);
        CHECK(strstr(answer, "\"kind\":\"optimal\"") && strstr(answer, " g\""));
        CHECK(do_it("recipes", "{\"target\":\"#808080\",\"amount\":\"166.667 ml\",\"measure\":"
                               "\"ml\",\"step\":\"0.083333 ml\",\"paints_max\":2}") == OK);
        CHECK(said_int(&a, grid_said(), "parts") == 63); /* 2000 / 32 */
    }
    CASE("the label names what is in the jar and leads to it") {
        CHECK(do_it("batch label", "{\"id\":\"gray\",\"base\":\"http://127.0.0.1:7878\"}") == OK);
        CHECK(strstr(answer, "of Warm white (60.0 %)") && strstr(answer, "svg xmlns"));
    }
    CASE("the label says each pour to the mark at which it was poured, in quarts' sizes too") {
        CHECK(do_it("batch add",
                    "{\"name\":\"Big\",\"amount\":\"51 fl oz\",\"items\":[{\"paint\":"
                    "\"warm-white\",\"parts\":203},{\"paint\":\"black\",\"parts\":1}]}") == OK);
        CHECK(do_it("batch label", "{\"id\":\"big\"}") == OK);
        CHECK(strstr(answer, "50 3/4 fl oz of Warm white"));
        CHECK(do_it("batch label", "{\"id\":\"big\",\"units\":\"metric\"}") == OK);
        CHECK(strstr(answer, "\"1.51 L, batch big\"") && strstr(answer, " ml of Warm white"));
        CHECK(do_it("shop change", "{\"shop\":{\"units\":\"metric\"}}") == OK);
        CHECK(do_it("batch label", "{\"id\":\"big\"}") == OK);
        CHECK(strstr(answer, "L, batch big")); /* nobody asked: the shop's */
        CHECK(do_it("undo", "{}") == OK);
        CHECK(do_it("undo", "{}") == OK);
    }
    CASE("recipes and mixes come from the book's own shelf") {
        CHECK(do_it("recipes", "{\"target\":\"#808080\",\"paints_max\":2}") == OK &&
              strstr(answer, "warm-white"));
        CHECK(do_it("shelf mix", "{\"items\":\"warm-white=3,black=1\"}") == OK &&
              strstr(answer, "\"lab\""));
        CHECK(do_it("shelf mix", "{\"items\":\"gold=3\"}") == E_REFERENCE);
    }
    CASE("a card read wet is learnt from once three pairs say how it dries, with their doubt") {
        static const char *const card =
            "{\"sample\":{\"id\":\"card\",\"items\":[{\"paint\":\"warm-white\",\"parts\":2},{"
            "\"paint\":\"black\",\"parts\":3}],\"color\":\"lab(%d 0 2)\",\"wet\":%s}}";
        static const char *const mix = "{\"items\":\"warm-white=2,black=3\"}";
        char args[300];
        CHECK(do_it("shelf mix", mix) == OK);
        const double nothing = said_real(&a, answer, "expected_difference");
        snprintf(args, sizeof args, card, 44, "true");
        CHECK(do_it("sample add", args) == OK);
        CHECK(do_it("shelf known", "{}") == OK &&
              strstr(answer, "until 3 mixes are read wet and dry, 0 are"));
        for (int pair = 0; pair < 3; pair++) {
            CHECK(do_it("shelf mix", mix) == OK); /* so far the card taught nothing */
            if (!pair) CHECK(said_real(&a, answer, "expected_difference") == nothing);
            for (int dry = 0; dry < 2; dry++) {
                snprintf(
                    args, sizeof args,
                    "{\"sample\":{\"items\":[{\"paint\":\"warm-white\",\"parts\":%d},"
                    "{\"paint\":\"black\",\"parts\":1}],\"color\":\"lab(%d 0 %d)\",\"wet\":%s}}",
                    pair + 2, 60 + 6 * pair - 4 * dry, pair, dry ? "false" : "true");
                CHECK(do_it("sample add", args) == OK);
            }
            CHECK(do_it("shelf known", "{}") == OK);
            CHECK(!!strstr(answer, "\"learnt\":true") == (pair == 2));
        }
        CHECK(strstr(answer, "darker") && strstr(answer, "3 pairs"));
        CHECK(count_of(answer, "one of 3 pairs") == 3);
        CHECK(count_of(answer, "\"residual\"") == 4 + 1); /* and what the batch dried to */
        CHECK(do_it("shelf mix", mix) == OK);
        const double wet = said_real(&a, answer, "expected_difference");
        CHECK(do_it("sample remove", "{\"id\":\"card\"}") == OK);
        CHECK(do_it("shelf mix", mix) == OK);
        const double without = said_real(&a, answer, "expected_difference");
        snprintf(args, sizeof args, card, 40, "false");
        CHECK(do_it("sample add", args) == E_DUPLICATE);
        CHECK(do_it("undo", "{}") == OK); /* the wet card is there again */
        CHECK(do_it("shelf mix", mix) == OK);
        CHECK(said_real(&a, answer, "expected_difference") == wet && wet < without);
        CHECK(do_it("sample remove", "{\"id\":\"card\"}") == OK);
        memcpy(strstr(args, "\"card\""), "\"dry1\"", 6);
        CHECK(do_it("sample add", args) == OK);
        CHECK(do_it("shelf mix", mix) == OK);
        CHECK(said_real(&a, answer, "expected_difference") < wet); /* a dry reading says more */
        for (int i = 0; i < 9; i++) CHECK(do_it("undo", "{}") == OK);
    }
    CASE("what a wet mix dries to is told from three own pairs, and refused before") {
        static const char *const colors[3][2] = {{"lab(60 10 10)", "lab(56 11 11)"},
                                                 {"lab(70 -8 5)", "lab(66 -8.8 5.5)"},
                                                 {"lab(40 0 20)", "lab(36 0 22)"}};
        char args[240];
        CHECK(do_it("shelf wet", "{\"color\":\"lab(50 0 0)\",\"class\":\"wb_enamel\"}") ==
              E_MISSING);
        CHECK(strstr(a.why.text, "0 mixes were"));
        for (int i = 0; i < 3; i++)
            for (int dry = 0; dry < 2; dry++) {
                snprintf(args, sizeof args,
                         "{\"sample\":{\"items\":[{\"paint\":\"warm-white\",\"parts\":%d},"
                         "{\"paint\":\"black\",\"parts\":%d}],\"color\":\"%s\",\"wet\":%s}}",
                         (i + 2) * (dry + 1), dry + 1, colors[i][dry], dry ? "false" : "true");
                CHECK(do_it("sample add", args) == OK);
            }
        CHECK(do_it("shelf wet",
                    "{\"color\":\"lab(50 0 0)\",\"items\":\"warm-white=1,black=1\"}") == OK);
        CHECK(said_int(&a, answer, "pairs") == 3);
        CHECK_NEAR(said_real(&a, answer, "lightness"), -4 * 3 / 3.0576, 1e-6);
        CHECK(strstr(answer, "lab(46.07") && strstr(answer, "Dries 3.9 darker and to "));
        CHECK(do_it("shelf wet", "{}") == OK && strstr(answer, "\"ready\":true"));
        for (int i = 0; i < 6; i++) CHECK(do_it("undo", "{}") == OK);
    }
    CASE("the next sample is a small mix in spoons that makes the recipe surer") {
        CHECK(do_it("sample next", "{\"target\":\"#505050\"}") == OK);
        CHECK(strstr(answer, "tsp") && said_real(&a, answer, "gain") > 0);
        CHECK_NEAR(said_real(&a, answer, "before") - said_real(&a, answer, "after"),
                   said_real(&a, answer, "gain"), 1e-9);
        double gain = said_real(&a, answer, "gain");
        CHECK(do_it("sample next", "{\"target\":\"#505050\",\"read\":\"eye\"}") == OK);
        CHECK(said_real(&a, answer, "gain") < gain); /* the eye sees less */
        CHECK(do_it("sample next", "{\"target\":\"#505050\",\"items\":[{\"paint\":\"warm-white\","
                                   "\"parts\":3},{\"paint\":\"black\",\"parts\":1}]}") == OK &&
              strstr(answer, "\"recipe\":[{"));
        CHECK(do_it("sample next", "{\"target\":\"#505050\",\"items\":[{\"paint\":\"gold\","
                                   "\"parts\":3}]}") == E_REFERENCE);
        CHECK_TEXT(a.why.field, "/items/0/paint");
        CHECK(do_it("sample next", "{}") == E_MISSING);
    }
}

int main(void) {
    asker_open(&a);
    mixing();
    asker_close(&a);
    return check_done();
}
