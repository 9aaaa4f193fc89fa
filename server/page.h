/* The page: one HTML text for every address of the app, with the data of its first view inside. */
#ifndef SERVER_PAGE_H
#define SERVER_PAGE_H

#include "app/op.h"
#include "server/http.h"

bool page_is(const char *path); /* is this an address of the app? */

/* job: JSON of the one job that is served (serve --job), or NULL: the answers that the view asks
 * for first are put in. */
void page_answer(struct app *app, const char *job, const struct http_request *request,
                 struct http_response *out);

#endif
