#include "photo/raster.h"

enum status raster_bounds(uint64_t width, uint64_t height, struct why *why) {
    if (!width || !height)
        return why_say(why, E_SYNTAX, "/photo", "The picture says that it has no pixels.");
    if (width > 100000 || height > 100000 || width * height > PICTURE_PIXELS_MAX)
        return why_say(why, E_TOO_LARGE, "/photo",
                       "The picture says it is %llu x %llu pixels. At most %d megapixels are read; "
                       "save it smaller.",
                       (unsigned long long)width, (unsigned long long)height,
                       PICTURE_PIXELS_MAX / 1000000);
    return OK;
}

enum status raster_decode(const uint8_t *p, size_t n, const struct raster *to, struct why *why) {
    if (n > PICTURE_FILE_MAX)
        return why_say(why, E_TOO_LARGE, "/photo",
                       "The picture has %.1f MB. At most %d MB are read; save it smaller.",
                       (double)n / 1048576, PICTURE_FILE_MAX / 1048576);
    switch (picture_format_of(p, n)) {
    case PICTURE_JPEG: return jpeg_decode(p, n, to, why);
    case PICTURE_PNG: return png_decode(p, n, to, why);
    case PICTURE_WEBP: return webp_decode(p, n, to, why);
    case PICTURE_HEIC: return heic_decode(p, n, to, why);
    case PICTURE_UNKNOWN: break;
    }
    return why_say(why, E_TYPE, "/photo",
                   n ? "This is not a picture that is read here: its first bytes are none of "
                       "JPEG, PNG, WebP or HEIC."
                     : "The file is empty.");
}
