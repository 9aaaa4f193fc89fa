/* Server-sent events: one text goes to every page that listens. Knows nothing of the HTTP library:
 * a connection is what pause and resume are called with. */
#ifndef SERVER_HTTP_EVENTS_H
#define SERVER_HTTP_EVENTS_H

#include <stdbool.h>
#include <stddef.h>
#include <sys/types.h>

struct events;
struct stream; /* one page that listens */

enum { STREAM_END = -1 };

/* pause and resume are called under the lock, so that neither overtakes the other; they must not
 * call back. NULL: no memory. */
struct events *events_make(void (*pause)(void *connection), void (*resume)(void *connection));
/* NULL: no memory, as many as are allowed already, or stopping. */
struct stream *events_open(struct events *e, void *connection);
void events_close(struct stream *s);
/* What is to be sent now, at most max bytes; 0 when the connection was paused instead; STREAM_END
 * when there will be no more. */
ssize_t events_read(struct stream *s, char *buf, size_t max);
/* To all; name and data are one line each. */
void events_send(struct events *e, const char *name, const char *data);
/* A sign of life to all that have nothing else to send: a dead connection shows by it. */
void events_beat(struct events *e);
/* Every stream ends as soon as it is read; true while any is open. */
bool events_stop(struct events *e);
void events_free(struct events *e); /* none may be open any more */

#endif
