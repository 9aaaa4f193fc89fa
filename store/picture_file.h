/* The files of pictures, in the folder PATH-pictures beside the book.
 *
 * A file is named by what is in it (SHA-256 and a suffix), is never changed and never taken away by
 * the program: every copy of the book finds the pictures that it knows. */
#ifndef STORE_PICTURE_FILE_H
#define STORE_PICTURE_FILE_H

#include "store/store.h"

/* Keeps the bytes, on disk when it returns OK; nothing to do where they are kept already.
 *   out_file    name in the folder
 *   out_sha256  64 hex digits
 * Errors: E_IO (no space ...), E_MEMORY. */
enum status picture_file_keep(struct store *s, const void *bytes, size_t n, const char *suffix,
                              struct arena *arena, const char **out_file, const char **out_sha256,
                              struct why *why);

struct picture_files {
    int64_t brought, there; /* written now; stood there already */
    const char **missing;   /* names of those that are nowhere whole; the arena's */
    size_t missing_n;
};

/* Brings the files of all pictures that a book knows from beside one book to beside another, each
 * checked by its sum; what stands there whole is left alone. Equal paths: checks what is there.
 *   from, to  paths of books; the folders are theirs
 * A missing file is no error: it is named and the others are brought. Errors: E_IO, E_MEMORY. */
enum status picture_files_bring(struct book *b, const char *from, const char *to,
                                struct arena *arena, struct picture_files *out, struct why *why);

/* The bytes of a kept file, in the arena. Errors: E_NOT_FOUND (the file is gone), E_DAMAGED (it has
 * other bytes than were kept), E_TOO_LARGE (over `most`), E_IO, E_MEMORY. */
enum status picture_file_load(struct store *s, const char *file, const char *sha256, size_t most,
                              struct arena *arena, const void **out_bytes, size_t *out_n,
                              struct why *why);

#endif
