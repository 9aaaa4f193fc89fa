/* The confined side. */
#include "photo/worker.h"

#include "photo/confine.h"
#include "photo/raster.h"

#include <errno.h>
#include <stdio.h>
#include <string.h>
#include <sys/mman.h>
#include <sys/stat.h>
#include <unistd.h>

static void put(const void *from, size_t n) {
    for (const char *p = from; n;) {
        ssize_t k = write(WORKER_ANSWER_FD, p, n);
        if (k < 0 && errno == EINTR) continue;
        if (k <= 0) _exit(1);
        p += k;
        n -= (size_t)k;
    }
}

static _Noreturn void answer(enum status s, const struct why *why, const struct picture_answer *a) {
    static struct worker_answer head; /* zero between its members too: nothing else leaks out */
    head.status = (int32_t)s;
    if (why) head.why = *why;
    if (!s && a) {
        head.facts = a->facts;
        head.blocks_n = a->blocks_n;
        head.preview_n = a->preview_n;
    }
    put(&head, sizeof head);
    if (!s && a) {
        put(a->blocks, a->blocks_n * sizeof *a->blocks);
        put(a->preview, a->preview_n);
    }
    _exit(0); /* no handlers: they would want files */
}

static _Noreturn void probe(void) {
    struct why why = {0};
    const char *leak = confine_leak();
    snprintf(why.text, sizeof why.text, "%s", leak ? leak : "");
    answer(OK, &why, NULL);
}

void picture_worker(int argc, char **argv) {
    struct why why = {0};
    struct stat size;
    struct picture_answer a;
    if (argc != 1 || strcmp(argv[0], WORKER_NAME)) return;
    if (fstat(WORKER_ASK_FD, &size) || size.st_size < (off_t)sizeof(struct worker_ask)) _exit(1);
    const char *at = mmap(NULL, (size_t)size.st_size, PROT_READ, MAP_PRIVATE, WORKER_ASK_FD, 0);
    if (at == MAP_FAILED) _exit(1);
    close(WORKER_ASK_FD);
    raster_prepare();
    if (!confine()) {
        why_say(&why, E_IO, "/photo",
                "This system cannot confine the reading of pictures (seccomp), so none is read.");
        answer(E_IO, &why, NULL);
    }
    const struct worker_ask *ask = (const void *)at;
    if (ask->probe) probe();
    struct picture_ask what = {.rects = (const void *)(at + sizeof *ask),
                               .rects_n = ask->rects_n,
                               .preview_side = ask->preview_side,
                               .crop = ask->crop};
    const char *bytes = at + sizeof *ask + ask->rects_n * sizeof *what.rects;
    enum status s = picture_read_here(bytes, ask->bytes_n, &what, &a, &why);
    answer(s, &why, &a);
}
