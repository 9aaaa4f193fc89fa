/* The only file that knows libmicrohttpd. What the library lets through though it must not pass
 * (names with blanks, two Host or Content-Length, other transfer codings, Content-Length beside
 * chunked, NUL in a header or path, slow drips) is refused here, by http_check and http_watch. */
#include "server/http.h"

#include "server/http_check.h"
#include "server/http_events.h"
#include "server/http_listen.h"
#include "server/http_pool.h"
#include "server/http_watch.h"
#include "server/steady.h"

#include <errno.h>
#include <microhttpd.h>
#include <pthread.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/socket.h>
#include <unistd.h>

enum {
    CONNECTIONS_MAX = 1000,
    HEADERS_BYTES_MAX = 32 * 1024,
    IDLE_S = 30, /* the library's own, for silence */
    STOP_MS = 8000,
    STREAM_BLOCK = 512,
    ARENA_MAX = 512 << 20
};

struct exchange {
    struct pool_job job; /* first */
    struct http *http;
    struct MHD_Connection *connection;
    struct http_request request;
    struct http_response response;
    char *raw, *path; /* of the request line, as it came and decoded */
    struct text body;
    size_t body_max;
    bool checked, dispatched, answered;
    int fd;
    int64_t asked_ms; /* when the client was last looked at */
    bool left;
};

struct http {
    struct http_options options;
    struct http_names names;
    struct MHD_Daemon *daemon;
    struct pool *pool;
    struct watch *watch;
    struct events *events;
    int listener;
    pthread_mutex_t lock; /* stopping, and that nothing joins the pool behind it */
    bool stopping;
};

void http_header_add(struct http_response *r, const char *name, const char *value) {
    if (r->headers_n < HTTP_HEADERS_MAX)
        r->headers[r->headers_n++] = (struct http_header){name, value};
}

static bool is_stopping(struct http *h) {
    pthread_mutex_lock(&h->lock);
    bool stopping = h->stopping;
    pthread_mutex_unlock(&h->lock);
    return stopping;
}

/* ---- connections and their deadlines ---- */

static int socket_of(struct MHD_Connection *c) {
    const union MHD_ConnectionInfo *info =
        MHD_get_connection_info(c, MHD_CONNECTION_INFO_CONNECTION_FD);
    return info ? info->connect_fd : -1;
}

static void enter(struct http *h, struct MHD_Connection *c, enum stage stage) {
    const union MHD_ConnectionInfo *info =
        MHD_get_connection_info(c, MHD_CONNECTION_INFO_SOCKET_CONTEXT);
    watch_enter(h->watch, info ? info->socket_context : NULL, stage);
}

static void connection_event(void *cls, struct MHD_Connection *c, void **context,
                             enum MHD_ConnectionNotificationCode code) {
    struct http *h = cls;
    if (code == MHD_CONNECTION_NOTIFY_STARTED) {
        *context = watch_open(h->watch, socket_of(c));
    } else {
        watch_close(h->watch, *context);
        *context = NULL;
    }
}

/* ---- event streams ---- */

static void pause_stream(void *connection) {
    MHD_suspend_connection(connection);
}

static void resume_stream(void *connection) {
    MHD_resume_connection(connection);
}

static void beat(void *ctx) {
    events_beat(((struct http *)ctx)->events);
}

static ssize_t read_stream(void *cls, uint64_t pos, char *buf, size_t max) {
    (void)pos;
    return events_read(cls, buf, max);
}
_Static_assert((ssize_t)MHD_CONTENT_READER_END_OF_STREAM == STREAM_END, "one word for the end");

static void close_stream(void *cls) {
    events_close(cls);
}

static struct MHD_Response *open_stream(struct http *h, struct MHD_Connection *c) {
    struct stream *s = events_open(h->events, c);
    struct MHD_Response *r = s ? MHD_create_response_from_callback(MHD_SIZE_UNKNOWN, STREAM_BLOCK,
                                                                   read_stream, s, close_stream)
                               : NULL;
    if (s && !r) events_close(s);
    return r;
}

void http_event(struct http *h, const char *name, const char *data) {
    events_send(h->events, name, data);
}

/* ---- what came in ---- */

static const struct {
    const char *name;
    enum http_method method;
} methods[] = {{"GET", HTTP_GET},     {"POST", HTTP_POST},     {"PUT", HTTP_PUT},
               {"PATCH", HTTP_PATCH}, {"DELETE", HTTP_DELETE}, {"HEAD", HTTP_HEAD}};

static enum MHD_Result take_header(void *cls, enum MHD_ValueKind kind, const char *name,
                                   size_t name_n, const char *value, size_t value_n) {
    (void)kind;
    http_head_add(cls, name, name_n, value ? value : "", value ? value_n : 0);
    return MHD_YES;
}

/* Headers and request line; OK, or what is wrong with them. */
static enum status check(struct exchange *x, const char *method, const char *version,
                         const char **out_text) {
    struct http_head head = {.request = &x->request};
    uint64_t length;
    *out_text = "The request is not well formed.";
    x->request.method = HTTP_OTHER;
    for (size_t i = 0; i < sizeof methods / sizeof *methods; i++)
        if (!strcmp(method, methods[i].name)) x->request.method = methods[i].method;
    MHD_get_connection_values_n(x->connection, MHD_HEADER_KIND, take_header, &head);
    const union MHD_ConnectionInfo *info =
        MHD_get_connection_info(x->connection, MHD_CONNECTION_INFO_REQUEST_HEADER_SIZE);
    size_t line_n = strlen(method) + strlen(x->raw) + strlen(version) + 4;
    if (!info || !http_head_is_good(&head, version, line_n, info->header_size, &length))
        return E_SYNTAX;
    x->path = malloc(strlen(x->raw) + 1);
    if (!x->path) return E_MEMORY;
    if (!http_path(x->raw, x->path, &x->request.query)) return E_SYNTAX;
    x->request.path = x->path;
    *out_text = "The body is larger than is allowed here.";
    x->body_max = x->http->options.body_max(x->http->options.ctx, &x->request);
    if (length > x->body_max) return E_TOO_LARGE;
    /* a body may still be of the wrong type: looked at again when it is there */
    return http_may_come(&x->http->names, &x->request, out_text);
}

/* ---- what goes out ---- */

static void owned_free(void *p) {
    free(p);
}

static enum MHD_Result send_answer(struct exchange *x) {
    struct http_response *o = &x->response;
    struct MHD_Response *r;
    if (o->events) {
        r = open_stream(x->http, x->connection);
        if (!r) o->status = 503;
    } else if (o->fixed) {
        r = MHD_create_response_from_buffer(o->fixed_n, (void *)(uintptr_t)o->fixed,
                                            MHD_RESPMEM_PERSISTENT);
    } else {
        r = MHD_create_response_from_buffer_with_free_callback(o->owned.n, o->owned.at, owned_free);
        if (r) o->owned = (struct text){0};
    }
    if (!r) r = MHD_create_response_from_buffer(0, (void *)(uintptr_t) "", MHD_RESPMEM_PERSISTENT);
    if (!r) return MHD_NO;
    static const char *const always[][2] = {{"X-Content-Type-Options", "nosniff"},
                                            {"Referrer-Policy", "no-referrer"},
                                            {"X-Frame-Options", "DENY"},
                                            {"Cross-Origin-Resource-Policy", "same-origin"},
                                            {"Cross-Origin-Opener-Policy", "same-origin"}};
    for (size_t i = 0; i < sizeof always / sizeof *always; i++)
        MHD_add_response_header(r, always[i][0], always[i][1]);
    if (o->type) MHD_add_response_header(r, "Content-Type", o->type);
    for (size_t i = 0; i < o->headers_n; i++)
        MHD_add_response_header(r, o->headers[i].name, o->headers[i].value);
    enter(x->http, x->connection, o->events ? STAGE_STREAM : STAGE_SEND);
    enum MHD_Result done =
        MHD_queue_response(x->connection, (unsigned)(o->status ? o->status : 500), r);
    MHD_destroy_response(r);
    return done;
}

static enum MHD_Result refuse(struct exchange *x, enum status s, const char *text) {
    x->http->options.refuse(x->http->options.ctx, s, text, &x->response);
    x->answered = true;
    http_header_add(&x->response, "Connection", "close");
    return send_answer(x);
}

/* Asked by long computations: the client's socket is looked at twenty times a second at most. */
static bool gone(void *ctx) {
    struct exchange *x = ctx;
    int64_t now = steady_ms();
    char c;
    if (x->left) return true;
    if (now - x->asked_ms < 50) return false;
    x->asked_ms = now;
    x->left = is_stopping(x->http) || recv(x->fd, &c, 1, MSG_PEEK | MSG_DONTWAIT) == 0;
    return x->left;
}

static void handle(struct exchange *x) {
    x->http->options.handle(x->http->options.ctx, &x->request, &x->response);
    x->answered = true;
}

static void run_job(void *ctx, struct pool_job *job) {
    struct exchange *x = (struct exchange *)job;
    (void)ctx;
    handle(x);
    MHD_resume_connection(x->connection); /* last: the exchange may be gone behind it */
}

static enum MHD_Result dispatch(struct exchange *x) {
    struct http *h = x->http;
    const char *text;
    x->request.body = x->body.at ? x->body.at : "";
    x->request.body_n = x->body.n;
    if (x->body.failed) return refuse(x, E_MEMORY, "There is not enough memory.");
    enum status s = http_may_come(&h->names, &x->request, &text);
    if (s != OK) return refuse(x, s, text);
    arena_init(&x->response.arena, alloc_heap(), ARENA_MAX);
    enum http_lane lane = h->options.lane(h->options.ctx, &x->request);
    x->dispatched = true;
    if (lane == LANE_NOW) {
        handle(x);
        return send_answer(x);
    }
    x->job.slow = lane == LANE_SLOW;
    pthread_mutex_lock(&h->lock);
    bool stopping = h->stopping;
    if (!stopping) {
        enter(h, x->connection, STAGE_WORK);
        MHD_suspend_connection(x->connection);
        pool_add(h->pool, &x->job);
    }
    pthread_mutex_unlock(&h->lock);
    return stopping ? refuse(x, E_BUSY, "The server is stopping.") : MHD_YES;
}

static void *request_line(void *cls, const char *uri, struct MHD_Connection *c) {
    struct exchange *x = calloc(1, sizeof *x);
    enter(cls, c, STAGE_HEAD);
    if (!x) return NULL;
    x->http = cls;
    x->connection = c;
    x->raw = strdup(uri);
    x->request.gone = gone;
    x->request.gone_ctx = x;
    x->fd = socket_of(c);
    return x;
}

static enum MHD_Result access_handler(void *cls, struct MHD_Connection *c, const char *url,
                                      const char *method, const char *version, const char *data,
                                      size_t *data_n, void **context) {
    struct exchange *x = *context;
    const char *text;
    (void)cls, (void)url, (void)c;
    if (!x || !x->raw) return MHD_NO;
    if (!x->checked) {
        x->checked = true;
        enum status s = check(x, method, version, &text);
        if (s != OK) return refuse(x, s, text);
        enter(x->http, x->connection, STAGE_BODY);
        return MHD_YES;
    }
    if (*data_n) {
        if (x->body.n + *data_n > x->body_max) return MHD_NO; /* in chunks: nothing was announced */
        text_add(&x->body, data, *data_n);
        *data_n = 0;
        return MHD_YES;
    }
    if (x->answered) return send_answer(x);
    return x->dispatched ? MHD_YES : dispatch(x);
}

static void completed(void *cls, struct MHD_Connection *c, void **context,
                      enum MHD_RequestTerminationCode code) {
    struct exchange *x = *context;
    (void)code;
    enter(cls, c, STAGE_HEAD);
    if (!x) return;
    text_free(&x->body);
    text_free(&x->response.owned);
    if (x->response.arena.alloc.put) arena_free(&x->response.arena);
    free(x->raw);
    free(x->path);
    free(x);
    *context = NULL;
}

/* Escapes are decoded by http_path, strictly. */
static size_t keep_escapes(void *cls, struct MHD_Connection *c, char *s) {
    (void)cls, (void)c;
    return strlen(s);
}

/* ---- starting and stopping ---- */

/* A file number for every connection that is allowed. */
static void raise_files(void) {
    struct rlimit l;
    if (getrlimit(RLIMIT_NOFILE, &l) == 0 && l.rlim_cur < 2 * CONNECTIONS_MAX) {
        l.rlim_cur = l.rlim_max < 2 * CONNECTIONS_MAX ? l.rlim_max : 2 * CONNECTIONS_MAX;
        setrlimit(RLIMIT_NOFILE, &l);
    }
}

static struct MHD_Daemon *daemon_start(struct http *h) {
    return MHD_start_daemon(
        MHD_USE_EPOLL_INTERNAL_THREAD | MHD_ALLOW_SUSPEND_RESUME, 0, NULL, NULL, access_handler, h,
        MHD_OPTION_LISTEN_SOCKET, h->listener, MHD_OPTION_CONNECTION_LIMIT,
        (unsigned)CONNECTIONS_MAX, MHD_OPTION_CONNECTION_MEMORY_LIMIT, (size_t)HEADERS_BYTES_MAX,
        MHD_OPTION_CONNECTION_TIMEOUT, (unsigned)IDLE_S, MHD_OPTION_STRICT_FOR_CLIENT, 1,
        MHD_OPTION_URI_LOG_CALLBACK, request_line, h, MHD_OPTION_NOTIFY_CONNECTION,
        connection_event, h, MHD_OPTION_NOTIFY_COMPLETED, completed, h,
        MHD_OPTION_UNESCAPE_CALLBACK, keep_escapes, NULL, MHD_OPTION_END);
}

enum status http_start(const struct http_options *options, struct http **out_http, int *out_port,
                       struct why *why) {
    struct http *h = calloc(1, sizeof *h);
    int port = 0;
    if (!h) return why_no_memory(why);
    h->options = *options;
    enum status s = http_listen(options->address, options->port, &h->listener, &port, why);
    if (s != OK) {
        free(h);
        return s;
    }
    raise_files();
    h->names = (struct http_names){port, options->hosts};
    pthread_mutex_init(&h->lock, NULL);
    h->events = events_make(pause_stream, resume_stream);
    h->watch = h->events ? watch_make(beat, h) : NULL;
    h->pool = h->watch ? pool_make(run_job, h) : NULL;
    h->daemon = h->pool ? daemon_start(h) : NULL;
    if (!h->daemon) {
        int e = errno;
        http_stop(h);
        return why_say(why, E_IO, "", "The server could not be started: %s.", strerror(e));
    }
    *out_http = h;
    *out_port = port;
    return OK;
}

/* The library must not be stopped while a connection is suspended: first everybody is woken and
 * what is under way gets its answer. */
void http_stop(struct http *h) {
    if (!h) return;
    if (h->daemon) MHD_quiesce_daemon(h->daemon);
    pthread_mutex_lock(&h->lock);
    h->stopping = true;
    pthread_mutex_unlock(&h->lock);
    if (h->watch) watch_stop(h->watch);
    pool_free(h->pool); /* runs what is queued: long work sees `stopping` */
    if (h->daemon) {
        for (int waited = 0; waited < STOP_MS; waited += 10) {
            bool listening = events_stop(h->events);
            if (!listening && !watch_busy(h->watch)) break;
            usleep(10000);
        }
        MHD_stop_daemon(h->daemon);
    }
    close(h->listener);
    watch_free(h->watch);
    events_free(h->events);
    pthread_mutex_destroy(&h->lock);
    free(h);
}
