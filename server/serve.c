#include "server/serve.h"

#include "app/op_plan.h"
#include "server/answer.h"
#include "server/files.h"
#include "server/gzip.h"
#include "server/http.h"
#include "server/openapi.h"
#include "server/page.h"
#include "server/route.h"

#include <errno.h>
#include <pthread.h>
#include <signal.h>
#include <stdatomic.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

enum { PORT = 7878, PORTS_TRIED = 50, BODY_MAX = DOCUMENT_BYTES_MAX + 65536 };

static const char EVENTS[] = "/api/events", API[] = "/api/openapi.json", ICON[] = "/favicon.ico";

struct serve {
    struct app app;
    struct http *http;
    char *job; /* JSON of the one job that is served, or NULL */
    char *api; /* the OpenAPI document */
    size_t api_n;
};

static int64_t clock_now(void *ctx) {
    (void)ctx;
    return (int64_t)(time(NULL) / 60);
}

/* ---- answers ---- */

static bool reads(const struct http_request *r) {
    return r->method == HTTP_GET || r->method == HTTP_HEAD;
}

static enum http_lane lane(void *ctx, const struct http_request *r) {
    char allowed[64];
    (void)ctx;
    if (!strncmp(r->path, "/files/", 7) || !strcmp(r->path, EVENTS) || !strcmp(r->path, API))
        return LANE_NOW;
    const struct op *op = route_find(r->method, r->path, allowed);
    return op && (op->flags & OP_SLOW) && op->method != OP_GET ? LANE_SLOW : LANE_QUICK;
}

/* Before the body has come. */
static size_t body_max(void *ctx, const struct http_request *r) {
    char allowed[64];
    (void)ctx;
    const struct op *op = route_find(r->method, r->path, allowed);
    return op && (op->flags & OP_FILE) ? OP_FILE_BYTES_MAX : BODY_MAX;
}

static void refuse(void *ctx, enum status s, const char *text, struct http_response *out) {
    struct why why;
    (void)ctx;
    why_say(&why, s, "", "%s", text);
    answer_error(out, s, &why, NULL);
}

static void not_here(struct http_response *out, const char *allowed) {
    struct why why;
    if (allowed[0]) {
        why_say(&why, E_METHOD, "", "That cannot be done to this address. It knows: %s.", allowed);
        answer_error(out, E_METHOD, &why, NULL);
        http_header_add(out, "Allow", arena_text(&out->arena, allowed));
    } else {
        why_say(&why, E_NOT_FOUND, "", "There is nothing at this address.");
        answer_error(out, E_NOT_FOUND, &why, NULL);
    }
}

/* A person typed an address that is none: the page says so, with its way back. */
static bool is_typed(const struct http_request *r) {
    return reads(r) && r->accept && strstr(r->accept, "text/html") &&
           strncmp(r->path, "/api/", 5) && strncmp(r->path, "/files/", 7);
}

/* Answered without an operation; can be read and nothing else. */
static bool is_fixed(const char *path) {
    return page_is(path) || file_find(path) || !strcmp(path, EVENTS) || !strcmp(path, API) ||
           !strcmp(path, ICON);
}

static void answer_fixed(struct serve *s, const struct http_request *r, struct http_response *out) {
    const struct file_row *file = file_find(r->path);
    out->status = 200;
    if (!strcmp(r->path, EVENTS)) {
        out->events = r->method == HTTP_GET; /* HEAD has no body, not even an empty stream */
        out->type = "text/event-stream; charset=utf-8";
        http_header_add(out, "Cache-Control", "no-store");
    } else if (!strcmp(r->path, API)) {
        out->type = "application/json; charset=utf-8";
        out->fixed = s->api;
        out->fixed_n = s->api_n;
        http_header_add(out, "Cache-Control", "no-cache");
    } else if (page_is(r->path)) {
        page_answer(&s->app, s->job, r, out);
    } else if (file) {
        file_answer(file, r, out);
    } else {
        out->status = 204; /* the icon: the page names its own */
    }
}

static void answer(struct serve *s, const struct http_request *r, struct http_response *out) {
    char allowed[64] = "GET";
    int64_t revision;
    bool fixed = is_fixed(r->path);
    const struct op *op = fixed ? NULL : route_find(r->method, r->path, allowed);
    if (fixed && reads(r))
        answer_fixed(s, r, out);
    else if (op)
        answer_op(&s->app, op, r, out, &revision);
    else if (!allowed[0] && is_typed(r)) {
        page_answer(&s->app, s->job, r, out);
        out->status = 404;
    } else
        not_here(out, allowed);
}

static void handle(void *ctx, const struct http_request *r, struct http_response *out) {
    answer(ctx, r, out);
    gzip_answer(r, out);
}

/* ---- the job of --job ---- */

static enum status file_text(const char *path, struct text *out, struct why *why) {
    char block[16384];
    size_t n;
    FILE *f = fopen(path, "rb");
    if (!f) return why_say(why, E_IO, "", "%s cannot be opened: %s.", path, strerror(errno));
    while ((n = fread(block, 1, sizeof block, f)) > 0 && out->n <= DOCUMENT_BYTES_MAX)
        text_add(out, block, n);
    int failed = ferror(f) ? errno : 0;
    fclose(f);
    if (failed) return why_say(why, E_IO, "", "%s cannot be read: %s.", path, strerror(failed));
    if (out->n && memchr(out->at, 0, out->n))
        return why_say(why, E_SYNTAX, "", "%s has a NUL byte in it; it is not a text.", path);
    text_add(out, "", 0);
    return out->failed ? why_no_memory(why) : OK;
}

/* The answer of "plan" for that document, as the page takes it. */
static enum status plan_job(struct serve *s, const char *path, struct why *why) {
    const struct op *op = op_by_name("plan");
    struct arena arena;
    struct text document = {0}, json = {0};
    arena_init(&arena, alloc_heap(), 0);
    enum status e = file_text(path, &document, why);
    void *args = arena_take(&arena, op->args->size), *result = arena_take(&arena, op->result->size);
    if (e == OK && (!args || !result)) e = why_no_memory(why);
    if (e == OK) {
        const struct field *job = field_by_key(op->args, SPELL_INPUT, "job");
        const struct field *wants = field_by_key(op->args, SPELL_INPUT, "why");
        desc_unsay(op->args, args);
        desc_unsay(op->result, result);
        memcpy((char *)args + job->offset, &document.at, sizeof document.at);
        if (wants) e = field_read(wants, "true", &arena, args, why);
    }
    struct op_call call = {
        .app = &s->app, .arena = &arena, .args = args, .result = result, .if_revision = INT64_MIN};
    if (e == OK) e = op_run(op, &call, why);
    if (e == OK) e = document_print(op->result, SPELL_RESULT, result, 0, &json);
    if (e == OK)
        s->job = json.at;
    else
        text_free(&json);
    text_free(&document);
    arena_free(&arena);
    return e;
}

/* ---- the command line ---- */

struct choice {
    const char *book, *job, *hosts[9];
    size_t hosts_n;
    char address[64];
    int port;
    bool or_next;
};

static void usage(FILE *to) {
    fputs("Usage: coatwright serve [--book FILE | --job FILE] [--listen ADDR:PORT] [--or-next]\n"
          "The app in the browser, on this machine alone. Prints \"ready http://ADDR:PORT/\".\n\n"
          "  --book FILE         the job book, begun if it is not there; else the one in the data "
          "folder\n"
          "  --job FILE          one job document and its sheet, nothing is kept\n"
          "  --listen ADDR:PORT  127.0.0.1:7878 when not said; port 0 takes any free one\n"
          "  --or-next           takes the next free port when that one is in use\n"
          "  --host NAME         a further name by which the page may be opened\n",
          to);
}

static bool listen_at(struct choice *c, const char *text) {
    const char *colon = strrchr(text, ':');
    char *end;
    if (!colon || !colon[1]) return false;
    long port = strtol(colon + 1, &end, 10);
    size_t n = (size_t)(colon - text);
    if (*end || port < 0 || port > 65535 || n >= sizeof c->address || !n) return false;
    bool bracket = text[0] == '[' && text[n - 1] == ']';
    snprintf(c->address, sizeof c->address, "%.*s", (int)(bracket ? n - 2 : n), text + bracket);
    if (!strcmp(c->address, "localhost")) snprintf(c->address, sizeof c->address, "127.0.0.1");
    c->port = (int)port;
    return true;
}

/* 0 good, 2 wrong usage, -1 help was asked for */
static int choose(struct choice *c, int argc, char **argv) {
    *c = (struct choice){.address = "127.0.0.1", .port = PORT};
    for (int i = 0; i < argc; i++) {
        char name[32];
        const char *eq = strchr(argv[i], '='), *value = eq             ? eq + 1
                                                        : i + 1 < argc ? argv[i + 1]
                                                                       : NULL;
        snprintf(name, sizeof name, "%.*s", (int)(eq ? eq - argv[i] : 31), argv[i]);
        if (!strcmp(name, "--help") || !strcmp(name, "-h")) return -1;
        if (!strcmp(name, "--or-next")) {
            c->or_next = true;
            continue;
        }
        bool known = true;
        if (!value)
            known = false;
        else if (!strcmp(name, "--book"))
            c->book = value;
        else if (!strcmp(name, "--job"))
            c->job = value;
        else if (!strcmp(name, "--host") && c->hosts_n < 8)
            c->hosts[c->hosts_n++] = value;
        else if (!strcmp(name, "--listen")) {
            if (!listen_at(c, value)) {
                fprintf(stderr,
                        "/listen: \"%s\" is not an address and port. Write 127.0.0.1:7878.\n",
                        value);
                return 2;
            }
        } else
            known = false;
        if (!known) {
            fprintf(stderr, "%s is not an option of serve, or its value is missing.\n", argv[i]);
            return 2;
        }
        i += !eq;
    }
    if (c->book && c->job) {
        fputs("--book and --job: write one of them.\n", stderr);
        return 2;
    }
    return 0;
}

static int fail(enum status s, const struct why *why) {
    fprintf(stderr, "%s%s%s\n", why->field, why->field[0] ? ": " : "",
            why->text[0] ? why->text : status_text(s));
    return 1;
}

static enum status start(struct serve *s, const struct choice *c, int *out_port, struct why *why) {
    struct http_options o = {.address = c->address,
                             .port = c->port,
                             .hosts = c->hosts_n ? (const char *const *)c->hosts : NULL,
                             .body_max = body_max,
                             .lane = lane,
                             .handle = handle,
                             .refuse = refuse,
                             .ctx = s};
    enum status e = http_start(&o, &s->http, out_port, why);
    for (int i = 0; e == E_BUSY && c->or_next && i < PORTS_TRIED && o.port < 65535; i++) {
        o.port++;
        e = http_start(&o, &s->http, out_port, why);
    }
    return e;
}

/* ---- what waits until the server answers ---- */

struct after {
    struct serve *serve;
    atomic_bool stop;
    pthread_t thread;
    bool runs;
};

static bool after_stopped(void *ctx) {
    return atomic_load(&((struct after *)ctx)->stop);
}

/* The recipes of all pieces are searched before somebody waits for them; then the copy of the day.
 */
static void *after_ready(void *arg) {
    struct after *a = arg;
    struct arena arena;
    struct text json = {0};
    struct why why = {0};
    int64_t revision;
    arena_init(&arena, alloc_heap(), 0);
    answer_inside(&a->serve->app, "/api/shopping", "", &arena, &json, &revision);
    text_free(&json);
    arena_free(&arena);
    struct limit limit = {.stop = after_stopped, .ctx = a};
    if (app_daily(&a->serve->app, &limit, &why) && !after_stopped(a))
        fprintf(stderr, "The copy of the day was not made. %s\n", why.text);
    return NULL;
}

static void after_begin(struct after *a) {
    a->runs = a->serve->app.store && !pthread_create(&a->thread, NULL, after_ready, a);
}

static void after_end(struct after *a) {
    atomic_store(&a->stop, true);
    if (a->runs) pthread_join(a->thread, NULL);
}

/* Until a signal ends it: tells the pages when the book has moved, by whomever. */
static void stay(struct serve *s, const sigset_t *ends) {
    int64_t last = app_revision(&s->app);
    for (;;) {
        struct timespec quarter = {.tv_sec = 0, .tv_nsec = 250000000};
        if (sigtimedwait(ends, NULL, &quarter) > 0) return;
        int64_t now = s->app.store ? app_revision(&s->app) : INT64_MIN;
        if (now == last || now == INT64_MIN) continue;
        char data[64];
        snprintf(data, sizeof data, "{\"revision\":%lld}", (long long)now);
        http_event(s->http, "change", data);
        last = now;
    }
}

int serve_main(int argc, char **argv) {
    struct serve s = {.app = {.tables = &tables_builtin, .now_utc_min = clock_now}};
    struct choice c;
    struct why why = {0};
    struct text api = {0};
    sigset_t ends;
    int port, code = choose(&c, argc, argv);
    if (code) {
        usage(code < 0 ? stdout : stderr);
        return code < 0 ? 0 : code;
    }
    /* before any thread is made, so that all inherit it */
    sigemptyset(&ends);
    sigaddset(&ends, SIGINT);
    sigaddset(&ends, SIGTERM);
    sigprocmask(SIG_BLOCK, &ends, NULL);
    signal(SIGPIPE, SIG_IGN);
    enum status e = openapi_print(&api);
    s.api = api.at;
    s.api_n = api.n;
    if (e == OK && c.job) e = plan_job(&s, c.job, &why);
    if (e == OK && !c.job)
        e = app_open(&s.app, c.book ? c.book : getenv("COATWRIGHT_BOOK"), true, true, &why);
    if (e == OK) e = start(&s, &c, &port, &why);
    if (e == OK) {
        const char *six = strchr(c.address, ':') ? "[" : "";
        printf("ready http://%s%s%s:%d/\n", six, c.address, *six ? "]" : "", port);
        fflush(stdout);
        struct after after = {.serve = &s};
        after_begin(&after);
        stay(&s, &ends);
        http_stop(s.http);
        after_end(&after);
    }
    app_close(&s.app);
    free(s.job);
    text_free(&api);
    return e == OK ? 0 : fail(e, &why);
}
