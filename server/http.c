/* The only file that knows libmicrohttpd. What the library lets through though it must not pass
 * (two Host or Content-Length, Content-Length beside chunked, NUL in a header or path, unknown
 * methods, slow drips) is refused here. */
#include "server/http.h"

#include "server/http_check.h"
#include "server/http_pool.h"

#include <arpa/inet.h>
#include <errno.h>
#include <microhttpd.h>
#include <netinet/in.h>
#include <pthread.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>
#include <sys/resource.h>
#include <sys/socket.h>
#include <time.h>
#include <unistd.h>

enum {
    CONNECTIONS_MAX = 1000,
    HEADERS_BYTES_MAX = 32 * 1024,
    HEADERS_COUNT_MAX = 64,
    STREAMS_MAX = 64,
    IDLE_S = 30,      /* the library's own, for silence */
    HEAD_MS = 12000,  /* for a request line, and again for the headers, however they drip */
    BODY_MS = 60000,  /* for a body */
    SEND_MS = 120000, /* for an answer */
    BEAT_MS = 15000,  /* a sign of life on event streams */
    STOP_MS = 8000,
    ARENA_MAX = 512 << 20
};

enum stage { STAGE_HEAD, STAGE_BODY, STAGE_WORK, STAGE_SEND, STAGE_STREAM };

/* One socket, for the watch over deadlines. */
struct line {
    struct line *next, **prev;
    int fd;
    enum stage stage;
    int64_t since_ms;
};

struct stream {
    struct stream *next;
    struct MHD_Connection *connection;
    char waiting[512]; /* what is to be sent next */
    size_t n, sent;
    bool suspended, over;
    struct http *http;
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
    bool checked, dispatched, answered, too_large;
    int fd;
    int64_t asked_ms; /* when the client was last looked at */
    bool left;
};

struct http {
    struct http_options options;
    struct http_names names;
    struct MHD_Daemon *daemon;
    struct pool *pool;
    int listener;
    pthread_t watcher;
    bool watching;
    pthread_mutex_t lock; /* lines, streams, counts, stopping */
    pthread_cond_t wake;
    struct line *lines;
    struct stream *streams;
    size_t streams_n, working;
    bool stopping;
};

static int64_t now_ms(void) {
    struct timespec t;
    clock_gettime(CLOCK_MONOTONIC, &t);
    return (int64_t)t.tv_sec * 1000 + t.tv_nsec / 1000000;
}

void http_header_add(struct http_response *r, const char *name, const char *value) {
    if (r->headers_n < HTTP_HEADERS_MAX)
        r->headers[r->headers_n++] = (struct http_header){name, value};
}

/* ---- deadlines ---- */

static struct line *line_of(struct MHD_Connection *c) {
    const union MHD_ConnectionInfo *info =
        MHD_get_connection_info(c, MHD_CONNECTION_INFO_SOCKET_CONTEXT);
    return info ? info->socket_context : NULL;
}

static void enter(struct http *h, struct MHD_Connection *c, enum stage stage) {
    struct line *l = line_of(c);
    if (!l) return;
    pthread_mutex_lock(&h->lock);
    l->stage = stage;
    l->since_ms = now_ms();
    pthread_mutex_unlock(&h->lock);
}

static void connection_event(void *cls, struct MHD_Connection *c, void **context,
                             enum MHD_ConnectionNotificationCode code) {
    struct http *h = cls;
    struct line *l = *context;
    if (code == MHD_CONNECTION_NOTIFY_STARTED) {
        const union MHD_ConnectionInfo *info =
            MHD_get_connection_info(c, MHD_CONNECTION_INFO_CONNECTION_FD);
        if (!info || !(l = calloc(1, sizeof *l))) return;
        l->fd = info->connect_fd;
        l->since_ms = now_ms();
        pthread_mutex_lock(&h->lock);
        l->next = h->lines;
        l->prev = &h->lines;
        if (l->next) l->next->prev = &l->next;
        h->lines = l;
        pthread_mutex_unlock(&h->lock);
        *context = l;
    } else if (l) {
        pthread_mutex_lock(&h->lock);
        *l->prev = l->next;
        if (l->next) l->next->prev = l->prev;
        pthread_mutex_unlock(&h->lock);
        free(l);
        *context = NULL;
    }
}

static bool is_late(const struct line *l, int64_t now) {
    static const int64_t allowed[] = {
        [STAGE_HEAD] = HEAD_MS, [STAGE_BODY] = BODY_MS, [STAGE_SEND] = SEND_MS};
    if (l->stage == STAGE_WORK || l->stage == STAGE_STREAM) return false;
    return now - l->since_ms > allowed[l->stage];
}

static void stream_wake(struct stream *s) {
    if (!s->suspended) return;
    s->suspended = false;
    MHD_resume_connection(s->connection);
}

/* Once a second: hang up on who drips, and send signs of life. Shutting a socket down lets the
 * library see its end; the lock keeps the number from being used again meanwhile. */
static void *watch(void *arg) {
    struct http *h = arg;
    int64_t beat = now_ms();
    pthread_mutex_lock(&h->lock);
    while (!h->stopping) {
        struct timespec until;
        clock_gettime(CLOCK_REALTIME, &until);
        until.tv_sec++;
        pthread_cond_timedwait(&h->wake, &h->lock, &until);
        int64_t now = now_ms();
        for (struct line *l = h->lines; l; l = l->next)
            if (is_late(l, now)) shutdown(l->fd, SHUT_RDWR);
        if (now - beat < BEAT_MS) continue;
        beat = now;
        for (struct stream *s = h->streams; s; s = s->next) {
            if (!s->n) s->n = (size_t)snprintf(s->waiting, sizeof s->waiting, ": \n\n");
            stream_wake(s);
        }
    }
    pthread_mutex_unlock(&h->lock);
    return NULL;
}

/* ---- event streams ---- */

static ssize_t stream_read(void *cls, uint64_t pos, char *buf, size_t max) {
    struct stream *s = cls;
    ssize_t n = 0;
    (void)pos;
    pthread_mutex_lock(&s->http->lock);
    if (s->sent < s->n) {
        n = (ssize_t)(s->n - s->sent < max ? s->n - s->sent : max);
        memcpy(buf, s->waiting + s->sent, (size_t)n);
        s->sent += (size_t)n;
        if (s->sent == s->n) s->n = s->sent = 0;
    } else if (s->http->stopping) {
        n = MHD_CONTENT_READER_END_OF_STREAM;
    } else {
        s->suspended = true;
        MHD_suspend_connection(s->connection);
    }
    pthread_mutex_unlock(&s->http->lock);
    return n;
}

static void stream_free(void *cls) {
    struct stream *s = cls;
    struct http *h = s->http;
    pthread_mutex_lock(&h->lock);
    for (struct stream **at = &h->streams; *at; at = &(*at)->next)
        if (*at == s) {
            *at = s->next;
            h->streams_n--;
            break;
        }
    pthread_mutex_unlock(&h->lock);
    free(s);
}

void http_event(struct http *h, const char *name, const char *data) {
    pthread_mutex_lock(&h->lock);
    for (struct stream *s = h->streams; s; s = s->next) {
        if (s->sent) continue; /* in the middle of one; that one brings the reader up to date */
        int n = snprintf(s->waiting, sizeof s->waiting, "event: %s\ndata: %s\n\n", name, data);
        s->n = n > 0 && (size_t)n < sizeof s->waiting ? (size_t)n : 0;
        stream_wake(s);
    }
    pthread_mutex_unlock(&h->lock);
}

static struct MHD_Response *stream_open(struct http *h, struct MHD_Connection *c) {
    struct stream *s = calloc(1, sizeof *s);
    if (!s) return NULL;
    *s = (struct stream){.connection = c, .http = h};
    s->n = (size_t)snprintf(s->waiting, sizeof s->waiting, "retry: 3000\n\n");
    pthread_mutex_lock(&h->lock);
    bool room = h->streams_n < STREAMS_MAX && !h->stopping;
    if (room) {
        s->next = h->streams;
        h->streams = s;
        h->streams_n++;
    }
    pthread_mutex_unlock(&h->lock);
    struct MHD_Response *r =
        room ? MHD_create_response_from_callback(MHD_SIZE_UNKNOWN, 512, stream_read, s, stream_free)
             : NULL;
    if (!r) {
        if (room)
            stream_free(s);
        else
            free(s);
    }
    return r;
}

/* ---- what came in ---- */

static const struct {
    const char *name;
    enum http_method method;
} methods[] = {{"GET", HTTP_GET},     {"POST", HTTP_POST},     {"PUT", HTTP_PUT},
               {"PATCH", HTTP_PATCH}, {"DELETE", HTTP_DELETE}, {"HEAD", HTTP_HEAD}};

struct header_look {
    struct exchange *x;
    int n, hosts, lengths, chunked;
    size_t bytes; /* that the headers take when each is written "Name: value" CR LF */
    bool foul;
};

static enum MHD_Result look_at_header(void *cls, enum MHD_ValueKind kind, const char *key,
                                      size_t key_n, const char *value, size_t value_n) {
    struct header_look *l = cls;
    struct http_request *r = &l->x->request;
    struct {
        const char *name, **to;
    } wanted[] = {{"Host", &r->host},
                  {"Origin", &r->origin},
                  {"Content-Type", &r->content_type},
                  {"If-Match", &r->if_match},
                  {"Idempotency-Key", &r->key},
                  {"Accept-Encoding", &r->accept_encoding},
                  {"Sec-Fetch-Site", &r->fetch_site}};
    (void)kind;
    l->n++;
    if (!value) value = "", value_n = 0;
    l->bytes += key_n + value_n + 4;
    for (const char *c = value; *c; c++)
        if (((unsigned char)*c < 0x20 && *c != '\t') || *c == 0x7f) l->foul = true;
    l->hosts += !strcasecmp(key, "Host");
    l->lengths += !strcasecmp(key, "Content-Length");
    l->chunked += !strcasecmp(key, "Transfer-Encoding");
    for (size_t i = 0; i < sizeof wanted / sizeof *wanted; i++)
        if (!strcasecmp(key, wanted[i].name)) *wanted[i].to = value;
    return MHD_YES;
}

/* The bytes of a body that is announced; 0 when it comes in chunks or not at all. */
static bool announced(struct MHD_Connection *c, uint64_t *out) {
    const char *text = MHD_lookup_connection_value(c, MHD_HEADER_KIND, "Content-Length");
    char *end;
    *out = 0;
    if (!text) return true;
    if (*text < '0' || *text > '9') return false;
    errno = 0;
    *out = strtoull(text, &end, 10);
    return !*end && !errno;
}

/* The library drops what stands behind a NUL, and takes a bare LF for a line's end. Both change how
 * many bytes came, so headers must have the length that they have when written as programs write
 * them: one blank behind the colon or none, CR LF. */
static bool odd_bytes(struct exchange *x, const char *method, const char *version,
                      const struct header_look *look) {
    const union MHD_ConnectionInfo *info =
        MHD_get_connection_info(x->connection, MHD_CONNECTION_INFO_REQUEST_HEADER_SIZE);
    size_t line = strlen(method) + strlen(x->raw) + strlen(version) + 4,
           want = line + look->bytes + 2;
    return !info || info->header_size > want || info->header_size + (size_t)look->n < want;
}

/* Headers and request line; OK, or what is wrong with them. */
static enum status check(struct exchange *x, const char *method, const char *version,
                         const char **out_text) {
    struct header_look look = {.x = x};
    uint64_t length;
    *out_text = "The request is not well formed.";
    x->request.method = HTTP_OTHER;
    for (size_t i = 0; i < sizeof methods / sizeof *methods; i++)
        if (!strcmp(method, methods[i].name)) x->request.method = methods[i].method;
    MHD_get_connection_values_n(x->connection, MHD_HEADER_KIND, look_at_header, &look);
    if (look.foul || look.hosts != 1 || look.lengths > 1 || (look.lengths && look.chunked) ||
        look.chunked > 1 || odd_bytes(x, method, version, &look) || look.n > HEADERS_COUNT_MAX ||
        !announced(x->connection, &length))
        return E_SYNTAX;
    x->path = malloc(strlen(x->raw) + 1);
    if (!x->path) return E_MEMORY;
    if (!http_path(x->raw, x->path, &x->request.query)) return E_SYNTAX;
    x->request.path = x->path;
    if (x->request.method == HTTP_OTHER) {
        *out_text = "That cannot be done here.";
        return E_METHOD;
    }
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
        r = stream_open(x->http, x->connection);
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
    int64_t now = now_ms();
    char c;
    if (x->left) return true;
    if (now - x->asked_ms < 50) return false;
    x->asked_ms = now;
    pthread_mutex_lock(&x->http->lock);
    x->left = x->http->stopping;
    pthread_mutex_unlock(&x->http->lock);
    if (recv(x->fd, &c, 1, MSG_PEEK | MSG_DONTWAIT) == 0) x->left = true;
    return x->left;
}

static void handle(struct exchange *x) {
    x->http->options.handle(x->http->options.ctx, &x->request, &x->response);
    x->answered = true;
}

static void run_job(void *ctx, struct pool_job *job) {
    struct http *h = ctx;
    struct exchange *x = (struct exchange *)job;
    handle(x);
    pthread_mutex_lock(&h->lock);
    h->working--;
    /* under the lock: after it the exchange may be gone */
    MHD_resume_connection(x->connection);
    pthread_cond_broadcast(&h->wake);
    pthread_mutex_unlock(&h->lock);
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
    if (!stopping) h->working++;
    pthread_mutex_unlock(&h->lock);
    if (stopping) return refuse(x, E_BUSY, "The server is stopping.");
    enter(h, x->connection, STAGE_WORK);
    MHD_suspend_connection(x->connection);
    pool_add(h->pool, &x->job);
    return MHD_YES;
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
    const union MHD_ConnectionInfo *info =
        MHD_get_connection_info(c, MHD_CONNECTION_INFO_CONNECTION_FD);
    x->fd = info ? info->connect_fd : -1;
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
        if (x->body.n + *data_n > x->body_max) return MHD_NO; /* more than announced */
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

static enum status listen_at(const char *address, int port, int *out_fd, int *out_port,
                             struct why *why) {
    struct sockaddr_in v4 = {.sin_family = AF_INET, .sin_port = htons((uint16_t)port)};
    struct sockaddr_in6 v6 = {.sin6_family = AF_INET6, .sin6_port = htons((uint16_t)port)};
    bool six = strchr(address, ':') != NULL;
    struct sockaddr *at = six ? (struct sockaddr *)&v6 : (struct sockaddr *)&v4;
    socklen_t n = six ? sizeof v6 : sizeof v4;
    int one = 1;
    bool known = six ? inet_pton(AF_INET6, address, &v6.sin6_addr) == 1
                     : inet_pton(AF_INET, address, &v4.sin_addr) == 1;
    bool local = known && (six ? IN6_IS_ADDR_LOOPBACK(&v6.sin6_addr)
                               : (ntohl(v4.sin_addr.s_addr) >> 24) == 127);
    if (!local)
        return why_say(why, E_FORBIDDEN, "/listen",
                       "\"%.60s\" is not an address of this machine alone. "
                       "Write 127.0.0.1:7878.",
                       address);
    int fd = socket(six ? AF_INET6 : AF_INET, SOCK_STREAM | SOCK_CLOEXEC | SOCK_NONBLOCK, 0);
    if (fd < 0) return why_say(why, E_IO, "", "No socket: %s.", strerror(errno));
    setsockopt(fd, SOL_SOCKET, SO_REUSEADDR, &one, sizeof one);
    if (bind(fd, at, n) < 0 || listen(fd, 512) < 0) {
        int e = errno;
        close(fd);
        if (e == EADDRINUSE)
            return why_say(why, E_BUSY, "/listen",
                           "Port %d is in use by another program. Choose another: "
                           "--listen 127.0.0.1:%d.",
                           port, port < 65535 ? port + 1 : 7878);
        return why_say(why, E_IO, "/listen", "Port %d cannot be used: %s.", port, strerror(e));
    }
    getsockname(fd, at, &n);
    *out_port = ntohs(six ? v6.sin6_port : v4.sin_port);
    *out_fd = fd;
    return OK;
}

/* A file number for every connection that is allowed. */
static void raise_files(void) {
    struct rlimit l;
    if (getrlimit(RLIMIT_NOFILE, &l) == 0 && l.rlim_cur < 2 * CONNECTIONS_MAX) {
        l.rlim_cur = l.rlim_max < 2 * CONNECTIONS_MAX ? l.rlim_max : 2 * CONNECTIONS_MAX;
        setrlimit(RLIMIT_NOFILE, &l);
    }
}

enum status http_start(const struct http_options *options, struct http **out_http, int *out_port,
                       struct why *why) {
    struct http *h = calloc(1, sizeof *h);
    int port = 0;
    if (!h) return why_no_memory(why);
    h->options = *options;
    pthread_mutex_init(&h->lock, NULL);
    pthread_cond_init(&h->wake, NULL);
    enum status s = listen_at(options->address, options->port, &h->listener, &port, why);
    if (s != OK) {
        free(h);
        return s;
    }
    raise_files();
    h->names = (struct http_names){port, options->hosts};
    h->pool = pool_make(run_job, h);
    h->daemon = MHD_start_daemon(
        MHD_USE_EPOLL_INTERNAL_THREAD | MHD_ALLOW_SUSPEND_RESUME, 0, NULL, NULL, access_handler, h,
        MHD_OPTION_LISTEN_SOCKET, h->listener, MHD_OPTION_CONNECTION_LIMIT,
        (unsigned)CONNECTIONS_MAX, MHD_OPTION_CONNECTION_MEMORY_LIMIT, (size_t)HEADERS_BYTES_MAX,
        MHD_OPTION_CONNECTION_TIMEOUT, (unsigned)IDLE_S, MHD_OPTION_STRICT_FOR_CLIENT, 1,
        MHD_OPTION_URI_LOG_CALLBACK, request_line, h, MHD_OPTION_NOTIFY_CONNECTION,
        connection_event, h, MHD_OPTION_NOTIFY_COMPLETED, completed, h,
        MHD_OPTION_UNESCAPE_CALLBACK, keep_escapes, NULL, MHD_OPTION_END);
    h->watching = h->daemon && !pthread_create(&h->watcher, NULL, watch, h);
    *out_http = h;
    *out_port = port;
    if (h->daemon && h->pool && h->watching) return OK;
    http_stop(h);
    *out_http = NULL;
    return why_say(why, E_IO, "", "The server could not be started: %s.", strerror(errno));
}

/* The library must not be stopped while a connection is suspended: first everybody is woken and
 * what is under way gets its answer. */
void http_stop(struct http *h) {
    if (!h) return;
    if (h->daemon) MHD_quiesce_daemon(h->daemon);
    pthread_mutex_lock(&h->lock);
    h->stopping = true;
    pthread_cond_broadcast(&h->wake);
    for (struct stream *s = h->streams; s; s = s->next) stream_wake(s);
    pthread_mutex_unlock(&h->lock);
    if (h->watching) pthread_join(h->watcher, NULL);
    pool_free(h->pool); /* runs what is queued: long work sees `stopping` */
    for (int waited = 0; waited < STOP_MS; waited += 10) {
        pthread_mutex_lock(&h->lock);
        bool busy = h->streams_n > 0;
        for (struct line *l = h->lines; l; l = l->next)
            busy |= l->stage == STAGE_WORK || l->stage == STAGE_SEND;
        for (struct stream *s = h->streams; s; s = s->next) stream_wake(s);
        pthread_mutex_unlock(&h->lock);
        if (!busy) break;
        usleep(10000);
    }
    if (h->daemon) MHD_stop_daemon(h->daemon);
    if (h->listener > 0) close(h->listener);
    pthread_mutex_destroy(&h->lock);
    pthread_cond_destroy(&h->wake);
    free(h);
}
