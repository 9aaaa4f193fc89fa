/* What stands at each address: pages, files, operations, the stream of changes, the API document.
 * The callbacks of struct http_options, with a struct site as their ctx. */
#ifndef SERVER_SITE_H
#define SERVER_SITE_H

#include "app/op.h"
#include "server/http.h"

struct site {
    struct app app;
    const char *job; /* JSON of the one job that is served, or NULL */
    struct text api; /* the OpenAPI document */
};

enum http_lane site_lane(void *ctx, const struct http_request *r);
/* Bytes that a body may have; asked before it has come. */
size_t site_body_max(void *ctx, const struct http_request *r);
void site_handle(void *ctx, const struct http_request *r, struct http_response *out);
void site_refuse(void *ctx, enum status s, const char *text, struct http_response *out);

#endif
