/* Records and whole documents. */
#include "codec/reader.h"

#include <jansson.h>
#include <stdio.h>
#include <string.h>

static enum status check_head(struct reader *r, const struct desc *d, json_t *in) {
    const json_t *format = json_object_get(in, "format"), *version = json_object_get(in, "version");
    const char *name = json_string_value(format);
    if (!name || strcmp(name, d->format)) {
        reader_down(r, "format");
        return reader_fail(r, format ? E_DOMAIN : E_MISSING,
                           "This is not a document of the kind "
                           "wanted here. Begin it with \"format\": \"%s\", \"version\": %d.",
                           d->format, d->version);
    }
    if (!json_is_integer(version) || json_integer_value(version) < 1) {
        reader_down(r, "version");
        return reader_fail(r, version ? E_DOMAIN : E_MISSING, "%s Write \"version\": %d.",
                           version ? "The version is a whole number from 1."
                                   : "The version is missing.",
                           d->version);
    }
    if (json_integer_value(version) > d->version) {
        reader_down(r, "version");
        return reader_fail(r, E_NEWER,
                           "Version %" JSON_INTEGER_FORMAT " was written by a newer program; "
                           "this one knows up to %d.",
                           json_integer_value(version), d->version);
    }
    return OK;
}

static enum status read_members(struct reader *r, const struct desc *d, json_t *in, char *out) {
    const char *key;
    json_t *v;
    enum status s = OK;
    if (!json_is_object(in))
        return reader_fail(r, E_TYPE, "This is %s. Write an object: %s", reader_kind_of(in),
                           d->help);
    if (d->format && (s = check_head(r, d, in)) != OK) return s;
    json_object_foreach(in, key, v) {
        if (d->format && (!strcmp(key, "format") || !strcmp(key, "version"))) continue;
        const struct field *f = field_by_key(d, r->spelling, key);
        if (!f && d->open) continue;
        size_t before = reader_down(r, key);
        if ((s = f ? read_value(r, f, v, out) : reader_unknown_key(r, d, key)) != OK) return s;
        reader_up(r, before);
    }
    return OK;
}

enum status read_record(struct reader *r, const struct desc *d, json_t *in, char *out) {
    char own[FIELD_KEY_MAX];
    enum status s = read_members(r, d, in, out);
    if (s != OK) return s;
    for (size_t i = 0; i < d->fields_n; i++) {
        const struct field *f = &d->fields[i];
        if (!(f->flags & FLAG_REQUIRED) || json_object_get(in, field_key(f, r->spelling, own)))
            continue;
        reader_down(r, own);
        return reader_fail(r, E_MISSING, "\"%s\" is missing: %s.", own, f->help);
    }
    return OK;
}

enum status document_read(const struct desc *d, enum spelling spelling, const char *text, size_t n,
                          struct arena *arena, void *out, struct why *why) {
    struct reader r = {.spelling = spelling, .arena = arena, .why = why};
    json_t *root;
    enum status s = reader_parse(text, n, &root, why);
    if (s != OK) return s;
    desc_unsay(d, out);
    s = read_record(&r, d, root, out);
    json_decref(root);
    return s;
}

/* The member that a body may stand for as a whole: the document that a command line names as a
 * file, when the body has members that are not arguments. */
static const struct field *whole_body(const struct desc *d, json_t *root) {
    const struct field *file = NULL;
    const char *key;
    json_t *v;
    bool foreign = false;
    for (size_t i = 0; i < d->fields_n; i++)
        if (d->fields[i].flags & FLAG_FILE) file = &d->fields[i];
    if (!file || !json_is_object(root) || json_object_get(root, file->name)) return NULL;
    json_object_foreach(root, key, v) foreign |= !field_by_key(d, SPELL_INPUT, key);
    return foreign ? file : NULL;
}

enum status document_read_args(const struct desc *d, const char *text, size_t n,
                               struct arena *arena, void *out, struct why *why) {
    struct reader r = {.spelling = SPELL_INPUT, .arena = arena, .why = why};
    json_t *root;
    enum status s = reader_parse(text, n, &root, why);
    if (s != OK) return s;
    const struct field *whole = whole_body(d, root);
    s = whole ? read_value(&r, whole, root, out) : read_members(&r, d, root, out);
    json_decref(root);
    return s;
}

enum status desc_complete(const struct desc *d, const void *in, struct why *why) {
    char key[FIELD_KEY_MAX], field[FIELD_KEY_MAX + 2];
    for (size_t i = 0; i < d->fields_n; i++) {
        const struct field *f = &d->fields[i];
        if (!(f->flags & FLAG_REQUIRED) || field_said(f, in)) continue;
        snprintf(field, sizeof field, "/%s", field_key(f, SPELL_INPUT, key));
        return why_say(why, E_MISSING, field, "\"%s\" is missing: %s.", key, f->help);
    }
    return OK;
}
