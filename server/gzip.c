#include "server/gzip.h"

#include <stdlib.h>
#include <string.h>
#include <strings.h>
#include <zlib.h>

enum { WORTH_IT = 1024, LEVEL = 5, GZIP_WINDOW = 15 + 16, MEM_LEVEL = 8 };

bool gzip_taken(const char *accept) {
    const char *at = accept ? strcasestr(accept, "gzip") : NULL;
    if (!at) return false;
    const char *q = strstr(at, "q=0"), *comma = strchr(at, ',');
    bool zero = q && (!comma || q < comma) && strspn(q + 3, ".0") == strcspn(q + 3, ", ;");
    return !zero;
}

static bool is_text(const char *type) {
    return type && (!strncmp(type, "text/", 5) || !strncmp(type, "application/json", 16) ||
                    !strncmp(type, "image/svg", 9));
}

/* A file has said so already. */
static bool is_decided(const struct http_response *r) {
    for (size_t i = 0; i < r->headers_n; i++)
        if (!strcasecmp(r->headers[i].name, "Vary")) return true;
    return false;
}

static bool pack(const void *from, size_t n, struct text *out) {
    z_stream z = {.next_in = (Bytef *)(uintptr_t)from, .avail_in = (uInt)n};
    if (deflateInit2(&z, LEVEL, Z_DEFLATED, GZIP_WINDOW, MEM_LEVEL, Z_DEFAULT_STRATEGY) != Z_OK)
        return false;
    size_t cap = deflateBound(&z, (uLong)n);
    char *to = malloc(cap + 1);
    z.next_out = (Bytef *)to;
    z.avail_out = (uInt)cap;
    bool good = to && deflate(&z, Z_FINISH) == Z_STREAM_END && z.total_out < n;
    if (good) {
        to[z.total_out] = 0;
        *out = (struct text){.at = to, .n = z.total_out, .cap = cap + 1};
    } else {
        free(to);
    }
    deflateEnd(&z);
    return good;
}

void gzip_answer(const struct http_request *request, struct http_response *out) {
    const void *from = out->fixed ? out->fixed : out->owned.at;
    size_t n = out->fixed ? out->fixed_n : out->owned.n;
    struct text packed;
    if (n < WORTH_IT || n > UINT32_MAX / 2 || !is_text(out->type) || out->events ||
        out->owned.failed || is_decided(out))
        return;
    http_header_add(out, "Vary", "Accept-Encoding");
    if (!gzip_taken(request->accept_encoding) || !pack(from, n, &packed)) return;
    text_free(&out->owned);
    out->fixed = NULL;
    out->owned = packed;
    http_header_add(out, "Content-Encoding", "gzip");
}
