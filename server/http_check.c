#include "server/http_check.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

enum { HEADERS_COUNT_MAX = 64 };

/* ---- headers ---- */

/* token of RFC 9110, 5.6.2 */
static bool is_name(const char *name, size_t n) {
    static const char letters[] = "!#$%&'*+-.^_`|~0123456789"
                                  "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz";
    return n && strspn(name, letters) == n;
}

void http_head_add(struct http_head *h, const char *name, size_t name_n, const char *value,
                   size_t value_n) {
    struct http_request *r = h->request;
    const char *coding = NULL;
    struct {
        const char *name, **to;
    } wanted[] = {{"Host", &r->host},
                  {"Origin", &r->origin},
                  {"Content-Type", &r->content_type},
                  {"Content-Length", &h->length},
                  {"Transfer-Encoding", &coding},
                  {"If-Match", &r->if_match},
                  {"Idempotency-Key", &r->key},
                  {"Accept", &r->accept},
                  {"Accept-Encoding", &r->accept_encoding},
                  {"Sec-Fetch-Site", &r->fetch_site}};
    h->n++;
    h->bytes += name_n + value_n + 4;
    if (!is_name(name, name_n)) h->foul = true;
    for (const char *c = value; *c; c++)
        if (((unsigned char)*c < 0x20 && *c != '\t') || *c == 0x7f) h->foul = true;
    for (size_t i = 0; i < sizeof wanted / sizeof *wanted; i++) {
        if (strcasecmp(name, wanted[i].name)) continue;
        /* which of the two would count? Only of lists may there be more (RFC 9110, 5.3) */
        bool list = wanted[i].to == &r->accept || wanted[i].to == &r->accept_encoding;
        if (*wanted[i].to && !list) h->foul = true;
        *wanted[i].to = value;
    }
    if (coding) {
        if (h->chunked || strcasecmp(coding, "chunked")) h->foul = true;
        h->chunked = true;
    }
}

static bool is_length(const char *text, uint64_t *out) {
    char *end;
    *out = 0;
    if (!text) return true;
    if (*text < '0' || *text > '9') return false;
    errno = 0;
    *out = strtoull(text, &end, 10);
    return !*end && !errno;
}

/* The library drops what stands behind a NUL, and takes a bare LF for a line's end. Both change how
 * many bytes came, so headers must have the length that they have when written as programs write
 * them: one blank behind the colon or none, CR LF. (Bytes that are too many and blanks that are not
 * there may weigh each other out; what is lost then is the end of a value, never of a header.) */
static bool odd_bytes(const struct http_head *h, size_t line_n, size_t came_n) {
    size_t want = line_n + h->bytes + 2;
    return came_n > want || came_n + h->n < want;
}

bool http_head_is_good(const struct http_head *h, const char *version, size_t line_n, size_t came_n,
                       uint64_t *out_length) {
    return !h->foul && h->n <= HEADERS_COUNT_MAX && h->request->host &&
           !(h->length && h->chunked) && !(h->chunked && !strcmp(version, "HTTP/1.0")) &&
           !odd_bytes(h, line_n, came_n) && is_length(h->length, out_length);
}

/* ---- where it comes from ---- */

static bool listed(const char *const *list, const char *host, size_t n) {
    for (; list && *list; list++)
        if (strlen(*list) == n && !strncasecmp(*list, host, n)) return true;
    return false;
}

/* name[:port] is one of ours; without a port it must be the port of plain HTTP. */
static bool is_ours(const struct http_names *names, const char *host) {
    static const char *const local[] = {"127.0.0.1", "localhost", "[::1]", NULL};
    const char *colon = strrchr(host, ':'), *bracket = strrchr(host, ']');
    if (colon && bracket && colon < bracket) colon = NULL;
    size_t n = colon ? (size_t)(colon - host) : strlen(host);
    char port[16];
    snprintf(port, sizeof port, "%d", names->port);
    if (colon ? strcmp(colon + 1, port) : names->port != 80) return false;
    return listed(local, host, n) || listed(names->more, host, n);
}

static bool changes(enum http_method m) {
    return m != HTTP_GET && m != HTTP_HEAD;
}

bool http_is_json(const struct http_request *r) {
    return r->content_type && !strncasecmp(r->content_type, "application/json", 16) &&
           (!r->content_type[16] || r->content_type[16] == ';' || r->content_type[16] == ' ');
}

/* Like JSON a type that no plain form of another page can send. */
static bool http_is_picture(const struct http_request *r) {
    return r->content_type && !strncasecmp(r->content_type, "image/", 6);
}

enum status http_may_come(const struct http_names *names, const struct http_request *r,
                          const char **out_text) {
    *out_text = "This server does not go by that name (Host). Open it as http://127.0.0.1 with its "
                "port.";
    if (!r->host || !is_ours(names, r->host)) return E_FORBIDDEN;
    *out_text = "Another page may not ask this server (Origin).";
    if (r->origin && (strncmp(r->origin, "http://", 7) || !is_ours(names, r->origin + 7)))
        return E_FORBIDDEN;
    bool api = !strncmp(r->path, "/api/", 5);
    if (api && r->fetch_site && strcmp(r->fetch_site, "same-origin") &&
        strcmp(r->fetch_site, "none"))
        return E_FORBIDDEN;
    *out_text =
        "Send the body as Content-Type: application/json, a picture as image/jpeg or the like.";
    if (changes(r->method) && r->body_n && !http_is_json(r) && !http_is_picture(r)) return E_TYPE;
    return OK;
}

/* ---- addresses ---- */

static int hex(char c) {
    if (c >= '0' && c <= '9') return c - '0';
    if (c >= 'a' && c <= 'f') return c - 'a' + 10;
    if (c >= 'A' && c <= 'F') return c - 'A' + 10;
    return -1;
}

static bool decode(const char *raw, size_t n, bool plus, char *out) {
    for (size_t i = 0; i < n; i++) {
        int c = (unsigned char)raw[i];
        if (c == '%') {
            int a = i + 2 < n ? hex(raw[i + 1]) : -1, b = i + 2 < n ? hex(raw[i + 2]) : -1;
            if (a < 0 || b < 0) return false;
            c = a * 16 + b;
            i += 2;
        } else if (plus && c == '+') {
            c = ' ';
        }
        bool line = plus && (c == '\n' || c == '\t');
        if ((c < 0x20 && !line) || c == 0x7f) return false;
        *out++ = (char)c;
    }
    *out = 0;
    return true;
}

bool http_unescape(const char *raw, size_t n, char *out) {
    return decode(raw, n, true, out);
}

bool http_path(const char *raw, char *out, const char **out_query) {
    size_t n = strcspn(raw, "?");
    *out_query = raw[n] ? raw + n + 1 : "";
    if (raw[0] != '/' || !decode(raw, n, false, out)) return false;
    for (const char *s = out; *s; s += strcspn(s, "/")) {
        s++; /* behind the slash */
        size_t k = strcspn(s, "/");
        if ((k == 1 && s[0] == '.') || (k == 2 && s[0] == '.' && s[1] == '.')) return false;
        if (memchr(s, '\\', k)) return false;
    }
    return true;
}
