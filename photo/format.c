#include "photo/format.h"

#include <string.h>
#include <strings.h>

static const struct {
    const char *said, *type, *suffix, *more;
} formats[] = {{"", "", "", ""},
#define X(name, said, type, suffix, more) {said, type, suffix, more},
               PICTURE_FORMAT_LIST(X)
#undef X
};

static const size_t formats_n = sizeof formats / sizeof *formats;

static bool at(const uint8_t *p, size_t n, size_t from, const char *what) {
    size_t k = strlen(what);
    return n >= from + k && !memcmp(p + from, what, k);
}

/* ISO/IEC 23008-12: a file type box whose brands name still pictures coded as HEVC. */
static bool is_heic(const uint8_t *p, size_t n) {
    static const char *const brands[] = {"heic", "heix", "heim", "heis"};
    if (!at(p, n, 4, "ftyp")) return false;
    size_t box = (size_t)p[0] << 24 | (size_t)p[1] << 16 | (size_t)p[2] << 8 | p[3];
    if (box > n) box = n;
    for (size_t from = 8; from + 4 <= box; from += 4) {
        if (from == 12) continue; /* minor version */
        for (size_t b = 0; b < sizeof brands / sizeof *brands; b++)
            if (at(p, n, from, brands[b])) return true;
    }
    return false;
}

enum picture_format picture_format_of(const void *bytes, size_t n) {
    const uint8_t *p = bytes;
    if (n >= 3 && p[0] == 0xff && p[1] == 0xd8 && p[2] == 0xff) return PICTURE_JPEG;
    if (at(p, n, 0, "\x89PNG\r\n\x1a\n")) return PICTURE_PNG;
    if (at(p, n, 0, "RIFF") && at(p, n, 8, "WEBP")) return PICTURE_WEBP;
    if (is_heic(p, n)) return PICTURE_HEIC;
    return PICTURE_UNKNOWN;
}

const char *picture_format_said(enum picture_format f) {
    return (size_t)f < formats_n ? formats[f].said : "";
}

const char *picture_format_type(enum picture_format f) {
    return (size_t)f < formats_n ? formats[f].type : "";
}

const char *picture_format_suffix(enum picture_format f) {
    return (size_t)f < formats_n ? formats[f].suffix : "";
}

static bool listed(const char *list, const char *word) {
    size_t n = strlen(word);
    for (const char *s = list; *s; s += strspn(s, " ")) {
        size_t k = strcspn(s, " ");
        if (k == n && !strncasecmp(s, word, n)) return true;
        s += k;
    }
    return false;
}

enum picture_format picture_format_named(const char *path) {
    const char *dot = strrchr(path, '.');
    if (!dot || strchr(dot, '/')) return PICTURE_UNKNOWN;
    for (size_t f = 1; f < formats_n; f++)
        if (!strcasecmp(dot + 1, formats[f].suffix) || listed(formats[f].more, dot + 1))
            return (enum picture_format)f;
    return PICTURE_UNKNOWN;
}
