/* Locks this process in: from then on it computes on what it holds, reads and writes the pipes that
 * it has, and ends. No file, no network, no other program, no other process, bounded memory and
 * processor time. Nothing gives this back. */
#ifndef PHOTO_CONFINE_H
#define PHOTO_CONFINE_H

#include <stdbool.h>

enum { CONFINE_MEMORY_MB = 1024, CONFINE_SECONDS = 30 };

/* False: this system cannot lock a process in; no picture may then be read. */
bool confine(void);

/* What the process can still do of what it must not, as a word ("open", "socket", "exec" ...);
 * NULL: none of it. For a test, after confine(). */
const char *confine_leak(void);

#endif
