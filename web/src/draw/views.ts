/* Front and side of a piece as regions in mm, by the kind of its body: what a drawing of the piece
 * shows of it. Sizes come from its numbers, counts and parts; proportions nobody says are usual ones. */
import type { Piece, Surface } from '../net/types';
import { roleOf, type Role } from './parts';

export interface Region {
  role: Role;
  part?: string /* the template's part; the role finds one where the piece has no such part */;
  x: number;
  y: number;
  w: number;
  h: number;
  form?: 'turned' | 'taper';
}
export interface Views {
  front: Region[];
  side: Region[];
  w: number;
  d: number;
  h: number;
  bow: number;
}
/* What a body is drawn from; leg and open mean what the template says of them. */
interface Body {
  w: number;
  d: number;
  h: number;
  t: number;
  leg?: number;
  open?: number;
  n: { drawers: number; doors: number; shelves: number; slats: number; legs: number };
  part: (id: string) => Surface | undefined;
  may: (id: string) => boolean /* it has this part, or its parts are not known yet */;
  has: (role: Role) => boolean;
  glass: { w: number; h: number; n: number } /* mirrors and panes in the doors */;
}
type Faces = Pick<Views, 'front' | 'side'>;
type Rect = [x: number, y: number, w: number, h: number];
const put = (role: Role, part: string | undefined, [x, y, w, h]: Rect, form?: Region['form']) =>
  ({ role, part, x, y, w, h, form }) satisfies Region;
const across = (n: number, from: number, to: number, each: (x: number, i: number) => Region) =>
  Array.from({ length: n }, (_, i) => each(from + ((to - from) / n) * (i + 0.5), i));

/* ---- tables, desks on legs, stools, benches ---- */

function table(b: Body, role: 'top' | 'seat' = 'top'): Faces {
  const { w, d, h, t, n } = b,
    leg = Math.min(b.leg ?? 45, w / 5, d / 3),
    apron = b.has('rail') ? Math.min(b.open ?? 0.14 * h, 0.6 * h) : 0,
    over = Math.min(0.02 * w, 25);
  const turned = b.part('turned_legs'),
    block = turned ? 'leg_blocks' : undefined,
    taper = b.part('legs')?.part.shape?.startsWith('taper');
  const view = (width: number, part: string): Region[] => {
    const from = over,
      to = width - over;
    const legs = [from, to - leg].flatMap((x) =>
      turned
        ? [
            put('leg', block, [x, t, leg, apron]),
            put('leg', 'turned_legs', [x, t + apron, leg, h - t - apron], 'turned'),
          ]
        : [put('leg', 'legs', [x, t, leg, h - t], taper ? 'taper' : undefined)],
    );
    const inside: Rect = [from + leg, t, to - from - 2 * leg, apron];
    const low = n.shelves || n.slats ? h - Math.min(0.28 * h, 200) : 0;
    return [
      ...(apron ? [put('rail', part, inside)] : []),
      ...(low ? lowShelf(b, [inside[0], low, inside[2], t]) : []),
      ...legs,
      ...(b.part('stretchers') && !low
        ? [put('rail', 'stretchers', [inside[0], h - 0.3 * h, inside[2], 20])]
        : []),
      put(role, undefined, [0, 0, width, t]),
    ];
  };
  const front = view(w, b.part('aprons_long') ? 'aprons_long' : 'aprons');
  if (n.drawers && apron) {
    const from = over + leg,
      room = w - 2 * (over + leg),
      gap = Math.min(t / 2, 8);
    front.push(
      ...across(n.drawers, from, from + room, (x) =>
        put('drawer', 'drawer_front', [
          x - room / n.drawers / 2 + gap,
          t + gap,
          room / n.drawers - 2 * gap,
          apron - 2 * gap,
        ]),
      ),
    );
  }
  return { front, side: view(d, b.part('aprons_short') ? 'aprons_short' : 'aprons') };
}
/* A shelf below; slats are seen end on over their rail. */
function lowShelf(b: Body, [x, y, w, t]: Rect): Region[] {
  if (!b.n.slats) return [put('shelf', 'shelf', [x, y, w, t])];
  const wide = Math.min(40, (0.8 * w) / b.n.slats);
  return [
    ...across(b.n.slats, x, x + w, (at) => put('slat', 'slats', [at - wide / 2, y - 12, wide, 12])),
    put('rail', 'shelf_rails', [x, y, w, 25]),
  ];
}
function columnTable(b: Body): Faces {
  const { w, h, t } = b,
    column = Math.min(b.leg ?? 120, w / 4),
    foot = 0.14 * (h - t),
    reach = 0.38 * w;
  const view = [
    put('leg', 'feet', [w / 2 - reach, h - foot, reach, foot]),
    put('leg', 'feet', [w / 2, h - foot, reach, foot]),
    put('leg', 'column', [w / 2 - column / 2, t, column, h - t - foot / 2], 'turned'),
    put('top', 'top', [0, 0, w, t]),
  ];
  return { front: view, side: view };
}

/* ---- chairs and benches with a back ---- */

function chair(b: Body): Faces {
  const { w, d, h, n } = b,
    t = Math.min(b.t, 45),
    leg = Math.min(b.leg ?? 40, w / 6),
    seat = h - Math.min(b.open ?? h / 2, 0.8 * h);
  const turned = b.part('turned_legs') ? 'turned' : undefined,
    legs = ['turned_legs', 'front_legs', 'legs'].find(b.part),
    posts = ['back_posts', 'posts'].find(b.part) ?? legs,
    arms = b.part('arms'),
    slatted = b.part('seat_slats'),
    crest = b.may('crest') ? Math.min(b.part('crest')?.part.b_mm ?? 80, seat / 3) : 0;
  const backN = slatted ? n.slats - Math.floor(n.slats / 2) : n.slats,
    seatAt: Rect = [0, seat, w, slatted ? Math.max(t, 20) : t],
    floor = b.part('rockers') ? 50 : 0,
    armY = seat - Math.min(0.22 * h, 220),
    apron = ['aprons', 'aprons_long', 'rails'].find(b.part),
    aprons = apron ? (apron === 'aprons' ? 60 : 80) : 0;
  const upright = (x: number) =>
    put('leg', posts, [x, 0, leg, seat + (turned ? 0 : t)], turned);
  const under = (x: number) =>
    put('leg', legs, [x, seat + t, leg, h - seat - t - floor], turned);
  const front: Region[] = [];
  const from = 0.05 * w + leg,
    to = w - from;
  if (backN) front.push(...backOf(b, backN, from, to, crest, seat, slatted));
  if (b.part('lower_rail'))
    front.push(put('rail', 'lower_rail', [from, seat - 90, to - from, 40]));
  if (crest) front.push(put('rail', 'crest', [0.04 * w, 0, 0.92 * w, crest]));
  front.push(upright(0.05 * w), upright(0.95 * w - leg));
  if (aprons) front.push(put('rail', apron, [leg, seat + t, w - 2 * leg, aprons]));
  if (b.may('stretchers'))
    front.push(put('rail', 'stretchers', [leg, seat + 0.55 * (h - seat), w - 2 * leg, 22]));
  front.push(under(0.02 * w), under(0.98 * w - leg));
  if (arms)
    front.push(
      put('leg', legs, [0.02 * w, armY, leg, seat - armY], turned),
      put('leg', legs, [0.98 * w - leg, armY, leg, seat - armY], turned),
      put('rail', 'arms', [-0.01 * w, armY - 22, 0.14 * w, 22]),
      put('rail', 'arms', [0.87 * w, armY - 22, 0.14 * w, 22]),
    );
  front.push(put('seat', slatted ? 'seat_slats' : undefined, seatAt));
  const side: Region[] = [upright(d - leg)];
  if (crest) side.push(put('rail', 'crest', [d - leg, 0, Math.min(t, leg), crest]));
  if (aprons) side.push(put('rail', b.part('aprons_short') ? 'aprons_short' : apron, [leg, seat + t, d - 2 * leg, aprons]));
  if (b.may('stretchers'))
    side.push(put('rail', 'stretchers', [leg, seat + 0.6 * (h - seat), d - 2 * leg, 22]));
  side.push(under(0.04 * d), under(d - leg));
  if (arms)
    side.push(
      put('leg', legs, [0.04 * d, armY, leg, seat - armY], turned),
      put('rail', 'arms', [0, armY - 22, d, 22]),
    );
  side.push(put('seat', slatted ? 'seat_slats' : undefined, [0, seat, d, seatAt[3]]));
  if (floor)
    for (const [view, x, wide] of [
      [front, 0.02 * w, leg],
      [front, 0.98 * w - leg, leg],
      [side, -0.1 * d, 1.2 * d],
    ] as const)
      view.push(put('rail', 'rockers', [x, h - floor, wide, floor]));
  return { front, side };
}
/* Spindles or slats of a back stand; between posts of a bench they lie. */
function backOf(
  b: Body,
  n: number,
  from: number,
  to: number,
  top: number,
  seat: number,
  slatted: Surface | undefined,
): Region[] {
  const part = slatted ? 'back_slats' : (['spindles', 'slats'].find(b.part) ?? 'slats'),
    lie = slatted && b.part('posts'),
    low = b.part('lower_rail') ? seat - 50 : seat;
  if (lie) {
    const pitch = (0.75 * seat) / n;
    return Array.from({ length: n }, (_, i) =>
      put('slat', part, [from, i * pitch + 4, to - from, Math.min(60, 0.7 * pitch)]),
    );
  }
  const pitch = (to - from) / n,
    wide = Math.min(b.part('spindles') ? 16 : 60, 0.75 * pitch);
  return across(n, from, to, (x) => put('slat', part, [x - wide / 2, top, wide, low - top]));
}

/* ---- beds, cribs ---- */

function bed(b: Body): Faces {
  const { w, d, h } = b,
    leg = Math.min(b.leg ?? 70, w / 8),
    foot = h - Math.min(b.open ?? h / 2, h),
    rail = h - Math.min(430, 0.45 * h);
  const post = (part: string, x: number, top: number) =>
    put('leg', part, [x, top, leg, h - top]);
  const head = Math.min(0.8 * h, h - 350 > 0 ? h - 350 : 0.7 * h),
    front = [
      put('back', 'head', [leg, 0, w - 2 * leg, head]),
      post('head_posts', 0, 0),
      post('head_posts', w - leg, 0),
      put('back', 'foot', [leg, foot, w - 2 * leg, Math.max(0.5 * (h - foot), h - foot - 250)]),
      post('foot_posts', 0, foot),
      post('foot_posts', w - leg, foot),
    ];
  const side = [
    put('rail', 'rails', [leg, rail, d - 2 * leg, 180]),
    post('head_posts', 0, 0),
    post('foot_posts', d - leg, foot),
  ];
  return { front, side };
}
function crib(b: Body): Faces {
  const { w, d, h, n } = b,
    leg = Math.min(b.leg ?? 45, w / 8),
    under = h - Math.min(250, 0.25 * h),
    top = Math.max(0, under - (b.open ?? 0.6 * h)),
    shown = Math.min(Math.ceil(n.slats / 2), 30); /* two long sides: one is seen */
  const posts = (width: number) =>
    [0, width - leg].map((x) => put('leg', 'posts', [x, 0, leg, h]));
  const pitch = (w - 2 * leg) / Math.max(1, shown),
    wide = Math.min(30, 0.6 * pitch);
  const front = [
    ...across(shown, leg, w - leg, (x) =>
      put('slat', 'slats', [x - wide / 2, top + 35, wide, under - top - 70]),
    ),
    ...[top, under - 35].map((y) => put('rail', 'side_rails', [leg, y, w - 2 * leg, 35])),
    ...posts(w),
  ];
  return { front, side: [put('side', 'ends', [leg, 0, d - 2 * leg, under]), ...posts(d)] };
}

/* ---- doors, frames ---- */

function flat(b: Body): Faces {
  const { w, h, d, t } = b,
    role: Role = b.part('frame') ? 'rail' : 'door',
    part = ['door', 'louvers', 'frame'].find(b.part),
    m = Math.min(b.leg ?? 0.16 * w, 0.2 * w),
    inner: Rect = [m, m, w - 2 * m, h - 2 * m];
  const front = [put(role, part, [0, 0, w, h])];
  if (b.part('louvers')) {
    const blades = Math.min(24, Math.max(2, Math.round((h - 2 * m) / (b.open ?? 40)))),
      step = (h - 2 * m) / blades;
    for (let i = 0; i < blades; i++)
      front.push(put('slat', 'louvers', [m, m + i * step, w - 2 * m, 0.8 * step]));
  } else front.push(put(b.part('glass') ? 'back' : 'case', b.part('glass') ? 'glass' : part, inner));
  return { front, side: [put(role, part, [0, 0, b.part('frame') || d < 80 ? d : t, h])] };
}

/* ---- cases: chests, cabinets, desks with a pedestal, shelves ---- */

const PULLED = 0.55; /* of a board's thickness shows round a drawer */
/* Fronts fill the room from its top; rows are as wide and high as their parts say, else as usual. */
function fronts(
  b: Body,
  [x, y, w, h]: Rect,
  n: number,
  part: string,
  usual: { row?: number; high?: number } = {},
): Region[] {
  if (!n) return [];
  const s = b.part(part)?.part,
    gap = Math.min(b.t * PULLED, 14),
    row = s?.a_mm ? Math.max(1, Math.round(w / s.a_mm)) : (usual.row ?? 1),
    rows = Math.ceil(n / row),
    high = Math.min(s?.b_mm ?? usual.high ?? h, (h - gap * (rows - 1)) / rows),
    wide = (w - gap * (row - 1)) / row;
  const deep = (r: number) => /* usual: deeper toward the floor */
    rows > 2 ? high * (0.85 + (0.3 * r) / (rows - 1)) : high;
  let at = y;
  const out: Region[] = [];
  for (let r = 0; r < rows; r++) {
    for (let c = 0; c < Math.min(row, n - r * row); c++)
      out.push(put('drawer', part, [x + c * (wide + gap), at, wide, deep(r)]));
    at += deep(r) + gap;
  }
  return out;
}
const end = (rows: Region[], from: number) =>
  rows.length ? Math.max(...rows.map((r) => r.y + r.h)) : from;
const doors = (b: Body, [x, y, w, h]: Rect, n: number, part: string): Region[] => {
  const gap = Math.min(b.t * PULLED, 10);
  if (!n || !(h > 0)) return [];
  const leaves = across(n, x, x + w, (at) =>
      put('door', part, [at - w / n / 2 + gap / 2, y, w / n - gap, h]),
    ),
    pane = leaves.slice(0, part === 'door' ? b.glass.n : 0).map((l) => {
      const wide = Math.min(b.glass.w, 0.9 * l.w),
        high = Math.min(b.glass.h, 0.9 * l.h);
      return put('glass', undefined, [l.x + (l.w - wide) / 2, l.y + (l.h - high) / 2, wide, high]);
    });
  return [...leaves, ...pane];
};
function shelves(b: Body, [x, y, w, h]: Rect, n: number): Region[] {
  return [
    put('back', b.part('niche') ? 'niche' : b.part('inside') ? 'inside' : undefined, [x, y, w, h]),
    ...Array.from({ length: n }, (_, i) =>
      put('shelf', 'shelf', [x, y + (h / (n + 1)) * (i + 1) - b.t / 2, w, b.t]),
    ),
  ];
}
function cased(b: Body, row = 1): Faces {
  const { w, d, h, t, n } = b,
    legs = n.legs ? 'legs' : undefined,
    stand = Math.min(b.leg ?? (b.has('base') ? 80 : 0), 0.3 * h),
    over = Math.min(0.6 * t, 0.012 * w),
    foot = h - stand;
  const inner: Rect = [t, t + 0.6 * t, w - 2 * t, foot - 2.2 * t];
  const front: Region[] = [put('case', 'case_front', [over, t, w - 2 * over, (legs ? foot : h) - t])];
  const sides: Region[] = [put('side', 'sides', [over, t, d - over, (legs ? foot : h) - t])];
  const drawers = fronts(b, inner, n.drawers, 'drawer_front', {
      row,
      high: b.open ?? (n.doors || n.drawers === 1 ? Math.min(150, 0.3 * h) : undefined),
    }),
    below = end(drawers, inner[1] - t * PULLED) + t * PULLED,
    rest: Rect = [inner[0], below, inner[2], inner[1] + inner[3] - below];
  front.push(...drawers);
  if (n.doors) front.push(...doors(b, rest, n.doors, 'door'));
  else if (rest[3] > 3 * t && (n.shelves || b.part('niche') || !n.drawers))
    front.push(...shelves(b, rest, n.shelves));
  if (legs)
    for (const [view, width] of [
      [front, w],
      [sides, d],
    ] as const)
      for (const x of [over, width - over - 45])
        view.push(put('leg', 'legs', [x, foot, 45, stand], 'taper'));
  else if (stand)
    front.push(put('base', 'case_front', [over, foot, w - 2 * over, stand]));
  if (b.part('cornice'))
    front.push(put('top', 'cornice', [-0.02 * w, -0.5 * t, 1.04 * w, Math.min(90, 0.05 * h)]));
  for (const [view, width] of [
    [front, w],
    [sides, d],
  ] as const)
    if (!b.part('cornice') || view === sides) view.push(put('top', 'top', [0, 0, width, t]));
  return { front, side: sides };
}
function mediaStand(b: Body): Faces {
  const { w, h, t, n } = b,
    seen = cased({ ...b, n: { ...n, drawers: 0, doors: 0, shelves: 0 } }),
    columns = n.doors + 1,
    wide = (w - 4 * t) / columns,
    high = h - (b.leg ?? 60) - 3 * t,
    open = Math.floor(n.doors / 2);
  const at = (i: number): Rect => [1.5 * t + (wide + t / columns) * i, 1.6 * t, wide, high];
  const front = seen.front.filter((r) => r.part !== 'inside' && r.part !== 'niche');
  for (let i = 0; i < columns; i++) {
    const [x, y] = at(i);
    if (i !== open) front.push(put('door', 'door', [x, y, wide, high]));
    else {
      const rows = fronts(b, [x, y, wide, high], n.drawers, 'drawer_front', { high: b.open }),
        from = end(rows, y);
      front.push(...shelves(b, [x, from, wide, y + high - from], n.shelves), ...rows);
    }
  }
  return { front, side: seen.side };
}
function pedestalDesk(b: Body): Faces {
  const { w, d, h, t, n } = b,
    wide = Math.min(b.open ?? 0.35 * w, 0.6 * w),
    x = w - wide,
    stand = b.leg ?? 60;
  return {
    front: [
      put('back', 'modesty', [t, t, x - t, (h - t) / 2]),
      put('side', 'leg_panel', [0, t, t, h - t]),
      put('case', 'case_front', [x, t, wide, h - t]),
      ...fronts(b, [x + t, 2 * t, wide - 2 * t, h - stand - 3 * t], n.drawers - 1, 'drawer_front'),
      ...(n.drawers ? [put('drawer', 'pencil_drawer', [t + 4, t + 4, x - t - 8, 100])] : []),
      put('base', 'case_front', [x, h - stand, wide, stand]),
      put('top', 'top', [0, 0, w, t]),
    ],
    side: [put('side', 'pedestal_sides', [0, t, d, h - t]), put('top', 'top', [0, 0, d, t])],
  };
}
function twoParts(b: Body): Faces {
  const { w, d, h, t, n } = b,
    mid = h - (b.open ?? 0.42 * h),
    stand = Math.min(b.leg ?? 80, 0.4 * (h - mid)),
    lower = Math.floor(n.doors / 2),
    deep = 0.7 * d;
  const inner: Rect = [t, mid + 1.6 * t, w - 2 * t, h - mid - stand - 2.2 * t],
    drawers = fronts(b, inner, n.drawers, 'drawer_front', {
      row: n.drawers,
      high: 0.3 * inner[3],
    }),
    below = end(drawers, inner[1]) + t * PULLED,
    glazed = doors(b, [t, 2 * t, w - 2 * t, mid - 3 * t], n.doors - lower, 'glazed_door');
  return {
    front: [
      put('case', 'upper_front', [0, 0, w, mid]),
      ...glazed,
      ...glazed.map((g) =>
        put('back', 'glass', [g.x + 0.1 * g.w, g.y + 0.08 * g.h, 0.8 * g.w, 0.84 * g.h]),
      ),
      put('case', 'base_front', [0, mid, w, h - mid]),
      ...drawers,
      ...doors(b, [t, below, w - 2 * t, inner[1] + inner[3] - below], lower, 'lower_door'),
      put('base', 'base_front', [0, h - stand, w, stand]),
      put('top', 'base_top', [-0.01 * w, mid, 1.02 * w, t]),
      put('top', 'cornice', [-0.02 * w, 0, 1.04 * w, Math.min(90, 0.05 * h)]),
    ],
    side: [
      put('side', 'upper_sides', [d - deep, 0, deep, mid]),
      put('side', 'base_sides', [0, mid, d, h - mid]),
      put('top', 'base_top', [0, mid, d, t]),
    ],
  };
}
function lidded(b: Body): Faces {
  const { w, d, h, t } = b;
  return {
    front: [put('side', 'front_back', [0, t, w, h - t]), put('top', 'lid', [0, 0, w, t])],
    side: [put('side', 'ends', [0, t, d, h - t]), put('top', 'lid', [0, 0, d, t])],
  };
}
function openShelves(b: Body): Faces {
  const { w, d, h, t, n } = b,
    stand = b.leg ?? 0,
    topped = !!b.part('top') || stand > 0,
    inner: Rect = [t, topped ? t : 0, w - 2 * t, h - stand - (topped ? 2 * t : 0)];
  const front = [
    ...(topped ? [put('rail', 'front_edges', [0, 0, w, h])] : []),
    ...shelves(b, inner, n.shelves),
    ...(topped ? [] : [0, w - t].map((x) => put('side', 'sides', [x, 0, t, h]))),
  ];
  return { front, side: [put('side', 'sides', [0, 0, d, h])] };
}

/* A template that is not named here is drawn as a case. */
const FORMS: Record<string, (b: Body) => Faces> = {
  school_desk: table,
  writing_table: table,
  dining_table: table,
  turned_table: table,
  coffee_table: table,
  side_table: table,
  round_table: columnTable,
  stool: (b) => table(b, 'seat'),
  bench: (b) => table(b, 'seat'),
  side_chair: chair,
  turned_chair: chair,
  rocking_chair: chair,
  outdoor_chair: chair,
  outdoor_bench: chair,
  back_bench: chair,
  bed,
  crib,
  kitchen_doors: flat,
  louvered_doors: flat,
  mirror_frame: flat,
  media_stand: mediaStand,
  desk: pedestalDesk,
  display_cabinet: twoParts,
  blanket_chest: lidded,
  bookcase: openShelves,
  wall_shelf: openShelves,
  dresser: (b) => cased(b, 2),
  sideboard: (b) => cased(b, Math.max(1, b.n.drawers)),
};

function glassOf(piece: Piece): Body['glass'] {
  const of = (piece.fittings?.panels ?? []).filter((p) => p.kind === 'mirror' || p.kind === 'glass');
  return {
    w: of[0]?.width_mm ?? 0,
    h: of[0]?.height_mm ?? 0,
    n: of.reduce((n, p) => n + (p.count ?? 1), 0),
  };
}

export function viewsOf(piece: Piece, surfaces: Surface[]): Views | null {
  const w = piece.width_mm,
    h = piece.height_mm ?? piece.opening_mm;
  if (!w || !h) return null;
  const round = piece.template === 'round_table',
    d = piece.depth_mm ?? (round ? w : Math.min(w, h) / 10),
    form = FORMS[piece.template ?? ''] ?? ((b: Body) => cased(b));
  const faces = form({
    w,
    h,
    d,
    t: Math.min(piece.thickness_mm ?? 20, h / 8),
    leg: piece.leg_mm,
    open: piece.opening_mm,
    n: {
      drawers: Math.min(piece.drawers ?? 0, 40),
      doors: Math.min(piece.doors ?? 0, 20),
      shelves: Math.min(piece.shelves ?? 0, 20),
      slats: Math.min(piece.slats ?? 0, 60),
      legs: piece.legs ?? 0,
    },
    part: (id) => surfaces.find((s) => s.part.id === id),
    may: (id) => !surfaces.length || surfaces.some((s) => s.part.id === id),
    glass: glassOf(piece),
    has: (role) => !surfaces.length || surfaces.some((s) => roleOf(s.part) === role),
  });
  return { ...faces, w, d, h, bow: piece.bow_mm ?? 0 };
}
