#include "store/picture_file.h"

#include "core/base/sha256.h"
#include "store/sql.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static const char *folder_of(const char *book, struct arena *a) {
    return arena_print(a, "%s-pictures", book);
}

static enum status failed(struct why *why, const char *path) {
    return why_say(why, E_IO, "", "The picture could not be kept in %.300s: %s.", path,
                   strerror(errno));
}

static bool write_all(int fd, const char *p, size_t n) {
    while (n) {
        ssize_t k = write(fd, p, n);
        if (k < 0 && errno == EINTR) continue;
        if (k <= 0) return false;
        p += k;
        n -= (size_t)k;
    }
    return true;
}

static void sync_folder(const char *path) {
    int fd = open(path, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (fd < 0) return;
    fsync(fd);
    close(fd);
}

/* Under another name first, so that a name always stands for whole bytes. */
static enum status write_file(const char *folder, const char *path, const void *bytes, size_t n,
                              struct arena *arena, struct why *why) {
    char *made = arena_print(arena, "%s/new-XXXXXX", folder);
    if (!made) return why_no_memory(why);
    int fd = mkostemp(made, O_CLOEXEC);
    if (fd < 0) return failed(why, folder);
    bool good = write_all(fd, bytes, n) && !fsync(fd);
    int e = errno;
    good = !close(fd) && good && !rename(made, path);
    if (good) {
        sync_folder(folder);
        return OK;
    }
    errno = e;
    enum status s = failed(why, folder);
    unlink(made);
    return s;
}

static enum status folder_make(const char *folder, struct why *why) {
    return mkdir(folder, 0700) && errno != EEXIST ? failed(why, folder) : OK;
}

enum status picture_file_keep(struct store *s, const void *bytes, size_t n, const char *suffix,
                              struct arena *arena, const char **out_file, const char **out_sha256,
                              struct why *why) {
    char sum[65];
    struct stat st;
    sha256_hex(bytes, n, sum);
    const char *folder = folder_of(store_path(s), arena), *sha256 = arena_text(arena, sum),
               *file = arena_print(arena, "%.32s.%s", sum, suffix),
               *path = folder && file ? arena_print(arena, "%s/%s", folder, file) : NULL;
    if (!path || !sha256) return why_no_memory(why);
    enum status status = folder_make(folder, why);
    if (status) return status;
    if (stat(path, &st) || st.st_size != (off_t)n) {
        status = write_file(folder, path, bytes, n, arena, why);
        if (status) return status;
    }
    *out_file = file;
    *out_sha256 = sha256;
    return OK;
}

/* A name as picture_file_keep makes it; rows may have come in with an export. */
static bool plain(const char *file) {
    size_t n = strspn(file, "0123456789abcdef");
    return n == 32 && file[n] == '.' &&
           strspn(file + n + 1, "abcdefghijklmnopqrstuvwxyz") == strlen(file + n + 1);
}

static enum status load(const char *folder, const char *file, const char *sha256, size_t most,
                        struct arena *arena, const void **out_bytes, size_t *out_n,
                        struct why *why) {
    char sum[65];
    struct stat st;
    const char *path = folder ? arena_print(arena, "%s/%s", folder, file) : NULL;
    if (!path) return why_no_memory(why);
    int fd = plain(file) ? open(path, O_RDONLY | O_CLOEXEC | O_NOFOLLOW) : -1;
    if (fd < 0 || fstat(fd, &st) || !S_ISREG(st.st_mode)) {
        if (fd >= 0) close(fd);
        return why_say(why, E_NOT_FOUND, "",
                       "The picture's file %.80s is not in the folder %.300s any more. Bring the "
                       "folder back from where it was copied to.",
                       file, folder);
    }
    size_t n = (size_t)st.st_size, got = 0;
    if (n > most) {
        close(fd);
        return why_say(why, E_TOO_LARGE, "", "The picture's file %.80s is too large.", file);
    }
    char *bytes = arena_take(arena, n + 1);
    while (bytes && got < n) {
        ssize_t k = read(fd, bytes + got, n - got);
        if (k < 0 && errno == EINTR) continue;
        if (k <= 0) break;
        got += (size_t)k;
    }
    close(fd);
    if (!bytes) return why_no_memory(why);
    sha256_hex(bytes, got, sum);
    if (got != n || strcmp(sum, sha256))
        return why_say(why, E_DAMAGED, "", "The picture's file %.300s was changed or is damaged.",
                       path);
    *out_bytes = bytes;
    *out_n = n;
    return OK;
}

enum status picture_file_load(struct store *s, const char *file, const char *sha256, size_t most,
                              struct arena *arena, const void **out_bytes, size_t *out_n,
                              struct why *why) {
    return load(folder_of(store_path(s), arena), file, sha256, most, arena, out_bytes, out_n, why);
}

/* ---- all files of a book ---- */

/* One file; E_NOT_FOUND, E_DAMAGED: neither folder has it whole. */
static enum status bring(const char *from, const char *to, const char *file, const char *sha256,
                         struct picture_files *out, struct arena *arena, struct why *why) {
    const void *bytes;
    size_t n;
    enum status s = load(to, file, sha256, SIZE_MAX / 2, arena, &bytes, &n, why);
    if (!s) out->there++;
    if ((s != E_NOT_FOUND && s != E_DAMAGED) || !strcmp(from, to)) return s;
    s = load(from, file, sha256, SIZE_MAX / 2, arena, &bytes, &n, why);
    if (s || (s = folder_make(to, why))) return s;
    const char *path = arena_print(arena, "%s/%s", to, file);
    s = path ? write_file(to, path, bytes, n, arena, why) : why_no_memory(why);
    out->brought += !s;
    return s;
}

enum status picture_files_bring(struct book *b, const char *from, const char *to,
                                struct arena *arena, struct picture_files *out, struct why *why) {
    int64_t count;
    const char *from_folder = folder_of(from, arena), *to_folder = folder_of(to, arena);
    memset(out, 0, sizeof *out);
    enum status s = sql_int(b, why, &count, "SELECT COUNT(DISTINCT file) FROM picture", "");
    if (s) return s;
    out->missing = arena_array(arena, (size_t)count + 1, sizeof *out->missing);
    if (!out->missing || !from_folder || !to_folder) return why_no_memory(why);
    sqlite3_stmt *st;
    int rc = SQLITE_DONE;
    s = sql_prepare(b, "SELECT DISTINCT file, sha256 FROM picture ORDER BY number", &st, why);
    if (s) return s;
    while (!s && (rc = sql_step(st)) == SQLITE_ROW) {
        struct arena one; /* a picture at a time */
        arena_init(&one, alloc_heap(), 0);
        const char *file = sql_column_text(b, st, 0, arena), *sum = sql_column_text(b, st, 1, &one);
        s = file && sum ? bring(from_folder, to_folder, file, sum, out, &one, why)
                        : why_no_memory(why);
        if (s == E_NOT_FOUND || s == E_DAMAGED) {
            if (out->missing_n < (size_t)count) out->missing[out->missing_n++] = file;
            s = OK;
        }
        arena_free(&one);
    }
    if (s) sqlite3_reset(st);
    return s ? s : sql_end(b, rc, why);
}
