#include "store/copy.h"
#include "store/change.h"
#include "store/migrate.h"
#include "store/sql.h"

#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

static const char *const kind_words[] = {"daily", "upgrade", "asked", "restore"};

static enum status folder_of(const struct store *s, char *out, size_t cap, struct why *why) {
    int n = snprintf(out, cap, "%s-copies", store_path(s));
    if (n < 0 || (size_t)n >= cap)
        return why_say(why, E_TOO_LARGE, "", "The path of the book is too long.");
    if (mkdir(out, 0700) && errno != EEXIST)
        return why_say(why, E_IO, "", "The folder %.300s could not be made: %s.", out,
                       strerror(errno));
    return OK;
}

static void sync_path(const char *path) {
    int fd = open(path, O_RDONLY | O_CLOEXEC);
    if (fd < 0) return;
    fsync(fd);
    close(fd);
}

/* ---- checking ---- */

enum status copy_check(struct book *b, struct why *why) {
    sqlite3_stmt *st;
    enum status status = sql_prepare(b, "PRAGMA integrity_check(5)", &st, why);
    if (status) return status;
    int rc = sql_step(st);
    if (rc != SQLITE_ROW) return sql_error(b->db, rc, why);
    const char *found = (const char *)sqlite3_column_text(st, 0);
    if (!found || strcmp(found, "ok"))
        status = why_say(why, E_DAMAGED, "", "The book is damaged: %.400s. Restore a copy.",
                         found ? found : "?");
    sqlite3_reset(st);
    if (status) return status;
    int64_t broken;
    status = sql_int(b, why, &broken, "SELECT COUNT(*) FROM pragma_foreign_key_check", "");
    if (!status && broken)
        status = why_say(why, E_DAMAGED, "",
                         "%lld rows of the book refer to rows that are not there. Restore a copy.",
                         (long long)broken);
    return status;
}

/* Opens a copy for reading and makes sure that it is a sound book that this program knows. */
static enum status open_copy(struct store *s, const char *path, struct book *out, struct why *why) {
    struct stat st;
    if (stat(path, &st))
        return why_say(why, E_NOT_FOUND, "/name", "There is no copy %.300s.", path);
    memset(out, 0, sizeof *out);
    out->store = s;
    enum status status = sql_open(out, path, SQLITE_OPEN_READWRITE, s->busy_ms, why);
    if (status) return status;
    int64_t application = 0, version = 0;
    status = sql_int(out, why, &application, "PRAGMA application_id", "");
    if (!status) status = sql_int(out, why, &version, "PRAGMA user_version", "");
    if (!status && application != BOOK_APPLICATION)
        status = why_say(why, E_DAMAGED, "/name", "%.300s is not a job book.", path);
    if (!status && version > BOOK_VERSION)
        status = why_say(why, E_NEWER, "/name", "%.300s was written by a newer coatwright.", path);
    if (!status) status = copy_check(out, why);
    if (status) sql_close(out);
    return status;
}

/* ---- copying ---- */

static enum status stopped(struct why *why) {
    return why_say(why, E_IO, "", "The copy was not made: the program is ending.");
}

static enum status copy_pages(struct book *from, struct book *to, const struct limit *limit,
                              struct why *why) {
    enum { PAGES_A_STEP = 500, TRIES_MAX = 250 };
    sqlite3_backup *work = sqlite3_backup_init(to->db, "main", from->db, "main");
    if (!work) return sql_error(to->db, sqlite3_extended_errcode(to->db), why);
    int rc = SQLITE_OK, tries = 0;
    bool busy = false, stop = false;
    do {
        stop = limit_asked(limit);
        if (!stop) rc = sqlite3_backup_step(work, limit ? PAGES_A_STEP : -1);
        busy = (rc & 0xff) == SQLITE_BUSY || (rc & 0xff) == SQLITE_LOCKED;
        if (busy) sqlite3_sleep(20);
    } while (!stop && (rc == SQLITE_OK || (busy && ++tries < TRIES_MAX)));
    int done = sqlite3_backup_finish(work);
    if (stop) return stopped(why);
    return rc == SQLITE_DONE && !done ? OK : sql_error(to->db, rc == SQLITE_DONE ? done : rc, why);
}

static int asked_to_stop(void *limit) {
    return limit_asked(limit);
}

/* One state of the book, however long the copying takes and whoever writes meanwhile. */
static enum status hold_still(struct book *from, struct why *why) {
    int64_t revision;
    enum status status = sql_do(from, why, "BEGIN", "");
    return status ? status : sql_int(from, why, &revision, "SELECT revision FROM book", "");
}

static void sync_folder_of(char *path) {
    char *name = strrchr(path, '/'), first = name ? name[1] : 0;
    if (name) name[1] = 0;
    sync_path(name ? path : ".");
    if (name) name[1] = first;
}

/* Copying takes seconds: whoever has taken the name meanwhile keeps it. Some file systems (FAT)
 * cannot promise that. */
static enum status give_name(char *part, const char *path, struct why *why) {
    sync_path(part);
    bool done = !renameat2(AT_FDCWD, part, AT_FDCWD, path, RENAME_NOREPLACE);
    if (!done && (errno == EINVAL || errno == ENOSYS)) done = !rename(part, path);
    if (!done && errno == EEXIST)
        return why_say(why, E_CONFLICT, "/file", "%.300s is there already.", path);
    if (!done)
        return why_say(why, E_IO, "/file", "%.300s could not be written: %s.", path,
                       strerror(errno));
    sync_folder_of(part);
    return OK;
}

static enum status copy_into(struct store *s, const char *path, const struct limit *limit,
                             struct why *why) {
    enum { STEPS_BETWEEN = 100000 };
    char part[4096];
    struct stat st;
    if (!stat(path, &st))
        return why_say(why, E_CONFLICT, "/file", "%.300s is there already.", path);
    int n = snprintf(part, sizeof part, "%s.part", path);
    if (n < 0 || (size_t)n >= sizeof part)
        return why_say(why, E_TOO_LARGE, "/file", "The path is too long.");
    unlink(part);
    struct book from = {.store = s}, to = {.store = s};
    enum status status = sql_open(&from, s->path, SQLITE_OPEN_READWRITE, s->busy_ms, why);
    if (!status)
        status = sql_open(&to, part, SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE, s->busy_ms, why);
    if (!status) status = hold_still(&from, why);
    if (!status) status = copy_pages(&from, &to, limit, why);
    if (!status && limit)
        sqlite3_progress_handler(to.db, STEPS_BETWEEN, asked_to_stop, (void *)(uintptr_t)limit);
    /* one file, without a log beside it */
    if (!status) status = sql_script(&to, "PRAGMA journal_mode = DELETE;", why);
    if (!status) status = copy_check(&to, why);
    sql_close(&from);
    sql_close(&to);
    if (!status) status = give_name(part, path, why);
    if (status) unlink(part);
    return status && limit_asked(limit) ? stopped(why) : status;
}

enum status copy_to(struct store *s, const char *path, struct arena *arena,
                    struct picture_files *out_pictures, struct why *why) {
    struct book *b;
    enum status status = copy_into(s, path, NULL, why);
    if (!status) status = store_read(s, &b, why);
    if (status) return status;
    status = picture_files_bring(b, store_path(s), path, arena, out_pictures, why);
    store_read_end(b);
    return status;
}

static bool name_parts(const char *name, size_t *out_kind, int64_t *out_revision) {
    long long revision;
    char tail[8];
    const char *r = strstr(name, "-r");
    if (!r || sscanf(r, "-r%lld.%7s", &revision, tail) != 2 || strcmp(tail, "book")) return false;
    for (size_t i = 0; i < sizeof kind_words / sizeof *kind_words; i++) {
        size_t n = strlen(kind_words[i]);
        if (strncmp(name, kind_words[i], n) || name[n] != '-') continue;
        *out_kind = i, *out_revision = revision;
        return true;
    }
    return false;
}

/* Takes away the oldest copies of a kind, by the book's revision and not by a clock. */
static void rotate(const char *folder, enum copy_kind kind) {
    for (;;) {
        DIR *d = opendir(folder);
        if (!d) return;
        char oldest[256] = "";
        int64_t oldest_revision = INT64_MAX;
        int n = 0;
        for (struct dirent *e; (e = readdir(d));) {
            size_t k;
            int64_t revision;
            if (!name_parts(e->d_name, &k, &revision) || k != (size_t)kind) continue;
            n++;
            bool older = revision < oldest_revision ||
                         (revision == oldest_revision && strcmp(e->d_name, oldest) < 0);
            if (older) {
                oldest_revision = revision;
                snprintf(oldest, sizeof oldest, "%s", e->d_name);
            }
        }
        closedir(d);
        char path[4096];
        if (n <= COPIES_KEPT) return;
        int len = snprintf(path, sizeof path, "%s/%s", folder, oldest);
        if (len < 0 || (size_t)len >= sizeof path || unlink(path)) return;
    }
}

static void name_copy(enum copy_kind kind, int64_t now_utc_min, int64_t revision, int n, char *out,
                      size_t cap) {
    time_t seconds = (time_t)(now_utc_min * 60);
    struct tm tm;
    char at[32] = "", again[16] = "";
    if (gmtime_r(&seconds, &tm)) strftime(at, sizeof at, "%Y-%m-%dT%H%MZ", &tm);
    if (n) snprintf(again, sizeof again, "-%d", n + 1);
    snprintf(out, cap, "%s-%s%s-r%lld.book", kind_words[kind], at, again, (long long)revision);
}

static enum status aside(struct store *s, enum copy_kind kind, int64_t now_utc_min,
                         const struct limit *limit, char **out_path, struct why *why) {
    char folder[4096], name[128];
    enum status status = folder_of(s, folder, sizeof folder, why);
    struct book b = {.store = s};
    int64_t revision = 0;
    if (!status) status = sql_open(&b, s->path, SQLITE_OPEN_READWRITE, s->busy_ms, why);
    if (!status) status = sql_int(&b, why, &revision, "SELECT revision FROM book", "");
    if (status) {
        sql_close(&b);
        return status;
    }
    char *path = NULL;
    struct stat st;
    for (int n = 0; n < 1000; n++) {
        name_copy(kind, now_utc_min, revision, n, name, sizeof name);
        free(path);
        if (asprintf(&path, "%s/%s", folder, name) < 0) path = NULL;
        if (!path) {
            sql_close(&b);
            return why_no_memory(why);
        }
        if (stat(path, &st)) break;
    }
    status = copy_into(s, path, limit, why);
    if (!status) {
        if (kind != COPY_ASKED) rotate(folder, kind);
        /* by a connection of its own: the writer may be in the middle of somebody's change */
        sql_do(&b, NULL, "UPDATE book SET copied_utc_min = ?1", "i", now_utc_min);
    }
    sql_close(&b);
    if (status || !out_path)
        free(path);
    else
        *out_path = path;
    return status;
}

enum status copy_aside(struct store *s, enum copy_kind kind, int64_t now_utc_min, char **out_path,
                       struct why *why) {
    return aside(s, kind, now_utc_min, NULL, out_path, why);
}

enum status copy_daily(struct store *s, int64_t now_utc_min, const struct limit *limit,
                       struct why *why) {
    enum { DAY_MIN = 1440 };
    struct book *b;
    int64_t copied, revision = 0;
    enum status status = store_read(s, &b, why);
    if (status) return status;
    status = sql_int(b, why, &copied, "SELECT copied_utc_min FROM book", "");
    if (!status) revision = book_revision(b);
    store_read_end(b);
    bool due = copied == INT64_MIN || now_utc_min - copied > DAY_MIN || copied > now_utc_min;
    if (status || !due || revision == 0) return status;
    return aside(s, COPY_DAILY, now_utc_min, limit, NULL, why);
}

static int newest_first(const void *a, const void *b) {
    const struct copy_row *x = a, *y = b;
    if (x->at_utc_min != y->at_utc_min) return x->at_utc_min < y->at_utc_min ? 1 : -1;
    return x->revision < y->revision   ? 1
           : x->revision > y->revision ? -1
                                       : strcmp(y->name, x->name);
}

enum status copy_list(struct store *s, struct arena *arena, struct copy_row **out_rows,
                      size_t *out_n, struct why *why) {
    enum { COPIES_MAX = 1000 };
    char folder[4096];
    int len = snprintf(folder, sizeof folder, "%s-copies", store_path(s));
    struct copy_row *rows = arena_array(arena, COPIES_MAX, sizeof *rows);
    if (!rows || len < 0 || (size_t)len >= sizeof folder) return why_no_memory(why);
    size_t n = 0, kind;
    DIR *d = opendir(folder);
    for (struct dirent *e; d && n < COPIES_MAX && (e = readdir(d));) {
        struct copy_row *r = &rows[n];
        struct stat st;
        if (!name_parts(e->d_name, &kind, &r->revision)) continue;
        r->name = arena_text(arena, e->d_name);
        r->path = arena_print(arena, "%s/%s", folder, e->d_name);
        if (!r->name || !r->path || stat(r->path, &st)) continue;
        r->bytes = st.st_size;
        r->at_utc_min = (int64_t)st.st_mtime / 60;
        n++;
    }
    if (d) closedir(d);
    qsort(rows, n, sizeof *rows, newest_first);
    *out_rows = rows, *out_n = n;
    return OK;
}

/* ---- bringing back ---- */

static enum status go_on_from(struct book *b, int64_t revision, int64_t now_utc_min,
                              struct why *why) {
    enum status status = sql_do(b, why, "BEGIN IMMEDIATE", "");
    if (!status)
        status =
            sql_do(b, why, "UPDATE book SET revision = MAX(revision, ?1) + 1, copied_utc_min = ?2",
                   "ii", revision, now_utc_min);
    if (!status)
        status = sql_do(b, why,
                        "INSERT INTO change(revision, at_utc_min, operation, what)"
                        " SELECT revision, ?1, 'restore', 'restored from a copy' FROM book",
                        "i", now_utc_min);
    if (!status) status = sql_do(b, why, "COMMIT", "");
    if (status && !sqlite3_get_autocommit(b->db)) sql_do(b, NULL, "ROLLBACK", "");
    return status;
}

static enum status bring_back(struct store *s, struct book *copy, int64_t now_utc_min,
                              struct why *why) {
    int64_t revision;
    enum status status = sql_int(&s->writer, why, &revision, "SELECT revision FROM book", "");
    /* Statements hold on to the old pages; the writer starts afresh. */
    if (!status) status = copy_pages(copy, &s->writer, NULL, why);
    if (!status) status = sql_script(&s->writer, "PRAGMA journal_mode = WAL;", why);
    if (!status) status = migrate_forward(&s->writer, now_utc_min, why);
    if (!status) status = go_on_from(&s->writer, revision, now_utc_min, why);
    return status;
}

static enum status copy_bytes(const char *from, const char *to, struct why *why) {
    char block[65536];
    FILE *in = fopen(from, "rb"), *out = in ? fopen(to, "wbx") : NULL;
    bool bad = !in || !out;
    for (size_t n; !bad && (n = fread(block, 1, sizeof block, in)) > 0;)
        bad = fwrite(block, 1, n, out) != n;
    bad = bad || ferror(in) || fflush(out) || fsync(fileno(out));
    int failed = errno;
    if (in) fclose(in);
    if (out && fclose(out)) bad = true;
    return bad ? why_say(why, E_IO, "", "%.300s could not be kept as %.300s: %s.", from, to,
                         strerror(failed))
               : OK;
}

/* The file and its log as they are: somebody may still read out of them what the copy does not
 * have. The name is no copy's, so that it is neither offered nor taken away. */
static enum status keep_damaged(struct store *s, int64_t now_utc_min, struct why *why) {
    static const char *const beside[] = {"", "-wal"};
    char folder[4000], name[128], from[4096], to[4200];
    enum status status = folder_of(s, folder, sizeof folder, why);
    time_t seconds = (time_t)(now_utc_min * 60);
    struct tm tm;
    char at[32] = "";
    struct stat st;
    if (gmtime_r(&seconds, &tm)) strftime(at, sizeof at, "%Y-%m-%dT%H%MZ", &tm);
    for (int n = 1; n < 1000; n++) {
        snprintf(name, sizeof name, n > 1 ? "damaged-%s-%d.book" : "damaged-%s.book", at, n);
        snprintf(to, sizeof to, "%s/%s", folder, name);
        if (stat(to, &st)) break;
    }
    for (size_t i = 0; i < sizeof beside / sizeof *beside && !status; i++) {
        snprintf(from, sizeof from, "%s%s", store_path(s), beside[i]);
        snprintf(to, sizeof to, "%s/%s%s", folder, name, beside[i]);
        if (!stat(from, &st)) status = copy_bytes(from, to, why);
    }
    if (!status) sync_path(folder);
    return status;
}

enum status copy_restore(struct store *s, const char *path, int64_t now_utc_min,
                         struct arena *arena, struct picture_files *out_pictures, struct why *why) {
    struct book copy;
    enum status status = open_copy(s, path, &copy, why);
    if (status) return status;
    pthread_mutex_lock(&s->write_lock);
    status = s->damaged ? E_DAMAGED : copy_aside(s, COPY_RESTORE, now_utc_min, NULL, why);
    if (status == E_DAMAGED) status = keep_damaged(s, now_utc_min, why);
    if (!status && s->damaged) status = store_anew(s, now_utc_min, why);
    if (!status) status = bring_back(s, &copy, now_utc_min, why);
    if (!status)
        status = picture_files_bring(&s->writer, path, store_path(s), arena, out_pictures, why);
    pthread_mutex_unlock(&s->write_lock);
    sql_close(&copy);
    return status;
}
