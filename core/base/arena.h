/* Memory of one request: taken piece by piece, given back all at once.
 *
 * The arena grows in blocks that it gets from `get` and returns through `put`; both come from
 * outside so that a test can let the n-th allocation fail. arena_take never returns memory that
 * must be freed alone. */
#ifndef CORE_BASE_ARENA_H
#define CORE_BASE_ARENA_H

#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>

struct alloc {
    void *(*get)(void *ctx, size_t bytes); /* NULL when there is none */
    void (*put)(void *ctx, void *block);
    void *ctx;
};

/* malloc and free */
struct alloc alloc_heap(void);

struct arena_block;
struct arena {
    struct alloc alloc;
    struct arena_block *blocks;
    size_t max_bytes; /* more than this in all is refused; 0: no bound */
    size_t used_bytes;
    bool failed; /* something that was asked for was not there */
};

void arena_init(struct arena *a, struct alloc alloc, size_t max_bytes);
void arena_free(struct arena *a); /* everything taken is gone; the arena may be used again */

/* Zeroed, aligned for any type; NULL when memory or the bound is exhausted. */
void *arena_take(struct arena *a, size_t bytes);
/* n * size without overflow, zeroed; NULL as above. */
void *arena_array(struct arena *a, size_t n, size_t size);
/* Copy of a NUL-terminated text; NULL as above or when text is NULL. */
char *arena_text(struct arena *a, const char *text);
/* printf into the arena; NULL as above. */
char *arena_print(struct arena *a, const char *fmt, ...) __attribute__((format(printf, 2, 3)));
char *arena_vprint(struct arena *a, const char *fmt, va_list ap)
    __attribute__((format(printf, 2, 0)));

#endif
