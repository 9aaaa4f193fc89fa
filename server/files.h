/* The built web files, inside the binary. */
#ifndef SERVER_FILES_H
#define SERVER_FILES_H

#include "server/http.h"

struct file_row {
    const char *url, *type;
    bool forever;                                     /* its URL carries a hash of its content */
    const unsigned char *from, *to, *gz_from, *gz_to; /* gz: NULL when there is none */
};
extern const struct file_row file_rows[]; /* made from build/web/files.tsv by server/embed.awk */
extern const size_t file_rows_n;

const struct file_row *file_find(const char *url);
void file_answer(const struct file_row *f, const struct http_request *request,
                 struct http_response *out);

#endif
