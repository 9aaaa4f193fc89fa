/* Tables, desks on legs, stools, benches without a back. */
import { across, put, type Body, type Faces, type Rect, type Region } from './body';

export function table(b: Body, role: 'top' | 'seat' = 'top'): Faces {
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

export function columnTable(b: Body): Faces {
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
