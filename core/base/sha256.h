/* SHA-256 of some bytes, by which a file is known again. Source: FIPS180 (FIPS 180-4, 6.2). */
#ifndef CORE_BASE_SHA256_H
#define CORE_BASE_SHA256_H

#include <stddef.h>

/* 64 lower-case hex digits and NUL. Cost: some ns a byte, no allocation. */
void sha256_hex(const void *bytes, size_t n, char out[65]);

#endif
