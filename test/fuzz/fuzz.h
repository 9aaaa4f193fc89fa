/* What a fuzz target offers, to libFuzzer and to the plain driver alike. */
#ifndef TEST_FUZZ_FUZZ_H
#define TEST_FUZZ_FUZZ_H

#include <stddef.h>
#include <stdint.h>

/* Returns 0; aborts when a law of the target is broken. */
int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

#endif
