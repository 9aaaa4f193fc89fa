#include "server/http_listen.h"

#include <arpa/inet.h>
#include <errno.h>
#include <netinet/in.h>
#include <stdbool.h>
#include <string.h>
#include <sys/socket.h>
#include <unistd.h>

enum { WAITING_MAX = 512 };

enum status http_listen(const char *address, int port, int *out_fd, int *out_port,
                        struct why *why) {
    struct sockaddr_in v4 = {.sin_family = AF_INET, .sin_port = htons((uint16_t)port)};
    struct sockaddr_in6 v6 = {.sin6_family = AF_INET6, .sin6_port = htons((uint16_t)port)};
    bool six = strchr(address, ':') != NULL;
    struct sockaddr *at = six ? (struct sockaddr *)&v6 : (struct sockaddr *)&v4;
    socklen_t n = six ? sizeof v6 : sizeof v4;
    int one = 1;
    bool known = six ? inet_pton(AF_INET6, address, &v6.sin6_addr) == 1
                     : inet_pton(AF_INET, address, &v4.sin_addr) == 1;
    bool local = known && (six ? IN6_IS_ADDR_LOOPBACK(&v6.sin6_addr)
                               : (ntohl(v4.sin_addr.s_addr) >> 24) == 127);
    if (!local)
        return why_say(why, E_FORBIDDEN, "/listen",
                       "\"%.60s\" is not an address of this machine alone. "
                       "Write 127.0.0.1:7878.",
                       address);
    int fd = socket(six ? AF_INET6 : AF_INET, SOCK_STREAM | SOCK_CLOEXEC | SOCK_NONBLOCK, 0);
    if (fd < 0) return why_say(why, E_IO, "", "No socket: %s.", strerror(errno));
    setsockopt(fd, SOL_SOCKET, SO_REUSEADDR, &one, sizeof one);
    if (bind(fd, at, n) < 0 || listen(fd, WAITING_MAX) < 0) {
        int e = errno;
        close(fd);
        if (e == EADDRINUSE)
            return why_say(why, E_BUSY, "/listen",
                           "Port %d is in use by another program. Choose another: "
                           "--listen 127.0.0.1:%d.",
                           port, port < 65535 ? port + 1 : 7878);
        return why_say(why, E_IO, "/listen", "Port %d cannot be used: %s.", port, strerror(e));
    }
    getsockname(fd, at, &n);
    *out_port = ntohs(six ? v6.sin6_port : v4.sin_port);
    *out_fd = fd;
    return OK;
}
