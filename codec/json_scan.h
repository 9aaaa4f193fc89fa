/* A first look at a JSON text before the parser: is it too deep, and where is a given byte? */
#ifndef CODEC_JSON_SCAN_H
#define CODEC_JSON_SCAN_H

#include <stdbool.h>
#include <stddef.h>

struct json_place {
    char pointer[256];   /* JSON pointer of the value that holds the byte */
    size_t line, column; /* from 1 */
    bool too_deep;
};

/* Walks at most to byte `stop` (n: to the end) or to where it gets deeper than depth_max. Knows
 * just enough of JSON for that; anything else is the parser's to refuse. */
void json_scan(const char *text, size_t n, size_t stop, size_t depth_max, struct json_place *out);

#endif
