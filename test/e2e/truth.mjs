// A workshop's real paints, which the program never sees: what a mix of the demo shelf truly dries
// to. Invented for the tests, and deliberately other than the program assumes: every paint's
// strength is drawn by hand instead of following its lightness, scattering is tilted over the
// spectrum, light is lost at the film's own surface (Saunderson), absorption adds a little more than
// in proportion, and strong paints color more than their share.
// Observer and illuminant are the published CIE tables (CIE 15), read from data/.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';

const BANDS = Array.from({ length: 36 }, (_, i) => 380 + 10 * i);
const K1 = 0.006, K2 = 0.4; // Saunderson: reflected outside, inside
const EXTRA = 1.08; // exponent on a paint's share for its absorption
//            strength of scattering, tilt of it to the red: so that the demo's sample cards are what a
//            person would have read of these paints (most within 2, the deep red not)
const HAND = {
  white: [2.25, 0.55], 'warm-white': [1.05, 0], black: [0.06, 0.82], ochre: [0.79, 0.48], yellow: [0.78, 0.39], umber: [0.3, 0.59],
  sienna: [0.37, 0.36], 'red-oxide': [0.68, 0], red: [0.06, -0.5], ultramarine: [0.19, -0.68], 'sea-blue': [0.18, 1.69],
  'pine-green': [0.2, 1.04], 'oxide-green': [0.82, 0.49], gray: [1.43, 0.02],
};

function table(file) {
  const lines = readFileSync(file, 'utf8').split('\n').filter((l) => l && !l.startsWith('#')), head = lines[0].split('\t').map((h) => h.split(':')[0]);
  return lines.slice(1).map((l) => Object.fromEntries(l.split('\t').map((v, i) => [head[i], Number(v)])));
}
// Weights of the 2 degree observer under D50, white = 1.
function weights(root) {
  const eye = new Map(table(join(root, 'data/observers.tsv')).map((r) => [r.nm, r])), lamp = new Map(table(join(root, 'data/illuminants.tsv')).map((r) => [r.nm, r.d50]));
  const w = BANDS.map((nm) => ['x_2', 'y_2', 'z_2'].map((k) => eye.get(nm)[k] * lamp.get(nm)));
  const y = w.reduce((s, v) => s + v[1], 0);
  return w.map((v) => v.map((c) => c / y));
}
const cube = (t) => (t > 216 / 24389 ? Math.cbrt(t) : (24389 / 27 * t + 16) / 116);
function labOf(r, w) {
  const sum = (f) => w.reduce((s, v, i) => s.map((c, k) => c + v[k] * f(i)), [0, 0, 0]);
  const xyz = sum((i) => r[i]), white = sum(() => 1), [x, y, z] = xyz.map((c, k) => cube(c / white[k]));
  return [116 * y - 16, 500 * (x - y), 200 * (y - z)];
}
// A reflectance with that color, by Newton on three wide bumps in logit space: not the smoothest one
// that the program assumes.
function reflectanceOf(lab, w) {
  const bump = (nm, at, width) => Math.exp(-(((nm - at) / width) ** 2)), basis = BANDS.map((nm) => [bump(nm, 450, 45), bump(nm, 545, 42), bump(nm, 625, 55)]);
  const at = (c) => basis.map((b) => 0.004 + 0.985 / (1 + Math.exp(-(b[0] * c[0] + b[1] * c[1] + b[2] * c[2] - 1.4))));
  let c = [1.5, 1.5, 1.5];
  for (let round = 0; round < 200; round++) {
    const now = labOf(at(c), w), e = lab.map((v, k) => v - now[k]);
    if (Math.hypot(...e) < 0.02) break;
    const j = [0, 1, 2].map((k) => labOf(at(c.map((v, m) => (m === k ? v + 1e-4 : v))), w).map((v, n) => (v - now[n]) / 1e-4));
    const det = (m) => m[0][0] * (m[1][1] * m[2][2] - m[2][1] * m[1][2]) - m[1][0] * (m[0][1] * m[2][2] - m[2][1] * m[0][2]) + m[2][0] * (m[0][1] * m[1][2] - m[1][1] * m[0][2]);
    const all = det(j);
    if (Math.abs(all) < 1e-9) break;
    const step = [0, 1, 2].map((k) => det(j.map((col, n) => (n === k ? e : col))) / all), size = Math.hypot(...step);
    c = c.map((v, k) => Math.max(-8, Math.min(9, v + step[k] * Math.min(1, 0.7 / size))));
  }
  return at(c);
}
const inner = (r) => (r - K1) / (1 - K1 - K2 + K2 * r), outer = (r) => K1 + ((1 - K1) * (1 - K2) * r) / (1 - K2 * r);

export class Truth {
  // colors: id -> Lab D50 of the paint straight from the can, as the demo's owner read it.
  // drift: how far strengths have gone from the sample cards since (cans thicken, a can is another
  // one): each by a factor of exp(drift x -1..1).
  constructor(root, colors, drift = 0, seed = 20261013) {
    this.seed = seed;
    this.w = weights(root);
    this.paints = {};
    for (const [id, lab] of Object.entries(colors)) {
      if (!HAND[id]) continue;
      const r = reflectanceOf(lab, this.w), [hand, tilt] = HAND[id], s = hand * Math.exp(drift * (2 * this.random() - 1));
      this.paints[id] = BANDS.map((_, i) => {
        const in_ = Math.max(0.0015, inner(Math.max(r[i], K1 + 0.001))), scatter = s * Math.exp(tilt * (i / 35 - 0.5));
        return { s: scatter, k: (scatter * (1 - in_) ** 2) / (2 * in_) };
      });
    }
  }
  random() { // a small linear congruence; the same readings every run
    this.seed = (this.seed * 1664525 + 1013904223) % 4294967296;
    return this.seed / 4294967296;
  }
  // Lab D50 of a mix, ml by paint; leftovers must be given as what they were mixed from.
  dries(ml) {
    const all = Object.values(ml).reduce((a, b) => a + b, 0);
    const r = BANDS.map((_, i) => {
      let k = 0, s = 0;
      for (const [id, v] of Object.entries(ml)) {
        if (!this.paints[id]) throw new Error(`no true paint ${id}`);
        const share = v / all;
        k += share ** EXTRA * this.paints[id][i].k;
        s += share * this.paints[id][i].s;
      }
      const q = k / s, inside = 1 + q - Math.sqrt(q * q + 2 * q);
      return outer(inside);
    });
    return labOf(r, this.w);
  }
  // What an instrument reads of it: off by about a quarter per axis.
  read(ml) {
    return this.dries(ml).map((v) => v + 0.25 * (this.random() + this.random() + this.random() + this.random() - 2) * Math.sqrt(3));
  }
}
export const labText = (lab) => `lab(${lab.map((v) => v.toFixed(2)).join(' ')})`;

// The truth of a shelf document's paints of one class, and what its leftovers were mixed from.
// labOf: color text -> Lab D50.
export function truthOf(root, shelf, labOf, drift, seed) {
  const paints = shelf.paints.filter((p) => p.class === 'wb_enamel');
  return {
    truth: new Truth(root, Object.fromEntries(paints.map((p) => [p.id, labOf(p.color)])), drift, seed),
    made: Object.fromEntries(paints.filter((p) => p.leftover_of).map((p) => [p.id, p.leftover_of])),
  };
}
// Items of a batch in ml, leftovers as the paints they were mixed from.
export function unmix(items, made) {
  const ml = {};
  for (const i of items) {
    const of = made[i.paint] ?? [{ paint: i.paint, parts: 1 }], sum = of.reduce((s, p) => s + p.parts, 0);
    for (const p of of) ml[p.paint] = (ml[p.paint] ?? 0) + (i.amount_ml * p.parts) / sum;
  }
  return ml;
}
