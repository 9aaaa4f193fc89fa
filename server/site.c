#include "server/site.h"

#include "server/answer.h"
#include "server/files.h"
#include "server/gzip.h"
#include "server/page.h"
#include "server/route.h"

#include <string.h>

enum { BODY_MAX = DOCUMENT_BYTES_MAX + 65536 };

static const char EVENTS[] = "/api/events", API[] = "/api/openapi.json", ICON[] = "/favicon.ico";

static bool reads(const struct http_request *r) {
    return r->method == HTTP_GET || r->method == HTTP_HEAD;
}

/* A plan that is only read does not wait behind a search that somebody asked for: such reads share
 * the workers with everything that is quick. */
enum http_lane site_lane(void *ctx, const struct http_request *r) {
    char allowed[64];
    (void)ctx;
    if (!strncmp(r->path, "/files/", 7) || !strcmp(r->path, EVENTS) || !strcmp(r->path, API))
        return LANE_NOW;
    const struct op *op = route_find(r->method, r->path, allowed);
    return op && (op->flags & OP_SLOW) && op->method != OP_GET ? LANE_SLOW : LANE_QUICK;
}

size_t site_body_max(void *ctx, const struct http_request *r) {
    char allowed[64];
    (void)ctx;
    const struct op *op = route_find(r->method, r->path, allowed);
    return op && (op->flags & (OP_FILE | OP_WHOLE)) ? OP_FILE_BYTES_MAX : BODY_MAX;
}

void site_refuse(void *ctx, enum status s, const char *text, struct http_response *out) {
    struct why why;
    (void)ctx;
    why_say(&why, s, "", "%s", text);
    answer_error(out, s, &why, NULL);
}

static void not_here(struct http_response *out, const char *allowed) {
    struct why why;
    if (allowed[0]) {
        why_say(&why, E_METHOD, "", "That cannot be done to this address. It knows: %s.", allowed);
        answer_error(out, E_METHOD, &why, NULL);
        http_header_add(out, "Allow", arena_text(&out->arena, allowed));
    } else {
        why_say(&why, E_NOT_FOUND, "", "There is nothing at this address.");
        answer_error(out, E_NOT_FOUND, &why, NULL);
    }
}

/* A person typed an address that is none: the page says so, with its way back. */
static bool is_typed(const struct http_request *r) {
    return reads(r) && r->accept && strstr(r->accept, "text/html") &&
           strncmp(r->path, "/api/", 5) && strncmp(r->path, "/files/", 7);
}

/* Answered without an operation; can be read and nothing else. */
static bool is_fixed(const char *path) {
    return page_is(path) || file_find(path) || !strcmp(path, EVENTS) || !strcmp(path, API) ||
           !strcmp(path, ICON);
}

static void answer_fixed(struct site *s, const struct http_request *r, struct http_response *out) {
    const struct file_row *file = file_find(r->path);
    out->status = 200;
    if (!strcmp(r->path, EVENTS)) {
        out->events = r->method == HTTP_GET; /* HEAD has no body, not even an empty stream */
        out->type = "text/event-stream; charset=utf-8";
        http_header_add(out, "Cache-Control", "no-store");
    } else if (!strcmp(r->path, API)) {
        out->type = "application/json; charset=utf-8";
        out->fixed = s->api.at;
        out->fixed_n = s->api.n;
        http_header_add(out, "Cache-Control", "no-cache");
    } else if (page_is(r->path)) {
        page_answer(&s->app, s->job, r, out);
    } else if (file) {
        file_answer(file, r, out);
    } else {
        out->status = 204; /* the icon: the page names its own */
    }
}

static void answer(struct site *s, const struct http_request *r, struct http_response *out) {
    char allowed[64] = "GET";
    bool fixed = is_fixed(r->path);
    const struct op *op = fixed ? NULL : route_find(r->method, r->path, allowed);
    if (fixed && reads(r))
        answer_fixed(s, r, out);
    else if (op)
        answer_op(&s->app, op, r, out);
    else if (!allowed[0] && is_typed(r)) {
        page_answer(&s->app, s->job, r, out);
        out->status = 404;
    } else
        not_here(out, allowed);
}

void site_handle(void *ctx, const struct http_request *r, struct http_response *out) {
    answer(ctx, r, out);
    gzip_answer(r, out);
}
