#include "cli/listing.h"
#include "cli/listing_json.h"
#include "cli/paper.h"
#include "cli/sheet_text.h"
#include "codec/job_desc.h"
#include "codec/plan_desc.h"
#include "test/check.h"

/* Every line of the page fits its width. */
static bool fits(const struct paper *p) {
    size_t n = 0;
    for (const char *c = p->out.at; c && *c; c++) {
        if (*c == '\n')
            n = 0;
        else
            n += ((unsigned char)*c & 0xc0) != 0x80;
        if (n > p->width) return false;
    }
    return true;
}

static void wrapping(void) {
    CASE("words wrap at the edge and under their indent") {
        struct paper p = {.width = 48};
        paper_wrap(&p, 0, &(struct paper_style){.indent = 4},
                   "Scuff with 220 grit, then wipe with a damp cloth and let it dry for an hour.");
        CHECK_TEXT(p.out.at, "Scuff with 220 grit, then wipe with a damp cloth\n"
                             "    and let it dry for an hour.\n");
        text_free(&p.out);
    }
    CASE("a word longer than the line is cut, letters with accents count once") {
        struct paper p = {.width = 48};
        char word[300];
        memset(word, 'x', 299);
        word[299] = 0;
        paper_wrap(&p, 0, &(struct paper_style){0}, word);
        CHECK(fits(&p));
        CHECK(paper_columns("68 \u00b0F") == 5);
        text_free(&p.out);
    }
}

static void sheets(void) {
    static struct sheet_row rows[] = {
        {.kind = SHEET_ROW,
         .figure = "13 fl oz",
         .what = "blue-green paint",
         .detail = "two coats",
         .known = "from the can's label",
         .pointer = "/x",
         .number = INT64_MIN},
        {.kind = SHEET_ROW,
         .figure = "between 13 fl oz and 17 fl oz",
         .what = "a long figure",
         .assumed = true,
         .number = INT64_MIN},
        {.kind = SHEET_STEP,
         .what = "Scuff all flats with 220 grit until the shine is gone everywhere",
         .detail = "so that the primer holds",
         .number = 1},
        {.kind = SHEET_STOP,
         .what = "Do not sand before a laboratory has tested for lead: the piece is "
                 "older than 1978.",
         .number = INT64_MIN},
        {.kind = SHEET_MIND, .what = "Oily rags catch fire by themselves.", .number = INT64_MIN},
        {.kind = SHEET_NOTE, .what = "A note.", .known = "common practice", .number = INT64_MIN},
        {.kind = SHEET_HEAD, .what = "Monday", .number = INT64_MIN},
        {.kind = SHEET_TEXT, .detail = "A paragraph.", .number = INT64_MIN},
    };
    static struct sheet_section section = {"coats", "Coats", "In this order.", rows, 8};
    static struct sheet_piece piece = {"chest", "A chest", rows, 1, &section, 1};
    static struct sheet sheet = {"A job", UNITS_US, rows, 1, &piece, 1};
    struct basis_input in = {"area", NULL, 2.5, DIM_AREA};
    struct basis basis = {.pointer = "/x",
                          .inputs = &in,
                          .inputs_n = 1,
                          .rule = "area / spread",
                          .source = "CP",
                          .certainty = CERTAINTY_COMMON,
                          .low = 300,
                          .high = 500,
                          .unit = DIM_VOLUME};
    CASE("a sheet at three widths") {
        for (size_t width = 48; width <= 110; width += 31) {
            struct paper p = {.width = width};
            sheet_text(&p, &sheet, &(struct sheet_reasons){0});
            CHECK(fits(&p));
            CHECK(strstr(p.out.at, "\nCoats -") && strstr(p.out.at, "STOP") &&
                  strstr(p.out.at, "MIND"));
            CHECK(strstr(p.out.at, "~ between 13 fl oz and 17 fl oz"));
            CHECK(strstr(p.out.at, "[ ] 1. Scuff") && !strstr(p.out.at, "area / spread"));
            text_free(&p.out);
        }
    }
    CASE("--why prints what a figure came from") {
        struct paper p = {.width = 110};
        sheet_text(&p, &sheet, &(struct sheet_reasons){.bases = &basis, .bases_n = 1});
        CHECK(strstr(p.out.at,
                     "= area / spread; from area 27 ft2; 9 of 10 between 10 fl oz and 17 fl oz"));
        CHECK(strstr(p.out.at, "[common practice: CP]"));
        text_free(&p.out);
    }
    CASE("what nobody has said stands at the end, in words") {
        struct paper p = {.width = 80};
        struct assumption assumed[] = {
            {"/pieces/0/wanted/paints_max", NULL, 3, DIM_NONE, "three jars", "CP"},
            {"/pieces/0/fittings/slides/0/gap", NULL, 25.4, DIM_LENGTH, "usual", "CP"},
            {"/pieces/0/slats", "left out", NAN, DIM_NONE, "a chest has none here", "CP"}};
        sheet_text(&p, &sheet, &(struct sheet_reasons){.assumed = assumed, .assumed_n = 3});
        const char *at = strstr(p.out.at, "\nAssumed, because nobody has said it -");
        CHECK(at && strstr(at, "3  wanted paints max\n") && strstr(at, "three jars"));
        CHECK(at && strstr(at, "1 in  fittings slides 0 gap\n") && strstr(at, "left out  slats\n"));
        text_free(&p.out);
    }
}

static void listings(void) {
    CASE("any described struct can be listed") {
        struct paint paints[2];
        struct shelf shelf;
        desc_unsay(&desc_shelf_part, &shelf);
        for (int i = 0; i < 2; i++) desc_unsay(&desc_paint, &paints[i]);
        paints[0].id = "white", paints[0].stock_ml = 946.352946;
        paints[1].id = "blue", paints[1].note = "opened in spring";
        shelf.paints = paints, shelf.paints_n = 2;
        struct paper p = {.width = 80};
        listing(&p, &(struct listing_as){.units = UNITS_US}, &desc_shelf_part, &shelf);
        CHECK_TEXT(p.out.at, "paints\n"
                             "  id        stock  note\n"
                             "  white  32 fl oz\n"
                             "  blue             opened in spring\n");
        text_free(&p.out);
    }
    CASE("a number is listed by what it measures") {
        struct assumption pay = {"/pay", NULL, 4500, DIM_RATE, "the shop's rate", "CP"};
        struct paper p = {.width = 80};
        listing(&p, &(struct listing_as){.units = UNITS_US}, &desc_assumption, &pay);
        CHECK(strstr(p.out.at, "$45/h") && !strstr(p.out.at, "4500"));
        text_free(&p.out);
    }
    CASE("what was typed is read as lines, not as JSON") {
        struct paper p = {.width = 48};
        listing_json(
            &p,
            "{\"day_temperature\":\"66 °F\",\"words\":{\"units\":[\"us\",\"metric\"]},"
            "\"items\":[{\"paint\":\"white\",\"parts\":2},{\"paint\":\"blue\",\"veneer\":true}],"
            "\"none\":null,\"ratio\":0.125}",
            0);
        CHECK_TEXT(p.out.at, "day temperature  66 °F\n"
                             "ratio            0.125\n"
                             "words\n"
                             "  units  us, metric\n"
                             "items\n"
                             "  paint white, parts 2\n"
                             "  paint blue, veneer yes\n");
        text_free(&p.out);
    }
    CASE("text that is no JSON stands as it is; long lists wrap between words and hang") {
        struct paper p = {.width = 48};
        listing_json(&p, "{not json", 2);
        CHECK_TEXT(p.out.at, "  {not json\n");
        text_free(&p.out);
        p = (struct paper){.width = 48};
        listing_json(
            &p, "[\"semigloss\",\"high gloss\",\"eggshell\",\"velvet\",\"satin\",\"flat\"]", 0);
        CHECK_TEXT(p.out.at, "semigloss, high gloss, eggshell, velvet, satin,\n  flat\n");
        text_free(&p.out);
    }
}

int main(void) {
    wrapping();
    sheets();
    listings();
    return check_done();
}
