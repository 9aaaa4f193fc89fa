#include "core/base/arena.h"
#include "test/check.h"

#include <stdint.h>
#include <stdlib.h>

struct counted {
    int left, live;
};

static void *counted_get(void *ctx, size_t n) {
    struct counted *c = ctx;
    if (c->left-- <= 0) return NULL;
    c->live++;
    return malloc(n);
}

static void counted_put(void *ctx, void *p) {
    ((struct counted *)ctx)->live--;
    free(p);
}

int main(void) {
    CASE("memory is zeroed and aligned") {
        struct arena a;
        arena_init(&a, alloc_heap(), 0);
        for (size_t n = 1; n < 300000; n = n * 3 + 1) {
            unsigned char *p = arena_take(&a, n);
            CHECK(p && (uintptr_t)p % _Alignof(max_align_t) == 0);
            CHECK(p && p[0] == 0 && p[n - 1] == 0);
            memset(p, 255, n);
        }
        arena_free(&a);
    }
    CASE("the n-th allocation fails cleanly and nothing leaks") {
        for (int n = 0; n < 4; n++) {
            struct counted c = {n, 0};
            struct arena a;
            arena_init(&a, (struct alloc){counted_get, counted_put, &c}, 0);
            int got = 0;
            while (arena_take(&a, 70000)) got++;
            CHECK(got == n);
            arena_free(&a);
            CHECK(c.live == 0);
        }
    }
    CASE("the bound holds and absurd sizes are refused") {
        struct arena a;
        arena_init(&a, alloc_heap(), 1000);
        CHECK(arena_take(&a, 900));
        CHECK(!arena_take(&a, 200));
        CHECK(!arena_array(&a, SIZE_MAX / 2, 16));
        arena_free(&a);
    }
    CASE("texts are copied") {
        struct arena a;
        arena_init(&a, alloc_heap(), 0);
        CHECK_TEXT(arena_text(&a, "oak"), "oak");
        CHECK_TEXT(arena_print(&a, "%d coats", 2), "2 coats");
        arena_free(&a);
    }
    return check_done();
}
