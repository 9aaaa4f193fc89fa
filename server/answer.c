#include "server/answer.h"

#include "server/route.h"
#include "server/steady.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>

enum { SLOW_MS = 30000 };

void answer_error(struct http_response *out, enum status s, const struct why *why,
                  const struct text *changed) {
    const char *text = why && why->text[0] ? why->text : status_text(s);
    out->status = status_http(s);
    out->type = "application/json; charset=utf-8";
    out->owned.n = 0;
    text_print(&out->owned, "{\"error\":{\"code\":\"%s\",\"field\":", status_code(s));
    text_json(&out->owned, why ? why->field : "");
    text_print(&out->owned, ",\"text\":");
    text_json(&out->owned, text);
    text_print(&out->owned, "}");
    if (changed && changed->n) {
        text_print(&out->owned, ",\"changed\":");
        text_add(&out->owned, changed->at, changed->n);
    }
    text_print(&out->owned, "}\n");
    http_header_add(out, "Cache-Control", "no-store");
    if (status_http(s) == 503) http_header_add(out, "Retry-After", "1");
}

/* If-Match: "7" (weak marks and * are not revisions). */
static enum status revision_wanted(const char *tag, int64_t *out, struct why *why) {
    char *end;
    *out = INT64_MIN;
    if (!tag || !strcmp(tag, "*")) return OK;
    if (*tag == '"') {
        errno = 0;
        long long v = strtoll(tag + 1, &end, 10);
        if (end > tag + 1 && *end == '"' && !end[1] && !errno && v >= 0) {
            *out = v;
            return OK;
        }
    }
    return why_say(why, E_SYNTAX, "",
                   "If-Match is the revision in quotes, as the ETag said it: \"7\".");
}

struct deadline { /* how long a search may go on */
    const struct http_request *request;
    int64_t end_ms;
};

static bool enough(void *ctx) {
    const struct deadline *p = ctx;
    return steady_ms() > p->end_ms || (p->request->gone && p->request->gone(p->request->gone_ctx));
}

/* Arguments, result and call of one operation; all memory is the arena's. */
static enum status run(struct app *app, const struct op *op, const struct http_request *request,
                       struct arena *arena, struct op_call *call, struct deadline *deadline,
                       struct why *why) {
    size_t an = op->args ? op->args->size : 1, rn = op->result ? op->result->size : 1;
    bool as_it_came = op->flags & (OP_FILE | OP_WHOLE);
    void *args = arena_take(arena, an), *result = arena_take(arena, rn);
    if (!args || !result) return why_no_memory(why);
    if (op->args) desc_unsay(op->args, args);
    if (op->result) desc_unsay(op->result, result);
    *deadline = (struct deadline){request, steady_ms() + SLOW_MS};
    *call = (struct op_call){.app = app,
                             .arena = arena,
                             .limit = {.stop = enough, .ctx = deadline},
                             .args = args,
                             .result = result,
                             .body = as_it_came ? request->body : NULL,
                             .body_n = as_it_came ? request->body_n : 0,
                             .key = request->key,
                             .if_revision = INT64_MIN,
                             .out_revision = INT64_MIN};
    enum status s = revision_wanted(request->if_match, &call->if_revision, why);
    if (s == OK) s = route_args(op, request, arena, args, why);
    return s == OK ? op_run(op, call, why) : s;
}

static void give(struct http_response *out, const struct op *op, struct op_call *call) {
    out->status = 200;
    http_header_add(out, "Cache-Control",
                    call->out_lasting ? "private, max-age=31536000, immutable" : "no-store");
    if (call->out_revision != INT64_MIN)
        http_header_add(out, "ETag",
                        arena_print(&out->arena, "\"%lld\"", (long long)call->out_revision));
    if (call->out_type) {
        out->type = call->out_type;
        out->owned = call->out_body;
        call->out_body = (struct text){0};
        if (call->out_file_name)
            http_header_add(
                out, "Content-Disposition",
                arena_print(&out->arena, "attachment; filename=\"%s\"", call->out_file_name));
        return;
    }
    out->type = "application/json; charset=utf-8";
    if (op->result)
        document_print(op->result, SPELL_RESULT, call->result, 0, &out->owned);
    else
        text_print(&out->owned, "{}");
    text_add(&out->owned, "\n", 1);
}

void answer_op(struct app *app, const struct op *op, const struct http_request *request,
               struct http_response *out) {
    struct op_call call = {0};
    struct deadline deadline;
    struct why why = {0};
    enum status s = run(app, op, request, &out->arena, &call, &deadline, &why);
    if (s == OK) {
        give(out, op, &call);
        if (out->owned.failed) answer_error(out, E_MEMORY, NULL, NULL);
    } else {
        answer_error(out, s, &why, s == E_STALE ? &call.out_body : NULL);
    }
    text_free(&call.out_body);
}

bool answer_inside(struct app *app, const struct http_request *get, struct arena *arena,
                   struct text *out_json, int64_t *out_revision) {
    struct op_call call = {0};
    struct deadline deadline;
    char allowed[64];
    struct http_request request = {.method = HTTP_GET,
                                   .path = get->path,
                                   .query = get->query,
                                   .body = "",
                                   .gone = get->gone,
                                   .gone_ctx = get->gone_ctx};
    const struct op *op = route_find(HTTP_GET, request.path, allowed);
    *out_revision = INT64_MIN;
    if (!op || !op->result || (op->flags & OP_WRITES)) return false;
    bool good = run(app, op, &request, arena, &call, &deadline, NULL) == OK && !call.out_type &&
                document_print(op->result, SPELL_RESULT, call.result, 0, out_json) == OK;
    *out_revision = call.out_revision;
    text_free(&call.out_body);
    return good && !out_json->failed;
}
