/* Which kind of picture some bytes are. The first bytes decide, never a name. */
#ifndef PHOTO_FORMAT_H
#define PHOTO_FORMAT_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/*  name   what people say   media type     suffix  further suffixes */
#define PICTURE_FORMAT_LIST(X)                                                                     \
    X(JPEG, "JPEG", "image/jpeg", "jpg", "jpeg jpe jfif")                                          \
    X(PNG, "PNG", "image/png", "png", "")                                                          \
    X(WEBP, "WebP", "image/webp", "webp", "")                                                      \
    X(HEIC, "HEIC", "image/heic", "heic", "heif hif")

enum {
    PICTURE_FILE_MAX = 30 * 1024 * 1024, /* bytes */
    PICTURE_PIXELS_MAX = 50 * 1000 * 1000
};

enum picture_format {
    PICTURE_UNKNOWN,
#define X(name, said, type, suffix, more) PICTURE_##name,
    PICTURE_FORMAT_LIST(X)
#undef X
};

enum picture_format picture_format_of(const void *bytes, size_t n);

const char *picture_format_said(enum picture_format f);   /* "JPEG"; "" for unknown */
const char *picture_format_type(enum picture_format f);   /* "image/jpeg" */
const char *picture_format_suffix(enum picture_format f); /* "jpg" */

/* The format that a file's name promises; PICTURE_UNKNOWN where it promises none of these. */
enum picture_format picture_format_named(const char *path);

#endif
