/* A listening socket on this machine alone: 127.x.x.x or ::1, nothing that another could reach.
 *
 *   port      0: any free one
 *   out_fd    the caller's to close; does not block
 *   out_port  the port that was taken
 *
 * Errors: E_FORBIDDEN (an address that is not this machine's alone), E_BUSY (the port is in use),
 * E_IO. */
#ifndef SERVER_HTTP_LISTEN_H
#define SERVER_HTTP_LISTEN_H

#include "core/base/status.h"

enum status http_listen(const char *address, int port, int *out_fd, int *out_port, struct why *why);

#endif
