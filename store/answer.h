/* Answers that were given to requests with an idempotency key, so that a bad network can retry.
 * They are kept for 30 days, in the same transaction as the change that they answer. */
#ifndef STORE_ANSWER_H
#define STORE_ANSWER_H

#include "store/store.h"

/* The answer kept under the key.
 *   asked       fingerprint of the arguments
 *   out_result  JSON, or NULL when the key is new
 * Errors: E_CONFLICT (the key belongs to another request). */
enum status answer_find(struct book *b, const char *key, const char *operation, const char *asked,
                        struct arena *arena, const char **out_result, int64_t *out_revision,
                        struct why *why);
enum status answer_keep(struct book *b, const char *key, const char *operation, const char *asked,
                        const char *result, struct why *why);

#endif
