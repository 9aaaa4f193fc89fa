/* A row whose JSON nobody can read would be found by whoever opens that piece, months later. */
#include "app/export_sound.h"

#include "app/shop_kept.h"
#include "codec/document.h"
#include "codec/job_desc.h"
#include "store/export.h"

#include <string.h>

struct column {
    const char *table, *name;
    const struct desc *desc; /* NULL: any JSON */
};

static enum status read_value(void *ctx, const char *value, struct why *why) {
    const struct desc *d = ((const struct column *)ctx)->desc;
    struct arena arena;
    const char **parts;
    size_t n;
    enum status s = OK;
    arena_init(&arena, alloc_heap(), 0);
    void *record = d ? arena_take(&arena, d->size) : NULL;
    if (!d) {
        s = document_parts(value, "", &arena, &parts, &n, why);
    } else if (!record) {
        s = why_no_memory(why);
    } else {
        if (d == &desc_shop) /* of before, as it is where it is kept */
            s = shop_fit(value, &arena, &value, NULL, why);
        desc_unsay(d, record);
        if (!s) s = document_read(d, SPELL_INPUT, value, strlen(value), &arena, record, why);
    }
    arena_free(&arena);
    return s;
}

enum status export_sound(struct op_call *call, const char *text, struct why *why) {
    struct column columns[] = {
        {"shop", "document", &desc_shop},     {"paint", "document", &desc_paint},
        {"sample", "document", &desc_sample}, {"piece", "document", &desc_piece},
        {"accepted", "document", NULL},       {"recipe", "items", NULL},
        {"recipe", "spectrum", NULL},         {"batch", "spectrum", NULL},
    };
    enum status s = OK;
    for (size_t i = 0; !s && i < sizeof columns / sizeof *columns; i++)
        s = export_each(call->book, text, columns[i].table, columns[i].name, read_value,
                        &columns[i], why);
    return s;
}
