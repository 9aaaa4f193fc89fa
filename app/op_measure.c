/* measure: the colors in a picture file, by things of known color in it. */
#include "app/measure.h"

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

static enum status run(struct op_call *call, struct why *why) {
    const struct measure_args *args = call->args;
    struct measure_rects rects;
    struct measure_shot shot = {.rects = &rects};
    const char *slash = strrchr(args->photo, '/');
    void *bytes = NULL;
    enum status s = document_read(&desc_measure_file, SPELL_INPUT, args->refs, strlen(args->refs),
                                  call->arena, &rects, why);
    if (!s) s = picture_load(args->photo, &bytes, &shot.n, why);
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
