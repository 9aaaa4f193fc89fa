#include "app/shop_kept.h"

#include "codec/document.h"
#include "codec/split.h"
#include "codec/units_text.h"
#include "core/work/job.h"
#include "store/shop.h"

#include <string.h>

/* A text member of the document without its quotation marks; NULL: not there, or no plain text. */
static const char *said(struct arena *a, const char *document, const char *pointer) {
    const char *json = NULL;
    if (split_at(document, pointer, a, &json, NULL) || !json || *json != '"') return NULL;
    return arena_print(a, "%.*s", (int)strlen(json) - 2, json + 1);
}

enum status shop_fit(const char *document, struct arena *a, const char **out_document,
                     const char **out_was, struct why *why) {
    double ml;
    const char *was = said(a, document, "/smallest");
    *out_document = document;
    if (out_was) *out_was = NULL;
    if (!was || units_read(DIM_POUR, was, &ml, NULL) || ml <= SMALLEST_MAX_ML) return OK;
    const char *units = said(a, document, "/units");
    bool metric = units && !strcmp(units, "metric");
    if (out_was) *out_was = was;
    return document_merge(document,
                          metric ? "{\"smallest\":\"240 ml\"}" : "{\"smallest\":\"8 fl oz\"}", a,
                          out_document, why);
}

enum status shop_kept(struct op_call *call, const char **out_document, int64_t *out_revision,
                      const char **out_was, struct why *why) {
    if (out_was) *out_was = NULL;
    enum status s = shop_document(call->book, call->arena, out_document, out_revision, why);
    return s ? s : shop_fit(*out_document, call->arena, out_document, out_was, why);
}
