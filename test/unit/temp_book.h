/* A book in a folder of its own that goes away at the end. */
#ifndef TEST_UNIT_TEMP_BOOK_H
#define TEST_UNIT_TEMP_BOOK_H

#include "store/store.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

struct temp_book {
    char folder[64], path[96];
};

static inline struct temp_book temp_book_make(void) {
    struct temp_book t;
    snprintf(t.folder, sizeof t.folder, "/tmp/coatwright-XXXXXX");
    if (!mkdtemp(t.folder)) perror("mkdtemp"), exit(1);
    snprintf(t.path, sizeof t.path, "%s/shop.book", t.folder);
    return t;
}

static inline void temp_book_gone(const struct temp_book *t) {
    char line[128];
    snprintf(line, sizeof line, "rm -rf '%s'", t->folder);
    if (strncmp(t->folder, "/tmp/coatwright-", 16) || system(line)) puts("temporary folder stays");
}

#define TEMP_NOW ((int64_t)29860000) /* 2026-10-10, minutes since 1970 */

static inline struct store *temp_book_open(const struct temp_book *t) {
    struct store *s = NULL;
    struct why why;
    struct store_options o = {.create = true, .now_utc_min = TEMP_NOW};
    if (store_open(t->path, &o, &s, &why)) printf("store_open: %s\n", why.text);
    return s;
}

#endif
