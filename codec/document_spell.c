/* One spelling in what is kept. Days and classes may be written in several ways; whoever reads a
 * kept document (the page, a search) is spared all but one of them. Other texts stay as typed. */
#include "codec/class_name.h"
#include "codec/reader.h"
#include "codec/time_text.h"

#include <jansson.h>
#include <string.h>

/* The text to stand instead, or NULL. */
static const char *other_spelling(const struct field *f, const char *text, char day[24]) {
    int64_t v;
    if (f->type == FIELD_ID) return class_id_of_name(text);
    if (day_read(text, &v, NULL) != OK) return NULL;
    day_print(v, day, 24);
    return strcmp(day, text) != 0 ? day : NULL;
}

/* -1: no memory */
static int spell_text(const struct field *f, json_t *v, bool *changed) {
    char day[24];
    const char *now = json_is_string(v) ? other_spelling(f, json_string_value(v), day) : NULL;
    if (!now) return 0;
    *changed = true;
    return json_string_set(v, now);
}

static int spell(const struct desc *d, json_t *object, bool *changed) {
    int bad = 0;
    for (size_t i = 0; i < d->fields_n && !bad; i++) {
        const struct field *f = &d->fields[i];
        json_t *v = json_object_get(object, f->name), *row;
        size_t k;
        bool text = f->type == FIELD_DAY || f->type == FIELD_DAYS ||
                    (f->type == FIELD_ID && f->flags & FLAG_CLASS);
        bool rows = f->type == FIELD_RECORD || f->type == FIELD_LIST;
        if (json_is_array(v)) json_array_foreach(v, k, row) {
                if (text) bad |= spell_text(f, row, changed);
                if (rows) bad |= spell(f->of, row, changed);
            }
        else if (text)
            bad = spell_text(f, v, changed);
        else if (rows)
            bad = spell(f->of, v, changed);
    }
    return bad;
}

enum status document_spell(const struct desc *d, const char *text, struct arena *arena,
                           const char **out_text, struct why *why) {
    json_t *root;
    bool changed = false;
    enum status s = reader_parse(text, strlen(text), &root, why);
    if (s != OK) return s;
    const char *spelled = text;
    if (spell(d, root, &changed) || (changed && !(spelled = reader_json(arena, root))))
        s = why_no_memory(why);
    json_decref(root);
    if (s == OK) *out_text = spelled;
    return s;
}
