/* Cases: chests, cabinets, desks with a pedestal, shelves. */
import { across, put, type Body, type Faces, type Rect, type Region } from './body';

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

/* The lowest edge of what was laid out; where the room begins when nothing was. */
const end = (rows: Region[], from: number) =>
  rows.length ? Math.max(...rows.map((r) => r.y + r.h)) : from;

/* Side by side; the first of a plain piece's doors have its mirrors and panes. */
function doors(b: Body, [x, y, w, h]: Rect, n: number, part: string): Region[] {
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
}

function shelves(b: Body, [x, y, w, h]: Rect, n: number): Region[] {
  return [
    put('back', b.part('niche') ? 'niche' : b.part('inside') ? 'inside' : undefined, [x, y, w, h]),
    ...Array.from({ length: n }, (_, i) =>
      put('shelf', 'shelf', [x, y + (h / (n + 1)) * (i + 1) - b.t / 2, w, b.t]),
    ),
  ];
}

export function cased(b: Body, row = 1): Faces {
  const { w, d, h, t, n } = b,
    legs = n.legs ? 'legs' : undefined,
    stand = Math.min(b.leg ?? (b.has('base') ? 80 : 0), 0.3 * h),
    over = Math.min(0.6 * t, 0.012 * w),
    foot = h - stand;
  const inner: Rect = [t, t + 0.6 * t, w - 2 * t, foot - 2.2 * t];
  const front: Region[] = [put('case', 'case_front', [over, t, w - 2 * over, foot - t])];
  const sides: Region[] = [put('side', 'sides', [over, t, d - over, foot - t])];
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
  if (legs) {
    const standing = (width: number) =>
      [over, width - over - 45].map((x) => put('leg', 'legs', [x, foot, 45, stand], 'taper'));
    front.push(...standing(w));
    sides.push(...standing(d));
  } else if (stand) {
    front.push(put('base', 'case_front', [over, foot, w - 2 * over, stand], 'feet'));
    sides.push(put('base', 'sides', [over, foot, d - over, stand], 'feet'));
  }
  front.push(
    b.part('cornice')
      ? put('top', 'cornice', [-0.02 * w, -0.5 * t, 1.04 * w, Math.min(90, 0.05 * h)])
      : put('top', 'top', [0, 0, w, t]),
  );
  sides.push(put('top', 'top', [0, 0, d, t]));
  return { front, side: sides };
}

export function mediaStand(b: Body): Faces {
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

export function pedestalDesk(b: Body): Faces {
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

export function twoParts(b: Body): Faces {
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

export function lidded(b: Body): Faces {
  const { w, d, h, t } = b;
  return {
    front: [put('side', 'front_back', [0, t, w, h - t]), put('top', 'lid', [0, 0, w, t])],
    side: [put('side', 'ends', [0, t, d, h - t]), put('top', 'lid', [0, 0, d, t])],
  };
}

export function openShelves(b: Body): Faces {
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
