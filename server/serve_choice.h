/* The command line of "serve". */
#ifndef SERVER_SERVE_CHOICE_H
#define SERVER_SERVE_CHOICE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdio.h>

enum { SERVE_HOSTS_MAX = 8 };

struct serve_choice {                       /* texts are borrowed from argv */
    const char *book, *job;                 /* at most one; NULL: not said */
    const char *hosts[SERVE_HOSTS_MAX + 1]; /* further names, NULL behind the last */
    size_t hosts_n;
    char address[64]; /* "127.0.0.1", "::1": without brackets */
    int port;         /* 0: any free one */
    bool or_next;     /* the next free port when that one is in use */
};

enum serve_words { SERVE_GOOD, SERVE_HELP, SERVE_WRONG };

/* SERVE_WRONG: what is wrong was said on stderr. */
enum serve_words serve_choose(struct serve_choice *out, int argc, char **argv);
void serve_usage(FILE *to);

#endif
