/* The shop's document and numbers about the whole book. */
#ifndef STORE_SHOP_H
#define STORE_SHOP_H

#include "store/store.h"

/* The shop as typed; "{}" in a new book. out_revision: when it was last written. */
enum status shop_document(struct book *b, struct arena *arena, const char **out_document,
                          int64_t *out_revision, struct why *why);
enum status shop_write(struct book *b, const char *document, struct why *why);

#endif
