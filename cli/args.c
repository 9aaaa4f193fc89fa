#include "cli/args.h"

#include "app/text_file.h"

#include <stdio.h>
#include <string.h>

const struct op *args_operation(int argc, char **argv, int *out_words) {
    const struct op *best = NULL;
    char words[128] = "";
    for (int i = 0; i < argc && i < 4; i++) {
        size_t n = strlen(words);
        if (argv[i][0] == '-' || n + strlen(argv[i]) + 2 > sizeof words) break;
        snprintf(words + n, sizeof words - n, "%s%s", n ? " " : "", argv[i]);
        const struct op *op = op_by_name(words);
        if (op && !(op->flags & OP_HTTP_ONLY)) {
            best = op;
            *out_words = i + 1;
        }
    }
    return best;
}

static bool same_name(const char *a, const char *b, size_t n) {
    for (size_t i = 0; i < n; i++) {
        char x = a[i] == '-' ? '_' : a[i];
        if (!b[i] || x != b[i]) return false;
    }
    return !b[n];
}

static const struct field *option_field(const struct op *op, const char *name, size_t n) {
    for (size_t i = 0; op->args && i < op->args->fields_n; i++)
        if (same_name(name, op->args->fields[i].name, n)) return &op->args->fields[i];
    return NULL;
}

struct command {
    const struct op *op;
    struct arena *arena;
    void *args;
    struct common *common;
    struct why *why;
    size_t positional;
};

static enum args_end put(const struct command *c, const struct field *f, const char *text) {
    enum status s = OK;
    if (f->flags & FLAG_FILE) {
        const char *content = NULL;
        size_t most = f->flags & FLAG_WHOLE ? WHOLE_BYTES_MAX : DOCUMENT_BYTES_MAX;
        if (f->type == FIELD_JSON && text[strspn(text, " \t\r\n")] == '{')
            content = text; /* the document itself: nobody names a file so */
        else
            s = text_file_read(text, most, c->arena, &content, c->why);
        memcpy((char *)c->args + f->offset, &content, sizeof content);
    } else {
        s = field_read(f, text, c->arena, c->args, c->why);
    }
    c->common->failed = s;
    return s == OK ? ARGS_GOOD : ARGS_BAD_VALUE;
}

static bool is_flag(const struct field *f) {
    return f->type == FIELD_BOOL;
}

/* --json, --help, --book, --units; *used says whether a value was taken from `value`. */
static bool common_option(struct common *c, const char *name, size_t n, const char *value,
                          bool *used, bool *bad) {
    *used = *bad = false;
    if (n == 4 && !memcmp(name, "json", n)) return c->json = true;
    if (n == 4 && !memcmp(name, "help", n)) return c->help = true;
    *used = true;
    if (n == 4 && !memcmp(name, "book", n)) {
        c->book = value;
        *bad = !value;
        return true;
    }
    if (n == 5 && !memcmp(name, "units", n)) {
        *bad = !value || (strcmp(value, "us") && strcmp(value, "metric"));
        if (!*bad) c->units = strcmp(value, "us") ? UNITS_METRIC : UNITS_US;
        return true;
    }
    return false;
}

/* `before` and `after` stand around what was written on the command line. */
static enum args_end usage(struct why *why, const char *before, const char *what,
                           const char *after) {
    enum { SHOWN = 80 }; /* bytes of what may be a whole document */
    size_t n = strlen(what), shown = n < SHOWN ? n : SHOWN;
    while (shown < n && ((unsigned char)what[shown] & 0xc0) == 0x80) shown--;
    why_say(why, E_SYNTAX, "", "%s%.*s%s%s", before, (int)shown, what, shown < n ? "..." : "",
            after);
    return ARGS_BAD_USAGE;
}

/* One option; *i moves behind its value. */
static enum args_end option(struct command *c, int argc, char **argv, int *i) {
    const char *name = argv[*i] + 2, *eq = strchr(name, '=');
    size_t n = eq ? (size_t)(eq - name) : strlen(name);
    const char *value = eq ? eq + 1 : *i + 1 < argc ? argv[*i + 1] : NULL;
    bool used, bad;
    const struct field *f = option_field(c->op, name, n);
    if (common_option(c->common, name, n, value, &used, &bad)) {
        if (bad)
            return usage(c->why, "", argv[*i],
                         " needs a value: --book FILE, --units us or --units metric.");
        if (f && used && put(c, f, value)) return ARGS_BAD_VALUE;
        *i += used && !eq;
        return ARGS_GOOD;
    }
    if (!f) return usage(c->why, "", argv[*i], " is not an option of this command.");
    if (is_flag(f) && !eq) return put(c, f, "true");
    if (!value) return usage(c->why, "", argv[*i], " needs a value.");
    *i += !eq;
    return put(c, f, value);
}

static enum args_end positional(struct command *c, const char *text) {
    const char *name = c->op->positional ? c->op->positional[c->positional] : NULL;
    if (!name) return usage(c->why, "\"", text, "\" is more than this command takes.");
    c->positional++;
    return put(c, option_field(c->op, name, strlen(name)), text);
}

/* As --help writes it: ID, or --name. */
static const char *typed_name(const struct command *c, const struct field *f) {
    bool option = true;
    for (size_t i = 0; c->op->positional && c->op->positional[i]; i++)
        if (!strcmp(c->op->positional[i], f->name)) option = false;
    char *name = arena_print(c->arena, "%s%s", option ? "--" : "", f->name);
    for (char *at = name; at && *at; at++) {
        if (option && *at == '_') *at = '-';
        if (!option && *at >= 'a' && *at <= 'z') *at = (char)(*at - 'a' + 'A');
    }
    return name ? name : f->name;
}

static enum args_end complete(const struct command *c) {
    for (size_t i = 0; c->op->args && i < c->op->args->fields_n; i++) {
        const struct field *f = &c->op->args->fields[i];
        if ((f->flags & FLAG_REQUIRED) && !field_said(f, c->args))
            return usage(c->why, typed_name(c, f), " is missing: ", f->help);
    }
    return ARGS_GOOD;
}

enum args_end args_read(const struct op *op, int argc, char **argv, struct arena *arena, void *args,
                        struct common *common, struct why *why) {
    struct command c = {op, arena, args, common, why, 0};
    struct why later = {0};
    enum args_end first = ARGS_GOOD;
    enum status failed = OK;
    bool options = true;
    for (int i = 0; i < argc; i++) /* before any error is said */
        if (!strcmp(argv[i], "--json")) common->json = true;
    for (int i = 0; i < argc; i++) {
        enum args_end end;
        if (options && !strcmp(argv[i], "--")) {
            options = false;
            continue;
        }
        if (options && !strcmp(argv[i], "-h"))
            common->help = true, end = ARGS_GOOD;
        else if (options && !strncmp(argv[i], "--", 2))
            end = option(&c, argc, argv, &i);
        else
            end = positional(&c, argv[i]);
        if (end == ARGS_BAD_USAGE) { /* counts more than a value that was wrong before it */
            if (c.why == &later) *why = later;
            return end;
        }
        if (end == ARGS_BAD_VALUE && first == ARGS_GOOD) {
            first = end;
            failed = common->failed;
            c.why = &later;
        }
    }
    if (first != ARGS_GOOD) common->failed = failed;
    return common->help ? ARGS_GOOD : first != ARGS_GOOD ? first : complete(&c);
}
