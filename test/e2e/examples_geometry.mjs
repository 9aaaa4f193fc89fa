// Painted areas of the example jobs once more, by plane geometry alone: written apart from the
// program's templates and shapes, from the sizes in the job documents (inches) and how such pieces are
// built (common practice). Exact for what is flat or bowed; turned work is not here.
//   node examples_geometry.mjs        prints them
const IN = 25.4, SQ = 1e-6;
const inch = (v) => v * IN;

// A circle through the ends and the middle of a bow: chord w, rise b.
const circle = (w, b) => {
  const radius = (w * w / 4 + b * b) / (2 * b), angle = 4 * Math.atan2(2 * b, w);
  return { radius, angle, arc: radius * angle, segment: (radius * radius * (angle - Math.sin(angle))) / 2 };
};
const rect = (w, h) => w * h;
const edges = (w, h, t) => 2 * (w + h) * t;
// Five faces of a hollow that is open in front.
const hollow = (w, d, h) => rect(w, h) + 2 * rect(d, h) + 2 * rect(w, d);
const slab = (w, h, t) => 2 * rect(w, h) + edges(w, h, t);
// The front of a case as one sheet, less one opening.
const frame = (w, h, w2, h2) => rect(w, h) - rect(w2, h2);

// t: board; base: what the case stands on; in mm. Said in the documents or usual for the piece.
export const areas = {
  chest: ({ t, base }) => {
    const w = inch(34), d = inch(20), h = inch(41), bow = inch(2), n = 5, straight = d - bow;
    const top = circle(w, bow), inner = w - 2 * t, front = circle(inner, bow);
    const high = (h - base - (n + 2) * t) / n;
    const across = (front.angle / 2) * (front.radius ** 2 - (front.radius - t) ** 2); // top or bottom edge of a bowed front
    return rect(w, straight) + top.segment + (top.arc + 2 * straight) * t + 2 * rect(straight, h - t) +
      frame(w, h - t, inner, n * high) + n * (front.arc * high + 2 * rect(t, high) + 2 * across);
  },
  nightstands: ({ t, base }) => {
    const w = inch(18), d = inch(15), h = inch(26), inner = w - 2 * t, drawer = inch(6);
    const niche = h - base - 2 * t - (drawer + t);
    const one = rect(w, d) + (w + 2 * d) * t + 2 * rect(d, h - t) + frame(w, h - t, inner, h - base - 3 * t) +
      rect(inner, drawer) + edges(inner, drawer, t) + hollow(inner, d - t, niche);
    return 2 * one;
  },
  fronts: ({ t }) => 10 * slab(inch(15), inch(28), t) + 4 * slab(inch(15), inch(6), t),
  dresser: ({ t, base }) => { // its top is waxed
    const w = inch(58), d = inch(19), h = inch(33), inner = (w - 3 * t) / 2, high = (h - base - 5 * t) / 3;
    return 2 * rect(d, h - t) + frame(w, h - t, 2 * inner, 3 * high) + 6 * (rect(inner, high) + edges(inner, high, t));
  },
  bookcase: ({ t, base }) => {
    const w = inch(36), d = inch(12), h = inch(72), inner = w - 2 * t, deep = d - 6;
    return rect(w, d) + 2 * rect(d, h) + frame(w, h, inner, h - base - 2 * t) + hollow(inner, deep, h - base - 2 * t) +
      5 * (2 * rect(inner, deep) + inner * t);
  },
  wardrobe: ({ t, base }) => {
    const w = inch(45), d = inch(21), h = inch(74), drawer = inch(8), inner = w - 2 * t;
    const dw = inner / 2, dh = h - base - 2 * t - (drawer + t), stile = Math.min(80, 0.2 * dw), deep = 6;
    const recess = 2 * (dw - 2 * stile + (dh - 2 * stile)) * deep;
    return 2 * rect(d, h) + frame(w, h, inner, h - base - 3 * t) + (w + 2 * d) * 90 +
      2 * (slab(dw, dh, t) + 2 * recess) + rect(inner, drawer) + edges(inner, drawer, t);
  },
  bench: ({ t, leg, opening }) => {
    const w = inch(60), d = inch(24), h = inch(35), wide = 60, post = h - opening;
    const slat = (long) => 2 * (wide + t) * long + 2 * wide * t;
    return 4 * slat(w) + 5 * slat(w - 2 * leg) + 2 * slab(d, 70, t) + 4 * (4 * leg * opening + leg * leg) +
      2 * (4 * leg * post + leg * leg) + 3 * 2 * (70 + t) * d;
  },
  desk: ({ t, leg, opening }) => { // its top stays natural
    const w = inch(24) - 2 * leg, d = inch(18) - 2 * leg, h = inch(29) - t;
    const slat = Math.min(40, (0.8 * w) / 9);
    return 4 * 4 * leg * h + 2 * (w + d) * (opening + t) + // aprons: outside and lower edge
      9 * 2 * (slat + 12) * d + 2 * 2 * (25 + t) * w;
  },
};
export const area_m2 = (job, built) => areas[job](built) * SQ;

if (process.argv[1] === new URL(import.meta.url).pathname)
  for (const job of Object.keys(areas))
    console.log(job, area_m2(job, { t: 19.05, base: 100, leg: 38, opening: 130 }).toFixed(3));
