/* A JSON value as lines that are read: members by name, plain lists on one line, what is nested
 * indented. */
#ifndef CLI_LISTING_JSON_H
#define CLI_LISTING_JSON_H

#include "cli/paper.h"

/* text: an object or an array, as a field holds it; anything else is printed as it stands. */
void listing_json(struct paper *p, const char *text, size_t indent);

#endif
