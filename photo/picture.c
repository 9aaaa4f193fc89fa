/* The program's side: starts a worker, hands over a picture, takes its answer apart. */
#include "photo/picture.h"

#include "photo/raster.h"
#include "photo/worker.h"

#include <errno.h>
#include <fcntl.h>
#include <poll.h>
#include <signal.h>
#include <spawn.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

enum { WAIT_MS = 60000, ASKED_MS = 100 };

struct worker {
    pid_t pid;
    int from; /* its answer */
    int64_t until_ms;
    const struct limit *limit;
};

static int64_t now_ms(void) {
    struct timespec t;
    clock_gettime(CLOCK_MONOTONIC, &t);
    return (int64_t)t.tv_sec * 1000 + t.tv_nsec / 1000000;
}

static enum status not_started(struct why *why, int error) {
    return why_say(why, E_IO, "/photo", "The reading of pictures cannot be started: %s.",
                   strerror(error));
}

static bool put_all(int fd, const void *from, size_t n) {
    for (const char *p = from; n;) {
        ssize_t k = write(fd, p, n);
        if (k < 0 && errno == EINTR) continue;
        if (k <= 0) return false;
        p += k;
        n -= (size_t)k;
    }
    return true;
}

/* The question as memory that can be read and no longer changed; -1: there is none. */
static int pack(const struct worker_ask *ask, const struct picture_rect *rects, const void *bytes) {
    int fd = memfd_create("picture", MFD_CLOEXEC | MFD_ALLOW_SEALING);
    if (fd < 0) return -1;
    if (put_all(fd, ask, sizeof *ask) && put_all(fd, rects, ask->rects_n * sizeof *rects) &&
        put_all(fd, bytes, ask->bytes_n) &&
        !fcntl(fd, F_ADD_SEALS, F_SEAL_SHRINK | F_SEAL_GROW | F_SEAL_WRITE | F_SEAL_SEAL))
        return fd;
    close(fd);
    return -1;
}

/* This program again, with nothing of ours but the question and a pipe: no environment, no other
 * file, no signal blocked. A copy of the running image (fork) would share locks that other threads
 * hold. */
static int spawn(int ask, int answer, pid_t *out_pid) {
    static char *const argv[] = {(char *)(uintptr_t)WORKER_NAME, NULL}, *const envp[] = {NULL};
    posix_spawn_file_actions_t files;
    posix_spawnattr_t how;
    sigset_t none, all;
    sigemptyset(&none);
    sigfillset(&all);
    int e = posix_spawn_file_actions_init(&files);
    if (e) return e;
    if ((e = posix_spawnattr_init(&how))) {
        posix_spawn_file_actions_destroy(&files);
        return e;
    }
    /* first out of the way of each other: either may be 0 or 1 already */
    e = posix_spawn_file_actions_adddup2(&files, ask, 10);
    if (!e) e = posix_spawn_file_actions_adddup2(&files, answer, 11);
    if (!e) e = posix_spawn_file_actions_adddup2(&files, 10, WORKER_ASK_FD);
    if (!e) e = posix_spawn_file_actions_adddup2(&files, 11, WORKER_ANSWER_FD);
    if (!e) e = posix_spawn_file_actions_addopen(&files, 2, "/dev/null", O_WRONLY, 0);
    if (!e) e = posix_spawn_file_actions_addclosefrom_np(&files, 3);
    if (!e) e = posix_spawnattr_setsigmask(&how, &none);
    if (!e) e = posix_spawnattr_setsigdefault(&how, &all);
    if (!e) e = posix_spawnattr_setflags(&how, POSIX_SPAWN_SETSIGMASK | POSIX_SPAWN_SETSIGDEF);
    if (!e) e = posix_spawn(out_pid, "/proc/self/exe", &files, &how, argv, envp);
    posix_spawnattr_destroy(&how);
    posix_spawn_file_actions_destroy(&files);
    return e;
}

static enum status start(const struct worker_ask *ask, const struct picture_rect *rects,
                         const void *bytes, struct worker *w, struct why *why) {
    int pipes[2], e = 0, given = pack(ask, rects, bytes);
    if (given < 0) return not_started(why, errno);
    if (pipe2(pipes, O_CLOEXEC)) {
        e = errno;
        close(given);
        return not_started(why, e);
    }
    /* 10 and 11 are the numbers that spawn uses; ours must be others */
    int far_given = fcntl(given, F_DUPFD_CLOEXEC, 12),
        far_to = fcntl(pipes[1], F_DUPFD_CLOEXEC, 12);
    e = far_given < 0 || far_to < 0 ? errno : spawn(far_given, far_to, &w->pid);
    if (far_given >= 0) close(far_given);
    if (far_to >= 0) close(far_to);
    close(given);
    close(pipes[1]);
    w->from = pipes[0];
    if (!e) return OK;
    close(pipes[0]);
    return not_started(why, e);
}

/* n bytes of the answer. E_LIMIT: stopped or too slow; E_IO: the worker ended before. */
static enum status take(struct worker *w, void *to, size_t n) {
    for (char *p = to; n;) {
        struct pollfd one = {.fd = w->from, .events = POLLIN};
        if (limit_asked(w->limit) || now_ms() > w->until_ms) return E_LIMIT;
        int ready = poll(&one, 1, ASKED_MS);
        if (ready < 0 && errno != EINTR) return E_IO;
        if (ready <= 0) continue;
        ssize_t k = read(w->from, p, n);
        if (k < 0 && errno == EINTR) continue;
        if (k <= 0) return E_IO;
        p += k;
        n -= (size_t)k;
    }
    return OK;
}

static bool sound_text(const char *text, size_t n) {
    return memchr(text, 0, n) != NULL;
}

static size_t blocks_wanted(const struct picture_ask *ask) {
    size_t n = 0;
    for (size_t i = 0; i < ask->rects_n; i++) n += blocks_in(ask->rects[i]);
    return n;
}

/* Whoever broke the worker may say anything. */
static bool sound(const struct worker_answer *a, const struct picture_ask *ask) {
    const struct picture_facts *f = &a->facts;
    if (a->status < 0 || a->status >= STATUS_COUNT ||
        !sound_text(a->why.text, sizeof a->why.text) ||
        !sound_text(a->why.field, sizeof a->why.field))
        return false;
    if (a->status != OK) return true;
    return f->format > PICTURE_UNKNOWN && f->format <= PICTURE_HEIC && f->width > 0 &&
           f->height > 0 && (int64_t)f->width * f->height <= PICTURE_PIXELS_MAX &&
           f->orientation >= 1 && f->orientation <= 8 && (f->bits == 8 || f->bits == 16) &&
           sound_text(f->profile, sizeof f->profile) && a->blocks_n == blocks_wanted(ask) &&
           (ask->preview_side > 0) == (a->preview_n > 0) && a->preview_n <= WORKER_PREVIEW_MAX;
}

static enum status take_answer(struct worker *w, const struct picture_ask *ask,
                               struct picture_answer *out, struct why *why) {
    struct worker_answer a;
    enum status s = take(w, &a, sizeof a);
    if (s) return s;
    if (!sound(&a, ask)) return E_IO;
    if (a.status) {
        if (why) *why = a.why;
        return (enum status)a.status;
    }
    out->facts = a.facts;
    out->blocks_n = a.blocks_n;
    out->preview_n = a.preview_n;
    out->blocks = calloc(a.blocks_n + 1, sizeof *out->blocks);
    out->preview = a.preview_n ? malloc(a.preview_n) : NULL;
    if (!out->blocks || (a.preview_n && !out->preview))
        return why_say(why, E_MEMORY, "/photo", "There is not enough memory.");
    s = take(w, out->blocks, a.blocks_n * sizeof *out->blocks);
    if (!s) s = take(w, out->preview, a.preview_n);
    for (size_t i = 0; !s && i < a.blocks_n; i++)
        if (!block_sound(&out->blocks[i])) s = E_IO;
    if (!s && a.preview_n && picture_format_of(out->preview, a.preview_n) != PICTURE_JPEG) s = E_IO;
    return s;
}

/* Ends it in any case. In words: why it gave no answer. */
static void end(struct worker *w, enum status s, struct why *why) {
    int code = 0;
    close(w->from);
    if (s == E_LIMIT || s == E_IO) kill(w->pid, SIGKILL);
    while (waitpid(w->pid, &code, 0) < 0 && errno == EINTR) {
    }
    if (why && why->text[0]) return;
    if (s == E_LIMIT)
        why_say(why, s, "/photo", "Reading the picture took too long and was stopped.");
    if (s == E_IO)
        why_say(why, s, "/photo",
                "The picture could not be read: the process that reads it ended.");
}

enum status picture_read(const void *bytes, size_t n, const struct picture_ask *ask,
                         const struct limit *limit, struct picture_answer *out, struct why *why) {
    struct worker w = {.until_ms = now_ms() + WAIT_MS, .limit = limit};
    struct why ours = {0};
    struct picture_answer got = {0};
    if (n > PICTURE_FILE_MAX || picture_format_of(bytes, n) == PICTURE_UNKNOWN) {
        struct raster nobody = {0}; /* its first checks, which come before any decoder */
        return raster_decode(bytes, n, &nobody, why);
    }
    if (ask->rects_n > PICTURE_RECTS_MAX)
        return why_say(why, E_TOO_LARGE, "/rects", "At most %d rectangles are read at once.",
                       PICTURE_RECTS_MAX);
    struct worker_ask question = {.rects_n = (uint32_t)ask->rects_n,
                                  .preview_side = ask->preview_side,
                                  .crop = ask->crop,
                                  .bytes_n = n};
    enum status s = start(&question, ask->rects, bytes, &w, &ours);
    if (!s) {
        s = take_answer(&w, ask, &got, &ours);
        end(&w, s, &ours);
    }
    if (s) {
        picture_free(&got);
        if (why) *why = ours;
    } else {
        *out = got;
    }
    return s;
}

const char *picture_worker_leak(void) {
    static char leak[64];
    struct worker w = {.until_ms = now_ms() + WAIT_MS};
    struct worker_ask question = {.probe = 1};
    struct worker_answer a;
    if (start(&question, NULL, NULL, &w, NULL)) return NULL;
    enum status s = take(&w, &a, sizeof a);
    end(&w, s, NULL);
    if (s || a.status) return NULL;
    snprintf(leak, sizeof leak, "%.63s", a.why.text);
    return leak;
}
