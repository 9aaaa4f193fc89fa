/* Outcome of anything that can fail, and the caller's place for the reason.
 *
 * Functions that can fail return enum status; results go to out_ arguments, untouched on failure.
 * Source of the list: this table alone; HTTP codes and sentences are read from it everywhere. */
#ifndef CORE_BASE_STATUS_H
#define CORE_BASE_STATUS_H

/*  name            HTTP  code in JSON       sentence */
#define STATUS_LIST(X)                                                                             \
    X(OK, 200, "ok", "Done.")                                                                      \
    X(E_SYNTAX, 400, "syntax", "The text could not be read.")                                      \
    X(E_UNIT, 400, "unit", "A unit is missing or not known.")                                      \
    X(E_TYPE, 400, "type", "A value has the wrong type.")                                          \
    X(E_UNKNOWN_KEY, 400, "unknown_key", "The document has a member that is not known.")           \
    X(E_MISSING, 400, "missing", "Something that must be given is missing.")                       \
    X(E_DUPLICATE, 400, "duplicate", "Two things have the same id or name.")                       \
    X(E_REFERENCE, 400, "reference", "Something refers to an id that is not there.")               \
    X(E_DOMAIN, 422, "domain", "A value is outside its range.")                                    \
    X(E_TOO_LARGE, 413, "too_large", "There is more than is allowed.")                             \
    X(E_REFUSED, 422, "refused", "The work must not be done this way.")                            \
    X(E_IMPOSSIBLE, 422, "impossible", "What is asked was proved impossible.")                     \
    X(E_NOT_FOUND, 404, "not_found", "There is no such thing.")                                    \
    X(E_METHOD, 405, "method", "That cannot be done to this address.")                             \
    X(E_CONFLICT, 409, "conflict", "It contradicts what is already there.")                        \
    X(E_STALE, 412, "stale", "It was changed by somebody else in the meantime.")                   \
    X(E_FORBIDDEN, 403, "forbidden", "That is not allowed from here.")                             \
    X(E_NEWER, 409, "newer", "It was written by a newer program and was not touched.")             \
    X(E_BUSY, 503, "busy", "Somebody else is using it; try again.")                                \
    X(E_LIMIT, 503, "limit", "The work was stopped at its limit.")                                 \
    X(E_NUMERIC, 500, "numeric", "A computation did not converge.")                                \
    X(E_MEMORY, 500, "memory", "There is not enough memory.")                                      \
    X(E_IO, 500, "io", "A file could not be read or written.")                                     \
    X(E_DAMAGED, 500, "damaged", "The file is damaged.")

enum status {
#define X(name, http, code, text) name,
    STATUS_LIST(X)
#undef X
        STATUS_COUNT
};

/* Why a call failed. Belongs to the caller; may be NULL where nobody asks.
 * field: JSON pointer (RFC 6901) of what was wrong, or "". text: what was wrong, what would be
 * right; one or more plain sentences. Both always end in NUL. */
struct why {
    char field[256];
    char text[768];
};

int status_http(enum status s);         /* HTTP status code, 200..599 */
const char *status_code(enum status s); /* short lower-case word for machines; static */
const char *status_text(enum status s); /* one sentence for people; static */

/* Fills *why (if not NULL) from a pointer and a printf-like text (%s %d %g and the like), cut at
 * the buffer's end; returns s, so that a failing function can write
 * `return why_say(why, E_DOMAIN, "/width", "...", ...)`. */
enum status why_say(struct why *why, enum status s, const char *field, const char *fmt, ...)
    __attribute__((format(printf, 4, 5)));
/* E_MEMORY in its own words, of no field. */
enum status why_no_memory(struct why *why);

/* Puts a prefix in front of why->field, when an inner pointer belongs below an outer one. */
void why_under(struct why *why, const char *prefix);

#endif
