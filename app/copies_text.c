#include "app/copies_text.h"
#include "app/days_words.h"
#include "app/zone.h"
#include "codec/text_wrap.h"

#include <string.h>

/* Where all copies lie: what comes before the name of one. */
static const char *folder_of(struct arena *a, const struct copy_row *r) {
    size_t path = strlen(r->path), name = strlen(r->name);
    return path > name ? arena_print(a, "%.*s", (int)(path - name), r->path) : r->path;
}

static const char *size_words(struct arena *a, int64_t bytes) {
    double mb = (double)bytes / 1e6;
    return arena_print(a, mb < 10 ? "%.1f MB" : "%.0f MB", mb);
}

static bool clock_of_shop(struct op_call *call, struct days_clock *out) {
    if (store_read(call->app->store, &call->book, NULL)) return false;
    enum status s = days_clock_of_shop(call, out, NULL);
    store_read_end(call->book);
    call->book = NULL;
    return s == OK;
}

void copies_print(struct op_call *call, const struct copy_row *rows, size_t n) {
    enum { WHEN = 23, SIZE = 8 };
    struct text *out = &call->out_body;
    struct days_clock c;
    if (!n) return;
    if (!clock_of_shop(call, &c)) {
        c = (struct days_clock){.arena = call->arena};
        zone_spans(NULL, call->app->now_utc_min(call->app->now_ctx), call->arena, &c.zone,
                   &c.zone_n, NULL);
    }
    for (size_t i = 0; i < n; i++) {
        text_left(out, WHEN, days_when(&c, rows[i].at_utc_min));
        text_right(out, SIZE, size_words(c.arena, rows[i].bytes));
        text_print(out, "  %s\n", rows[i].name);
    }
    text_print(out, "\n");
    text_wrap_print(out, 0, 0,
                    "They lie in %s. Bring one back, the present book is put aside first:",
                    folder_of(c.arena, &rows[0]));
    text_print(out, "  coatwright restore %s\n", rows[0].name);
}

static void count(struct text *out, int64_t n, const char *one, const char *many,
                  const char *words) {
    if (n == 1)
        text_wrap_print(out, 0, 0, "1 picture's file %s %s.", one, words);
    else if (n)
        text_wrap_print(out, 0, 0, "The files of %lld pictures %s %s.", (long long)n, many, words);
}

void pictures_print(struct op_call *call, const struct picture_files *p, const char *brought) {
    struct text *out = &call->out_body;
    count(out, p->brought, "was", "were", brought);
    count(out, p->there, "is", "are", "there and whole");
    if (!p->missing_n) return;
    text_wrap_print(out, 0, 0,
                    "%zu %s gone or damaged; bring the folder back from a copy:", p->missing_n,
                    p->missing_n == 1 ? "picture's file is" : "pictures' files are");
    for (size_t i = 0; i < p->missing_n; i++) text_print(out, "  %s\n", p->missing[i]);
}
