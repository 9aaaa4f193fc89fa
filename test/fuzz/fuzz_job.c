/* Job documents: a status with a reason, or a job that prints and reads back the same. */
#include "codec/document.h"
#include "codec/job_desc.h"
#include "core/work/job.h"
#include "test/fuzz/fuzz.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Says which law is broken, and on what, before the run ends. */
static void broken(const char *law, const char *text, const struct why *why) {
    fprintf(stderr, "%s: %s %s\n%s\n", law, why->field, why->text, text);
    abort();
}

static void print(const struct job *job, struct text *out) {
    static const struct why none;
    if (document_print(&desc_job, SPELL_INPUT, job, 0, out)) broken("not printed", "", &none);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    struct arena arena;
    struct why why = {0};
    struct job job, back;
    struct text once = {0}, twice = {0};
    arena_init(&arena, alloc_heap(), 64u << 20);
    enum status s =
        document_read(&desc_job, SPELL_INPUT, (const char *)data, size, &arena, &job, &why);
    if (s != OK && !why.text[0]) broken("refused without a reason", "", &why);
    if (s == OK && job.pieces_n) {
        print(&job, &once);
        if (document_read(&desc_job, SPELL_INPUT, once.at, once.n, &arena, &back, &why))
            broken("not read back", once.at, &why);
        print(&back, &twice);
        if (strcmp(once.at, twice.at)) {
            fprintf(stderr, "%s\n", twice.at);
            broken("printed otherwise when read back", once.at, &why);
        }
    }
    text_free(&once);
    text_free(&twice);
    arena_free(&arena);
    return 0;
}
