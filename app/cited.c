#include "app/cited.h"

#include <string.h>

/* What stands before the bracket of the row. */
static const char *citation(const struct tables *t, const char *id, size_t n, struct arena *arena) {
    for (size_t i = 0; i < t->sources_n; i++) {
        const struct sources_row *row = &t->sources[i];
        if (strlen(row->id) != n || memcmp(row->id, id, n)) continue;
        size_t k = strcspn(row->citation, "(");
        while (k && row->citation[k - 1] == ' ') k--;
        return arena_print(arena, "%.*s", (int)k, row->citation);
    }
    return NULL;
}

const char *cited_text(const struct tables *t, const char *source, struct arena *arena) {
    const char *out = "";
    while (source && *source && out) {
        size_t id = strcspn(source, ",; "), all = strcspn(source, ";");
        const char *text = citation(t, source, id, arena);
        out = text ? arena_print(arena, "%s%s%s%.*s", out, *out ? "; " : "", text, (int)(all - id),
                                 source + id)
                   : arena_print(arena, "%s%s%.*s", out, *out ? "; " : "", (int)all, source);
        source += all;
        source += strspn(source, "; ");
    }
    return out;
}

bool cited_bases(const struct tables *t, struct basis *bases, size_t n, struct arena *arena) {
    bool all = true;
    for (size_t i = 0; i < n; i++)
        all &= (bases[i].cited = cited_text(t, bases[i].source, arena)) != NULL;
    return all;
}
