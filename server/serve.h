/* serve: the app in the browser, on this machine alone. */
#ifndef SERVER_SERVE_H
#define SERVER_SERVE_H

/* The words behind "serve" on the command line. Returns the exit status: 0 stopped by a signal, 1
 * failed, 2 wrong usage. */
int serve_main(int argc, char **argv);

#endif
