#include "app/shop_kept.h"

#include "codec/document.h"
#include "codec/split.h"
#include "codec/units_text.h"
#include "core/work/job.h"
#include "store/shop.h"

#include <string.h>

/* A text member of the document without its quotation marks; NULL: not there, or no plain text. */
static const char *said(struct op_call *call, const char *document, const char *pointer) {
    const char *json = NULL;
    if (split_at(document, pointer, call->arena, &json, NULL) || !json || *json != '"') return NULL;
    return arena_print(call->arena, "%.*s", (int)strlen(json) - 2, json + 1);
}

enum status shop_kept(struct op_call *call, const char **out_document, int64_t *out_revision,
                      const char **out_was, struct why *why) {
    double ml;
    const char *was = NULL;
    if (out_was) *out_was = NULL;
    enum status s = shop_document(call->book, call->arena, out_document, out_revision, why);
    if (!s) was = said(call, *out_document, "/smallest");
    if (!was || units_read(DIM_POUR, was, &ml, NULL) || ml <= SMALLEST_MAX_ML) return s;
    const char *units = said(call, *out_document, "/units");
    bool metric = units && !strcmp(units, "metric");
    if (out_was) *out_was = was;
    return document_merge(*out_document,
                          metric ? "{\"smallest\":\"240 ml\"}" : "{\"smallest\":\"8 fl oz\"}",
                          call->arena, out_document, why);
}
