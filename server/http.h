/* HTTP/1.1 on this machine alone: one thread for the sockets, two workers for the answers.
 *
 * server/http.c is the only file that knows the HTTP library; everything else sees these structs.
 * What reaches a handler is bounded and checked: one Host that is ours, an Origin that is ours or
 * none, a decoded path without NUL, a body of at most so many bytes as body_max says for it, all
 * of it received in time.
 */
#ifndef SERVER_HTTP_H
#define SERVER_HTTP_H

#include "codec/document.h"
#include "core/base/arena.h"
#include "core/base/status.h"

enum http_method { HTTP_GET, HTTP_POST, HTTP_PUT, HTTP_PATCH, HTTP_DELETE, HTTP_HEAD, HTTP_OTHER };

struct http_request {
    enum http_method method;
    const char *path;  /* decoded: "/api/pieces/a b" */
    const char *query; /* as it came, without "?"; "" when there is none */
    /* headers, NULL when they did not come */
    const char *host, *origin, *content_type, *if_match, *key, *accept, *accept_encoding,
        *fetch_site;
    const char *body; /* NUL-terminated; "" when there is none */
    size_t body_n;
    bool (*gone)(void *ctx); /* has the client left, or is the server stopping? cheap to ask */
    void *gone_ctx;
};

enum { HTTP_HEADERS_MAX = 12 };

struct http_header {
    const char *name, *value;
};

/* Begins zeroed. The body is `owned` (freed by the server) or, when fixed is set, bytes that live
 * as long as the program. Header values and type must outlive the call: static, or in the arena. */
struct http_response {
    int status;
    const char *type;
    struct text owned;
    const void *fixed;
    size_t fixed_n;
    struct http_header headers[HTTP_HEADERS_MAX];
    size_t headers_n;
    bool events;        /* becomes a stream of server-sent events */
    struct arena arena; /* of this answer */
};
void http_header_add(struct http_response *r, const char *name, const char *value);

/* Who answers: the socket thread itself (files: no waiting, no locks), a worker, or a worker that
 * has none of the slow lane beside it: of LANE_SLOW at most one runs, so that the other worker is
 * free for LANE_QUICK. */
enum http_lane { LANE_NOW, LANE_QUICK, LANE_SLOW };

struct http_options {
    const char *address;      /* "127.0.0.1" or "::1" */
    int port;                 /* 0: any free one */
    const char *const *hosts; /* further names by which this server may be called; or NULL */
    size_t (*body_max)(void *ctx, const struct http_request *request);
    enum http_lane (*lane)(void *ctx, const struct http_request *request);
    void (*handle)(void *ctx, const struct http_request *request, struct http_response *out);
    /* fills an answer for what was refused before it reached handle */
    void (*refuse)(void *ctx, enum status s, const char *text, struct http_response *out);
    void *ctx;
};

struct http;

/* Errors: E_BUSY (somebody else listens there), E_FORBIDDEN (not an address of this machine alone),
 * E_IO, E_MEMORY. *out_port is the port that was taken. */
enum status http_start(const struct http_options *options, struct http **out_http, int *out_port,
                       struct why *why);

/* Sends one event to every open stream; name and data are one line each. */
void http_event(struct http *h, const char *name, const char *data);

/* Answers what is under way, closes the rest. */
void http_stop(struct http *h);

#endif
