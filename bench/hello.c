/* A bare libmicrohttpd that says hello: what the server is measured against. Prints its port, ends
 * with its standard input. */
#include <arpa/inet.h>
#include <microhttpd.h>
#include <stdio.h>
#include <string.h>

static enum MHD_Result hello(void *cls, struct MHD_Connection *c, const char *url,
                             const char *method, const char *version, const char *data,
                             size_t *data_n, void **context) {
    static const char text[] = "{\"hello\":\"world\"}\n";
    (void)cls, (void)url, (void)method, (void)version, (void)data, (void)data_n;
    if (!*context) { /* the library's way: the answer goes out at the second call */
        *context = (void *)1;
        return MHD_YES;
    }
    struct MHD_Response *r = MHD_create_response_from_buffer(
        sizeof text - 1, (void *)(unsigned long)text, MHD_RESPMEM_PERSISTENT);
    MHD_add_response_header(r, "Content-Type", "application/json");
    enum MHD_Result done = MHD_queue_response(c, 200, r);
    MHD_destroy_response(r);
    return done;
}

int main(void) {
    struct sockaddr_in at = {.sin_family = AF_INET};
    at.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
    struct MHD_Daemon *d =
        MHD_start_daemon(MHD_USE_EPOLL_INTERNAL_THREAD, 0, NULL, NULL, hello, NULL,
                         MHD_OPTION_SOCK_ADDR, (struct sockaddr *)&at, MHD_OPTION_END);
    if (!d) return 1;
    const union MHD_DaemonInfo *info = MHD_get_daemon_info(d, MHD_DAEMON_INFO_BIND_PORT);
    printf("%u\n", info->port);
    fflush(stdout);
    while (getchar() != EOF) {
    }
    MHD_stop_daemon(d);
    return 0;
}
