#include "app/shelf_can.h"

#include "app/op_shelf.h"
#include "codec/job_desc.h"
#include "core/work/cans.h"

#include <string.h>

enum { CANS_MAX = 64 }; /* one after the other; a longer line is cut, and the oldest not known */

/* The paint that it is a can of, what that one is a can of, and so on. *out_row: the first of
 * these, left alone where there is none. */
static enum status line_of(struct op_call *call, const struct paint *p, struct shelf *out,
                           struct paint_row *out_row, struct why *why) {
    const char *id = p->can_of;
    *out = (struct shelf){.gone = arena_array(call->arena, CANS_MAX, sizeof *out->gone)};
    if (!out->gone) return why_no_memory(why);
    while (id && out->gone_n < CANS_MAX) {
        struct paint *of = &out->gone[out->gone_n];
        struct paint_row row;
        enum status s = row_get(call->book, &table_paint, "id", id, call->arena, &row, NULL);
        if (s == E_NOT_FOUND) return OK;
        desc_unsay(&desc_paint, of);
        if (!s)
            s = document_read(&desc_paint, SPELL_INPUT, row.document, strlen(row.document),
                              call->arena, of, why);
        if (s) return s;
        of->id = row.id;
        if (!out->gone_n) *out_row = row;
        id = of->can_of;
        out->gone_n++;
    }
    return OK;
}

enum status shelf_can_check(struct op_call *call, const struct paint *p, const char *member,
                            struct why *why) {
    struct shelf line;
    struct paint_row of;
    if (!p->can_of) return OK;
    enum status s = line_of(call, p, &line, &of, why);
    return s ? s : cans_check(&line, p, member, why);
}

enum status shelf_can_fill(struct op_call *call, const struct paint *p, const char *member,
                           const char **io_document, struct why *why) {
    static const char own[] = "{\"id\":null,\"name\":null,\"stock\":null,\"opened\":null,"
                              "\"note\":null,\"can_of\":null}",
                      color[] = "{\"color\":null,\"lab\":null,\"spectrum\":null}";
    const bool read_anew = p->color.text || p->spectrum.values_n;
    struct shelf line;
    struct paint_row of;
    const char *base, *name;
    if (!p->can_of) return OK;
    enum status s = line_of(call, p, &line, &of, why);
    if (!s) s = cans_check(&line, p, member, why);
    if (!s) s = document_merge(of.document, own, call->arena, &base, why);
    if (!s && read_anew) s = document_merge(base, color, call->arena, &base, why);
    if (!s && !p->name) {
        const struct paint *first = cans_first(&line, &line.gone[0]);
        s = paint_free_name(call, first->name ? first->name : first->id, &name, why);
        const char *named = s ? NULL : book_typed(call, "name", name, (const char *)NULL);
        if (!s && !named) return why_no_memory(why);
        if (!s) s = document_merge(base, named, call->arena, &base, why);
    }
    return s ? s : document_merge(base, *io_document, call->arena, io_document, why);
}
