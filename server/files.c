#include "server/files.h"

#include "server/gzip.h"

#include <string.h>

const struct file_row *file_find(const char *url) {
    for (size_t i = 0; i < file_rows_n; i++)
        if (!strcmp(file_rows[i].url, url)) return &file_rows[i];
    return NULL;
}

void file_answer(const struct file_row *f, const struct http_request *request,
                 struct http_response *out) {
    bool gz = f->gz_from && gzip_taken(request->accept_encoding);
    out->status = 200;
    out->type = f->type;
    out->fixed = gz ? f->gz_from : f->from;
    out->fixed_n = (size_t)(gz ? f->gz_to - f->gz_from : f->to - f->from);
    if (gz) http_header_add(out, "Content-Encoding", "gzip");
    if (f->gz_from) http_header_add(out, "Vary", "Accept-Encoding");
    http_header_add(out, "Cache-Control",
                    f->forever ? "public, max-age=31536000, immutable" : "no-cache");
}
