#include "photo/heic_items.h"

#include <string.h>

enum {
    LINKS_MOST = 2048, /* a phone's picture is made of some dozen tiles */
    DEEP_MOST = 8,     /* images made of images made of images; two are usual */
};

struct bytes {
    const uint8_t *p;
    size_t n;
};
struct link {
    uint32_t from, to; /* image `from` is made of image `to` */
};
struct links {
    struct link rows[LINKS_MOST];
    size_t n;
    bool too_many;
};

static uint32_t number(const uint8_t *p, size_t bytes) {
    uint32_t v = 0;
    for (size_t i = 0; i < bytes; i++) v = v << 8 | p[i];
    return v;
}

/* Takes the next box off; false: none, or it is cut off. */
static bool box_next(struct bytes *rest, const uint8_t **kind, struct bytes *inside) {
    if (rest->n < 8) return false;
    uint64_t size = number(rest->p, 4);
    size_t head = 8;
    *kind = rest->p + 4;
    if (size == 1) {
        if (rest->n < 16) return false;
        size = (uint64_t)number(rest->p + 8, 4) << 32 | number(rest->p + 12, 4);
        head = 16;
    } else if (size == 0) {
        size = rest->n; /* to the end */
    }
    if (size < head || size > rest->n) return false;
    *inside = (struct bytes){rest->p + head, (size_t)size - head};
    rest->p += size, rest->n -= (size_t)size;
    return true;
}

/* Without version and flags. */
static struct bytes full(struct bytes b) {
    return b.n < 4 ? (struct bytes){b.p, 0} : (struct bytes){b.p + 4, b.n - 4};
}

/* What one image is made of: its number, how many, their numbers. */
static void links_add(struct links *out, struct bytes b, size_t width) {
    if (b.n < width + 2) return;
    uint32_t from = number(b.p, width), n = number(b.p + width, 2);
    b.p += width + 2, b.n -= width + 2;
    for (; n && b.n >= width; n--, b.p += width, b.n -= width) {
        if (out->n == LINKS_MOST)
            out->too_many = true;
        else
            out->rows[out->n++] = (struct link){from, number(b.p, width)};
    }
}

static void links_read(struct links *out, struct bytes file) {
    const uint8_t *kind;
    struct bytes meta, refs, one;
    while (box_next(&file, &kind, &meta)) {
        if (memcmp(kind, "meta", 4)) continue;
        for (meta = full(meta); box_next(&meta, &kind, &refs);) {
            if (memcmp(kind, "iref", 4)) continue;
            size_t width = refs.n && refs.p[0] ? 4 : 2; /* by its version */
            for (refs = full(refs); box_next(&refs, &kind, &one);)
                if (!memcmp(kind, "dimg", 4)) links_add(out, one, width);
        }
    }
}

/* Those to an image that is made of others. */
static void leave_deeper(struct links *l) {
    struct links was = *l;
    l->n = 0;
    for (size_t i = 0; i < was.n; i++) {
        bool more = false;
        for (size_t k = 0; k < was.n && !more; k++) more = was.rows[k].from == was.rows[i].to;
        if (more) l->rows[l->n++] = was.rows[i];
    }
}

bool heic_items_end(const uint8_t *p, size_t n) {
    struct links links = {.n = 0};
    links_read(&links, (struct bytes){p, n});
    for (int deep = 0; deep < DEEP_MOST && links.n; deep++) leave_deeper(&links);
    return !links.n && !links.too_many;
}
