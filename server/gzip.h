/* gzip (RFC 1952) of answers, where it pays. */
#ifndef SERVER_GZIP_H
#define SERVER_GZIP_H

#include "server/http.h"

/* Is gzip among the codings that the client takes, and not with q=0? accept may be NULL. */
bool gzip_taken(const char *accept);

/* Packs a text answer of a kilobyte and more, when the client takes it and it is not packed yet.
 * What cannot be packed goes out as it is. */
void gzip_answer(const struct http_request *request, struct http_response *out);

#endif
