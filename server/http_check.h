/* What may come in: names by which this server is called, where a request may come from, what a
 * path may hold. Knows nothing of the HTTP library. */
#ifndef SERVER_HTTP_CHECK_H
#define SERVER_HTTP_CHECK_H

#include "server/http.h"

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
