#include "codec/class_name.h"

#include "codec/words.h"
#include "tables.h"

#include <stdio.h>
#include <string.h>

const char *class_id_of_name(const char *name) {
    const struct tables *t = &tables_builtin;
    for (size_t i = 0; i < t->product_classes_n; i++)
        if (word_same(t->product_classes[i].name, name)) return t->product_classes[i].id;
    return NULL;
}

const char *class_names_listed(char *out, size_t cap) {
    const struct tables *t = &tables_builtin;
    size_t n = 0;
    out[0] = 0;
    for (size_t i = 0; i < t->product_classes_n; i++) {
        const char *name = t->product_classes[i].name;
        if (n + strlen(name) + 3 > cap) break;
        n += (size_t)snprintf(out + n, cap - n, "%s%s", n ? "; " : "", name);
    }
    return out;
}
