/* Which role a part of the plan has in the drawing, and what it is filled with. */
import type { ColorPlan, Part, Piece, PiecePlan } from '../net/types';

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
  | 'glass'
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
/* Darker than L* 30: a black line does not show on it. */
export function isDark(css: string): boolean {
  const lab = /^lab\(([\d.]+)%/.exec(css),
    hex = /^#([0-9a-f]{2})([0-9a-f]{2})([0-9a-f]{2})$/i.exec(css);
  if (lab) return Number(lab[1]) < 30;
  if (!hex) return false;
  const linear = hex.slice(1).map((h) => {
    const v = parseInt(h, 16) / 255; /* IEC 61966-2-1 */
    return v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2] < 0.0623; /* Y of L* 30 */
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
/* What it is, in a line: "Walnut, under old lacquer, 1938". */
export function describe(p: PiecePlan | undefined): string {
  const q = p?.piece;
  if (!q) return '';
  const word = (s?: string) => (s ?? '').replace(/[-_]/g, ' ');
  return [
    q.wood && `${word(q.wood)}`,
    q.finish && (/^(bare|none|raw)/.test(q.finish) ? 'unfinished' : `under old ${word(q.finish)}`),
    q.year && String(q.year),
  ]
    .filter(Boolean)
    .join(', ')
    .replace(/^./, (c) => c.toUpperCase());
}
