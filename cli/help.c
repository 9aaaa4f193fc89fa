#include "cli/help.h"

#include <stdio.h>
#include <string.h>

static const char *kind(const struct field *f) {
    if (f->flags & FLAG_FILE) return "FILE";
    switch (f->type) {
    case FIELD_ID: return "ID";
    case FIELD_INT:
    case FIELD_NUMBER: return "NUMBER";
    case FIELD_QUANTITY: return "QUANTITY";
    case FIELD_WORD: return "WORD";
    case FIELD_COLOR: return "COLOR";
    case FIELD_CLOCK:
    case FIELD_LOCAL:
    case FIELD_INSTANT: return "TIME";
    case FIELD_DAY: return "DAY";
    case FIELD_TEXTS:
    case FIELD_NUMBERS:
    case FIELD_DAYS:
    case FIELD_LAB: return "LIST";
    case FIELD_RECORD:
    case FIELD_LIST:
    case FIELD_MAP:
    case FIELD_JSON: return "JSON";
    default: return f->flags & FLAG_PATH ? "FILE" : "TEXT";
    }
}

static bool is_positional(const struct op *op, const struct field *f) {
    for (const char *const *p = op->positional; p && *p; p++)
        if (!strcmp(*p, f->name)) return true;
    return false;
}

static void entry(struct paper *p, const char *left, const char *right) {
    enum { AT = 28 };
    size_t n = paper_columns(left) + 2;
    paper_blanks(p, 2);
    paper_bold(p, left);
    if (n + 2 > AT) {
        text_add(&p->out, "\n", 1);
        n = 0;
    }
    paper_blanks(p, AT - n);
    paper_wrap(p, AT, &(struct paper_style){.indent = AT}, right);
}

/* "paints_max" is written --paints-max; without its name, in its place, PAINTS_MAX. */
static void spelled(const char *name, bool positional, char out[FIELD_KEY_MAX]) {
    snprintf(out, FIELD_KEY_MAX, "%s", name);
    for (; *out; out++)
        if (positional && *out >= 'a' && *out <= 'z')
            *out = (char)(*out - 'a' + 'A');
        else if (*out == '_' && !positional)
            *out = '-';
}

void help_all(struct paper *p) {
    size_t n;
    const struct ops *const *all = ops_all(&n);
    paper_line(p, "Usage: coatwright OPERATION [ARGUMENTS] [--json]");
    paper_line(p,
               "Plans the refinishing of furniture: what is on it, coats, color, amounts, days,");
    paper_line(p, "price.");
    paper_line(p, "%s", "");
    paper_bold(p, "Operations");
    text_add(&p->out, "\n", 1);
    for (size_t i = 0; i < n; i++)
        for (size_t k = 0; k < all[i]->n; k++)
            if (!(all[i]->rows[k].flags & OP_HTTP_ONLY))
                entry(p, all[i]->rows[k].name, all[i]->rows[k].help);
    entry(p, "serve",
          "The app in the browser, on this machine alone: serve [--book FILE | --job FILE] "
          "[--listen ADDR:PORT]");
    text_add(&p->out, "\n", 1);
    paper_bold(p, "Every operation");
    text_add(&p->out, "\n", 1);
    entry(p, "--help", "what it takes and gives");
    entry(p, "--json", "print the result as JSON, errors too");
    entry(p, "--units us|metric", "how a listing is shown");
    entry(p, "--book FILE", "the job book; else $COATWRIGHT_BOOK or the one in the data folder");
    paper_line(p, "%s", "");
    paper_line(p, "Exit status: 0 good, 1 failed, 2 wrong usage.");
}

/* What it is for, what is taken when it is not said, and what may be written. */
static void explain(const struct field *f, struct text *out) {
    text_print(out, "%s", f->help);
    if (f->type == FIELD_QUANTITY) text_print(out, " (%s)", field_hint(f));
    for (size_t i = 1; f->words && f->words[i]; i++)
        text_print(out, "%s%s%s", i > 1 ? ", " : " (", f->words[i], f->words[i + 1] ? "" : ")");
    if (f->flags & FLAG_REQUIRED) text_print(out, "; needed");
}

static void argument(struct paper *p, const struct op *op, const struct field *f) {
    char name[FIELD_KEY_MAX], left[160];
    struct text right = {0};
    const bool positional = is_positional(op, f);
    spelled(f->name, positional, name);
    snprintf(left, sizeof left, "%s%s%s%s", positional ? "" : "--", name,
             positional || f->type == FIELD_BOOL ? "" : " ",
             positional || f->type == FIELD_BOOL ? "" : kind(f));
    explain(f, &right);
    entry(p, left, right.at ? right.at : "");
    text_free(&right);
}

void help_operation(struct paper *p, const struct op *op) {
    char name[FIELD_KEY_MAX];
    text_print(&p->out, "Usage: coatwright %s", op->name);
    for (const char *const *w = op->positional; w && *w; w++) {
        spelled(*w, true, name);
        text_print(&p->out, " %s", name);
    }
    paper_line(p, " [OPTIONS]");
    paper_wrap(p, 0, &(struct paper_style){0}, op->help);
    text_add(&p->out, "\n", 1);
    for (size_t i = 0; op->args && i < op->args->fields_n; i++)
        if (op->args->fields[i].type != FIELD_LAB) argument(p, op, &op->args->fields[i]);
    entry(p, "--json", "print the result as JSON");
    if (op->flags & (OP_READS | OP_WRITES | OP_BOOK)) entry(p, "--book FILE", "the job book");
    if (op->path && !(op->flags & OP_CLI_ONLY)) {
        text_add(&p->out, "\n", 1);
        paper_line(p, "Over HTTP: %s %s", op_method_name(op->method), op->path);
    }
}
