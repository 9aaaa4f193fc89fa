#include "core/work/work_part.h"

#include "core/work/defect.h"
#include "core/work/lookup.h"

#include <string.h>

static const struct {
    const char *id, *name;
} parts[WORK_PARTS] = {
    [WORK_TAKEDOWN] = {"takedown", "Inspection and take-down"},
    [WORK_REPAIRS] = {"repairs", "Repairs"},
    [WORK_SAMPLES] = {"samples", "Sample card, mixing, test board"},
    [WORK_PREPARE] = {"prepare", "Cleaning, sanding, priming"},
    [WORK_COLOR] = {"color", "Color"},
    [WORK_CLEAR] = {"clear", "Clear coats and wax"},
    [WORK_FINISH] = {"finish", "Fitting and handing over"},
};

const char *work_part_id(enum work_part p) {
    return parts[p].id;
}
const char *work_part_name(enum work_part p) {
    return parts[p].name;
}

enum work_part work_part_of_role(enum coat_role role) {
    if (role == ROLE_COLOR || role == ROLE_EFFECT) return WORK_COLOR;
    return role >= ROLE_CLEAR ? WORK_CLEAR : WORK_PREPARE;
}

/* A card and a batch are of the role color, and come due for each color that is mixed. */
static bool is_sample(const char *operation) {
    static const char *const ids[] = {"sample_card", "mix_batch", "mix_pot", "test_board", "patch"};
    for (size_t i = 0; i < sizeof ids / sizeof *ids; i++)
        if (!strcmp(ids[i], operation)) return true;
    return false;
}

static enum work_part part_of_word(const char *role) {
    if (!strcmp(role, "takedown")) return WORK_TAKEDOWN;
    if (!strcmp(role, "repair")) return WORK_REPAIRS;
    if (!strcmp(role, "finish")) return WORK_FINISH;
    for (enum coat_role r = ROLE_CLEAN; r <= ROLE_WAX; r++)
        if (!strcmp(role, role_word(r))) return work_part_of_role(r);
    return WORK_PARTS;
}

enum work_part work_part_of(const struct tables *t, const char *operation) {
    if (!operation) return WORK_PARTS;
    if (is_sample(operation)) return WORK_SAMPLES;
    const struct operations_row *row = operation_row(t, operation);
    if (row) return part_of_word(row->role);
    return repair_row(t, operation) ? WORK_REPAIRS : WORK_PARTS;
}
