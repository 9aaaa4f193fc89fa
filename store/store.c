#include "store/store.h"
#include "store/copy.h"
#include "store/migrate.h"
#include "store/sql.h"

#include <errno.h>
#include <fcntl.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

enum { DAY_MIN = 1440, ANSWERS_KEPT_MIN = 30 * DAY_MIN };

bool store_default_path(char *out, size_t cap) {
    const char *data = getenv("XDG_DATA_HOME"), *home = getenv("HOME");
    int n = -1;
    if (data && data[0] == '/')
        n = snprintf(out, cap, "%s/coatwright/shop.book", data);
    else if (home && *home)
        n = snprintf(out, cap, "%s/.local/share/coatwright/shop.book", home);
    return n > 0 && (size_t)n < cap;
}

const char *store_path(const struct store *s) {
    return s->path;
}
int64_t book_revision(const struct book *b) {
    return b->revision;
}
int64_t book_now(const struct book *b) {
    return b->now_utc_min;
}
bool book_writes(const struct book *b) {
    return b->writes;
}
struct store *book_store(const struct book *b) {
    return b->store;
}

/* ---- opening ---- */

static enum status make_folders(const char *path, struct why *why) {
    char *folder = strdup(path);
    if (!folder) return why_no_memory(why);
    enum status status = OK;
    for (char *at = strchr(folder + 1, '/'); at && !status; at = strchr(at + 1, '/')) {
        *at = 0;
        if (mkdir(folder, 0700) && errno != EEXIST)
            status = why_say(why, E_IO, "",
                             "The folder %.200s could not be made: %s. Name a book in one that may "
                             "be written to: --book FILE.",
                             folder, strerror(errno));
        *at = '/';
    }
    free(folder);
    return status;
}

static uint32_t big_endian(const unsigned char *p) {
    return (uint32_t)p[0] << 24 | (uint32_t)p[1] << 16 | (uint32_t)p[2] << 8 | p[3];
}

/* Looks at the first bytes before SQLite sees the file, so that a file that is not ours, or newer
 * than this program, is not touched in any way. */
static enum status look_at_file(const char *path, bool create, bool *out_new, bool *out_other,
                                struct why *why) {
    unsigned char head[100];
    int fd = open(path, O_RDONLY | O_CLOEXEC);
    *out_new = fd < 0 && errno == ENOENT;
    if (*out_new && create) return OK;
    if (*out_new)
        return why_say(
            why, E_NOT_FOUND, "",
            "There is no book %.300s yet. A first entry begins one: coatwright import JOB.json, or "
            "coatwright serve for the app (with --book FILE where it is not the usual book).",
            path);
    if (fd < 0)
        return why_say(why, E_IO, "", "The book %.300s could not be opened: %s.", path,
                       strerror(errno));
    ssize_t n = read(fd, head, sizeof head);
    int failed = errno;
    close(fd);
    if (n < 0)
        return why_say(why, E_IO, "", "The book %.300s could not be read: %s.", path,
                       strerror(failed));
    *out_new = n == 0;
    if (n == 0) return OK;
    if (n < 100 || memcmp(head, "SQLite format 3", 16))
        return why_say(why, E_DAMAGED, "",
                       "%.200s is not a job book, or its beginning is damaged; it was not "
                       "touched. If it was one: coatwright backups --book %.200s lists its copies, "
                       "coatwright restore NAME --book %.200s brings one back.",
                       path, path, path);
    uint32_t version = big_endian(head + 60), application = big_endian(head + 68);
    *out_other = application != BOOK_APPLICATION;
    if (*out_other)
        return why_say(why, E_DAMAGED, "",
                       "%.300s is a database of another program; it was not touched.", path);
    if (version > BOOK_VERSION)
        return why_say(why, E_NEWER, "",
                       "The book %.300s was written by a newer coatwright (book version %u, this "
                       "program knows %d); it was not touched. Use the newer program, or restore "
                       "a copy from before the upgrade.",
                       path, version, BOOK_VERSION);
    return OK;
}

static enum status take_lock(struct store *s, struct why *why) {
    char *name = NULL;
    if (asprintf(&name, "%s-lock", s->path) < 0) return why_no_memory(why);
    s->lock_fd = open(name, O_RDWR | O_CREAT | O_CLOEXEC, 0600);
    free(name);
    if (s->lock_fd < 0)
        return why_say(why, E_IO, "",
                       "The lock of the book %.300s could not be made: %s. Make the book and its "
                       "folder writable, or name another one: --book FILE.",
                       s->path, strerror(errno));
    char owner[32] = "";
    if (flock(s->lock_fd, LOCK_EX | LOCK_NB)) {
        ssize_t n = read(s->lock_fd, owner, sizeof owner - 1);
        owner[n > 0 ? n : 0] = 0;
        owner[strcspn(owner, "\n")] = 0;
        close(s->lock_fd);
        s->lock_fd = -1;
        return why_say(why, E_BUSY, "",
                       "Another server (process %s) already serves the book %.300s. Use that one, "
                       "or stop it first.",
                       owner, s->path);
    }
    int n = snprintf(owner, sizeof owner, "%ld\n", (long)getpid());
    if (ftruncate(s->lock_fd, 0) || write(s->lock_fd, owner, (size_t)n) != n)
        return why_say(why, E_IO, "", "The book's lock could not be written: %s.", strerror(errno));
    return OK;
}

static enum status open_writer(struct store *s, bool is_new, const struct store_options *o,
                               struct why *why) {
    int flags = SQLITE_OPEN_READWRITE | (o->create ? SQLITE_OPEN_CREATE : 0);
    enum status status = sql_open(&s->writer, s->path, flags, s->busy_ms, why);
    if (!status && is_new) status = migrate_create(&s->writer, o->now_utc_min, why);
    if (!status) status = migrate_forward(&s->writer, o->now_utc_min, why);
    /* a copy that was put in the book's place by hand is a single file without a log */
    if (!status) status = sql_script(&s->writer, "PRAGMA journal_mode = WAL;", why);
    if (!status && sqlite3_db_readonly(s->writer.db, "main") == 1)
        status = sql_error(s->writer.db, SQLITE_READONLY, why);
    return status;
}

static enum status open_readers(struct store *s, struct why *why) {
    for (size_t i = 0; i < STORE_READERS; i++) {
        enum status status =
            sql_open(&s->readers[i], s->path, SQLITE_OPEN_READWRITE, s->busy_ms, why);
        if (!status) status = sql_script(&s->readers[i], "PRAGMA query_only = ON;", why);
        if (status) return status;
    }
    return OK;
}

static enum status note_file(struct store *s, struct why *why) {
    struct stat st;
    if (stat(s->path, &st))
        return why_say(why, E_IO, "", "The book %.300s could not be found again: %s.", s->path,
                       strerror(errno));
    s->device = st.st_dev, s->inode = st.st_ino;
    return OK;
}

/* Work that waits for nobody. A server makes its copy when it already answers (copy_daily). */
static enum status daily_work(struct store *s, const struct store_options *o, struct why *why) {
    enum status status = sql_do(&s->writer, why, "DELETE FROM answer WHERE at_utc_min < ?1", "i",
                                o->now_utc_min - ANSWERS_KEPT_MIN);
    return status || o->no_copy || o->serve ? status : copy_daily(s, o->now_utc_min, NULL, why);
}

static enum status open_all(struct store *s, bool is_new, const struct store_options *o,
                            struct why *why) {
    enum status status = open_writer(s, is_new, o, why);
    if (!status) status = open_readers(s, why);
    return status ? status : note_file(s, why);
}

static void close_all(struct store *s) {
    for (size_t i = 0; i < STORE_READERS; i++) sql_close(&s->readers[i]);
    sql_close(&s->writer);
}

enum status store_anew(struct store *s, int64_t now_utc_min, struct why *why) {
    static const char *const beside[] = {"", "-wal", "-shm"}; /* an old log would be played back */
    struct store_options o = {.create = true, .now_utc_min = now_utc_min};
    enum status status = s->lock_fd < 0 ? take_lock(s, why) : OK;
    for (size_t i = 0; i < sizeof beside / sizeof *beside && !status; i++) {
        char *name = NULL;
        if (asprintf(&name, "%s%s", s->path, beside[i]) < 0) return why_no_memory(why);
        if (unlink(name) && errno != ENOENT)
            status =
                why_say(why, E_IO, "", "%.300s could not be replaced: %s.", name, strerror(errno));
        free(name);
    }
    if (!status) status = open_all(s, true, &o, why);
    if (status)
        close_all(s);
    else
        s->damaged = false;
    return status;
}

enum status store_open(const char *path, const struct store_options *o, struct store **out_store,
                       struct why *why) {
    bool is_new, other = false;
    enum status status = o->create ? make_folders(path, why) : OK;
    if (!status) status = look_at_file(path, o->create, &is_new, &other, why);
    bool damaged = status == E_DAMAGED && o->mend && !other;
    if (status && !damaged) return status;
    struct store *s = calloc(1, sizeof *s);
    if (!s || !(s->path = strdup(path))) {
        free(s);
        return why_no_memory(why);
    }
    s->lock_fd = -1;
    s->busy_ms = o->busy_ms;
    pthread_mutex_init(&s->write_lock, NULL);
    pthread_mutex_init(&s->read_lock, NULL);
    pthread_cond_init(&s->read_free, NULL);
    s->writer.store = s;
    for (size_t i = 0; i < STORE_READERS; i++) s->readers[i].store = s;
    if (!damaged) {
        status = o->serve ? take_lock(s, why) : OK;
        if (!status) status = open_all(s, is_new, o, why);
        if (!status) status = daily_work(s, o, why);
        damaged = status == E_DAMAGED && o->mend;
    }
    if (damaged) {
        close_all(s);
        s->damaged = true;
        status = OK;
    }
    if (status)
        store_close(s);
    else
        *out_store = s;
    return status;
}

void store_close(struct store *s) {
    if (!s) return;
    close_all(s);
    if (s->lock_fd >= 0) close(s->lock_fd);
    pthread_cond_destroy(&s->read_free);
    pthread_mutex_destroy(&s->read_lock);
    pthread_mutex_destroy(&s->write_lock);
    free(s->path);
    free(s);
}

/* ---- transactions ---- */

static struct book *take_reader(struct store *s) {
    struct book *b = NULL;
    pthread_mutex_lock(&s->read_lock);
    while (!b) {
        for (size_t i = 0; i < STORE_READERS && !b; i++)
            if (!s->readers[i].taken) b = &s->readers[i];
        if (!b) pthread_cond_wait(&s->read_free, &s->read_lock);
    }
    b->taken = true;
    pthread_mutex_unlock(&s->read_lock);
    return b;
}

static void give_reader(struct book *b) {
    pthread_mutex_lock(&b->store->read_lock);
    b->taken = false;
    pthread_cond_signal(&b->store->read_free);
    pthread_mutex_unlock(&b->store->read_lock);
}

enum status store_read(struct store *s, struct book **out_book, struct why *why) {
    struct book *b = take_reader(s);
    enum status status = sql_do(b, why, "BEGIN", "");
    if (!status) status = sql_int(b, why, &b->revision, "SELECT revision FROM book", "");
    if (status) {
        if (!sqlite3_get_autocommit(b->db)) sql_do(b, NULL, "ROLLBACK", "");
        give_reader(b);
        return status;
    }
    *out_book = b;
    return OK;
}

void store_read_end(struct book *b) {
    sql_do(b, NULL, "ROLLBACK", "");
    give_reader(b);
}

/* A file that was removed or replaced under a running program still takes writes, which nobody
 * would ever find again: so look before each. */
static enum status still_there(struct store *s, struct why *why) {
    struct stat st;
    if (!stat(s->path, &st) && st.st_dev == s->device && st.st_ino == s->inode) return OK;
    return why_say(why, E_IO, "",
                   "The book's file %.300s was removed or replaced while the program was running; "
                   "nothing was written. Put the file back or restore a copy, then start again.",
                   s->path);
}

static enum status begin_change(struct book *b, const char *operation, struct why *why) {
    enum status status = sql_do(b, why, "BEGIN IMMEDIATE", "");
    if (!status) status = sql_do(b, why, "UPDATE book SET revision = revision + 1", "");
    if (!status) status = sql_int(b, why, &b->revision, "SELECT revision FROM book", "");
    if (!status)
        status =
            sql_do(b, why, "INSERT INTO change(revision, at_utc_min, operation) VALUES(?1, ?2, ?3)",
                   "iit", b->revision, b->now_utc_min, operation);
    return status;
}

enum status store_write(struct store *s, const char *operation, int64_t now_utc_min,
                        struct book **out_book, struct why *why) {
    pthread_mutex_lock(&s->write_lock);
    struct book *b = &s->writer;
    enum status status = still_there(s, why);
    if (!status) {
        b->writes = true;
        b->now_utc_min = now_utc_min;
        status = begin_change(b, operation, why);
    }
    if (status)
        store_rollback(b);
    else
        *out_book = b;
    return status;
}

enum status store_commit(struct book *b, struct why *why) {
    enum status status = sql_do(b, why, "COMMIT", "");
    if (!status && still_there(b->store, why))
        status = E_IO; /* gone in the middle: do not say it is kept */
    if (status) {
        store_rollback(b);
        return status;
    }
    b->writes = false;
    pthread_mutex_unlock(&b->store->write_lock);
    return OK;
}

void store_rollback(struct book *b) {
    if (!sqlite3_get_autocommit(b->db)) sql_do(b, NULL, "ROLLBACK", "");
    b->writes = false;
    pthread_mutex_unlock(&b->store->write_lock);
}

enum status book_says(struct book *b, struct why *why, const char *fmt, ...) {
    char what[256];
    va_list ap;
    va_start(ap, fmt);
    vsnprintf(what, sizeof what, fmt, ap);
    va_end(ap);
    /* cut in the middle of a character: take its beginning off too */
    size_t n = strlen(what);
    if (n == sizeof what - 1) {
        while (n && ((unsigned char)what[n - 1] & 0xc0) == 0x80) n--;
        if (n && (unsigned char)what[n - 1] >= 0xc0) n--;
        what[n] = 0;
    }
    return sql_do(b, why, "UPDATE change SET what = ?1 WHERE revision = ?2", "ti", what,
                  b->revision);
}
