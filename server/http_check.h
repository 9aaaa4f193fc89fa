/* What may come in: names by which this server is called, where a request may come from, what a
 * path may hold. Knows nothing of the HTTP library. */
#ifndef SERVER_HTTP_CHECK_H
#define SERVER_HTTP_CHECK_H

#include "server/http.h"

/* The headers of one request while they are looked at. Begins with `request` alone; fills its
 * members of that kind. */
struct http_head {
    struct http_request *request;
    const char *length; /* Content-Length as it was written, or NULL */
    bool chunked;
    bool foul;    /* a name that is none, a control character, a header twice that must not be */
    size_t n;     /* headers */
    size_t bytes; /* that they take when each is written "Name: value" CR LF */
};
void http_head_add(struct http_head *h, const char *name, size_t name_n, const char *value,
                   size_t value_n);
/* May the request be read further? *out_length: the bytes of the body that is announced, 0 when it
 * comes in chunks or not at all.
 *
 *   version  "HTTP/1.1"
 *   line_n   bytes of the request line with CR LF
 *   came_n   bytes of request line, headers and the empty line as they came
 *
 * A server that reads a body's end elsewhere than the client takes what is left for the next
 * request (RFC 9112, 11.2), so whatever leaves the end open is refused: no Host or two, two
 * Content-Length, Content-Length beside Transfer-Encoding, any coding but chunked alone, chunked
 * from HTTP/1.0, a blank before the colon. */
bool http_head_is_good(const struct http_head *h, const char *version, size_t line_n, size_t came_n,
                       uint64_t *out_length);

struct http_names {
    int port;
    const char *const *more; /* NULL-terminated, or NULL */
};

/* E_FORBIDDEN with a text when Host is not one of ours (127.0.0.1, localhost, [::1], more; with our
 * port), when Origin is there and is not http:// and one of ours, when a browser says that another
 * site sent it, or when a change comes with a body that a foreign page could have sent without
 * asking (anything but JSON and pictures). */
enum status http_may_come(const struct http_names *names, const struct http_request *r,
                          const char **out_text);

/* By the Content-Type alone. */
bool http_is_json(const struct http_request *r);

/* Decodes %xx of a path in place of `raw` up to its "?"; false when it holds NUL, control
 * characters, a broken escape, "." or ".." as a segment, or does not begin with "/". out has room
 * for strlen(raw) + 1. */
bool http_path(const char *raw, char *out, const char **out_query);

/* The same for one name or value of a query, where + is a blank. */
bool http_unescape(const char *raw, size_t n, char *out);

#endif
