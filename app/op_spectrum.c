/* Spectra from files: what is in one, and a paint of the shelf from it. */
#include "app/measured.h"
#include "app/op_shelf.h"
#include "codec/color_text.h"
#include "codec/job_desc.h"
#include "codec/spectrum_text.h"
#include "codec/units_text.h"
#include "core/color/color.h"

#include <string.h>

enum { SHOWN_MAX = SPECTRUM_SAMPLES_MAX };
static const char *const words_scale[] = {"", "fraction", "percent", NULL};

struct spectrum_args {
    const char *file;
    enum spectrum_scale scale;
    const char *sample, *name, *class, *sheen, *stock;
};
#define FILE_ARGS                                                                                  \
    {F_AT(struct spectrum_args, file), .type = FIELD_TEXT, .flags = FLAG_REQUIRED | FLAG_FILE,     \
     .help = "measured reflectance: CGATS.17 / ISO 28178 text, or CSV"},                           \
        F_WORD(struct spectrum_args, scale, words_scale, "what its values are; else told by size")

/* ---- spectrum read ---- */

struct spectrum_row {
    const char *name, *hex, *notation;
    double lab[3];
    double first_nm, last_nm, step_nm;
    int64_t line;
    struct spectrum_said spectrum;
};
struct spectrum_answer {
    const char *format, *scale;
    struct spectrum_row *rows;
    size_t rows_n;
};

/* clang-format off */
static const struct field read_fields[] = {FILE_ARGS};
/* clang-format on */
static DESC(desc_read, struct spectrum_args, "spectrum_read_args", "Which file.", read_fields);
static const struct field row_fields[] = {
    F_TEXT(struct spectrum_row, name, "as the file calls it"),
    F_TEXT(struct spectrum_row, hex, "on a screen, #rrggbb"),
    F_FIXED(struct spectrum_row, lab, 3, "CSS Lab (D50, 2 degree)"),
    F_TEXT(struct spectrum_row, notation, "the same as CSS text"),
    F_NUM(struct spectrum_row, first_nm, 0, 0, "from; not said where the file has a color alone"),
    F_NUM(struct spectrum_row, last_nm, 0, 0, "to"),
    F_NUM(struct spectrum_row, step_nm, 0, 0, "by"),
    F_INT(struct spectrum_row, line, 0, 0, "of the file"),
    F_RECORD(struct spectrum_row, spectrum, &desc_spectrum, "as a paint of a shelf holds it"),
};
static DESC(desc_row, struct spectrum_row, "spectrum_sample", "One measured sample.", row_fields);
static const struct field answer_fields[] = {
    F_TEXT(struct spectrum_answer, format, "CGATS or CSV"),
    F_TEXT(struct spectrum_answer, scale, "what its values were taken as"),
    F_LIST(struct spectrum_answer, rows, &desc_row, SHOWN_MAX, "in the file's order"),
};
static DESC(desc_answer, struct spectrum_answer, "spectrum_samples", "What is in a spectrum file.",
            answer_fields);

static enum status read_file(struct op_call *call, struct why *why) {
    struct spectrum_answer *out = call->result;
    struct spectrum_text file;
    const struct spectrum_args *args = call->args;
    enum status s = measured_read(args->file, "/file", args->scale, call->arena, &file, why);
    if (s) return s;
    const struct weights d50 = weights_make(call->app->tables, OBSERVER_2, LIGHT_D50);
    out->format = file.format;
    out->scale = words_scale[file.scale];
    out->rows = arena_array(call->arena, file.n, sizeof *out->rows);
    if (!out->rows) return why_no_memory(why);
    for (size_t i = 0; i < file.n; i++) {
        const struct spectrum_read *r = &file.samples[i];
        struct spectrum_row *row = &out->rows[out->rows_n++];
        const struct lab c = spectrum_read_color(r, &d50);
        char hex[8], text[96];
        desc_unsay(&desc_row, row);
        color_print_hex(c, hex);
        color_print(NOTATION_LAB, c, text, sizeof text);
        row->name = r->name;
        row->hex = arena_text(call->arena, hex);
        row->notation = arena_text(call->arena, text);
        row->lab[0] = c.l, row->lab[1] = c.a, row->lab[2] = c.b;
        row->line = r->line;
        if (!row->hex || !row->notation) return why_no_memory(why);
        if (r->values.values_n) {
            row->spectrum = r->values;
            row->first_nm = r->values.first_nm;
            row->step_nm = r->values.step_nm;
            row->last_nm = row->first_nm + row->step_nm * (double)(r->values.values_n - 1);
        }
        text_print(&call->out_body, "%-28s %s  %-24s", row->name, row->hex, row->notation);
        if (r->values.values_n)
            text_print(&call->out_body, "  %g to %g nm by %g", row->first_nm, row->last_nm,
                       row->step_nm);
        text_print(&call->out_body, "\n");
    }
    return OK;
}

/* ---- paint measured ---- */

/* clang-format off */
static const struct field measured_fields[] = {
    FILE_ARGS,
    F_TEXT(struct spectrum_args, sample, "name of the sample in the file; else its only one"),
    F_TEXT(struct spectrum_args, name, "as on the can; else the sample's name"),
    {F_AT(struct spectrum_args, class), .type = FIELD_ID, .flags = FLAG_REQUIRED,
     .help = "kind of product: id of a row of data/product_classes.tsv"},
    F_TEXT(struct spectrum_args, sheen, "sheen"),
    F_TEXT(struct spectrum_args, stock, "how much is left: 13 fl oz"),
};
/* clang-format on */
static DESC(desc_measured, struct spectrum_args, "paint_measured_args", "Which sample is it.",
            measured_fields);

static void member(struct text *t, const char *key, const char *value) {
    if (!value) return;
    text_print(t, ",\"%s\":", key);
    text_json(t, value);
}

static enum status measured(struct op_call *call, struct why *why) {
    const struct spectrum_args *args = call->args;
    struct spectrum_text file;
    const struct spectrum_read *r = NULL;
    struct paint_row *row = call->result;
    struct text t = {0};
    char number[40];
    enum status s = measured_read(args->file, "/file", args->scale, call->arena, &file, why);
    if (s || (s = measured_sample(&file, args->sample, &r, why))) return s;
    text_print(&t, "{\"name\":");
    text_json(&t, args->name && *args->name ? args->name : r->name);
    member(&t, "class", args->class);
    member(&t, "sheen", args->sheen);
    member(&t, "stock", args->stock);
    if (r->values.values_n) {
        number_print(r->values.first_nm, number, sizeof number);
        text_print(&t, ",\"spectrum\":{\"first_nm\":%s", number);
        number_print(r->values.step_nm, number, sizeof number);
        text_print(&t, ",\"step_nm\":%s,\"values\":[", number);
        for (size_t i = 0; i < r->values.values_n; i++) {
            number_print(r->values.values[i], number, sizeof number);
            text_print(&t, "%s%s", i ? "," : "", number);
        }
        text_print(&t, "]}}");
    } else {
        color_print(NOTATION_LAB, r->lab, number, sizeof number);
        text_print(&t, ",\"color\":\"%s\"}", number);
    }
    s = t.failed ? why_no_memory(why) : paint_enter(call, t.at, "", row, why);
    text_free(&t);
    return s ? s : book_says(call->book, why, "%s, measured", row->name);
}

static const char *const positional_file[] = {"file", NULL};
static const struct op rows[] = {
    {"spectrum read", OP_POST, "/api/documents/spectrum", &desc_read, &desc_answer, positional_file,
     0, "the samples of a spectrum file (CGATS text or CSV) and their colors", read_file},
    {"paint measured", OP_POST, "/api/paints/measured", &desc_measured, &desc_paint_row,
     positional_file, OP_WRITES, "put a paint on the shelf from its measured reflectance",
     measured},
};
extern const struct ops ops_spectrum;
const struct ops ops_spectrum = {rows, sizeof rows / sizeof *rows};
