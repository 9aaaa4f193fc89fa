/* The piece as a shop drawing: front and side from its numbers, tinted with the color each part gets. */
import { useId } from 'preact/hooks';
import type { ColorPlan, Part, Piece, Surface, Units } from '../net/types';
import { quantity } from '../lib/quantity';
import {
  fillOf,
  looksOf,
  roleOf,
  treatmentText,
  type Looks,
  type Role,
} from './parts';
import type { Region, Views } from './form/body';
import { viewsOf } from './views';
import { LINE, Words, wrapped } from './words';

interface DrawProps {
  piece: Piece;
  surfaces: Surface[];
  color?: ColorPlan;
}

/* Wood is drawn as on a drawing: grain lines over what it looks like now. */
function Patterns({ id, looks }: { id: string; looks: Looks }) {
  return (
    <defs>
      <pattern id={`${id}-wood`} width="90" height="26" patternUnits="userSpaceOnUse">
        <rect width="90" height="26" fill={looks.wood ?? '#c9c9c9'} />
        <path
          d="M0 5c22-6 40 6 90 0M0 14c30 6 52-5 90 0M0 22c18-4 60 5 90 0"
          fill="none"
          stroke="#000"
          stroke-opacity=".34"
          stroke-width="2.2"
        />
      </pattern>
      <pattern id={`${id}-mask`} width="24" height="24" patternUnits="userSpaceOnUse">
        <rect width="24" height="24" fill="#e4e4e4" />
        <path d="M0 24L24 0" stroke="#555" stroke-width="2" />
      </pattern>
    </defs>
  );
}
function paintOf(part: Part | undefined, looks: Looks, id: string): string {
  const f = fillOf(part, looks);
  return f.kind === 'color' ? f.css : `url(#${id}-${f.kind})`;
}
/* The part that a region shows: its own, one of its role, else the nearest that is there. */
function partOf({ role, part }: Region, surfaces: Surface[]): Part | undefined {
  if (role === 'glass') return undefined;
  const own = part && surfaces.find((s) => s.part.id === part)?.part;
  if (own) return own;
  const find = (r: Role) => surfaces.find((s) => roleOf(s.part) === r)?.part;
  const near: Partial<Record<Role, Role[]>> = {
    rail: ['case', 'side', 'leg'],
    side: ['case', 'rail'],
    base: ['case', 'side'],
    back: ['case', 'side'],
    case: ['side', 'rail', 'top', 'door'],
    seat: ['top'],
    top: ['case', 'side'],
  };
  return find(role) ?? near[role]?.map(find).find(Boolean);
}
/* Glass takes no paint. */
const fillIn = (r: Region, surfaces: Surface[], looks: Looks, id: string) =>
  r.role === 'glass' ? '#e4e4e4' : paintOf(partOf(r, surfaces), looks, id);
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
/* lines must be seen on dark and on light paint */
const Box = ({ r, fill, vs }: { r: Region; fill: string; vs?: number }) => (
  <>
    <path
      class="edge"
      d={outline(r)}
      fill={fill}
      stroke="#111"
      stroke-width={vs ?? 2}
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

export function PieceThumb({
  piece,
  surfaces = [],
  color,
  hex,
  label,
}: {
  piece: Piece;
  surfaces?: Surface[];
  color?: ColorPlan;
  hex?: string;
  label?: string;
}) {
  const id = useId().replace(/:/g, ''),
    v = viewsOf(piece, surfaces);
  if (!v) return null;
  const looks = { ...looksOf(piece, color), ...(hex ? { color: hex } : {}) };
  return (
    <svg
      viewBox={`-6 -6 ${v.w + 12} ${v.h + 12}`}
      width={(v.w / v.h) * 200}
      height="200"
      preserveAspectRatio="xMidYMid meet"
      role={label ? 'img' : undefined}
      aria-label={label}
      aria-hidden={label ? undefined : 'true'}
    >
      <Patterns id={id} looks={looks} />
      {v.front.map((r) => (
        <Box r={r} fill={fillIn(r, surfaces, looks, id)} vs={1.4} />
      ))}
    </svg>
  );
}

function regionsByPart(
  v: Views,
  surfaces: Surface[],
): Map<string, { part: Part; front: Region[]; side: Region[] }> {
  const all = new Map<string, { part: Part; front: Region[]; side: Region[] }>();
  for (const which of ['front', 'side'] as const)
    for (const r of v[which].filter((q) => q.role !== 'glass')) {
      const part = partOf(r, surfaces) ?? { id: r.role, name: r.role };
      const at = all.get(part.id) ?? { part, front: [], side: [] };
      at[which].push(r);
      all.set(part.id, at);
    }
  return all;
}

/* Paint without a clear is said as that: whether one is planned shows in the areas. */
function getsText(part: Part, surfaces: Surface[]): string {
  const s = surfaces.find((x) => x.part.id === part.id);
  const plain = s && (part.treatment ?? 'paint') === 'paint' && !(s.clear_m2 ?? 0);
  return treatmentText(plain ? 'paint no clear' : part.treatment);
}

export function PieceDrawing({
  piece,
  surfaces,
  color,
  units,
  chosen,
  choose,
}: DrawProps & { units: Units; chosen?: string; choose: (part: string) => void }) {
  const id = useId().replace(/:/g, ''),
    v = viewsOf(piece, surfaces);
  if (!v) return <p class="say">Say the width and the height, and the piece is drawn here.</p>;
  const shared = {
    v,
    looks: looksOf(piece, color),
    surfaces,
    parts: [...regionsByPart(v, surfaces).values()],
    units,
    chosen,
    choose,
  };
  return (
    <>
      <Wide {...shared} id={`${id}w`} />
      <Narrow {...shared} id={`${id}n`} />
    </>
  );
}
interface ViewProps {
  v: Views;
  id: string;
  looks: Looks;
  surfaces: Surface[];
  parts: { part: Part; front: Region[]; side: Region[] }[];
  units: Units;
  chosen?: string;
  choose: (part: string) => void;
}
const name = (p: Part) => {
  const s = p.name ?? p.id.replace(/_/g, ' ');
  return s.charAt(0).toUpperCase() + s.slice(1);
};

/* One view in its own place and scale; every region can be tapped, each part once by keyboard. */
function View({
  id,
  looks,
  surfaces,
  regions,
  x,
  y,
  k,
  chosen,
  choose,
  focusable,
}: Omit<ViewProps, 'v' | 'parts' | 'units'> & {
  regions: Region[];
  x: number;
  y: number;
  k: number;
  focusable: boolean;
}) {
  const seen = new Set<string>();
  return (
    <g transform={`translate(${x} ${y}) scale(${k})`}>
      {regions.map((r) => {
        const part = partOf(r, surfaces),
          first = focusable && part && !seen.has(part.id);
        if (part) seen.add(part.id);
        const box = (
          <Box r={r} fill={fillIn(r, surfaces, looks, id)} vs={part?.id === chosen ? 4.5 : 2} />
        );
        if (!part) return box;
        return first ? (
          <g
            class="part"
            role="button"
            tabIndex={0}
            aria-label={`${name(part)}: ${getsText(part, surfaces)}. Change it`}
            aria-pressed={part.id === chosen}
            onClick={() => choose(part.id)}
            onKeyDown={(e) => {
              if (e.key === 'Enter' || e.key === ' ') {
                e.preventDefault();
                choose(part.id);
              }
            }}
          >
            {box}
          </g>
        ) : (
          <g class="part" aria-hidden="true" onClick={() => choose(part.id)}>
            {box}
          </g>
        );
      })}
    </g>
  );
}
/* A dimension line with its oblique ticks. */
function Dim({
  x1,
  y1,
  x2,
  y2,
  text,
}: {
  x1: number;
  y1: number;
  x2: number;
  y2: number;
  text: string;
}) {
  const level = y1 === y2,
    mx = (x1 + x2) / 2,
    my = (y1 + y2) / 2;
  return (
    <g>
      <path
        class="thin"
        d={`M${x1} ${y1}L${x2} ${y2}${level ? `M${x1} ${y1 - 6}v12M${x2} ${y2 - 6}v12` : `M${x1 - 6} ${y1}h12M${x2 - 6} ${y2}h12`}`}
      />
      <path
        d={`M${x1 - 4} ${y1 + 4}l8-8M${x2 - 4} ${y2 + 4}l8-8`}
        stroke="var(--ink)"
        stroke-width="2.5"
      />
      {level ? (
        <text x={mx} y={my + 20} text-anchor="middle">
          {text}
        </text>
      ) : (
        <>
          <rect
            x={mx - 4}
            y={my - 11}
            width={text.length * 7.4 + 8}
            height="22"
            fill="var(--ground)"
            transform={`translate(${-text.length * 3.7} 0)`}
          />
          <text x={mx} y={my + 5} text-anchor="middle">
            {text}
          </text>
        </>
      )}
    </g>
  );
}

/* Width and depth below, height in the gap between front and side. */
function Dims({
  v,
  units,
  k,
  top,
  fx,
  sx,
  between,
}: {
  v: ViewProps['v'];
  units: Units;
  k: number;
  top: number;
  fx: number;
  sx: number;
  between: number;
}) {
  const bottom = top + v.h * k;
  return (
    <>
      <Dim
        x1={fx}
        y1={bottom + 16}
        x2={fx + v.w * k}
        y2={bottom + 16}
        text={quantity(v.w, 'length', units)}
      />
      <Dim
        x1={sx}
        y1={bottom + 16}
        x2={sx + v.d * k}
        y2={bottom + 16}
        text={quantity(v.d, 'length', units)}
      />
      <Dim x1={between} y1={top} x2={between} y2={bottom} text={quantity(v.h, 'length', units)} />
    </>
  );
}

function Wide(p: ViewProps) {
  const { v, units, parts } = p,
    W = 870,
    left = 190,
    right = 40,
    room = W - left - right - 120;
  const k = Math.min(room / (v.w + v.d), 400 / v.h),
    top = 26,
    hh = v.h * k,
    fx = left,
    sx = left + v.w * k + 110;
  const labels = parts
    .filter((q) => q.front.length)
    .map((q) => ({
      q,
      y: Math.min(...q.front.map((r) => r.y + Math.min(r.h / 2, 30))) * k + top,
      r: q.front[0],
      lines: wrapped(name(q.part), left - 56, 2, true),
    }))
    .sort((a, b) => a.y - b.y);
  let last = top - 30;
  const placed = labels.map((l) => {
    const y = Math.max(l.y, last + 42);
    last = y + (l.lines.length - 1) * LINE;
    return { ...l, ly: y };
  });
  const bottom = Math.max(top + hh + 46, last + 40);
  return (
    <svg
      class="draw wide"
      viewBox={`0 0 ${W} ${bottom}`}
      width={W}
      role="group"
      aria-label="Drawing of the piece, front and side. Choose a part to change it."
    >
      <Patterns id={p.id} looks={p.looks} />
      <View {...p} regions={v.front} x={fx} y={top} k={k} focusable />
      <View {...p} regions={v.side} x={sx} y={top} k={k} focusable={false} />
      {v.bow > 0 && (
        <text x={fx + (v.w * k) / 2} y={16} text-anchor="middle" class="s2">
          front bowed {quantity(v.bow, 'length', units)}
        </text>
      )}
      {placed.map(({ q, y, ly, r, lines }) => (
        <g aria-hidden="true" class="part" onClick={() => p.choose(q.part.id)}>
          <path class="thin" d={`M${left - 44} ${ly - 4}H${left - 24}L${fx + r.x * k + 8} ${y}`} />
          <circle
            cx={fx + r.x * k + 8}
            cy={y}
            r="3.5"
            fill="var(--ground)"
            stroke="var(--ink)"
            stroke-width="1.5"
          />
          <Words x={left - 50} y={ly - 2} lines={lines} bold anchor="end" />
          <text
            class="s2"
            x={left - 50}
            y={ly + 14 + (lines.length - 1) * LINE}
            text-anchor="end"
          >
            {getsText(q.part, p.surfaces).toLowerCase()}
          </text>
        </g>
      ))}
      <Dims v={v} units={units} k={k} top={top} fx={fx} sx={sx} between={fx + v.w * k + 55} />
    </svg>
  );
}
function Narrow(p: ViewProps) {
  const { v, units } = p,
    W = 358,
    gap = 70,
    k = Math.min((W - gap - 10) / (v.w + v.d), 320 / v.h),
    top = 10,
    hh = v.h * k;
  const fx = 4,
    sx = fx + v.w * k + gap;
  return (
    <svg
      class="draw narrow"
      viewBox={`0 0 ${W} ${top + hh + 46}`}
      width={W}
      role="group"
      aria-label="Drawing of the piece, front and side. Choose a part to change it."
    >
      <Patterns id={p.id} looks={p.looks} />
      <View {...p} regions={v.front} x={fx} y={top} k={k} focusable />
      <View {...p} regions={v.side} x={sx} y={top} k={k} focusable={false} />
      <Dims v={v} units={units} k={k} top={top} fx={fx} sx={sx} between={fx + v.w * k + gap / 2} />
    </svg>
  );
}
