#include "app/memory.h"
#include "app/op.h"
#include "store/copy.h"
#include "store/store.h"

enum { PATH_MAX_BYTES = 4096 };

enum status app_open(struct app *app, const char *path, bool create, bool serve, struct why *why) {
    char own[PATH_MAX_BYTES];
    if (!path && !store_default_path(own, sizeof own))
        return why_say(why, E_NOT_FOUND, "",
                       "There is no home folder to look for a book in. Name one: --book FILE.");
    struct store_options options = {.create = create,
                                    .serve = serve,
                                    .mend = app->mend,
                                    .now_utc_min = app->now_utc_min(app->now_ctx)};
    enum status s = store_open(path ? path : own, &options, &app->store, why);
    if (!s && serve) app->memory = memory_make();
    return s;
}

enum status app_daily(struct app *app, const struct limit *limit, struct why *why) {
    return app->store ? copy_daily(app->store, app->now_utc_min(app->now_ctx), limit, why) : OK;
}

void app_close(struct app *app) {
    store_close(app->store);
    app->store = NULL;
    memory_free(app->memory);
    app->memory = NULL;
}

int64_t app_revision(struct app *app) {
    struct book *b;
    if (!app->store || store_read(app->store, &b, NULL)) return INT64_MIN;
    int64_t revision = book_revision(b);
    store_read_end(b);
    return revision;
}
