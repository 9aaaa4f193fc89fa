#include "app/text_file.h"

#include "codec/document.h"

#include <errno.h>
#include <stdio.h>
#include <string.h>

enum { MB = 1024 * 1024 };

enum status text_file_read(const char *path, size_t max, struct arena *arena, const char **out_text,
                           struct why *why) {
    const bool standard = !strcmp(path, "-");
    FILE *f = standard ? stdin : fopen(path, "rb");
    if (!f) return why_say(why, E_IO, "", "%.200s cannot be opened: %s.", path, strerror(errno));
    struct text t = {0};
    char block[16384];
    size_t n;
    enum status s = OK;
    while (!s && (n = fread(block, 1, sizeof block, f)) > 0) {
        text_add(&t, block, n);
        if (t.n > max)
            s = why_say(why, E_TOO_LARGE, "", "%.200s has more than %zu MB.", path, max / MB);
    }
    if (!s && ferror(f))
        s = why_say(why, E_IO, "", "%.200s cannot be read: %s.", path, strerror(errno));
    if (!standard) fclose(f);
    if (!s && t.n && memchr(t.at, 0, t.n))
        s = why_say(why, E_SYNTAX, "", "%.200s has a NUL byte in it; it is not a text.", path);
    const char *text = s || t.failed ? NULL : arena_text(arena, t.at ? t.at : "");
    if (!s && !text) s = why_say(why, E_MEMORY, "", "There is not enough memory for %.200s.", path);
    if (!s) *out_text = text;
    text_free(&t);
    return s;
}
