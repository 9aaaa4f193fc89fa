/* SHA-256 against the examples published with the standard (NIST, FIPS 180-4 example values). */
#include "core/base/sha256.h"
#include "test/check.h"

#include <stdlib.h>

int main(void) {
    static const struct {
        const char *text, *sum;
    } rows[] = {
        {"", "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"},
        {"abc", "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"},
        {"abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq",
         "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1"},
    };
    char sum[65];
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) CASE(rows[i].text) {
            sha256_hex(rows[i].text, strlen(rows[i].text), sum);
            CHECK_TEXT(sum, rows[i].sum);
        }
    CASE("a million a") {
        char *a = malloc(1000000);
        memset(a, 'a', 1000000);
        sha256_hex(a, 1000000, sum);
        CHECK_TEXT(sum, "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0");
        free(a);
    }
    return check_done();
}
