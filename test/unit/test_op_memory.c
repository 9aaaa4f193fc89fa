/* An operation that finds no memory says so: nothing crashes, and no half answer is called one. */
#include "test/check.h"
#include "test/unit/ask_one.h"

/* The operation with so many bytes for its work; 0: as many as it takes. Returns those it took. */
static size_t with(size_t bytes, const char *name, const char *args, enum status *out_status) {
    const struct op *op = op_by_name(name);
    struct arena small, room;
    struct why why = {{0}, {0}};
    arena_init(&room, alloc_heap(), 0);
    arena_init(&small, alloc_heap(), bytes);
    void *in = arena_take(&room, op->args ? op->args->size : 1),
         *result = arena_take(&room, op->result ? op->result->size : 1);
    if (op->args) desc_unsay(op->args, in);
    if (op->result) desc_unsay(op->result, result);
    struct op_call call = {
        .app = &a.app, .arena = &small, .args = in, .result = result, .if_revision = INT64_MIN};
    enum status s = OK;
    if (op->args) s = document_read(op->args, SPELL_INPUT, args, strlen(args), &room, in, &why);
    if (!s) s = op_run(op, &call, &why);
    size_t used = small.used_bytes;
    text_free(&call.out_body);
    arena_free(&small);
    arena_free(&room);
    *out_status = s;
    return used;
}

/* Its memory ends everywhere, most often near the end, where the words are made. */
static void ends_everywhere(const char *name, const char *args) {
    enum { STEPS = 12 };
    enum status s;
    size_t all = with(0, name, args, &s);
    CHECK(s == OK);
    for (size_t i = 0; i < 2 * STEPS; i++) {
        size_t bytes = i < STEPS ? all * i / STEPS + 1 : all - 96 * (i - STEPS) - 1;
        if (bytes > all) break;
        with(bytes, name, args, &s);
        CHECK(s == E_MEMORY);
        if (s != E_MEMORY) printf("%s with %zu of %zu: %s\n", name, bytes, all, status_code(s));
    }
}

#define PAINT(name, color)                                                                         \
    "{\"name\":\"" name "\",\"class\":\"wb_enamel\",\"color\":\"" color                            \
    "\",\"stock\":\"2 L\",\"size\":\"1 qt\",\"cost\":\"$30\"}"
#define MIX "[{\"paint\":\"white\",\"parts\":3},{\"paint\":\"blue\",\"parts\":1}]"

static void fill(void) {
    CHECK(do_it("paint add", PAINT("white", "#f4f2ec")) == OK);
    CHECK(do_it("paint add", PAINT("blue", "#1f4e79")) == OK);
    CHECK(do_it("paint add", PAINT("black", "#202020")) == OK);
    CHECK(do_it("sample add", "{\"sample\":{\"items\":" MIX ",\"color\":\"#8f9cbf\"}}") == OK);
    CHECK(do_it("piece add",
                "{\"piece\":{\"title\":\"Stand\",\"template\":\"nightstand\",\"width\":\"24 in\","
                "\"depth\":\"16 in\",\"height\":\"28 in\",\"finish\":\"lacquer\",\"wood\":"
                "\"hard_maple\",\"year\":1995,\"fittings\":{\"pulls\":{\"new_spacing\":\"96 mm\","
                "\"old_spacing\":\"76 mm\"}},\"agreement\":{\"purpose\":\"client\",\"client\":"
                "\"J. Doe\",\"due\":\"2026-10-12\"},\"wanted\":{\"color\":\"#7f9cbf\"}}}") == OK);
    CHECK(do_it("days accept", "{}") == OK);
    CHECK(do_it("batch add", "{\"amount\":\"400 ml\",\"piece\":\"stand\",\"items\":" MIX
                             ",\"target\":\"#7f9cbf\"}") == OK);
}

int main(void) {
    asker_open(&a);
    CASE("a book with a piece in work") {
        fill();
    }
    CASE("colors") {
        ends_everywhere("shelf known", "{\"why\":true}");
        ends_everywhere("shelf reach", "{\"target\":\"#ff2010\"}");
        ends_everywhere("hiding", "{\"items\":\"white=3,blue=1\"}");
        ends_everywhere("shelf mix",
                        "{\"items\":\"white=3,blue=1\",\"target\":\"#7f9cbf\",\"marks\":8}");
        ends_everywhere("recipes",
                        "{\"target\":\"#7f9cbf\",\"amount\":\"8 fl oz\",\"paints_max\":2}");
        ends_everywhere("sample next", "{\"target\":\"#7f9cbf\",\"items\":" MIX "}");
    }
    CASE("work") {
        ends_everywhere("piece drill", "{\"id\":\"stand\"}");
        ends_everywhere("piece plan", "{\"id\":\"stand\"}");
        ends_everywhere("days", "{}");
        ends_everywhere("today", "{}");
    }
    CASE("the book") {
        ends_everywhere("history", "{}");
        ends_everywhere("piece history", "{\"id\":\"stand\"}");
        ends_everywhere("books", "{\"why\":true}");
    }
    asker_close(&a);
    return check_done();
}
