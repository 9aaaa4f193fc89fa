/* Runs an operation for a request and turns what comes of it into an answer. */
#ifndef SERVER_ANSWER_H
#define SERVER_ANSWER_H

#include "app/op.h"
#include "server/http.h"

/* {"error":{"code","field","text"}}, and "changed" beside it where call_body tells what changed. */
void answer_error(struct http_response *out, enum status s, const struct why *why,
                  const struct text *changed);

/* Status, body, ETag; *out_revision is the book's revision after a change, else INT64_MIN. */
void answer_op(struct app *app, const struct op *op, const struct http_request *request,
               struct http_response *out, int64_t *out_revision);

/* The JSON of one GET without conditions, for the data that a page begins with; false: it failed.
 */
bool answer_inside(struct app *app, const char *path, const char *query, struct arena *arena,
                   struct text *out_json, int64_t *out_revision);

#endif
