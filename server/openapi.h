/* The OpenAPI 3.1 document, made from the operations table. */
#ifndef SERVER_OPENAPI_H
#define SERVER_OPENAPI_H

#include "codec/document.h"

enum status openapi_print(struct text *out);

#endif
