#include "app/label.h"
#include "codec/document.h"

#include <errno.h>
#include <qrencode.h>

enum { QUIET = 4 };

enum status label_code(const char *text, struct arena *arena, const char **out_svg,
                       struct why *why) {
    QRcode *code = QRcode_encodeString8bit(text, 0, QR_ECLEVEL_M);
    if (!code)
        return errno == ERANGE ? why_say(why, E_TOO_LARGE, "", "The text is too long for a code.")
                               : why_no_memory(why);
    struct text t = {0};
    int size = code->width + 2 * QUIET;
    text_print(&t,
               "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 %d %d\" "
               "shape-rendering=\"crispEdges\">"
               "<path fill=\"#fff\" d=\"M0 0h%dv%dH0z\"/><path d=\"",
               size, size, size, size);
    for (int y = 0; y < code->width; y++)
        for (int x = 0, n = 0; x < code->width; x += n + 1) {
            for (n = 0; x + n < code->width && (code->data[y * code->width + x + n] & 1); n++) {
            }
            if (n) text_print(&t, "M%d %dh%dv1h-%dz", x + QUIET, y + QUIET, n, n);
        }
    text_print(&t, "\"/></svg>");
    QRcode_free(code);
    *out_svg = t.failed ? NULL : arena_text(arena, t.at);
    text_free(&t);
    return *out_svg ? OK : why_no_memory(why);
}
