/* Reading colors by references in the same picture: laws that hold whatever the camera. */
#include "core/color/color.h"
#include "core/photo/photo.h"
#include "test/check.h"

static struct photo_block block_of(struct lab c, const double gain[3], double x, double y) {
    struct rgb p = rgb_of_xyz_d65(RGB_DISPLAY_P3, xyz_d65_of_d50(xyz_of_lab(c, XYZ_D50)));
    return (struct photo_block){
        .rgb = {p.r * gain[0], p.g * gain[1], p.b * gain[2]}, .x = x, .y = y};
}

int main(void) {
    struct arena arena;
    struct photo_reading r = {0};
    struct why why;
    arena_init(&arena, alloc_heap(), 0);
    const double gain[3] = {0.5, 0.7, 0.4};
    const struct lab paper = {95, 0, -2}, wanted = {60, 20, 30};
    struct photo_block at_paper = block_of(paper, gain, 0.3, 0.4),
                       at_target = block_of(wanted, gain, 0.4, 0.4);
    struct photo_reference reference = {{"paper", &at_paper, 1}, PHOTO_WHITE, paper, 0};
    struct photo_patch target = {"wall", &at_target, 1};
    struct photo_shot shot = {&reference, 1, &target, 1, 1, 0.75};

    CASE("gains of light and white balance are undone by one white") {
        CHECK(photo_read(&shot, &arena, &r, &why) == OK);
        CHECK(r.targets_n == 1 && ciede2000(r.targets[0].lab, wanted) < 1);
        CHECK(r.references[0].difference < 1e-3);
        CHECK(r.targets[0].expected > 0.5 && r.targets[0].limit90 > r.targets[0].expected);
    }
    arena_free(&arena);
    return check_done();
}
