#include "core/work/shape_kinds.h"

#include <math.h>
#include <string.h>

static const double MAX_MM = 20000;

/* clang-format off */
static const struct shape_kind kinds[] = {
    /* id, name, sizes, needed, form, usual faces, area, wrong, lies */
    {"panel", "board", {"width", "height", "thickness", "bow"}, 2, FORM_FLAT, "flrtb",
     shape_panel, shape_panel_wrong, {0, 1}},
    {"drawer_front", "drawer front", {"width", "height", "thickness", "bow"}, 2, FORM_FLAT, "flrtb",
     shape_panel, shape_panel_wrong, {0, 1}},
    {"door", "flat door", {"width", "height", "thickness", "bow"}, 2, FORM_FLAT, "fklrtb",
     shape_panel, shape_panel_wrong, {0, 1}},
    {"frame_panel", "frame and panel", {"width", "height", "thickness", "frame", "recess", "bevel"},
     4, FORM_PANEL, "fklrtb", shape_frame_panel, shape_frame_panel_wrong, {0, 1}},
    {"frame", "frame with an opening",
     {"width", "height", "thickness", "opening_width", "opening_height"}, 5, FORM_NARROW, "flrtb",
     shape_frame, shape_frame_wrong, {0, 1}},
    {"box", "box", {"width", "depth", "height", "bow"}, 3, FORM_FLAT, "flrt",
     shape_box, shape_bow_wrong, {0, 1}},
    {"inside", "inside of a box, open in front", {"width", "depth", "height", "bow"}, 3, FORM_FLAT,
     "klrtb", shape_box, shape_bow_wrong, {0, 1}},
    {"shelf", "shelf", {"width", "depth", "thickness"}, 2, FORM_FLAT, "ftb",
     shape_shelf, 0, {0, 1}},
    {"top", "top", {"width", "depth", "thickness", "bow", "edge_girth"}, 2, FORM_FLAT, "fklrt",
     shape_top, shape_bow_wrong, {0, 1}},
    {"disc", "round top", {"diameter", "thickness", "edge_girth"}, 1, FORM_FLAT, "t",
     shape_disc, 0, {0, 0}},
    {"oval", "oval top", {"width", "depth", "thickness", "edge_girth"}, 2, FORM_FLAT, "t",
     shape_oval, 0, {0, 1}},
    {"ring", "ring", {"outer_diameter", "inner_diameter", "thickness"}, 2, FORM_NARROW, "fk",
     shape_ring, shape_ring_wrong, {0, 0}},
    {"arch", "board with a round head", {"width", "height", "thickness", "rise"}, 4, FORM_FLAT,
     "flrt", shape_arch, shape_bow_wrong, {0, 1}},
    {"seat", "seat", {"front_width", "back_width", "depth", "thickness"}, 3, FORM_FLAT, "fklrt",
     shape_seat, 0, {0, 2}},
    {"carved", "carved work", {"width", "height"}, 2, FORM_TURNED, "f", shape_carved, 0, {0, 1}},
    {"square_leg", "square leg", {"width", "depth", "length"}, 3, FORM_NARROW, "",
     shape_square_leg, 0, {0, 2}},
    {"rail", "rail", {"width", "depth", "length"}, 3, FORM_NARROW, "",
     shape_square_leg, 0, {0, 2}},
    {"taper_leg", "leg tapered on four faces", {"top", "foot", "length", "straight"}, 3,
     FORM_NARROW, "", shape_taper_leg, shape_taper_wrong, {0, 2}},
    {"taper_inside", "leg tapered on the inner faces", {"top", "foot", "length", "straight"}, 3,
     FORM_NARROW, "", shape_taper_inside, shape_taper_wrong, {0, 2}},
    {"turned_leg", "turned leg",
     {"top_diameter", "middle_diameter", "foot_diameter", "length", "beads", "bead_width"}, 4,
     FORM_TURNED, "", shape_turned_leg, shape_turned_wrong, {1, 3}},
    {"spindle", "spindle", {"end_diameter", "middle_diameter", "length"}, 3, FORM_TURNED, "",
     shape_spindle, 0, {1, 2}},
    {"cylinder", "round rail or column", {"diameter", "length"}, 2, FORM_TURNED, "",
     shape_cylinder, 0, {0, 1}},
    {"cone", "round tapered leg", {"top_diameter", "foot_diameter", "length"}, 3, FORM_TURNED, "",
     shape_cone, 0, {0, 2}},
    {"ball_foot", "ball foot", {"diameter", "height"}, 2, FORM_TURNED, "",
     shape_ball_foot, shape_ball_wrong, {0, 0}},
    {"knob", "knob", {"diameter", "neck_diameter", "neck_length"}, 1, FORM_TURNED, "",
     shape_knob, shape_knob_wrong, {0, 0}},
    {"cabriole", "curved leg by its girth", {"length", "knee_girth", "ankle_girth"}, 3, FORM_TURNED,
     "", shape_cabriole, 0, {0, 1}},
    {"molding", "molding by its girth", {"length", "girth"}, 2, FORM_TURNED, "",
     shape_molding, 0, {0, 1}},
    {"slat", "slat", {"length", "width", "thickness"}, 3, FORM_OPEN, "", shape_slat, 0, {0, 1}},
    {"louvers", "louvers in a frame",
     {"width", "height", "thickness", "frame", "pitch", "blade_girth"}, 6, FORM_OPEN, "",
     shape_louvers, shape_louvers_wrong, {0, 1}},
    {"lattice", "lattice", {"width", "height", "strip", "thickness", "spacing"}, 5, FORM_OPEN, "",
     shape_lattice, shape_lattice_wrong, {0, 1}},
};
/* clang-format on */

const struct shape_kind *shape_kinds(size_t *out_n) {
    if (out_n) *out_n = sizeof kinds / sizeof *kinds;
    return kinds;
}

const struct shape_kind *shape_kind_of(const char *id) {
    for (size_t i = 0; id && i < sizeof kinds / sizeof *kinds; i++)
        if (!strcmp(kinds[i].id, id)) return &kinds[i];
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
