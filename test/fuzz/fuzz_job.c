/* Job documents: a status with a reason, or a job that prints and reads back the same. */
#include "codec/document.h"
#include "codec/job_desc.h"
#include "core/work/job.h"
#include "test/fuzz/fuzz.h"

#include <stdlib.h>
#include <string.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    struct arena arena;
    struct why why = {0};
    struct job job, back;
    struct text once = {0}, twice = {0};
    arena_init(&arena, alloc_heap(), 64u << 20);
    enum status s =
        document_read(&desc_job, SPELL_INPUT, (const char *)data, size, &arena, &job, &why);
    if (s != OK && !why.text[0]) abort();
    if (s == OK && job.pieces_n) {
        if (document_print(&desc_job, SPELL_INPUT, &job, 0, &once) != OK) abort();
        if (document_read(&desc_job, SPELL_INPUT, once.at, once.n, &arena, &back, &why) != OK)
            abort();
        if (document_print(&desc_job, SPELL_INPUT, &back, 0, &twice) != OK) abort();
        if (strcmp(once.at, twice.at)) abort();
    }
    text_free(&once);
    text_free(&twice);
    arena_free(&arena);
    return 0;
}
