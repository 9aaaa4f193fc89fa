#include "server/serve_choice.h"

#include <stdlib.h>
#include <string.h>

enum { PORT = 7878 };

void serve_usage(FILE *to) {
    fputs("Usage: coatwright serve [--book FILE | --job FILE] [--listen ADDR:PORT] [--or-next]\n"
          "The app in the browser, on this machine alone. Prints \"ready http://ADDR:PORT/\".\n\n"
          "  --book FILE         the job book, begun if it is not there; else the one in the data "
          "folder\n"
          "  --job FILE          one job document and its sheet, nothing is kept\n"
          "  --listen ADDR:PORT  127.0.0.1:7878 when not said; port 0 takes any free one\n"
          "  --or-next           takes the next free port when that one is in use\n"
          "  --host NAME         a further name by which the page may be opened\n",
          to);
}

/* "127.0.0.1:7878", "[::1]:7878", "localhost:0" */
static bool listen_at(struct serve_choice *c, const char *text) {
    const char *colon = strrchr(text, ':');
    char *end;
    if (!colon || !colon[1]) return false;
    long port = strtol(colon + 1, &end, 10);
    size_t n = (size_t)(colon - text);
    if (*end || port < 0 || port > 65535 || n >= sizeof c->address || !n) return false;
    bool bracket = text[0] == '[' && text[n - 1] == ']';
    snprintf(c->address, sizeof c->address, "%.*s", (int)(bracket ? n - 2 : n), text + bracket);
    if (!strcmp(c->address, "localhost")) snprintf(c->address, sizeof c->address, "127.0.0.1");
    c->port = (int)port;
    return true;
}

static bool is(const char *option, const char *name, size_t n) {
    return strlen(option) == n && !memcmp(option, name, n);
}

/* False: there is no such option. */
static bool take(struct serve_choice *c, const char *name, size_t n, const char *value) {
    if (is("--book", name, n))
        c->book = value;
    else if (is("--job", name, n))
        c->job = value;
    else if (is("--host", name, n))
        c->hosts[c->hosts_n++] = value;
    else
        return false;
    return true;
}

enum serve_words serve_choose(struct serve_choice *c, int argc, char **argv) {
    *c = (struct serve_choice){.address = "127.0.0.1", .port = PORT};
    for (int i = 0; i < argc; i++) {
        const char *name = argv[i], *eq = strchr(name, '=');
        const size_t n = eq ? (size_t)(eq - name) : strlen(name);
        if (is("--help", name, n) || is("-h", name, n)) return SERVE_HELP;
        if (is("--or-next", name, n) && !eq) {
            c->or_next = true;
            continue;
        }
        const char *value = eq ? eq + 1 : i + 1 < argc ? argv[++i] : NULL;
        if (value && is("--listen", name, n)) {
            if (listen_at(c, value)) continue;
            fprintf(stderr, "/listen: \"%s\" is not an address and port. Write 127.0.0.1:7878.\n",
                    value);
            return SERVE_WRONG;
        }
        if (value && is("--host", name, n) && c->hosts_n == SERVE_HOSTS_MAX) {
            fprintf(stderr, "/host: %d names at most.\n", SERVE_HOSTS_MAX);
            return SERVE_WRONG;
        }
        if (value && take(c, name, n, value)) continue;
        fprintf(stderr, "%s is not an option of serve, or its value is missing.\n", name);
        return SERVE_WRONG;
    }
    if (!c->book || !c->job) return SERVE_GOOD;
    fputs("--book and --job: write one of them.\n", stderr);
    return SERVE_WRONG;
}
