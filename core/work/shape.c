#include "core/work/shape_kinds.h"

#include <math.h>
#include <string.h>

static const double MAX_MM = 20000;

const struct shape_kind *shape_kind_at(size_t i) {
    return i < shape_boards.n                    ? &shape_boards.rows[i]
           : i < shape_boards.n + shape_sticks.n ? &shape_sticks.rows[i - shape_boards.n]
                                                 : NULL;
}

const struct shape_kind *shape_kind_of(const char *id) {
    const struct shape_kind *kind;
    for (size_t i = 0; id && (kind = shape_kind_at(i)); i++)
        if (!strcmp(kind->id, id)) return kind;
    return NULL;
}

static const char face_letters[] = "fklrtb";

static enum status faces_add(const struct shape_area_mm2 *a, const char *faces, double *out,
                             struct why *why) {
    double sum = a->body;
    for (const char *f = faces; *f; f++) {
        const char *at = strchr(face_letters, *f);
        if (!at || strchr(f + 1, *f))
            return why_say(why, E_SYNTAX, "/faces",
                           "\"%.20s\" is no choice of faces. Write each letter once: f front, k "
                           "back, l left, r right, t top, b bottom.",
                           faces);
        sum += a->face[at - face_letters];
    }
    *out = sum;
    return OK;
}

static enum status sizes_check(const struct shape_kind *kind, const double *said, double *mm,
                               struct why *why) {
    char field[64];
    for (int i = 0; i < PART_SIZES; i++) {
        mm[i] = isnan(said[i]) ? 0 : said[i];
        if (!kind->sizes[i]) {
            if (isnan(said[i]) || said[i] == 0) continue;
            return why_say(why, E_DOMAIN, "/sizes", "The %s has only %d sizes.", kind->name, i);
        }
        strcpy(field, "/sizes/");
        strncat(field, kind->sizes[i], sizeof field - 8);
        if (isnan(said[i]) && i < kind->needed)
            return why_say(why, E_MISSING, field, "The %s of the %s is missing.", kind->sizes[i],
                           kind->name);
        if (!(mm[i] >= 0 && mm[i] <= MAX_MM))
            return why_say(why, E_DOMAIN, field, "The %s of %g mm is outside 0 to %g mm.",
                           kind->sizes[i], said[i], MAX_MM);
    }
    return OK;
}

enum status shape_area(const struct shape_kind *kind, const double *size_mm, const char *faces,
                       double *out_m2, struct why *why) {
    double mm[PART_SIZES], mm2 = 0;
    enum status s = sizes_check(kind, size_mm, mm, why);
    if (s) return s;
    const char *wrong = kind->wrong ? kind->wrong(mm) : NULL;
    if (wrong) return why_say(why, E_DOMAIN, "/sizes", "%s", wrong);
    struct shape_area_mm2 a = kind->area(mm);
    if ((s = faces_add(&a, faces ? faces : kind->faces, &mm2, why))) return s;
    *out_m2 = mm2 * 1e-6;
    return OK;
}

static double span(const struct shape_kind *kind, const double *size_mm, int i) {
    double mm = size_mm[kind->lies[i]];
    return isnan(mm) ? 0 : mm;
}

double shape_floor_m2(const struct shape_kind *kind, const double *size_mm) {
    return span(kind, size_mm, 0) * span(kind, size_mm, 1) * 1e-6;
}

double shape_outline_mm(const struct shape_kind *kind, const double *size_mm) {
    const double pi = 3.14159265358979323846;
    if (kind->lies[0] == kind->lies[1]) return pi * span(kind, size_mm, 0);
    return 2 * (span(kind, size_mm, 0) + span(kind, size_mm, 1));
}
