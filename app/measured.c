#include "app/measured.h"

#include <string.h>

enum status measured_read(const char *text, const char *member, enum spectrum_scale scale,
                          struct arena *a, struct spectrum_text *out, struct why *why) {
    enum status s = spectrum_text_read(text, strlen(text), scale, a, out, why);
    if (s) why_under(why, member);
    return s;
}

enum status measured_sample(const struct spectrum_text *file, const char *name,
                            const struct spectrum_read **out, struct why *why) {
    const size_t none = file->n;
    size_t at = none;
    if (!name && file->n > 1)
        return why_say(
            why, E_MISSING, "/sample",
            "The file holds several samples, the first is \"%.80s\". Say which one it is.",
            file->samples[0].name);
    for (size_t i = 0; i < file->n; i++) {
        if (name && strcmp(file->samples[i].name, name)) continue;
        if (at != none)
            return why_say(why, E_DUPLICATE, "/sample",
                           "Samples %zu and %zu of the file are both named \"%.80s\". Give one of "
                           "them another name there.",
                           at + 1, i + 1, name);
        at = i;
    }
    if (at == none)
        return why_say(why, E_REFERENCE, "/sample",
                       "The file has no sample \"%.80s\". Its first is \"%.80s\".",
                       name ? name : "", file->n ? file->samples[0].name : "");
    *out = &file->samples[at];
    return OK;
}
