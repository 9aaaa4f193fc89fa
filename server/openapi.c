#include "server/openapi.h"

#include "app/op.h"

#include <ctype.h>
#include <stdio.h>
#include <string.h>

enum { ROOTS_MAX = 400 };
static const char ref[] = "#/components/schemas/";

struct api {
    struct text *out;
    struct schema_root roots[ROOTS_MAX];
    size_t roots_n;
};

static void needs(struct api *a, const struct desc *d, enum spelling spelling) {
    for (size_t i = 0; i < a->roots_n; i++)
        if (a->roots[i].d == d && a->roots[i].spelling == spelling) return;
    if (a->roots_n < ROOTS_MAX) a->roots[a->roots_n++] = (struct schema_root){d, spelling};
}

static void refer(struct api *a, const struct desc *d, enum spelling spelling) {
    char name[FIELD_KEY_MAX];
    needs(a, d, spelling);
    schema_name(d, spelling, name);
    text_print(a->out, "{\"$ref\":\"%s%s\"}", ref, name);
}

static bool in_path(const struct op *op, const char *name) {
    char hole[FIELD_KEY_MAX + 4];
    snprintf(hole, sizeof hole, "{%s}", name);
    return strstr(op->path, hole) != NULL;
}

static bool has_body(const struct op *op) {
    return op->method != OP_GET && op->method != OP_DELETE && !(op->flags & (OP_FILE | OP_WHOLE));
}

static void header_parameter(struct api *a, bool *any, const char *name, const char *help) {
    text_print(a->out,
               "%s{\"name\":\"%s\",\"in\":\"header\",\"description\":\"%s\",\"schema\":{\"type\":"
               "\"string\"}}",
               *any ? "," : "", name, help);
    *any = true;
}

static void parameters(struct api *a, const struct op *op) {
    bool any = false;
    text_print(a->out, "\"parameters\":[");
    for (size_t i = 0; op->args && i < op->args->fields_n; i++) {
        const struct field *f = &op->args->fields[i];
        bool path = in_path(op, f->name);
        if ((!path && has_body(op)) || (f->flags & FLAG_PATH)) continue;
        text_print(a->out, "%s{\"name\":\"%s\",\"in\":\"%s\",\"required\":%s,\"description\":",
                   any ? "," : "", f->name, path ? "path" : "query",
                   path || (f->flags & FLAG_REQUIRED) ? "true" : "false");
        text_json(a->out, f->help);
        text_print(a->out, ",\"schema\":");
        if (f->type == FIELD_RECORD || f->type == FIELD_LIST || f->type == FIELD_MAP)
            text_print(a->out, "{\"type\":\"string\",\"description\":\"JSON\"}");
        else
            schema_field_print(f, SPELL_INPUT, ref, a->out);
        text_add(a->out, "}", 1);
        any = true;
    }
    if (op->flags & OP_WRITES) {
        header_parameter(a, &any, "Idempotency-Key",
                         "8 to 200 visible characters; a repeated one is done once");
        header_parameter(a, &any, "If-Match",
                         "the revision last seen, as the ETag said it; 412 when it changed since");
    }
    text_print(a->out, "]");
}

static void operation(struct api *a, const struct op *op) {
    char id[96];
    snprintf(id, sizeof id, "%s", op->name);
    for (char *c = id; *c; c++)
        if (*c == ' ' || *c == '-') *c = '_';
    text_print(a->out, "{\"operationId\":\"%s\",\"summary\":", id);
    text_json(a->out, op->help);
    text_add(a->out, ",", 1);
    parameters(a, op);
    if (op->flags & OP_FILE)
        text_print(a->out, ",\"requestBody\":{\"required\":true,\"content\":{\"image/*\":{}}}");
    if (op->flags & OP_WHOLE)
        text_print(a->out, ",\"requestBody\":{\"required\":true,\"content\":{\"application/json\":{"
                           "\"schema\":{\"type\":\"object\"}}}}");
    if (has_body(op) && op->args) {
        text_print(a->out,
                   ",\"requestBody\":{\"required\":false,\"content\":{\"application/json\":{"
                   "\"schema\":");
        refer(a, op->args, SPELL_INPUT);
        text_print(a->out, "}}}");
    }
    text_print(a->out, ",\"responses\":{\"200\":{\"description\":");
    if (op->result) {
        text_print(a->out, "\"the result\",\"content\":{\"application/json\":{\"schema\":");
        refer(a, op->result, SPELL_RESULT);
        text_print(a->out, "}}}");
    } else {
        text_print(a->out, "\"done, or a file\"}");
    }
    text_print(a->out, ",\"default\":{\"$ref\":\"#/components/responses/error\"}}}");
}

/* All methods of one path stand under it; a path is printed with the first operation that has it.
 */
static bool is_first(const struct op *op) {
    size_t n;
    const struct ops *const *all = ops_all(&n);
    for (size_t i = 0; i < n; i++)
        for (size_t k = 0; k < all[i]->n; k++) {
            const struct op *o = &all[i]->rows[k];
            if (o == op) return true;
            if (o->path && !(o->flags & OP_CLI_ONLY) && !strcmp(o->path, op->path)) return false;
        }
    return true;
}

static void path_item(struct api *a, const struct op *first) {
    size_t n;
    bool any = false;
    const struct ops *const *all = ops_all(&n);
    text_json(a->out, first->path);
    text_print(a->out, ":{");
    for (size_t i = 0; i < n; i++)
        for (size_t k = 0; k < all[i]->n; k++) {
            const struct op *op = &all[i]->rows[k];
            if (!op->path || (op->flags & OP_CLI_ONLY) || strcmp(op->path, first->path)) continue;
            char method[8];
            snprintf(method, sizeof method, "%s", op_method_name(op->method));
            for (char *c = method; *c; c++) *c = (char)tolower(*c);
            text_print(a->out, "%s\"%s\":", any ? "," : "", method);
            operation(a, op);
            any = true;
        }
    text_print(a->out, "}");
}

enum status openapi_print(struct text *out) {
    struct api a = {.out = out};
    bool any = false;
    size_t n;
    const struct ops *const *all = ops_all(&n);
    text_print(out, "{\"openapi\":\"3.1.0\",\"info\":{\"title\":\"Coatwright\",\"version\":\"1\","
                    "\"description\":\"Plans the refinishing of furniture. Bodies and queries are "
                    "spelled as in documents (32 3/4 in), results with suffixed keys and numbers "
                    "(width_mm).\"},\"jsonSchemaDialect\":\"https://json-schema.org/draft/2020-12/"
                    "schema\",\n\"paths\":{");
    for (size_t i = 0; i < n; i++)
        for (size_t k = 0; k < all[i]->n; k++) {
            const struct op *op = &all[i]->rows[k];
            if (!op->path || (op->flags & OP_CLI_ONLY) || !is_first(op)) continue;
            text_print(out, any ? ",\n" : "\n");
            path_item(&a, op);
            any = true;
        }
    text_print(
        out,
        "},\n\"components\":{\"responses\":{\"error\":{\"description\":\"what was wrong and "
        "what would be right\",\"content\":{\"application/json\":{\"schema\":{\"type\":"
        "\"object\",\"properties\":{\"error\":{\"type\":\"object\",\"properties\":{\"code\":{"
        "\"type\":\"string\"},\"field\":{\"type\":\"string\",\"description\":\"JSON pointer\"},"
        "\"text\":{\"type\":\"string\"}},\"required\":[\"code\",\"field\",\"text\"]},\"changed\":"
        "{\"type\":\"array\",\"description\":\"of 412: what was changed since the revision in "
        "If-Match\",\"items\":{\"type\":\"object\",\"properties\":{\"pointer\":{\"type\":"
        "\"string\",\"description\":\"JSON pointer into the document, or the column\"},\"before\":{"
        "\"type\":\"string\"},\"after\":{\"type\":\"string\"},\"operation\":{\"type\":\"string\"}},"
        "\"required\":[\"pointer\"]}}},"
        "\"required\":[\"error\"]}}}}},\n\"schemas\":{\n");
    enum status s = schema_set_print(a.roots, a.roots_n, ref, out);
    text_print(out, "}}}\n");
    return s != OK ? s : out->failed ? E_MEMORY : OK;
}
