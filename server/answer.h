/* Runs an operation for a request and turns what comes of it into an answer. */
#ifndef SERVER_ANSWER_H
#define SERVER_ANSWER_H

#include "app/op.h"
#include "server/http.h"

/* {"error":{"code","field","text"}}, and "changed" (a JSON list) beside it; why and changed may be
 * NULL. */
void answer_error(struct http_response *out, enum status s, const struct why *why,
                  const struct text *changed);

/* Status, headers, body. */
void answer_op(struct app *app, const struct op *op, const struct http_request *request,
               struct http_response *out);

/* What a GET would be answered, asked from inside: the data that a page begins with.
 *
 *   get           path, query and gone count; what gone says true to is given up
 *   out_json      yours, also where it fails
 *   out_revision  of the ETag; INT64_MIN: none
 *
 * False: there is no such address, or it failed. */
bool answer_inside(struct app *app, const struct http_request *get, struct arena *arena,
                   struct text *out_json, int64_t *out_revision);

#endif
