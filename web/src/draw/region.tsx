/* One region of a drawing: its outline, its fill, the pulls on it. */
import type { Region } from './form/body';
import { isDark } from './parts';

/* A turned leg: how far from its axis at which part of its height, beads and swelling as usual. */
const TURNED = [
  [0, 0.9], [0.03, 1], [0.06, 0.6], [0.1, 0.95], [0.14, 0.6], [0.2, 0.8], [0.36, 0.98],
  [0.5, 0.85], [0.86, 0.5], [0.9, 0.8], [0.94, 0.55], [1, 0.6],
]; // prettier-ignore
/* Legs taper toward the floor to the width they usually have there. */
const TAPERED = [
  [0, 1],
  [1, 0.6],
];
function outline({ x, y, w, h, form }: Region): string {
  if (!form) return `M${x} ${y}h${Math.max(w, 1)}v${Math.max(h, 1)}h${-Math.max(w, 1)}z`;
  const half = (form === 'turned' ? TURNED : TAPERED).map(([at, k]) => [y + h * at, (k * w) / 2]),
    mid = x + w / 2;
  return `M${[
    ...half.map(([at, r]) => `${mid - r} ${at}`),
    ...half.reverse().map(([at, r]) => `${mid + r} ${at}`),
  ].join('L')}z`;
}
/* Lines are seen on dark and on light paint, whatever the ground is. */
export const Box = ({ r, fill, pen = 2 }: { r: Region; fill: string; pen?: number }) => (
  <>
    <path
      class="edge"
      d={outline(r)}
      fill={fill}
      stroke={isDark(fill) ? '#ddd' : '#111'}
      stroke-width={pen}
      vector-effect="non-scaling-stroke"
    />
    <Pulls r={r} />
  </>
);
/* Pulls as a mark: two on a wide drawer, one on a narrow one, one at the meeting edge of a door. */
function Pulls({ r }: { r: Region }) {
  if (r.role !== 'drawer' && r.role !== 'door') return null;
  const at =
      r.role === 'door'
        ? [r.x + r.w * 0.88]
        : r.w > 420
          ? [0.24, 0.76].map((k) => r.x + r.w * k)
          : [r.x + r.w / 2],
    y = r.y + r.h / 2,
    n = Math.min(r.w * 0.1, 46);
  const d = at
    .map((x) =>
      r.role === 'door'
        ? `M${x} ${y - n / 2}v${n}`
        : `M${x - n / 2} ${y}q${n / 2} ${n * 0.5} ${n} 0`,
    )
    .join('');
  return (
    <>
      <path d={d} fill="none" stroke="#111" stroke-width="4" vector-effect="non-scaling-stroke" />
      <path d={d} fill="none" stroke="#eee" stroke-width="1.5" vector-effect="non-scaling-stroke" />
    </>
  );
}
