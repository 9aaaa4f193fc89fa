#include "cli/help.h"

#include "codec/units_text.h"

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

static void dashed(const char *name, char *out, size_t cap) {
    snprintf(out, cap, "%s", name);
    for (; *out; out++)
        if (*out == '_') *out = '-';
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

void help_operation(struct paper *p, const struct op *op) {
    char name[FIELD_KEY_MAX], left[160], right[700], list[300];
    text_print(&p->out, "Usage: coatwright %s", op->name);
    for (const char *const *w = op->positional; w && *w; w++) {
        snprintf(name, sizeof name, "%s", *w);
        for (char *c = name; *c; c++)
            if (*c >= 'a' && *c <= 'z') *c = (char)(*c - 'a' + 'A');
        text_print(&p->out, " %s", name);
    }
    paper_line(p, " [OPTIONS]");
    paper_wrap(p, 0, &(struct paper_style){0}, op->help);
    text_add(&p->out, "\n", 1);
    for (size_t i = 0; op->args && i < op->args->fields_n; i++) {
        const struct field *f = &op->args->fields[i];
        if (f->type == FIELD_LAB) continue;
        dashed(f->name, name, sizeof name);
        if (is_positional(op, f)) {
            for (char *c = name; *c; c++)
                if (*c >= 'a' && *c <= 'z') *c = (char)(*c - 'a' + 'A');
            snprintf(left, sizeof left, "%s", name);
        } else if (f->type == FIELD_BOOL) {
            snprintf(left, sizeof left, "--%s", name);
        } else {
            snprintf(left, sizeof left, "--%s %s", name, kind(f));
        }
        size_t n = (size_t)snprintf(right, sizeof right, "%s%s", f->help,
                                    f->flags & FLAG_REQUIRED ? " (needed)" : "");
        if (f->type == FIELD_QUANTITY && n < sizeof right)
            n += (size_t)snprintf(right + n, sizeof right - n, "; %s", units_hint(f->dimension));
        if (f->words && n < sizeof right) {
            size_t k = 0;
            list[0] = 0;
            for (const char *const *w = f->words + 1; *w && k < sizeof list - 40; w++)
                k += (size_t)snprintf(list + k, sizeof list - k, "%s%s", k ? ", " : "", *w);
            snprintf(right + n, sizeof right - n, ": %s", list);
        }
        entry(p, left, right);
    }
    entry(p, "--json", "print the result as JSON");
    if (op->flags & (OP_READS | OP_WRITES | OP_BOOK)) entry(p, "--book FILE", "the job book");
    if (op->path && !(op->flags & OP_CLI_ONLY)) {
        text_add(&p->out, "\n", 1);
        paper_line(p, "Over HTTP: %s %s", op_method_name(op->method), op->path);
    }
}
