#include "server/one_job.h"

#include "app/text_file.h"

#include <string.h>

/* Puts the document into the arguments of "plan", and asks for the bases. */
static enum status ask_for(const struct op *op, const char *document, struct arena *arena,
                           void *args, struct why *why) {
    const struct field *job = field_by_key(op->args, SPELL_INPUT, "job"),
                       *wants = field_by_key(op->args, SPELL_INPUT, "why");
    memcpy((char *)args + job->offset, &document, sizeof document);
    return field_read(wants, "true", arena, args, why);
}

static enum status plan(struct app *app, const char *path, struct arena *arena, struct text *json,
                        struct why *why) {
    const struct op *op = op_by_name("plan");
    const char *document = NULL;
    void *args = arena_take(arena, op->args->size), *result = arena_take(arena, op->result->size);
    if (!args || !result) return why_no_memory(why);
    desc_unsay(op->args, args);
    desc_unsay(op->result, result);
    enum status s = text_file_read(path, DOCUMENT_BYTES_MAX, arena, &document, why);
    if (!s) s = ask_for(op, document, arena, args, why);
    if (s) return s;
    struct op_call call = {
        .app = app, .arena = arena, .args = args, .result = result, .if_revision = INT64_MIN};
    s = op_run(op, &call, why);
    text_free(&call.out_body);
    return s ? s : document_print(op->result, SPELL_RESULT, result, 0, json);
}

enum status one_job_plan(struct app *app, const char *path, struct text *out_json,
                         struct why *why) {
    struct arena arena;
    struct text json = {0};
    arena_init(&arena, alloc_heap(), 0);
    enum status s = plan(app, path, &arena, &json, why);
    if (s)
        text_free(&json);
    else
        *out_json = json;
    arena_free(&arena);
    return s;
}
