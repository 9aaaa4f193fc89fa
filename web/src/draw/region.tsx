/* One region of a drawing: its outline, its fill, the pulls on it. */
import type { Region, Views } from './form/body';
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
/* A base stands on its corners: cut out between the feet, as bracket feet are. */
function feet({ x, y, w, h }: Region): string {
  const foot = Math.min(1.3 * h, w / 4),
    rise = 0.62 * h,
    round = Math.min(rise, w / 2 - foot);
  return (
    `M${x} ${y}h${w}v${h}h${-foot}` +
    `q${-0.15 * round} ${-rise} ${-round} ${-rise}H${x + foot + round}` +
    `q${-0.85 * round} 0 ${-round} ${rise}h${-foot}z`
  );
}
function outline(r: Region): string {
  const { x, y, w, h, form } = r;
  if (form === 'feet') return feet(r);
  if (!form) return `M${x} ${y}h${Math.max(w, 1)}v${Math.max(h, 1)}h${-Math.max(w, 1)}z`;
  const half = (form === 'turned' ? TURNED : TAPERED).map(([at, k]) => [y + h * at, (k * w) / 2]),
    mid = x + w / 2;
  return `M${[
    ...half.map(([at, r]) => `${mid - r} ${at}`),
    ...half.reverse().map(([at, r]) => `${mid + r} ${at}`),
  ].join('L')}z`;
}
/* What stands before or behind its frame has a second line a hair inside the first: the bead of a
 * front; the far edges of an open niche, whose corners run back to them. */
function Inside({ r, line }: { r: Region; line: string }) {
  const open = r.role === 'back' && r.part !== 'glass';
  if ((r.role !== 'drawer' && r.role !== 'door' && !open) || r.h < 60) return null;
  const by = Math.min(0.07 * r.h, open ? 22 : 12),
    [w, h] = [r.w - 2 * by, r.h - 2 * by],
    corners =
      `M${r.x} ${r.y}l${by} ${by}m${w} 0l${by} ${-by}` +
      `m0 ${r.h}l${-by} ${-by}m${-w} 0l${-by} ${by}`;
  return (
    <path
      d={`M${r.x + by} ${r.y + by}h${w}v${h}h${-w}z${open ? corners : ''}`}
      fill="none"
      stroke={line}
      stroke-opacity=".45"
      stroke-width="1"
      vector-effect="non-scaling-stroke"
    />
  );
}
/* Lines are seen on dark and on light paint, whatever the ground is. */
export function Box({ r, fill, pen = 2 }: { r: Region; fill: string; pen?: number }) {
  const line = isDark(fill) ? '#ddd' : '#111';
  return (
    <>
      <path
        class="edge"
        d={outline(r)}
        fill={fill}
        stroke={line}
        stroke-width={pen}
        stroke-linejoin="round"
        vector-effect="non-scaling-stroke"
      />
      <Inside r={r} line={line} />
      <Pulls r={r} small={pen < 2} />
    </>
  );
}
/* Pulls: a bail hung between two posts, two on a wide drawer, one on a narrow one; one that stands at
 * the meeting edge of a door. */
function Pulls({ r, small }: { r: Region; small: boolean }) {
  const door = r.role === 'door';
  if (r.role !== 'drawer' && !door) return null;
  const at = door ? [0.88] : r.w > 420 ? [0.24, 0.76] : [0.5],
    y = r.y + r.h / 2,
    n = Math.min(r.w * 0.12, door ? 46 : 76);
  const posts = at.map((k) => {
      const x = r.x + r.w * k;
      return door ? [x, y - n / 2, x, y + n / 2] : [x - n / 2, y, x + n / 2, y];
    }),
    bails = posts
      .map(([x, a, , b]) => `M${x} ${a}${door ? `V${b}` : `c0 ${0.36 * n} ${n} ${0.36 * n} ${n} 0`}`)
      .join(''),
    dots = posts.map(([x1, y1, x2, y2]) => `M${x1} ${y1}h.01M${x2} ${y2}h.01`).join('');
  return (
    <>
      {(
        [
          [bails, '#111', 3.6],
          [dots, '#111', small ? 0 : 7],
          [bails, '#eee', 1.4],
          [dots, '#eee', small ? 0 : 4],
        ] as const
      ).map(([d, stroke, width]) => (
        <path
          d={d}
          fill="none"
          stroke={stroke}
          stroke-width={width}
          stroke-linecap="round"
          vector-effect="non-scaling-stroke"
        />
      ))}
    </>
  );
}
/* What is one of several: the others stand behind it as lines, two at most; a number says more. */
export function Others({ regions, v, pen }: { regions: Region[]; v: Views; pen: number }) {
  return (
    <g aria-hidden="true">
      {Array.from({ length: v.behind }, (_, i) => v.behind - i).map((n) => (
        <g transform={`translate(${n * v.stepX} ${-n * v.stepY})`}>
          {regions.map((r) => (
            <path
              d={outline(r)}
              fill="var(--behind, var(--ground))"
              stroke="var(--others, var(--ink-2))"
              stroke-width={pen}
              stroke-linejoin="round"
              vector-effect="non-scaling-stroke"
            />
          ))}
        </g>
      ))}
    </g>
  );
}
