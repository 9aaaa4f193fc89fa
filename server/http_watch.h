/* Deadlines of open sockets: who drips is hung up on. The HTTP library's own limit counts silence
 * only, and one byte a second is not silence. Knows nothing of that library. */
#ifndef SERVER_HTTP_WATCH_H
#define SERVER_HTTP_WATCH_H

#include <stdbool.h>

enum stage {
    STAGE_HEAD,  /* waits for a request line, or for the headers behind one */
    STAGE_BODY,  /* a body comes in */
    STAGE_WORK,  /* ours to answer: no deadline */
    STAGE_SEND,  /* an answer goes out */
    STAGE_STREAM /* events go out: no deadline */
};

struct watch;
struct line; /* one open socket */

/* Begins the thread that looks once a second; beat is called on it at every sign of life that the
 * streams owe. NULL: no memory, no thread. */
struct watch *watch_make(void (*beat)(void *ctx), void *ctx);
/* NULL: no memory; the library's own limit must do then. */
struct line *watch_open(struct watch *w, int fd);
/* The next three take a line that is NULL for one that is not watched. */
void watch_close(struct watch *w, struct line *l);
void watch_enter(struct watch *w, struct line *l, enum stage stage);
/* Is there an answer on its way on any of them? */
bool watch_busy(struct watch *w);
/* Ends the thread; lines may still close. */
void watch_stop(struct watch *w);
void watch_free(struct watch *w);

#endif
