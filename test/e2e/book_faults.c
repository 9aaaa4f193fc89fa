/* What bad luck does to the job book: the writing process is killed with SIGKILL at random moments,
 * the disk is full, the file may only be read, the clock goes back.
 *
 * Every change that was acknowledged must be there, exactly once, also when a request whose answer
 * was lost is sent again with its key; the file must be sound. Killing a process proves atomicity
 * and process death; what a loss of power does is SQLite's promise (WAL, synchronous=FULL).
 *
 * 40 kills; 200 with COATWRIGHT_SLOW set. */
#include "store/copy.h"
#include "test/check.h"
#include "test/unit/ask.h"

#include <poll.h>
#include <pthread.h>
#include <signal.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <time.h>

enum { WRITERS = 2, KEYS_MAX = 200000 };

static struct asker a;
static const char *answer;

static void open_again(int64_t now_utc_min) {
    struct store_options o = {.now_utc_min = now_utc_min, .no_copy = true};
    a.app.store = NULL;
    enum status s = store_open(a.temp.path, &o, &a.app.store, &a.why);
    if (s) printf("open: %s\n", a.why.text);
}

static bool sound(void) {
    return ask(&a, "check", "{}", &answer) == OK;
}

/* ---- the process that is killed ---- */

struct writer {
    struct app *app;
    int round, number, pipe;
};

/* Uses 1 ml of paint again and again; each acknowledged key goes into the pipe at once. */
static void *write_on(void *ctx) {
    const struct writer *w = ctx;
    for (int i = 0;; i++) {
        struct asker one = {.app = *w->app, .now_utc_min = TEMP_NOW, .if_revision = INT64_MIN};
        char key[32], args[128];
        const char *out;
        one.app.now_ctx = &one;
        arena_init(&one.arena, alloc_heap(), 0);
        snprintf(key, sizeof key, "key-%03d-%d-%05d\n", w->round, w->number, i);
        size_t n = strlen(key);
        char bare[32];
        snprintf(bare, sizeof bare, "%.*s", (int)n - 1, key);
        snprintf(args, sizeof args,
                 "{\"id\":\"white\",\"kind\":\"used\",\"amount\":\"1 ml\",\"note\":\"%s\"}", bare);
        one.key = bare;
        if (ask(&one, "paint stock", args, &out) == OK && write(w->pipe, key, n) != (ssize_t)n)
            _exit(1);
        arena_free(&one.arena);
    }
    return NULL;
}

static void be_writer(int round, int pipe) {
    struct writer w[WRITERS];
    pthread_t threads[WRITERS];
    open_again(TEMP_NOW);
    if (!a.app.store) _exit(2);
    for (int i = 0; i < WRITERS; i++) {
        w[i] = (struct writer){&a.app, round, i, pipe};
        if (pthread_create(&threads[i], NULL, write_on, &w[i])) _exit(3);
    }
    for (;;) pause();
}

/* ---- the process that looks ---- */

struct keys {
    char (*rows)[20];
    size_t n;
};

static void read_keys(int fd, struct keys *k) {
    FILE *f = fdopen(fd, "r");
    char line[64];
    while (f && k->n < KEYS_MAX && fgets(line, sizeof line, f)) {
        line[strcspn(line, "\n")] = 0;
        snprintf(k->rows[k->n++], sizeof *k->rows, "%.19s", line);
    }
    if (f) fclose(f);
}

static int by_text(const void *x, const void *y) {
    return strcmp(x, y);
}

/* Each acknowledged key is the note of exactly one movement. */
static size_t missing(const struct keys *acknowledged) {
    struct keys there = {malloc(sizeof *there.rows * KEYS_MAX), 0};
    size_t bad = 0;
    if (!there.rows || ask(&a, "export table", "{\"table\":\"stock_movement\"}", &answer)) return 1;
    for (const char *at = answer; (at = strstr(at, "key-")) && there.n < KEYS_MAX; at += 4)
        snprintf(there.rows[there.n++], sizeof *there.rows, "%.15s", at);
    qsort(there.rows, there.n, sizeof *there.rows, by_text);
    for (size_t i = 1; i < there.n; i++) bad += !strcmp(there.rows[i], there.rows[i - 1]);
    for (size_t i = 0; i < acknowledged->n; i++)
        bad += !bsearch(acknowledged->rows[i], there.rows, there.n, sizeof *there.rows, by_text);
    free(there.rows);
    return bad;
}

/* The client that lost its answer asks again, with the key it had. */
static void ask_again(int round, const struct keys *k) {
    for (int w = 0; w < WRITERS; w++) {
        int last = -1, r, number, i;
        for (size_t n = 0; n < k->n; n++)
            if (sscanf(k->rows[n], "key-%d-%d-%d", &r, &number, &i) == 3 && r == round &&
                number == w && i > last)
                last = i;
        for (i = last; i <= last + 1; i++) {
            char key[32], args[128];
            if (i < 0) continue;
            snprintf(key, sizeof key, "key-%03d-%d-%05d", round, w, i);
            snprintf(args, sizeof args,
                     "{\"id\":\"white\",\"kind\":\"used\",\"amount\":\"1 ml\",\"note\":\"%s\"}",
                     key);
            a.key = key;
            CHECK(ask(&a, "paint stock", args, &answer) == OK);
        }
    }
}

static void kills(void) {
    struct keys k = {malloc(sizeof *k.rows * KEYS_MAX), 0};
    int rounds = getenv("COATWRIGHT_SLOW") && *getenv("COATWRIGHT_SLOW") ? 200 : 40, bad = 0;
    unsigned seed = 20261012;
    struct rlimit none = {0, 0};
    setrlimit(RLIMIT_CORE, &none);
    CASE("killed at random moments under write load: every acknowledged change is there, once") {
        CHECK(ask(&a, "paint add", "{\"name\":\"White\",\"stock\":\"20 gal\"}", &answer) == OK);
        for (int round = 0; round < rounds; round++) {
            int fds[2];
            store_close(a.app.store);
            if (pipe(fds)) return;
            pid_t child = fork();
            if (child == 0) {
                close(fds[0]);
                be_writer(round, fds[1]);
            }
            close(fds[1]);
            seed = seed * 1103515245u + 12345u;
            /* most rounds die among their writes, every fourth somewhere in the opening */
            struct pollfd first = {.fd = fds[0], .events = POLLIN};
            if (round % 4 && poll(&first, 1, 10000) != 1) puts("no write within 10 s");
            struct timespec t = {0, 100000L * (long)((seed >> 16) % 800)};
            nanosleep(&t, NULL);
            kill(child, SIGKILL);
            waitpid(child, NULL, 0);
            size_t before = k.n;
            read_keys(fds[0], &k);
            open_again(TEMP_NOW);
            CHECK(a.app.store != NULL);
            if (!a.app.store) return;
            bad += !sound();
            if (k.n > before) ask_again(round, &k);
            arena_free(&a.arena);
            arena_init(&a.arena, alloc_heap(), 0);
        }
        CHECK(bad == 0);
        CHECK(missing(&k) == 0);
        CHECK(k.n > (size_t)rounds);
        printf("%d kills, %zu changes acknowledged\n", rounds, k.n);
    }
    free(k.rows);
}

/* Runs in a process of its own, so that limits and identity end with it. 0: as it should be. */
static int apart(int (*work)(void)) {
    int code = -1;
    store_close(a.app.store);
    fflush(stdout);
    pid_t child = fork();
    if (child == 0) _exit(work());
    waitpid(child, &code, 0);
    open_again(TEMP_NOW);
    return WIFEXITED(code) ? WEXITSTATUS(code) : 99;
}

static int with_full_disk(void) {
    struct stat st;
    signal(SIGXFSZ, SIG_IGN);
    if (stat(a.temp.path, &st)) return 1;
    struct rlimit little = {(rlim_t)st.st_size + 300000, (rlim_t)st.st_size + 300000};
    open_again(TEMP_NOW);
    if (!a.app.store || setrlimit(RLIMIT_FSIZE, &little)) return 2;
    for (int i = 0; i < 3000; i++) {
        char args[160];
        snprintf(args, sizeof args, "{\"title\":\"filler %d\",\"piece\":{\"note\":\"%0100d\"}}", i,
                 i);
        enum status s = ask(&a, "piece add", args, &answer);
        if (s && s != E_IO) return 3;
        if (s) return strstr(a.why.text, "nothing was") ? 0 : 4;
    }
    return 5; /* the limit never bit */
}

static int as_nobody(void) {
    struct store_options o = {.now_utc_min = TEMP_NOW, .no_copy = true};
    struct store *s = NULL;
    if (getuid() == 0 && (setresgid(65534, 65534, 65534) || setresuid(65534, 65534, 65534)))
        return 1;
    enum status status = store_open(a.temp.path, &o, &s, &a.why);
    if (status == OK) {
        a.app.store = s;
        status = ask(&a, "piece add", "{\"title\":\"not allowed\"}", &answer);
    }
    return status == E_IO && a.why.text[0] ? 0 : 2;
}

static void bad_luck(void) {
    CASE("a full disk: refused with a clear sentence, nothing half-written, goes on when there is "
         "space") {
        CHECK(apart(with_full_disk) == 0);
        CHECK(sound());
        CHECK(ask(&a, "piece add", "{\"title\":\"after\"}", &answer) == OK);
    }
    CASE("a book that may only be read is said to be so") {
        CHECK(chmod(a.temp.folder, 0755) == 0 && chmod(a.temp.path, 0444) == 0);
        CHECK(apart(as_nobody) == 0);
        CHECK(chmod(a.temp.path, 0600) == 0);
        CHECK(ask(&a, "pieces", "{\"q\":\"not allowed\"}", &answer) == OK &&
              count_of(answer, "\"id\"") == 0);
    }
    CASE("a clock that goes back changes neither the order of changes nor what can be undone") {
        CHECK(ask(&a, "piece add", "{\"title\":\"first\"}", &answer) == OK);
        a.now_utc_min -= 100000;
        CHECK(ask(&a, "piece add", "{\"title\":\"second\"}", &answer) == OK);
        CHECK(ask(&a, "history", "{\"limit\":1}", &answer) == OK && strstr(answer, "second"));
        CHECK(ask(&a, "undo", "{}", &answer) == OK && strstr(answer, "second"));
        CHECK(ask(&a, "pieces", "{\"q\":\"second\"}", &answer) == OK &&
              count_of(answer, "\"id\"") == 0);
    }
}

int main(void) {
    asker_open(&a);
    kills();
    bad_luck();
    asker_close(&a);
    return check_done();
}
