#include "core/work/mix_film.h"

#include "core/work/fact.h"

static double film_um(const struct tables *t, const char *class) {
    const struct product_classes_row *row = product_class_of(t, class);
    return row ? row->film_um : MIX_FILM_USUAL_UM;
}

/* Samples tell how strong paints are beside each other, not how much any of them scatters: a fit
 * may make all of them stronger alike, and no card contradicts. HIDING_WHITE_SCATTER_PER_UM is that
 * of the white, so the palest of the paints that go together is what its lightness tells. */
static double white_scatter(const struct palette *p, size_t with) {
    size_t palest = with;
    double s = 0;
    for (size_t i = 0; i < p->n; i++)
        if (p->paints[i].binder == p->paints[with].binder &&
            p->paints[i].knowledge != KNOWN_BY_RECIPE &&
            p->paints[i].lab.l > p->paints[palest].lab.l)
            palest = i;
    for (int b = 0; b < SPECTRUM_BANDS; b++) s += p->paints[palest].pigment.s[b] / SPECTRUM_BANDS;
    return HIDING_WHITE_SCATTER_PER_UM * pigment_strength_of_lightness(p->paints[palest].lab.l) / s;
}

/* One more jar with so much of its K and S in the mix; sum of shares so far in *io_sum. */
static void jar_add(const struct palette *p, size_t row, const struct pigment *pigment,
                    double volume, double *io_sum, struct mix_film *io) {
    const struct paint *paint = p->paints[row].paint;
    const struct hiding_film film = {pigment, white_scatter(p, row), film_um(p->t, paint->class)};
    const bool tried = paint->hides_in > 0;
    const double share = volume * pigment_tinting(pigment);
    struct hiding_scale h = {1, MIX_FILM_WEAK, 1};
    if (tried) h = hiding_learn(&film, (int)paint->hides_in, &p->d50);
    io->scale += share * h.scale;
    io->low += share * h.low;
    *io_sum += share;
    for (size_t i = 0; i < io->jars && i < MIX_FILM_JARS; i++)
        if (io->jar[i].paint == paint) { /* in a leftover, and once more out of its jar */
            io->jar[i].share += share;
            return;
        }
    io->tried += tried;
    if (paint->hides_in > io->seen_in) io->seen_in = paint->hides_in;
    if (io->jars < MIX_FILM_JARS)
        io->jar[io->jars] = (struct mix_film_jar){paint, share, h.scale, paint->hides_in};
    io->jars++;
}

/* A leftover counts as the jars that it was mixed from, unless it was tried itself. */
static void row_add(const struct palette *p, size_t row, double volume, double *io_sum,
                    struct mix_film *io) {
    const struct palette_paint *q = &p->paints[row];
    double parts = 0;
    if (q->knowledge == KNOWN_BY_RECIPE && q->paint->hides_in > 0) {
        jar_add(p, row, &q->pigment, volume, io_sum, io);
        return;
    }
    for (size_t k = 0; k < q->made_of.n; k++) parts += q->made_of.volume[k];
    for (size_t k = 0; k < q->made_of.n; k++) {
        const size_t model = q->made_of.paint[k];
        jar_add(p, p->model_paint[model], &sample_pigments(p->model)[model],
                volume * q->made_of.volume[k] / parts, io_sum, io);
    }
}

void mix_film_make(const struct palette *p, const double *volume, struct mix_film *out) {
    struct mix_film m = {.seen_in = INT64_MIN};
    double sum = 0, most = 0, all = 0;
    size_t main = 0;
    for (size_t i = 0; i < p->n; i++) {
        if (!(volume[i] > 0)) continue;
        all += volume[i];
        if (volume[i] > most) most = volume[i], main = i;
        row_add(p, i, volume[i], &sum, &m);
    }
    for (size_t i = 0; i < p->n; i++)
        for (int b = 0; b < SPECTRUM_BANDS && volume[i] > 0; b++) {
            m.paint.k[b] += volume[i] / all * p->paints[i].pigment.k[b];
            m.paint.s[b] += volume[i] / all * p->paints[i].pigment.s[b];
        }
    m.paint = hiding_paint(&m.paint);
    m.scale /= sum;
    m.low /= sum;
    for (size_t i = 0; i < m.jars && i < MIX_FILM_JARS; i++) m.jar[i].share /= sum;
    m.white_scatter_per_um = white_scatter(p, main);
    m.coat_um = film_um(p->t, p->paints[main].paint->class);
    if (m.tried < m.jars) m.seen_in = INT64_MIN;
    *out = m;
}

struct hiding_film mix_film_of(const struct mix_film *m, bool weak) {
    return (struct hiding_film){&m->paint, m->white_scatter_per_um * (weak ? m->low : m->scale),
                                m->coat_um};
}

int mix_film_coats(const struct mix_film *m, bool weak, const struct spectrum *ground, int most,
                   const struct weights *w) {
    const struct hiding_film film = mix_film_of(m, weak);
    const int coats = hiding_coats(&film, ground, most, w);
    return m->seen_in > 0 && coats > m->seen_in ? (int)m->seen_in : coats;
}

bool mix_film_known(const struct tables *t, const struct shelf *shelf, const char *class) {
    for (size_t i = 0; i < shelf->paints_n; i++)
        if (shelf->paints[i].hides_in > 0 && palette_takes(t, &shelf->paints[i], class))
            return true;
    return false;
}
