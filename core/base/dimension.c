#include "core/base/dimension.h"

static const char *const texts[][2] = {
#define X(name, suffix, unit) [name] = {suffix, unit},
    DIMENSION_LIST(X)
#undef X
};

const char *dimension_suffix(enum dimension d) {
    return texts[d][0];
}
const char *dimension_unit(enum dimension d) {
    return texts[d][1];
}
