#include "core/base/arena.h"

#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { BLOCK_BYTES = 64 * 1024 };

struct arena_block {
    struct arena_block *next;
    size_t used, size;
    max_align_t data[];
};

static void *heap_get(void *ctx, size_t bytes) {
    (void)ctx;
    return malloc(bytes);
}

static void heap_put(void *ctx, void *block) {
    (void)ctx;
    free(block);
}

struct alloc alloc_heap(void) {
    return (struct alloc){heap_get, heap_put, NULL};
}

void arena_init(struct arena *a, struct alloc alloc, size_t max_bytes) {
    *a = (struct arena){.alloc = alloc, .max_bytes = max_bytes};
}

void arena_free(struct arena *a) {
    for (struct arena_block *b = a->blocks, *next; b; b = next) {
        next = b->next;
        a->alloc.put(a->alloc.ctx, b);
    }
    a->blocks = NULL;
    a->used_bytes = 0;
    a->failed = false;
}

static void *none(struct arena *a) {
    a->failed = true;
    return NULL;
}

void *arena_take(struct arena *a, size_t bytes) {
    const size_t align = sizeof(max_align_t);
    if (bytes > SIZE_MAX / 4) return none(a);
    bytes = bytes ? (bytes + align - 1) / align * align : align;
    if (a->max_bytes && bytes > a->max_bytes - a->used_bytes) return none(a);
    struct arena_block *b = a->blocks;
    if (!b || b->size - b->used < bytes) {
        size_t size = bytes > BLOCK_BYTES ? bytes : BLOCK_BYTES;
        struct arena_block *fresh = a->alloc.get(a->alloc.ctx, sizeof *fresh + size);
        if (!fresh) return none(a);
        *fresh = (struct arena_block){.size = size};
        if (b && size > BLOCK_BYTES) { /* a large one must not hide the room left in the first */
            fresh->next = b->next;
            b->next = fresh;
        } else {
            fresh->next = b;
            a->blocks = fresh;
        }
        b = fresh;
    }
    void *p = (char *)b->data + b->used;
    b->used += bytes;
    a->used_bytes += bytes;
    return memset(p, 0, bytes);
}

void *arena_array(struct arena *a, size_t n, size_t size) {
    if (size && n > SIZE_MAX / 4 / size) return none(a);
    return arena_take(a, n * size);
}

char *arena_text(struct arena *a, const char *text) {
    if (!text) return NULL;
    size_t n = strlen(text) + 1;
    char *copy = arena_take(a, n);
    return copy ? memcpy(copy, text, n) : NULL;
}

char *arena_vprint(struct arena *a, const char *fmt, va_list ap) {
    va_list again;
    va_copy(again, ap);
    int n = vsnprintf(NULL, 0, fmt, again);
    va_end(again);
    char *text = n < 0 ? NULL : arena_take(a, (size_t)n + 1);
    if (text) vsnprintf(text, (size_t)n + 1, fmt, ap);
    return text;
}

char *arena_print(struct arena *a, const char *fmt, ...) {
    va_list ap;
    va_start(ap, fmt);
    char *text = arena_vprint(a, fmt, ap);
    va_end(ap);
    return text;
}
