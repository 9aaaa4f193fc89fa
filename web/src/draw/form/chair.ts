/* Chairs and benches with a back. */
import { across, put, type Body, type Faces, type Rect, type Region } from './body';

/* Sizes and parts that front and side share. */
function measure(b: Body) {
  const { w, h, n } = b,
    t = Math.min(b.t, 45),
    seat = h - Math.min(b.open ?? h / 2, 0.8 * h),
    legs = ['turned_legs', 'front_legs', 'legs'].find(b.part),
    slatted = !!b.part('seat_slats'),
    apron = ['aprons', 'aprons_long', 'rails'].find(b.part);
  return {
    t,
    leg: Math.min(b.leg ?? 40, w / 6),
    seat,
    seatThick: slatted ? Math.max(t, 20) : t,
    legs,
    posts: ['back_posts', 'posts'].find(b.part) ?? legs,
    turned: b.part('turned_legs') ? ('turned' as const) : undefined,
    arms: !!b.part('arms'),
    armY: seat - Math.min(0.22 * h, 220),
    slatted,
    /* of slats that are counted together the back has the larger half */
    backN: slatted ? n.slats - Math.floor(n.slats / 2) : n.slats,
    crest: b.may('crest') ? Math.min(b.part('crest')?.part.b_mm ?? 80, seat / 3) : 0,
    rockers: b.part('rockers') ? 50 : 0,
    apron,
    apronHigh: apron ? (apron === 'aprons' ? 60 : 80) : 0,
  };
}
type Measure = ReturnType<typeof measure>;

const post = (m: Measure, x: number) =>
  put('leg', m.posts, [x, 0, m.leg, m.seat + (m.turned ? 0 : m.t)], m.turned);
const underSeat = (b: Body, m: Measure, x: number) =>
  put('leg', m.legs, [x, m.seat + m.t, m.leg, b.h - m.seat - m.t - m.rockers], m.turned);
const armPost = (m: Measure, x: number) =>
  put('leg', m.legs, [x, m.armY, m.leg, m.seat - m.armY], m.turned);
const seatOf = (m: Measure, width: number) =>
  put('seat', m.slatted ? 'seat_slats' : undefined, [0, m.seat, width, m.seatThick]);
const rocker = (b: Body, m: Measure, x: number, wide: number) =>
  put('rail', 'rockers', [x, b.h - m.rockers, wide, m.rockers]);

/* Spindles or slats of a back stand; between the posts of a bench they lie. */
function backOf(b: Body, m: Measure, from: number, to: number): Region[] {
  const part = m.slatted ? 'back_slats' : (['spindles', 'slats'].find(b.part) ?? 'slats');
  if (m.slatted && b.part('posts')) {
    const pitch = (0.75 * m.seat) / m.backN;
    return Array.from({ length: m.backN }, (_, i) =>
      put('slat', part, [from, i * pitch + 4, to - from, Math.min(60, 0.7 * pitch)]),
    );
  }
  const low = b.part('lower_rail') ? m.seat - 50 : m.seat,
    pitch = (to - from) / m.backN,
    wide = Math.min(b.part('spindles') ? 16 : 60, 0.75 * pitch);
  return across(m.backN, from, to, (x) =>
    put('slat', part, [x - wide / 2, m.crest, wide, low - m.crest]),
  );
}

function frontOf(b: Body, m: Measure): Region[] {
  const { w, h } = b,
    { t, leg, seat, armY } = m,
    from = 0.05 * w + leg,
    to = w - from,
    inside = (y: number, high: number): Rect => [leg, y, w - 2 * leg, high];
  const out: Region[] = m.backN ? backOf(b, m, from, to) : [];
  if (b.part('lower_rail')) out.push(put('rail', 'lower_rail', [from, seat - 90, to - from, 40]));
  if (m.crest) out.push(put('rail', 'crest', [0.04 * w, 0, 0.92 * w, m.crest]));
  out.push(post(m, 0.05 * w), post(m, 0.95 * w - leg));
  if (m.apron) out.push(put('rail', m.apron, inside(seat + t, m.apronHigh)));
  if (b.may('stretchers')) out.push(put('rail', 'stretchers', inside(seat + 0.55 * (h - seat), 22)));
  out.push(underSeat(b, m, 0.02 * w), underSeat(b, m, 0.98 * w - leg));
  if (m.arms)
    out.push(
      armPost(m, 0.02 * w),
      armPost(m, 0.98 * w - leg),
      put('rail', 'arms', [-0.01 * w, armY - 22, 0.14 * w, 22]),
      put('rail', 'arms', [0.87 * w, armY - 22, 0.14 * w, 22]),
    );
  out.push(seatOf(m, w));
  if (m.rockers) out.push(rocker(b, m, 0.02 * w, leg), rocker(b, m, 0.98 * w - leg, leg));
  return out;
}

function sideOf(b: Body, m: Measure): Region[] {
  const { d, h } = b,
    { t, leg, seat, armY } = m,
    inside = (y: number, high: number): Rect => [leg, y, d - 2 * leg, high];
  const out = [post(m, d - leg)];
  if (m.crest) out.push(put('rail', 'crest', [d - leg, 0, Math.min(t, leg), m.crest]));
  if (m.apron)
    out.push(
      put('rail', b.part('aprons_short') ? 'aprons_short' : m.apron, inside(seat + t, m.apronHigh)),
    );
  if (b.may('stretchers')) out.push(put('rail', 'stretchers', inside(seat + 0.6 * (h - seat), 22)));
  out.push(underSeat(b, m, 0.04 * d), underSeat(b, m, d - leg));
  if (m.arms) out.push(armPost(m, 0.04 * d), put('rail', 'arms', [0, armY - 22, d, 22]));
  out.push(seatOf(m, d));
  if (m.rockers) out.push(rocker(b, m, -0.1 * d, 1.2 * d));
  return out;
}

export function chair(b: Body): Faces {
  const m = measure(b);
  return { front: frontOf(b, m), side: sideOf(b, m) };
}
