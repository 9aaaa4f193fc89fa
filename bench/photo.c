/* Colors read from simulated pictures: how far from the truth, and does the reading know it?
 *
 *   photo [--pictures N] [--faults N] [--camera NAME] [--no-jpeg]
 *   photo --write DIR --pictures N    JPEG (sRGB) and references of N pictures a set, for
 *                                     `coatwright measure`; truth.csv holds the true colors
 *
 * N pictures of each camera under each light (default 50), 4 independent targets in each. */
#include "bench/photo_scene.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct list {
    double *at;
    size_t n, cap;
};

static void push(struct list *l, double x) {
    if (l->n == l->cap) {
        l->cap = l->cap ? 2 * l->cap : 1024;
        l->at = realloc(l->at, l->cap * sizeof *l->at);
        if (!l->at) abort();
    }
    l->at[l->n++] = x;
}

static int by_size(const void *p, const void *q) {
    double a = *(const double *)p, b = *(const double *)q;
    return (a > b) - (a < b);
}

static double quantile(struct list *l, double q) {
    if (!l->n) return NAN;
    qsort(l->at, l->n, sizeof *l->at, by_size);
    return l->at[(size_t)(q * (double)(l->n - 1) + 0.5)];
}

static double mean(const struct list *l) {
    double s = 0;
    for (size_t i = 0; i < l->n; i++) s += l->at[i];
    return s / (double)l->n;
}

struct tally {
    struct list error, expected;
    size_t inside;
};

static void count(struct tally *t, double error, double expected, double limit90) {
    push(&t->error, error);
    push(&t->expected, expected);
    t->inside += error <= limit90;
}

static void show(const char *name, struct tally *t, const char *asked) {
    if (!t->error.n) return;
    double em = mean(&t->error), xm = mean(&t->expected);
    printf(
        "  %-34s %5.2f / %5.2f   %-12s expected/real %.2f (means %.2f)  inside 90 %%: %4.1f %%\n",
        name, quantile(&t->error, 0.5), quantile(&t->error, 0.95), asked,
        quantile(&t->expected, 0.5) / quantile(&t->error, 0.5), xm / em,
        100.0 * (double)t->inside / (double)t->error.n);
}

/* Error of a stated difference: in CIEDE2000 between the second color as it is and as the first,
 * true one and the difference make it. */
static double difference_error(const double d[3], struct lab first, struct lab second) {
    return ciede2000(second, (struct lab){first.l + d[0], first.a + d[1], first.b + d[2]});
}

struct bench {
    struct photo_world *world;
    bool jpeg;
    struct list raw, spaces;
    struct tally set[SETS], same, other, four, swapped, four_same, camera[WORLD_CAMERAS_MAX],
        light[WORLD_LIGHTS];
    size_t warned[FAULTS][SETS][8], taken[FAULTS];
};

static void one_picture(struct bench *b, size_t camera, size_t light, struct random *r) {
    static struct picture picture;
    static struct scene_blocks blocks;
    struct scene scene;
    struct arena arena;
    scene_make(b->world, r, &scene);
    struct picture_setup setup = scene_setup(camera, light, r);
    picture_take(b->world, &setup, scene.patch, SCENE_PATCHES, b->jpeg, &picture);
    scene_read(&scene, &picture, &blocks);
    for (int set = 0; set < SETS; set++) {
        struct scene_shot s;
        struct photo_reading reading;
        struct why why;
        arena_init(&arena, alloc_heap(), 0);
        scene_shot(&scene, &blocks, (enum reference_set)set, &s);
        if (photo_read(&s.shot, &arena, &reading, &why) != OK) {
            printf("%s: %s\n", why.field, why.text);
            exit(1);
        }
        for (size_t t = 0; t < SCENE_TARGETS; t++) {
            if (t == 1 || t == 2 || t == 4 || t == 5) continue;
            const struct photo_color *c = &reading.targets[t];
            double error = ciede2000(c->lab, scene.patch[SCENE_TARGET + t].surface.lab);
            count(&b->set[set], error, c->expected, c->limit90);
            if (set == SET_CHIPS12) {
                count(&b->camera[camera], error, c->expected, c->limit90);
                count(&b->light[light], error, c->expected, c->limit90);
            }
        }
        if (set == SET_CHIPS12)
            for (size_t t = 0; t < 6; t += 3)
                for (size_t m = 1; m < 3; m++) {
                    struct scene_shot pair = s;
                    pair.target[0] = s.target[t];
                    pair.target[1] = s.target[t + m];
                    pair.shot.targets = pair.target;
                    pair.shot.targets_n = 2;
                    if (photo_read(&pair.shot, &arena, &reading, &why) != OK) exit(1);
                    struct lab p = scene.patch[SCENE_TARGET + t].surface.lab;
                    struct lab q = scene.patch[SCENE_TARGET + t + m].surface.lab;
                    count(m == 1 ? &b->same : &b->other,
                          difference_error(reading.difference.lab, p, q),
                          reading.difference.expected, reading.difference.limit90);
                }
        arena_free(&arena);
    }
    for (size_t t = 0; t < SCENE_TARGETS; t++) {
        if (t == 1 || t == 2 || t == 4 || t == 5) continue;
        double m[3] = {0};
        for (size_t i = 0; i < blocks.n[SCENE_TARGET + t]; i++)
            for (int k = 0; k < 3; k++)
                m[k] +=
                    blocks.block[SCENE_TARGET + t][i].rgb[k] / (double)blocks.n[SCENE_TARGET + t];
        struct lab c = lab_of_xyz(
            xyz_d50_of_d65(xyz_d65_of_rgb(RGB_DISPLAY_P3, (struct rgb){m[0], m[1], m[2]})),
            XYZ_D50);
        push(&b->raw, ciede2000(c, scene.patch[SCENE_TARGET + t].surface.lab));
    }
}

/* Reads a picture of a scene by twelve chips; the reading lives in the arena. */
static struct photo_reading read_chips(struct bench *b, const struct scene *scene,
                                       const struct picture_setup *setup, size_t first,
                                       size_t second, struct arena *arena) {
    static struct picture picture;
    static struct scene_blocks blocks;
    struct scene_shot s;
    struct photo_reading reading;
    picture_take(b->world, setup, scene->patch, SCENE_PATCHES, b->jpeg, &picture);
    scene_read(scene, &picture, &blocks);
    scene_shot(scene, &blocks, SET_CHIPS12, &s);
    s.target[0] = (struct photo_patch){"first", blocks.block[first], blocks.n[first]};
    s.target[1] = (struct photo_patch){"second", blocks.block[second], blocks.n[second]};
    s.shot.targets_n = 2;
    if (photo_read(&s.shot, arena, &reading, NULL) != OK) exit(1);
    return reading;
}

/* Four pictures of the same chips and two targets. Moved: everything lies elsewhere each time, in
 * other light from the same lamp. Swapped: nothing but the two targets changes its place. */
static void four_shots(struct bench *b, size_t camera, size_t light, bool swap, struct random *r) {
    struct scene scene;
    struct photo_reading shots[4], all;
    struct arena arena;
    arena_init(&arena, alloc_heap(), 0);
    scene_make(b->world, r, &scene);
    struct picture_setup setup = scene_setup(camera, light, r);
    const struct lab p = scene.patch[SCENE_TARGET].surface.lab;
    const struct lab q = scene.patch[SCENE_TARGET + 1].surface.lab;
    for (int i = 0; i < 4; i++) {
        struct picture_setup next = scene_setup(camera, light, r);
        next.space = setup.space, next.curve = setup.curve, next.lamp = setup.lamp;
        next.saturation = setup.saturation, next.vignette = setup.vignette;
        if (swap) {
            next.slope[0] = setup.slope[0], next.slope[1] = setup.slope[1];
            if (i) scene_swap(&scene);
        } else {
            scene_deal(&scene, r);
        }
        size_t first = (size_t)(SCENE_TARGET + (swap && i % 2 == 1));
        shots[i] = read_chips(b, &scene, &next, first, 2 * SCENE_TARGET + 1 - first, &arena);
    }
    if (photo_average(shots, 4, &arena, &all, NULL) != OK) exit(1);
    double off = difference_error(all.difference.lab, p, q);
    if (!swap)
        count(&b->four, ciede2000(all.targets[0].lab, p), all.targets[0].expected,
              all.targets[0].limit90);
    count(swap ? &b->swapped : &b->four_same, off, all.difference.expected, all.difference.limit90);
    arena_free(&arena);
}

/* The same picture in both spaces, where nothing of the target is clipped or outside sRGB. */
static void both_spaces(struct bench *b, size_t camera, size_t light, struct random *r) {
    static struct picture in_p3, in_srgb;
    static struct scene_blocks blocks[2];
    struct scene scene;
    struct arena arena;
    arena_init(&arena, alloc_heap(), 0);
    scene_make(b->world, r, &scene);
    struct picture_setup setup = scene_setup(camera, light, r);
    setup.space = RGB_DISPLAY_P3;
    picture_take(b->world, &setup, scene.patch, SCENE_PATCHES, b->jpeg, &in_p3);
    picture_convert(&in_p3, RGB_SRGB, &in_srgb);
    scene_read(&scene, &in_p3, &blocks[0]);
    scene_read(&scene, &in_srgb, &blocks[1]);
    struct scene_shot s[2];
    struct photo_reading reading[2];
    for (int i = 0; i < 2; i++) {
        scene_shot(&scene, &blocks[i], SET_WHITE, &s[i]);
        if (photo_read(&s[i].shot, &arena, &reading[i], NULL) != OK) exit(1);
    }
    for (size_t t = 0; t < SCENE_TARGETS; t++) {
        bool good = reading[0].targets[t].warnings == 0;
        for (size_t i = 0; i < blocks[0].n[SCENE_TARGET + t]; i++) {
            const double *v = blocks[0].block[SCENE_TARGET + t][i].rgb;
            struct rgb c = rgb_of_xyz_d65(
                RGB_SRGB, xyz_d65_of_rgb(RGB_DISPLAY_P3, (struct rgb){v[0], v[1], v[2]}));
            good = good && fmin(c.r, fmin(c.g, c.b)) > 0.01 && fmax(c.r, fmax(c.g, c.b)) < 0.95;
        }
        if (good) push(&b->spaces, ciede2000(reading[0].targets[t].lab, reading[1].targets[t].lab));
    }
    arena_free(&arena);
}

/* Which warnings a picture with one fault gets, with two targets in it. */
static void one_fault(struct bench *b, size_t camera, size_t light, enum picture_fault fault,
                      struct random *r) {
    static struct picture picture;
    static struct scene_blocks blocks;
    struct scene scene;
    scene_make(b->world, r, &scene);
    struct picture_setup setup = scene_setup(camera, light, r);
    scene_fault(b->world, &scene, &setup, fault, r);
    picture_take(b->world, &setup, scene.patch, SCENE_PATCHES, b->jpeg, &picture);
    scene_read(&scene, &picture, &blocks);
    b->taken[fault]++;
    for (int set = 0; set < SETS; set++) {
        struct scene_shot s;
        struct photo_reading reading;
        struct arena arena;
        arena_init(&arena, alloc_heap(), 0);
        scene_shot(&scene, &blocks, (enum reference_set)set, &s);
        s.shot.targets_n = 2;
        if (photo_read(&s.shot, &arena, &reading, NULL) != OK) exit(1);
        for (int k = 0; k < 6; k++) b->warned[fault][set][k] += reading.warnings >> k & 1;
        b->warned[fault][set][6] += reading.warnings != 0;
        arena_free(&arena);
    }
}

static void show_faults(const struct bench *b) {
    printf("share of pictures (two targets) warned, in %%\n  %-10s %-16s", "fault", "references");
    for (int k = 0; k < 6; k++) printf(" %9s", photo_warning_word(1u << k));
    puts("       any");
    for (int f = 0; f < FAULTS; f++)
        for (int s = 0; s < SETS; s++) {
            printf("  %-10s %-16s", picture_fault_name((enum picture_fault)f),
                   reference_set_name((enum reference_set)s));
            for (int k = 0; k < 7; k++)
                printf(" %8.1f%s", 100.0 * (double)b->warned[f][s][k] / (double)b->taken[f],
                       f == k + 1 ? "*" : " ");
            puts("");
        }
}

static void write_patch(FILE *f, const struct picture_patch *p, const char *name, const char *kind,
                        const struct lab *lab, bool last) {
    fprintf(f, "    {\"name\": \"%s\"", name);
    if (kind) fprintf(f, ", \"kind\": \"%s\"", kind);
    fprintf(f, ", \"rect\": [%d, %d, %d, %d]", p->x, p->y, p->w, p->h);
    if (lab) fprintf(f, ", \"lab\": [%.3f, %.3f, %.3f]", lab->l, lab->a, lab->b);
    fprintf(f, "}%s\n", last ? "" : ",");
}

/* One picture with the references of one set and two targets, as a person would send it. */
static bool write_picture(struct bench *b, const char *dir, const char *name,
                          enum reference_set set, enum picture_fault fault, struct random *r,
                          FILE *truth) {
    static struct picture picture;
    static struct scene_blocks blocks;
    static const char *const kind[PHOTO_KINDS] = {"white", "gray", "chip", "patch"};
    struct scene scene;
    struct scene_shot s;
    char path[1024];
    scene_make(b->world, r, &scene);
    struct picture_setup setup = scene_setup(
        random_below(r, (uint32_t)photo_world_cameras(b->world)), random_below(r, WORLD_LIGHTS), r);
    setup.space = RGB_SRGB;
    scene_fault(b->world, &scene, &setup, fault, r);
    picture_take(b->world, &setup, scene.patch, SCENE_PATCHES, false, &picture);
    scene_read(&scene, &picture, &blocks);
    scene_shot(&scene, &blocks, set, &s);
    unsigned long bytes = 0;
    unsigned char *jpeg = picture_jpeg(&picture, &bytes);
    snprintf(path, sizeof path, "%s/%s.jpg", dir, name);
    FILE *f = fopen(path, "wb");
    if (!f) return free(jpeg), false;
    fwrite(jpeg, 1, bytes, f);
    fclose(f);
    free(jpeg);
    snprintf(path, sizeof path, "%s/%s.json", dir, name);
    if (!(f = fopen(path, "w"))) return false;
    fprintf(f, "{\n  \"references\": [\n");
    for (size_t i = 0; i < s.shot.references_n; i++)
        write_patch(f, &scene.patch[s.index[i]], "reference", kind[s.reference[i].kind],
                    &scene.stated[s.index[i]], i + 1 == s.shot.references_n);
    fprintf(f, "  ],\n  \"targets\": [\n");
    write_patch(f, &scene.patch[SCENE_TARGET], "first", NULL, NULL, false);
    write_patch(f, &scene.patch[SCENE_TARGET + 1], "second", NULL, NULL, true);
    fprintf(f, "  ]\n}\n");
    const struct lab p = scene.patch[SCENE_TARGET].surface.lab;
    const struct lab q = scene.patch[SCENE_TARGET + 1].surface.lab;
    fprintf(truth, "%s,%s,%s,%.4f,%.4f,%.4f,%.4f,%.4f,%.4f\n", name, reference_set_name(set),
            picture_fault_name(fault), p.l, p.a, p.b, q.l, q.a, q.b);
    return fclose(f) == 0;
}

static int write_all(struct bench *b, const char *dir, size_t pictures, struct random *r) {
    char path[1024];
    snprintf(path, sizeof path, "%s/truth.csv", dir);
    FILE *truth = fopen(path, "w");
    bool good = truth != NULL;
    if (good) fprintf(truth, "picture,references,fault,L1,a1,b1,L2,a2,b2\n");
    for (int set = 0; good && set < SETS; set++)
        for (int fault = 0; good && fault < FAULTS; fault++)
            for (size_t i = 0; good && i < (fault ? (pictures + 3) / 4 : pictures); i++) {
                char name[64];
                snprintf(name, sizeof name, "p%d%d%03zu", set, fault, i);
                good = write_picture(b, dir, name, (enum reference_set)set,
                                     (enum picture_fault)fault, r, truth);
            }
    if (truth && fclose(truth)) good = false;
    if (!good) fprintf(stderr, "%s: cannot be written\n", dir);
    return good ? 0 : 1;
}

int main(int argc, char **argv) {
    static const char *const asked[SETS] = {"3.5 / 8.5", "3.4 / 9.2", "2.7 / 7.8", "2.25 / 6.4",
                                            "2.0 / 5.7", "2.0 / 5.7", "-"};
    static struct bench b;
    size_t pictures = 50, faults = 5;
    const char *camera = NULL, *dir = NULL;
    b.jpeg = true;
    for (int i = 1; i < argc; i++) {
        if (!strcmp(argv[i], "--pictures") && i + 1 < argc) pictures = (size_t)atoi(argv[++i]);
        if (!strcmp(argv[i], "--faults") && i + 1 < argc) faults = (size_t)atoi(argv[++i]);
        if (!strcmp(argv[i], "--camera") && i + 1 < argc) camera = argv[++i];
        if (!strcmp(argv[i], "--write") && i + 1 < argc) dir = argv[++i];
        if (!strcmp(argv[i], "--no-jpeg")) b.jpeg = false;
    }
    b.world = photo_world_make();
    if (!b.world) return puts("skipped: no ../shared/data (or SHARED_DATA)"), 0;
    struct random r;
    random_seed(&r, 2024);
    if (dir) {
        int failed = write_all(&b, dir, pictures, &r);
        photo_world_free(b.world);
        return failed;
    }
    for (size_t c = 0; c < photo_world_cameras(b.world); c++)
        for (size_t l = 0; l < WORLD_LIGHTS; l++)
            for (size_t i = 0; i < pictures; i++)
                if (!camera || strstr(camera, photo_world_camera(b.world, c))) {
                    one_picture(&b, c, l, &r);
                    if (i % 2 == 0) {
                        four_shots(&b, c, l, false, &r);
                        four_shots(&b, c, l, true, &r);
                    }
                    if (i % 10 == 0) both_spaces(&b, c, l, &r);
                    for (int f = 0; f < FAULTS && i < faults; f++)
                        one_fault(&b, c, l, (enum picture_fault)f, &r);
                }
    puts("simulated pictures; CIEDE2000 (D50, 2 degrees), median / 95th percentile");
    printf("  %-34s %5.2f / %5.2f\n", "uncorrected", quantile(&b.raw, 0.5), quantile(&b.raw, 0.95));
    for (int s = 0; s < SETS; s++)
        show(reference_set_name((enum reference_set)s), &b.set[s], asked[s]);
    show("12 chips, four shots", &b.four, "1.5");
    show("pair of the same pigments", &b.same, "1.3");
    show("  four shots", &b.four_same, "-");
    show("  four shots, places swapped", &b.swapped, "0.8");
    show("pair of other pigments", &b.other, "-");
    printf("  %-34s %5.2f / %5.2f   largest %.2f of %zu (asked < 0.5)\n", "Display P3 against sRGB",
           quantile(&b.spaces, 0.5), quantile(&b.spaces, 0.95), quantile(&b.spaces, 1), b.spaces.n);
    puts("12 chips, by camera and by light");
    for (size_t c = 0; c < photo_world_cameras(b.world); c++)
        show(photo_world_camera(b.world, c), &b.camera[c], "");
    for (size_t l = 0; l < WORLD_LIGHTS; l++) show(photo_world_light(l), &b.light[l], "");
    if (faults) show_faults(&b);
    photo_world_free(b.world);
    return 0;
}
