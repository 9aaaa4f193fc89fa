/* Which operation a request means, and its arguments from path, query and body. */
#ifndef SERVER_ROUTE_H
#define SERVER_ROUTE_H

#include "app/op.h"
#include "server/http.h"

/* The operation of that method and path; HEAD is answered by GET's. Of templates that fit, the one
 * with most segments word for word: /api/pieces/preview is no piece named so.
 *
 *   out_allowed  the methods that this path knows: "GET, PATCH", "" when it knows none
 *
 * NULL: there is none. */
const struct op *route_find(enum http_method method, const char *path, char out_allowed[64]);

/* Fills args (unsaid before). Errors name the member: "/width", "/pieces/0/width". */
enum status route_args(const struct op *op, const struct http_request *request, struct arena *arena,
                       void *args, struct why *why);

#endif
