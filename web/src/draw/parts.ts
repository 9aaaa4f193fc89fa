/* Which region of the drawing a part of the plan belongs to, and what it is filled with. */
import type { ColorPlan, Part, Piece, Surface } from '../net/types';

export type Role =
  | 'top'
  | 'side'
  | 'drawer'
  | 'door'
  | 'leg'
  | 'slat'
  | 'shelf'
  | 'rail'
  | 'base'
  | 'back'
  | 'seat'
  | 'case';
const RULES: [RegExp, Role][] = [
  [/drawer.*(side|bottom|box|inside)|inside|runner/, 'case'],
  [/drawer/, 'drawer'],
  [/door/, 'door'],
  [/slat|spindle|bar/, 'slat'],
  [/leg|foot|feet|post/, 'leg'],
  [/shel(f|ves)/, 'shelf'],
  [/seat/, 'seat'],
  [/apron|rail|stretcher|frame|edge|rim/, 'rail'],
  [/base|plinth|skirt/, 'base'],
  [/back/, 'back'],
  [/side|end|gable/, 'side'],
  [/top|lid/, 'top'],
];
export function roleOf(p: Part): Role {
  const words = `${p.id} ${p.name ?? ''}`.toLowerCase();
  return RULES.find(([r]) => r.test(words))?.[1] ?? 'case';
}
export function sizesOf(p: Part): number[] {
  return [p.a_mm, p.b_mm, p.c_mm, p.d_mm, p.e_mm, p.f_mm].filter(
    (v): v is number => v !== undefined && v > 0,
  );
}
export interface Looks {
  color?: string;
  wood?: string;
}
export function labCss(lab: number[] | undefined): string | undefined {
  return lab && lab.length === 3 && lab.every(Number.isFinite)
    ? `lab(${lab[0].toFixed(2)}% ${lab[1].toFixed(2)} ${lab[2].toFixed(2)})`
    : undefined;
}
/* The color that was predicted; the wanted one where nothing was predicted yet. */
export function looksOf(piece: Piece, color?: ColorPlan): Looks {
  return {
    color: labCss(color?.lab) ?? color?.target?.hex ?? piece.wanted?.color?.hex,
    wood: piece.now_color?.hex,
  };
}
export type Fill =
  { kind: 'color'; css: string } | { kind: 'wood'; css?: string } | { kind: 'mask' };
export function fillOf(part: Part | undefined, looks: Looks): Fill {
  switch (part?.treatment) {
    case 'clear':
    case 'stain':
    case 'wax':
    case 'bare':
    case 'seal':
      return { kind: 'wood', css: looks.wood };
    case 'mask':
      return { kind: 'mask' };
    default: {
      const css = part?.color?.hex ?? looks.color;
      return css ? { kind: 'color', css } : { kind: 'wood', css: looks.wood };
    }
  }
}
export const TREATMENTS = [
  ['paint', 'Color and clear'],
  ['paint no clear', 'Color, no clear'],
  ['clear', 'Natural, clear'],
  ['stain', 'Stained'],
  ['wax', 'Wax or oil'],
  ['bare', 'Left as it is'],
  ['mask', 'Masked'],
  ['seal', 'Bare, sealed with shellac'],
] as const;
export function treatmentText(t: string | undefined): string {
  return TREATMENTS.find(([v]) => v === t)?.[1] ?? 'As the piece';
}

export interface Region {
  role: Role;
  x: number;
  y: number;
  w: number;
  h: number;
  round?: boolean;
}
export interface Views {
  front: Region[];
  side: Region[];
  w: number;
  d: number;
  h: number;
  bow: number;
}

const longest = (s: Surface | undefined, below: number) => {
  const all = s ? sizesOf(s.part).filter((v) => v < below) : [];
  return all.length ? Math.max(...all) : undefined;
};

/* Front and side as rectangles in mm, from the outer size, the counts and the sizes of the parts. */
export function viewsOf(piece: Piece, surfaces: Surface[]): Views | null {
  const w = piece.width_mm,
    h = piece.height_mm ?? piece.opening_mm;
  if (!w || !h) return null;
  const d = piece.depth_mm ?? Math.min(w, h) / 10,
    t = Math.min(piece.thickness_mm ?? 20, h / 8);
  const by = new Map<Role, Surface>();
  for (const s of surfaces) {
    const r = roleOf(s.part);
    if (!by.has(r)) by.set(r, s);
  }
  const n = {
    drawer: piece.drawers ?? 0,
    door: piece.doors ?? 0,
    shelf: piece.shelves ?? 0,
    slat: piece.slats ?? 0,
    leg: piece.legs ?? 0,
  };
  const flat = d <= 60 && !n.drawer && !n.shelf && !n.leg; /* a door or a panel by itself */
  const open = !n.drawer && !n.door && !n.shelf && !n.slat;
  let legH = n.leg
    ? Math.min(longest(by.get('leg'), h * 0.98) ?? (open ? h - t : h * 0.15), h * 0.96)
    : 0;
  if (!n.leg && by.has('base')) legH = Math.min(h * 0.1, 90);
  const legW = Math.max(
    Math.min(piece.leg_mm && piece.leg_mm < w / 5 ? piece.leg_mm : t * 2, w / 6),
    w / 40,
  );
  const seatY = by.has('seat') && by.has('back') ? h * 0.5 : 0; /* a chair: seat half way up */
  const front: Region[] = [],
    side: Region[] = [];
  const top = seatY,
    over = flat || by.has('base') || !open ? Math.min(t * 0.6, w * 0.012) : 0;
  const bodyTop = top + (flat ? 0 : t),
    tall = n.leg && legH > h * 0.6;
  const bodyBottom = tall
    ? Math.max(
        bodyTop + (n.drawer || n.door ? 0 : Math.min(h * 0.12, 100)),
        h - legH + (legH > h - bodyTop - 30 ? Math.min(h * 0.16, 140) : 0),
      )
    : h - legH;
  if (seatY) {
    front.push(
      { role: 'back', x: w * 0.06, y: 0, w: w * 0.88, h: h * 0.14 },
      { role: 'back', x: w * 0.06, y: h * 0.24, w: w * 0.88, h: h * 0.08 },
    );
    front.push(
      { role: 'leg', x: w * 0.06, y: 0, w: legW, h: seatY },
      { role: 'leg', x: w * 0.94 - legW, y: 0, w: legW, h: seatY },
    );
    side.push({ role: 'leg', x: d - legW, y: 0, w: legW, h: seatY });
  }
  /* legs or base, behind the body */
  const legTop = tall || seatY ? bodyTop : bodyBottom;
  if (n.leg) {
    for (const x of [over, w - over - legW])
      front.push({ role: 'leg', x, y: legTop, w: legW, h: h - legTop });
    for (const x of [over, d - over - legW])
      side.push({ role: 'leg', x, y: legTop, w: legW, h: h - legTop });
  } else if (legH) {
    front.push({ role: 'base', x: 0, y: bodyBottom, w, h: legH });
    side.push({ role: 'base', x: 0, y: bodyBottom, w: d, h: legH });
  }
  const body = { x: over, y: bodyTop, w: w - 2 * over, h: Math.max(bodyBottom - bodyTop, t) };
  const bodyRole: Role = flat
    ? by.has('door')
      ? 'door'
      : 'case'
    : tall && !n.drawer && !n.door
      ? 'rail'
      : by.has('side')
        ? 'side'
        : by.has('rail')
          ? 'rail'
          : 'case';
  front.push({ role: n.slat && !n.drawer && !n.door ? 'rail' : bodyRole, ...body });
  side.push({
    role: tall && !n.drawer ? 'rail' : by.has('side') ? 'side' : bodyRole,
    x: over,
    y: bodyTop,
    w: d - over,
    h: body.h,
  });
  const gap = Math.min(t * 0.55, body.h / 30, 14),
    inner = { x: body.x + gap * 1.6, w: body.w - gap * 3.2, y: body.y + gap, h: body.h - 2 * gap };
  let y = inner.y;
  const rows = n.drawer ? (n.door ? 1 : Math.min(n.drawer, 8)) : 0,
    perRow = rows ? Math.ceil(n.drawer / rows) : 0;
  if (rows) {
    const share = n.door ? inner.h * 0.26 : inner.h;
    const first = (share - gap * (rows - 1)) / rows;
    for (let i = 0; i < rows; i++) {
      const hh =
        rows > 2
          ? first * (0.8 + (0.4 * i) / (rows - 1))
          : first; /* usual: deeper toward the floor */
      for (let c = 0; c < perRow; c++) {
        const cw = (inner.w - gap * (perRow - 1)) / perRow;
        front.push({ role: 'drawer', x: inner.x + c * (cw + gap), y, w: cw, h: hh });
      }
      y += hh + gap;
    }
  }
  const rest = inner.y + inner.h - y;
  if (n.door && rest > 0 && !flat) {
    const cw = (inner.w - gap * (n.door - 1)) / n.door;
    for (let i = 0; i < n.door; i++)
      front.push({ role: 'door', x: inner.x + i * (cw + gap), y, w: cw, h: rest });
  } else if (n.slat && rest > 0) {
    const cw = Math.min((inner.w / n.slat) * 0.62, 60),
      m = Math.min(n.slat, 40);
    front[front.length - 1] = { ...front[front.length - 1] };
    for (let i = 0; i < m; i++)
      front.push({
        role: 'slat',
        x: inner.x + (inner.w / m) * (i + 0.5) - cw / 2,
        y: inner.y,
        w: cw,
        h: inner.h,
      });
  } else if (n.shelf && !rows && rest > 0) {
    front.push({ role: 'back', ...inner });
    for (let i = 1; i <= n.shelf; i++)
      front.push({
        role: 'shelf',
        x: inner.x,
        y: inner.y + (inner.h / (n.shelf + 1)) * i - t / 2,
        w: inner.w,
        h: t,
      });
  } else if (flat) {
    const m = Math.min(w, h) * 0.16;
    front.push({ role: bodyRole, x: m, y: m, w: w - 2 * m, h: h - 2 * m });
  }
  if (!flat) {
    front.push({ role: seatY ? 'seat' : 'top', x: 0, y: top, w, h: t });
    side.push({ role: seatY ? 'seat' : 'top', x: 0, y: top, w: d, h: t });
  }
  return { front, side, w, d, h, bow: piece.bow_mm ?? 0 };
}
