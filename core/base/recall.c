#include "core/base/recall.h"

#include <string.h>

static void add(struct recall_key *k, uint64_t w) {
    k->a = (k->a ^ w) * 0x9e3779b97f4a7c15u;
    k->a ^= k->a >> 32;
    k->b = (k->b + w) * 0xd6e8feb86659fd93u;
    k->b ^= k->b >> 29;
}

struct recall_key recall_begin(uint64_t kind) {
    struct recall_key k = {0x243f6a8885a308d3u, 0x13198a2e03707344u};
    add(&k, kind);
    return k;
}

void recall_int(struct recall_key *k, int64_t v) {
    add(k, (uint64_t)v);
}

void recall_reals(struct recall_key *k, const double *v, size_t n) {
    for (size_t i = 0; i < n; i++) {
        uint64_t w;
        memcpy(&w, &v[i], sizeof w);
        add(k, w);
    }
}
