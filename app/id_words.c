#include "app/id_words.h"

#include "core/base/dimension.h"

#include <stdbool.h>
#include <stddef.h>
#include <string.h>

struct named { /* rows of one table, each with an id and a name */
    const void *rows;
    size_t n, size, id, name;
};
#define NAMED(t, table)                                                                            \
    (struct named) {                                                                               \
        (t)->table, (t)->table##_n, sizeof *(t)->table, offsetof(struct table##_row, id),          \
            offsetof(struct table##_row, name)                                                     \
    }

static const char *cell(const char *row, size_t at) {
    const char *text;
    memcpy(&text, row + at, sizeof text);
    return text;
}

static const char *name_of(const struct named *n, const char *id) {
    for (size_t i = 0; i < n->n; i++) {
        const char *row = (const char *)n->rows + i * n->size;
        if (!strcmp(cell(row, n->id), id)) return cell(row, n->name);
    }
    return NULL;
}

static bool is_one_of(const char *word, const char *const *words) {
    while (*words && strcmp(*words, word) != 0) words++;
    return *words != NULL;
}

const char *id_words(const struct tables *t, const char *member, const char *id) {
    /* a can of the shelf may stand where a class may: its own id is none of the table's */
    static const char *const classes[] = {"class", "product", "clear", "primer", NULL},
                             *const finishes[] = {"finish", "material", NULL};
    if (!id) return NULL;
    if (is_one_of(member, classes)) return name_of(&NAMED(t, product_classes), id);
    if (is_one_of(member, finishes)) return name_of(&NAMED(t, materials), id);
    if (!strcmp(member, "template")) return name_of(&NAMED(t, piece_templates), id);
    if (!strcmp(member, "wood")) return name_of(&NAMED(t, wood_traits), id);
    if (!strcmp(member, "method")) return name_of(&NAMED(t, methods), id);
    if (!strcmp(member, "operation")) return name_of(&NAMED(t, operations), id);
    return NULL;
}

void member_words(const char *pointer, struct text *out) {
    size_t n = strlen(pointer);
    for (int d = 0; d < DIMENSION_COUNT; d++) {
        const char *suffix = dimension_suffix((enum dimension)d);
        size_t k = strlen(suffix);
        if (!k || k >= n || strcmp(pointer + n - k, suffix) != 0) continue;
        n -= k;
        break;
    }
    for (size_t i = *pointer == '/'; i < n; i++)
        text_add(out, pointer[i] == '_' || pointer[i] == '/' ? " " : pointer + i, 1);
}
