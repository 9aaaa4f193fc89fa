#include "app/export_aside.h"

#include "app/export_sound.h"
#include "store/export.h"
#include "store/store.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static const char NAME[] = "/export.book";

/* What the book's file may have had beside it. */
void export_aside_remove(const char *path) {
    static const char *const ends[] = {"", "-wal", "-shm", "-journal", "-lock"};
    char at[4200];
    for (size_t i = 0; i < sizeof ends / sizeof *ends; i++) {
        snprintf(at, sizeof at, "%s%s", path, ends[i]);
        unlink(at);
    }
    snprintf(at, sizeof at, "%.*s", (int)(strlen(path) - strlen(NAME)), path);
    rmdir(at);
}

static enum status read_into(struct op_call *call, struct book *b, const char *text,
                             struct why *why) {
    struct book *was = call->book;
    call->book = b;
    enum status s = export_check(b, text, why);
    if (!s) s = export_sound(call, text, why);
    if (!s) s = export_read(b, text, why);
    call->book = was;
    return s ? s : book_says(b, why, "a whole book");
}

static enum status fill(struct op_call *call, const char *path, const char *text, struct why *why) {
    int64_t now = call->app->now_utc_min(call->app->now_ctx);
    const struct store_options anew = {.create = true, .no_copy = true, .now_utc_min = now};
    struct store *aside;
    struct book *b;
    enum status s = store_open(path, &anew, &aside, why);
    if (s) return s;
    s = store_write(aside, "export read", now, &b, why);
    if (!s) {
        s = read_into(call, b, text, why);
        if (s)
            store_rollback(b);
        else
            s = store_commit(b, why);
    }
    store_close(aside);
    return s;
}

enum status export_aside(struct op_call *call, const char *text, char **out_path, struct why *why) {
    char *folder = arena_print(call->arena, "%s-reading-XXXXXX", store_path(call->app->store));
    if (!folder) return why_no_memory(why);
    if (!mkdtemp(folder))
        return why_say(why, E_IO, "", "The folder %.300s could not be made: %s.", folder,
                       strerror(errno));
    char *path = arena_print(call->arena, "%s%s", folder, NAME);
    enum status s = path ? fill(call, path, text, why) : why_no_memory(why);
    if (s && path)
        export_aside_remove(path);
    else if (s)
        rmdir(folder);
    else
        *out_path = path;
    return s;
}
