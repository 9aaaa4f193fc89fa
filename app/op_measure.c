/* measure: the colors in a picture file, by things of known color in it. */
#include "app/measure.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct measure_args {
    const char *photo, *refs;
};
static const struct field args_fields[] = {
    {F_AT(struct measure_args, photo), .type = FIELD_TEXT, .flags = FLAG_REQUIRED | FLAG_PATH,
     .help = "a picture: JPEG, PNG, WebP or HEIC"},
    {F_AT(struct measure_args, refs), .type = FIELD_JSON, .flags = FLAG_REQUIRED | FLAG_FILE,
     .help = "where the references and targets are: {\"references\": [{\"kind\": \"white\", "
             "\"rect\": [x, y, w, h]}], \"targets\": [{\"name\", \"rect\"}]}"},
};
static DESC(desc_args, struct measure_args, "measure_args", "Which picture.", args_fields);

/* One byte more than is read, so that too much is noticed. */
static enum status load(const char *path, void **out, size_t *out_n, struct why *why) {
    FILE *f = fopen(path, "rb");
    size_t most = PICTURE_FILE_MAX + 1, n = 0, cap = 0, k;
    char *at = NULL, *more;
    if (!f)
        return why_say(why, errno == ENOENT ? E_NOT_FOUND : E_IO, "/photo",
                       "%.200s cannot be opened: %s.", path, strerror(errno));
    do {
        if (n == cap) {
            cap = cap ? cap * 2 : 1 << 20;
            if (cap > most) cap = most;
            if (!(more = realloc(at, cap))) break;
            at = more;
        }
        k = fread(at + n, 1, cap - n, f);
        n += k;
    } while (k && n < most);
    bool bad = ferror(f);
    int e = errno;
    fclose(f);
    if (bad || !at) {
        free(at);
        return why_say(why, E_IO, "/photo", "%.200s cannot be read: %s.", path, strerror(e));
    }
    *out = at;
    *out_n = n;
    return OK;
}

static enum status run(struct op_call *call, struct why *why) {
    const struct measure_args *args = call->args;
    struct measure_rects rects;
    struct measure_shot shot = {.rects = &rects};
    const char *slash = strrchr(args->photo, '/');
    void *bytes = NULL;
    enum status s = document_read(&desc_measure_file, SPELL_INPUT, args->refs, strlen(args->refs),
                                  call->arena, &rects, why);
    if (!s) s = load(args->photo, &bytes, &shot.n, why);
    if (s) return s;
    shot.bytes = bytes;
    shot.name = slash ? slash + 1 : args->photo;
    s = measure_read(call, &shot, 1, "", call->result, why);
    free(bytes);
    if (!s) measure_print(call->result, &call->out_body);
    return s;
}

static const char *const positional[] = {"photo", NULL};
static const struct op rows[] = {
    {"measure", OP_POST, "/api/documents/measure", &desc_args, &desc_measure_answer, positional,
     OP_CLI_ONLY, "the colors in a picture, by things of known color in it", run},
};
extern const struct ops ops_measure;
const struct ops ops_measure = {rows, sizeof rows / sizeof *rows};
