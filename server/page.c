#include "server/page.h"

#include "server/answer.h"
#include "server/files.h"

#include <string.h>

enum { ASKS_MAX = 4 };

/* What each view asks for first, word for word; {id} is the address's second segment. Nothing that
 * searches recipes of all pieces: after a start that may take seconds. */
static const struct {
    const char *view;
    const char *asks[ASKS_MAX];
    bool rest; /* drawn by the second script (web/src/page/rest.ts) */
} views[] = {
    {"", {"/api/shop", "/api/today?days_only=true"}, false},
    {"today", {"/api/shop", "/api/today?days_only=true"}, false},
    {"pieces", {"/api/shop", "/api/pieces?documents=true&stage=open"}, false},
    {"pieces/", {"/api/shop", "/api/pieces/{id}", "/api/pieces/{id}/plan"}, false},
    {"pieces/new", {"/api/shop", "/api/pieces"}, true},
    {"pieces/worth", {"/api/shop"}, true},
    {"color", {"/api/shop", "/api/paints?limit=200", "/api/pieces"}, true},
    {"color/", {"/api/shop", "/api/paints?limit=200", "/api/pieces/{id}/plan"}, true},
    {"batches", {"/api/shop"}, true},
    {"batches/", {"/api/shop", "/api/batches/{id}"}, true},
    {"photo", {"/api/shop", "/api/paints?limit=200"}, true},
    {"shelf", {"/api/shop", "/api/paints?limit=200", "/api/supplies"}, true},
    {"clients", {"/api/shop", "/api/clients"}, true},
    {"clients/", {"/api/shop", "/api/clients/{id}", "/api/pieces?client={id}"}, true},
    {"money", {"/api/shop", "/api/money", "/api/money/pieces", "/api/pieces"}, true},
    {"days", {"/api/shop", "/api/days", "/api/pieces"}, false},
    {"shop", {"/api/shop", "/api/backups"}, true},
};

/* Row of views, or -1; "pieces/" stands for "pieces/ANYTHING". *out_id borrows from path. */
static int view_of(const char *path, const char **out_id) {
    const char *slash = strchr(path + 1, '/');
    size_t first = slash ? (size_t)(slash - path - 1) : strlen(path + 1);
    int found = -1;
    *out_id = slash ? slash + 1 : "";
    if (slash && (!slash[1] || strchr(slash + 1, '/'))) return -1;
    for (size_t i = 0; i < sizeof views / sizeof *views; i++) {
        const char *v = views[i].view;
        size_t n = strcspn(v, "/");
        if (n != first || memcmp(v, path + 1, n) || (v[n] == '/') != (slash != NULL)) continue;
        if (!v[n] || !strcmp(v + n + 1, *out_id)) return (int)i;
        if (!v[n + 1]) found = (int)i;
    }
    return found;
}

bool page_is(const char *path) {
    const char *id;
    return view_of(path, &id) >= 0;
}

/* Id as it may stand in an address that is put into the page. */
static bool plain_id(const char *id) {
    return strspn(id, "abcdefghijklmnopqrstuvwxyz0123456789-_") == strlen(id);
}

/* JSON where it stands between tags: what somebody typed must not end them. Outside of texts JSON
 * has no "<". */
static void add_inside(struct text *out, const char *json, size_t n) {
    for (const char *end = json + n, *open; json < end; json = open + 1) {
        open = memchr(json, '<', (size_t)(end - json));
        text_add(out, json, (size_t)((open ? open : end) - json));
        if (!open) return;
        text_print(out, "\\u003c");
    }
}

/* One of a view's asks, with the id in its place, as one more member where it can be answered:
 * "/api/pieces/chest/plan":{"revision":7,"body":...}
 */
static void one_answer(struct app *app, const char *ask, const char *id,
                       const struct http_request *page, struct arena *arena, struct text *out,
                       bool *any) {
    const char *hole = strstr(ask, "{id}");
    char *address = hole ? arena_print(arena, "%.*s%s%s", (int)(hole - ask), ask, id, hole + 4)
                         : arena_text(arena, ask);
    char *path = arena_text(arena, address), *mark = path ? strchr(path, '?') : NULL;
    struct text json = {0};
    int64_t revision;
    if (mark) *mark = 0;
    const struct http_request get = {.path = path,
                                     .query = mark ? mark + 1 : "",
                                     .gone = page->gone,
                                     .gone_ctx = page->gone_ctx};
    if (path && answer_inside(app, &get, arena, &json, &revision)) {
        if (*any) text_add(out, ",", 1);
        *any = true;
        text_json(out, address);
        text_print(out, ":{");
        if (revision != INT64_MIN) text_print(out, "\"revision\":%lld,", (long long)revision);
        text_print(out, "\"body\":");
        add_inside(out, json.at, json.n);
        text_add(out, "}", 1);
    }
    text_free(&json);
}

/* The second script is asked for together with the first. */
static void fetch_rest(struct http_response *out) {
    static const char stem[] = "/files/rest-";
    for (size_t i = 0; i < file_rows_n; i++)
        if (!strncmp(file_rows[i].url, stem, sizeof stem - 1))
            http_header_add(out, "Link",
                            arena_print(&out->arena, "<%s>; rel=modulepreload", file_rows[i].url));
}

static void first_data(struct app *app, const char *job, const struct http_request *page,
                       struct arena *arena, struct text *out) {
    const char *id;
    int view = view_of(page->path, &id);
    bool any = false;
    if (job) {
        text_print(out, "{\"job\":");
        add_inside(out, job, strlen(job));
        text_add(out, "}", 1);
        return;
    }
    text_print(out, "{\"answers\":{");
    for (size_t i = 0; view >= 0 && i < ASKS_MAX && views[view].asks[i]; i++)
        if (plain_id(id)) one_answer(app, views[view].asks[i], id, page, arena, out, &any);
    text_print(out, "}}");
}

void page_answer(struct app *app, const char *job, const struct http_request *request,
                 struct http_response *out) {
    static const char tag[] = "<script type=\"application/json\" id=\"first\">",
                      end[] = "</script>";
    const struct file_row *f = file_find("/");
    const char *id;
    int view = view_of(request->path, &id);
    if (!f) {
        out->status = 500;
        out->type = "text/plain; charset=utf-8";
        text_print(&out->owned, "The page was not built in.\n");
        return;
    }
    const char *html = (const char *)f->from;
    size_t n = (size_t)(f->to - f->from);
    const char *at = memmem(html, n, tag, sizeof tag - 1); /* what stands in it is replaced */
    const char *behind = at ? memmem(at, (size_t)(html + n - at), end, sizeof end - 1) : NULL;
    out->status = 200;
    out->type = f->type;
    text_add(&out->owned, html, behind ? (size_t)(at - html) + sizeof tag - 1 : n);
    if (behind) {
        first_data(app, job, request, &out->arena, &out->owned);
        text_add(&out->owned, behind, (size_t)(html + n - behind));
    }
    http_header_add(out, "Cache-Control", "no-store");
    if (view >= 0 && views[view].rest && !job) fetch_rest(out);
    http_header_add(out, "Content-Security-Policy",
                    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data: "
                    "blob:; font-src 'self'; connect-src 'self'; manifest-src 'self'; base-uri "
                    "'none'; form-action 'none'; frame-ancestors 'none'");
}
