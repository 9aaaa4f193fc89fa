#include "server/serve.h"

#include "server/after.h"
#include "server/one_job.h"
#include "server/openapi.h"
#include "server/serve_choice.h"
#include "server/site.h"

#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

enum { PORTS_TRIED = 50 };

static int64_t clock_now(void *ctx) {
    (void)ctx;
    return (int64_t)(time(NULL) / 60);
}

/* Port and address as asked for; with or_next the next that is free. */
static enum status start(struct site *site, const struct serve_choice *c, struct http **out_http,
                         int *out_port, struct why *why) {
    struct http_options o = {.address = c->address,
                             .port = c->port,
                             .hosts = c->hosts,
                             .body_max = site_body_max,
                             .lane = site_lane,
                             .handle = site_handle,
                             .refuse = site_refuse,
                             .ctx = site};
    enum status s = http_start(&o, out_http, out_port, why);
    for (int i = 0; s == E_BUSY && c->or_next && i < PORTS_TRIED && o.port < 65535; i++) {
        o.port++;
        s = http_start(&o, out_http, out_port, why);
    }
    return s;
}

static void say_ready(const char *address, int port) {
    const bool six = strchr(address, ':') != NULL;
    printf("ready http://%s%s%s:%d/\n", six ? "[" : "", address, six ? "]" : "", port);
    fflush(stdout);
}

/* Until a signal ends it: tells the pages when the book has moved, by whomever. */
static void stay(struct site *site, struct http *http, const sigset_t *ends) {
    const struct timespec quarter = {.tv_nsec = 250000000};
    int64_t last = app_revision(&site->app);
    while (sigtimedwait(ends, NULL, &quarter) <= 0) {
        int64_t now = app_revision(&site->app);
        if (now == last || now == INT64_MIN) continue;
        char data[64];
        snprintf(data, sizeof data, "{\"revision\":%lld}", (long long)now);
        http_event(http, "change", data);
        last = now;
    }
}

/* Before any thread is made, so that all inherit it. */
static void hold_signals(sigset_t *out_ends) {
    sigemptyset(out_ends);
    sigaddset(out_ends, SIGINT);
    sigaddset(out_ends, SIGTERM);
    sigprocmask(SIG_BLOCK, out_ends, NULL);
    signal(SIGPIPE, SIG_IGN);
}

static enum status serve(struct site *site, const struct serve_choice *c, const sigset_t *ends,
                         struct why *why) {
    struct http *http;
    int port;
    enum status s = start(site, c, &http, &port, why);
    if (s) return s;
    say_ready(c->address, port);
    struct after *after = after_begin(&site->app);
    stay(site, http, ends);
    after_stop(after);
    http_stop(http);
    after_free(after);
    return OK;
}

int serve_main(int argc, char **argv) {
    struct site site = {.app = {.tables = &tables_builtin, .now_utc_min = clock_now}};
    struct serve_choice c;
    struct text job = {0};
    struct why why = {0};
    sigset_t ends;
    enum serve_words words = serve_choose(&c, argc, argv);
    if (words) {
        serve_usage(words == SERVE_HELP ? stdout : stderr);
        return words == SERVE_HELP ? 0 : 2;
    }
    hold_signals(&ends);
    enum status s = openapi_print(&site.api);
    if (!s && c.job) s = one_job_plan(&site.app, c.job, &job, &why);
    if (!s && !c.job)
        s = app_open(&site.app, c.book ? c.book : getenv("COATWRIGHT_BOOK"), true, true, &why);
    site.job = job.at;
    if (!s) s = serve(&site, &c, &ends, &why);
    app_close(&site.app);
    text_free(&job);
    text_free(&site.api);
    if (s)
        fprintf(stderr, "%s%s%s\n", why.field, why.field[0] ? ": " : "",
                why.text[0] ? why.text : status_text(s));
    return s ? 1 : 0;
}
