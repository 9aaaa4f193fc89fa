/* Colors without a book: how different two are, and one color in the other notations. */
#include "app/op.h"
#include "codec/color_text.h"
#include "core/color/color.h"
#include "core/work/job.h"

static struct lab lab_of_said(const struct color_said *c) {
    return (struct lab){c->lab[0], c->lab[1], c->lab[2]};
}

/* ---- color diff A B ---- */

struct diff_args {
    struct color_said a, b;
};
struct diff_answer {
    double difference;
    struct color_said a, b;
};

static const struct field diff_args_fields[] = {
    {F_AT(struct diff_args, a), .type = FIELD_COLOR, .flags = FLAG_REQUIRED,
     .help = "a color: #1f4e5a, lab(40 -12 -9), oklch(0.5 0.1 200), 7.5BG 3/4 ..."},
    {F_AT(struct diff_args, b), .type = FIELD_COLOR, .flags = FLAG_REQUIRED, .help = "another"},
};
static DESC(desc_diff_args, struct diff_args, "color_diff_args", "Two colors.", diff_args_fields);
static const struct field diff_fields[] = {
    F_NUM(struct diff_answer, difference, 0, 0, "CIEDE2000 in CSS Lab (D50, 2 degree)"),
    F_COLOR(struct diff_answer, a, "the first"),
    F_COLOR(struct diff_answer, b, "the second"),
};
static DESC(desc_diff, struct diff_answer, "color_diff", "How different two colors look.",
            diff_fields);

static enum status run_diff(struct op_call *call, struct why *why) {
    const struct diff_args *in = call->args;
    struct diff_answer *out = call->result;
    (void)why;
    out->a = in->a;
    out->b = in->b;
    out->difference = ciede2000(lab_of_said(&in->a), lab_of_said(&in->b));
    text_print(&call->out_body, "%.4f\n", out->difference);
    return OK;
}

/* ---- color show A ---- */

struct show_args {
    struct color_said color;
};
struct show_answer {
    struct color_said color;
    const char *text[NOTATIONS];
    bool mapped;
};

static const struct field show_args_fields[] = {
    {F_AT(struct show_args, color), .type = FIELD_COLOR, .flags = FLAG_REQUIRED,
     .help = "a color: #1f4e5a, lab(40 -12 -9), oklch(0.5 0.1 200), 7.5BG 3/4 ..."},
};
static DESC(desc_show_args, struct show_args, "color_show_args", "One color.", show_args_fields);

#define SHOWN(stem, n, h)                                                                          \
    { .name = stem, .offset = offsetof(struct show_answer, text[n]), .type = FIELD_TEXT, .help = h }
static const struct field show_fields[] = {
    F_COLOR(struct show_answer, color, "as it was written"),
    SHOWN("hex", NOTATION_HEX, "nearest on a screen"),
    SHOWN("rgb", NOTATION_RGB, "nearest on a screen"),
    SHOWN("hsl", NOTATION_HSL, "nearest on a screen"),
    SHOWN("lab_text", NOTATION_LAB, "CSS Lab, D50"),
    SHOWN("lch", NOTATION_LCH, "CSS LCH, D50"),
    SHOWN("oklab", NOTATION_OKLAB, "OkLab"),
    SHOWN("oklch", NOTATION_OKLCH, "OkLCh"),
    SHOWN("display_p3", NOTATION_DISPLAY_P3, "Display P3"),
    SHOWN("xyz_d50", NOTATION_XYZ_D50, "XYZ relative to D50"),
    SHOWN("xyz_d65", NOTATION_XYZ_D65, "XYZ relative to D65"),
    SHOWN("munsell", NOTATION_MUNSELL, "nearest Munsell notation"),
    F_BOOL(struct show_answer, mapped, "the screen shows it with less chroma than it has"),
};
static DESC(desc_show, struct show_answer, "color_show", "A color in the other notations.",
            show_fields);

static enum status run_show(struct op_call *call, struct why *why) {
    const struct show_args *in = call->args;
    struct show_answer *out = call->result;
    struct lab lab = lab_of_said(&in->color);
    char text[120];
    out->color = in->color;
    for (int n = 0; n < NOTATIONS; n++) {
        color_print((enum color_notation)n, lab, text, sizeof text);
        if (!(out->text[n] = arena_text(call->arena, text))) return why_no_memory(why);
    }
    rgb_show(RGB_SRGB, lab, &out->mapped);
    return OK;
}

static const char *const positional_diff[] = {"a", "b", NULL};
static const char *const positional_show[] = {"color", NULL};
static const struct op rows[] = {
    {"color diff", OP_GET, "/api/colors/difference", &desc_diff_args, &desc_diff, positional_diff,
     0, "how different two colors look: CIEDE2000 in CSS Lab", run_diff},
    {"color show", OP_GET, "/api/colors/show", &desc_show_args, &desc_show, positional_show, 0,
     "a color in the other notations, the nearest Munsell notation included", run_show},
};
extern const struct ops ops_color;
const struct ops ops_color = {rows, sizeof rows / sizeof *rows};
