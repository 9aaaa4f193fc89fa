/* The words of the warnings. */
#include "core/photo/photo.h"

const char *photo_warning_word(unsigned bit) {
    switch (bit) {
#define X(name, value, word, text)                                                                 \
    case value: return word;
        PHOTO_WARNING_LIST(X)
#undef X
    }
    return NULL;
}

const char *photo_warning_text(unsigned bit) {
    switch (bit) {
#define X(name, value, word, text)                                                                 \
    case value: return text;
        PHOTO_WARNING_LIST(X)
#undef X
    }
    return NULL;
}
