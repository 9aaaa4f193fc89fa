/* The mixing law of core/color/sample.h and its derivatives. */
#include "core/color/color.h"
#include "core/color/sample_model.h"

#include <math.h>
#include <stdio.h>

void sample_pigment_update(struct sample_model *m) {
    for (size_t p = 0; p < m->paints_n; p++) {
        const double *s_term = m->theta + p * SAMPLE_TERMS, *q_term = s_term + SAMPLE_S_TERMS;
        const struct pigment *prior = &m->paints[p].prior;
        for (int i = 0; i < SPECTRUM_BANDS; i++) {
            double ln_s = 0, ln_q = 0;
            for (int k = 0; k < SAMPLE_S_TERMS; k++) ln_s += s_term[k] * m->cosine[k][i];
            for (int k = 0; k < SAMPLE_Q_TERMS; k++) ln_q += q_term[k] * m->cosine[k][i];
            /* far outside any paint; keeps every quotient finite whatever the samples say */
            ln_s = fmin(fmax(ln_s, -12), 12);
            ln_q = fmin(fmax(ln_q, -12), 12);
            m->pigment[p].s[i] = prior->s[i] * exp(ln_s);
            m->pigment[p].k[i] = prior->k[i] * exp(ln_s + ln_q);
        }
    }
}

void sample_mix_color(const struct sample_model *m, const struct sample_mix *mix,
                      struct sample_slope *out) {
    for (int i = 0; i < SPECTRUM_BANDS; i++) {
        double k = 0, s = 0;
        for (size_t j = 0; j < mix->n; j++) {
            const struct pigment *p = &m->pigment[mix->paint[j]];
            k += mix->volume[j] * p->k[i];
            s += mix->volume[j] * p->s[i];
        }
        out->s[i] = s;
        out->q[i] = k / s;
        out->spectrum.at[i] = reflectance_of_ks(k, s);
    }
    out->color = lab_of_xyz(xyz_of_spectrum(&m->w, &out->spectrum), m->w.white);
}

static double lab_curve_slope(double t) {
    return t > 216.0 / 24389 ? 1 / (3 * cbrt(t * t)) : 24389.0 / 27 / 116;
}

void sample_mix_slope(const struct sample_model *m, struct sample_slope *out) {
    const struct weights *w = &m->w;
    struct xyz c = xyz_of_spectrum(w, &out->spectrum);
    double fx = lab_curve_slope(c.x / w->white.x) / w->white.x,
           fy = lab_curve_slope(c.y / w->white.y) / w->white.y,
           fz = lab_curve_slope(c.z / w->white.z) / w->white.z;
    for (int i = 0; i < SPECTRUM_BANDS; i++) {
        /* R = 1 + q - sqrt(q^2 + 2 q): dR/dq = -R / sqrt(q^2 + 2 q) */
        double q = out->q[i], slope = -out->spectrum.at[i] / sqrt(q * (q + 2));
        double x = fx * w->x[i] * slope, y = fy * w->y[i] * slope, z = fz * w->z[i] * slope;
        out->lab[0][i] = 116 * y;
        out->lab[1][i] = 500 * (x - y);
        out->lab[2][i] = 200 * (y - z);
    }
}

/* T d Lab / d q, band by band */
static void transformed(const struct sample_slope *slope, double t[3][3],
                        double out[3][SPECTRUM_BANDS]) {
    for (int r = 0; r < 3; r++)
        for (int i = 0; i < SPECTRUM_BANDS; i++)
            out[r][i] = t[r][0] * slope->lab[0][i] + t[r][1] * slope->lab[1][i] +
                        t[r][2] * slope->lab[2][i];
}

void sample_mix_jacobian(const struct sample_model *m, const struct sample_mix *mix,
                         const struct sample_slope *slope, double t[3][3],
                         double out[3][SAMPLE_ITEM_COLUMNS]) {
    double g[3][SPECTRUM_BANDS];
    transformed(slope, t, g);
    for (size_t j = 0; j < mix->n; j++) {
        const struct pigment *p = &m->pigment[mix->paint[j]];
        double by_s[SPECTRUM_BANDS], by_q[SPECTRUM_BANDS];
        for (int i = 0; i < SPECTRUM_BANDS; i++) {
            double share = mix->volume[j] / slope->s[i];
            by_s[i] = share * (p->k[i] - slope->q[i] * p->s[i]);
            by_q[i] = share * p->k[i];
        }
        for (int r = 0; r < 3; r++) {
            double gs[SPECTRUM_BANDS], gq[SPECTRUM_BANDS], *row = out[r] + j * SAMPLE_TERMS;
            for (int i = 0; i < SPECTRUM_BANDS; i++) {
                gs[i] = g[r][i] * by_s[i];
                gq[i] = g[r][i] * by_q[i];
            }
            for (int k = 0; k < SAMPLE_TERMS; k++) {
                bool strength = k < SAMPLE_S_TERMS;
                const double *c = m->cosine[strength ? k : k - SAMPLE_S_TERMS];
                const double *v = strength ? gs : gq;
                double even = 0, odd = 0; /* two sums: the additions need not wait */
                for (int i = 0; i < SPECTRUM_BANDS; i += 2) {
                    even += v[i] * c[i];
                    odd += v[i + 1] * c[i + 1];
                }
                row[k] = even + odd;
            }
        }
    }
}

void sample_mix_pour(const struct sample_model *m, const struct sample_mix *mix,
                     const struct sample_slope *slope, double t[3][3],
                     double out[3][SAMPLE_ITEMS_MAX]) {
    double g[3][SPECTRUM_BANDS];
    transformed(slope, t, g);
    for (size_t j = 0; j < mix->n; j++) {
        const struct pigment *p = &m->pigment[mix->paint[j]];
        for (int r = 0; r < 3; r++) {
            double sum = 0;
            for (int i = 0; i < SPECTRUM_BANDS; i++)
                sum += g[r][i] * (p->k[i] - slope->q[i] * p->s[i]) / slope->s[i];
            out[r][j] = sum;
        }
    }
}

enum status sample_mix_check(const struct sample_mix *in, size_t paints_n, struct sample_mix *out,
                             const char *field, struct why *why) {
    char at[96];
    double sum = 0;
    struct sample_mix mix = {0};
    if (in->n < 1 || in->n > SAMPLE_ITEMS_MAX)
        return why_say(why, E_DOMAIN, field, "A mix holds 1 to %d paints, not %zu.",
                       SAMPLE_ITEMS_MAX, in->n);
    for (size_t j = 0; j < in->n; j++) {
        snprintf(at, sizeof at, "%.60s/items/%zu", field, j);
        if (in->paint[j] >= paints_n)
            return why_say(why, E_REFERENCE, at, "There is no such paint.");
        if (!(in->volume[j] >= 0 && in->volume[j] <= 1e9))
            return why_say(why, E_DOMAIN, at, "An amount of %g cannot be. Write 0 or more.",
                           in->volume[j]);
        sum += in->volume[j];
    }
    if (!(sum > 0)) return why_say(why, E_DOMAIN, field, "Nothing is in this mix.");
    for (size_t j = 0; j < in->n; j++) {
        size_t same = 0;
        if (!(in->volume[j] > 0)) continue;
        while (same < mix.n && mix.paint[same] != in->paint[j]) same++;
        if (same == mix.n) mix.paint[mix.n++] = in->paint[j];
        mix.volume[same] += in->volume[j] / sum;
    }
    *out = mix;
    return OK;
}
