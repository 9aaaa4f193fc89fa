/* measure: the colors in a picture file, by things of known color in it. */
#include "app/measure.h"
#include "codec/spectrum_text.h"

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

/* ---- charts ---- */

struct chart_args {
    const char *chart;
};
static const struct field chart_fields[] = {
    {F_AT(struct chart_args, chart), .type = FIELD_TEXT, .flags = FLAG_REQUIRED | FLAG_FILE,
     .help =
         "what came with the chart: CGATS text with Lab (D50), XYZ or reflectance of every patch"},
};
static DESC(desc_chart_args, struct chart_args, "chart_args", "Which chart.", chart_fields);

enum { PATCHES_MAX = 256 };

struct chart_patch {
    const char *name;
    double lab[3];
};
struct chart_answer {
    struct chart_patch *patches;
    size_t patches_n;
    int64_t in_row;
};
static const struct field patch_fields[] = {
    F_TEXT(struct chart_patch, name, "name"),
    F_FIXED(struct chart_patch, lab, 3, "CSS Lab (D50, 2 degree)"),
};
static DESC(desc_patch, struct chart_patch, "chart_patch", "A patch of a chart.", patch_fields);
static const struct field chart_answer_fields[] = {
    F_LIST(struct chart_answer, patches, &desc_patch, PATCHES_MAX, "in their order"),
    F_INT(struct chart_answer, in_row, 1, PATCHES_MAX, "patches in one row of the chart"),
};
static DESC(desc_chart, struct chart_answer, "chart", "The colors of a chart.",
            chart_answer_fields);

static enum status chart(struct op_call *call, struct why *why) {
    const struct chart_args *args = call->args;
    struct chart_answer *a = call->result;
    struct spectrum_text file;
    enum status s =
        spectrum_text_read(args->chart, strlen(args->chart), SCALE_UNSAID, call->arena, &file, why);
    if (!s && file.n > PATCHES_MAX)
        s = why_say(why, E_TOO_LARGE, "", "The chart has %zu patches. At most %d are read.", file.n,
                    PATCHES_MAX);
    if (s) {
        why_under(why, "/chart");
        return s;
    }
    const struct weights d50 = weights_make(call->app->tables, OBSERVER_2, LIGHT_D50);
    a->patches = arena_array(call->arena, file.n, sizeof *a->patches);
    if (!a->patches) return why_no_memory(why);
    for (size_t i = 0; i < file.n; i++) {
        const struct lab c = spectrum_read_color(&file.samples[i], &d50);
        a->patches[a->patches_n++] = (struct chart_patch){file.samples[i].name, {c.l, c.a, c.b}};
    }
    a->in_row = file.in_row;
    return OK;
}

static const char *const positional_chart[] = {"chart", NULL};
static const char *const positional[] = {"photo", NULL};
static const struct op rows[] = {
    {"measure", OP_POST, "/api/documents/measure", &desc_args, &desc_measure_answer, positional,
     OP_CLI_ONLY, "the colors in a picture, by things of known color in it", run},
    {"chart read", OP_POST, "/api/documents/chart", &desc_chart_args, &desc_chart, positional_chart,
     0, "the colors of a chart from its CGATS text", chart},
};
extern const struct ops ops_measure;
const struct ops ops_measure = {rows, sizeof rows / sizeof *rows};
