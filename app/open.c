#include "app/op.h"
#include "store/store.h"

enum { PATH_MAX_BYTES = 4096 };

enum status app_open(struct app *app, const char *path, bool create, bool serve, struct why *why) {
    char own[PATH_MAX_BYTES];
    if (!path && !store_default_path(own, sizeof own))
        return why_say(why, E_NOT_FOUND, "",
                       "There is no home folder to look for a book in. Name one: --book FILE.");
    struct store_options options = {
        .create = create, .serve = serve, .now_utc_min = app->now_utc_min(app->now_ctx)};
    return store_open(path ? path : own, &options, &app->store, why);
}

void app_close(struct app *app) {
    store_close(app->store);
    app->store = NULL;
}

int64_t app_revision(struct app *app) {
    struct book *b;
    if (!app->store || store_read(app->store, &b, NULL)) return INT64_MIN;
    int64_t revision = book_revision(b);
    store_read_end(b);
    return revision;
}
