/* The piece as a shop drawing: front and side from its numbers, tinted with the color each part gets. */
import { useId } from 'preact/hooks';
import type { ColorPlan, Part, Piece, Surface, Units } from '../net/types';
import { quantity } from '../lib/quantity';
import { useRoom, wideOf } from '../lib/room';
import { Dims } from './dims';
import type { Region, Views } from './form/body';
import { fillOf, looksOf, roleOf, treatmentText, type Looks, type Role } from './parts';
import { leaders } from './leaders';
import { Box, Others } from './region';
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
  const looks = { ...looksOf(piece, color), ...(hex ? { color: hex } : {}) },
    said = v.count > v.behind + 1 ? `${v.count}×` : '', /* more than are drawn */
    letter = 0.14 * v.h,
    up = v.behind * v.stepY,
    w = v.w + v.behind * v.stepX + said.length * 0.7 * letter;
  return (
    <svg
      viewBox={`-6 ${-6 - up} ${w + 12} ${v.h + up + 12}`}
      width={(w / (v.h + up)) * 200}
      height="200"
      preserveAspectRatio="xMidYMid meet"
      role={label ? 'img' : undefined}
      aria-label={label}
      aria-hidden={label ? undefined : 'true'}
    >
      <Patterns id={id} looks={looks} />
      <Others regions={v.front} v={v} pen={1} />
      {v.front.map((r) => (
        <Box r={r} fill={fillIn(r, surfaces, looks, id)} pen={1.4} />
      ))}
      {said && (
        <text class="count" x={w} y={v.h} text-anchor="end" style={{ fontSize: `${letter}px` }}>
          {said}
        </text>
      )}
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
    { ref, room } = useRoom(),
    v = viewsOf(piece, surfaces);
  if (!v)
    return (
      <div ref={ref}>
        <p class="say">Say the width and the height, and the piece is drawn here.</p>
      </div>
    );
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
    <div ref={ref}>
      <Wide {...shared} id={`${id}w`} W={wideOf(room)} />
      <Narrow {...shared} id={`${id}n`} />
    </div>
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
          <Box r={r} fill={fillIn(r, surfaces, looks, id)} pen={part?.id === chosen ? 5 : 2} />
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
/* The others of a set, and how many they are. */
function Alike({ v, x, y, k }: { v: Views; x: number; y: number; k: number }) {
  if (!v.behind) return null;
  return (
    <>
      <g transform={`translate(${x} ${y}) scale(${k})`}>
        <Others regions={v.front} v={v} pen={1} />
      </g>
      <text class="s2" x={x + (v.w * k) / 2} y={y + v.h * k + 54} text-anchor="middle">
        {v.count} alike
      </text>
    </>
  );
}
/* The front edge of a bowed piece from above, over the chord of its ends. */
function Bow({ x, w, deep, text }: { x: number; w: number; deep: number; text: string }) {
  const y = 12;
  return (
    <g>
      <path
        d={`M${x} ${y - 10}v10q${w / 2} ${2 * deep} ${w} 0v-10z`}
        fill="var(--sunk)"
        stroke="var(--ink)"
        stroke-width="2"
        stroke-linejoin="round"
      />
      <path d={`M${x} ${y}h${w}`} stroke="var(--ink)" stroke-dasharray="5 4" />
      <text x={x + w + 14} y={y + 1} class="s2">
        from above: bowed {text}
      </text>
    </g>
  );
}
const drawn = (v: Views) =>
  `Drawing of the piece${v.count > 1 ? `, one of ${v.count} alike` : ''}, front and side. Choose a part to change it.`;
function Wide(p: ViewProps & { W: number }) {
  const { v, units, parts, W } = p,
    left = 190,
    right = W < 870 ? 8 : 40,
    room = W - left - right - 120;
  const wide = v.w + v.behind * v.stepX,
    k = Math.min(room / (wide + v.d), 400 / v.h),
    deep = v.bow > 0 ? v.bow * k + 12 : 0, /* the front edge seen from above */
    top = (deep ? deep + 40 : 12) + v.behind * v.stepY * k,
    hh = v.h * k,
    fx = left,
    sx = left + wide * k + 110;
  let last = top - 30;
  const placed = leaders(parts, v.front, v.h).map(({ part, ...at }) => {
    const x = fx + at.x * k,
      y = top + at.y * k,
      ly = Math.max(y, last + 42),
      lines = wrapped(name(part), left - 56, 2, true);
    last = ly + (lines.length - 1) * LINE;
    return { part, x, y, ly, lines };
  });
  const bottom = Math.max(top + hh + (v.behind ? 64 : 46), last + 40);
  return (
    <svg
      class="draw wide"
      viewBox={`0 0 ${W} ${bottom}`}
      width={W}
      role="group"
      aria-label={drawn(v)}
    >
      <Patterns id={p.id} looks={p.looks} />
      <Alike v={v} x={fx} y={top} k={k} />
      <View {...p} regions={v.front} x={fx} y={top} k={k} focusable />
      <View {...p} regions={v.side} x={sx} y={top} k={k} focusable={false} />
      {deep > 0 && <Bow x={fx} w={v.w * k} deep={v.bow * k} text={quantity(v.bow, 'length', units)} />}
      {placed.map(({ part, x, y, ly, lines }) => (
        <g aria-hidden="true" class="part" onClick={() => p.choose(part.id)}>
          <path class="thin" d={`M${left - 44} ${ly - 4}H${left - 24}L${x} ${y}`} />
          <circle
            cx={x}
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
            {getsText(part, p.surfaces).toLowerCase()}
          </text>
        </g>
      ))}
      <Dims v={v} units={units} k={k} top={top} fx={fx} sx={sx} between={fx + wide * k + 55} />
    </svg>
  );
}
function Narrow(p: ViewProps) {
  const { v, units } = p,
    W = 358,
    gap = 70,
    wide = v.w + v.behind * v.stepX,
    k = Math.min((W - gap - 10) / (wide + v.d), 320 / v.h),
    top = 10 + v.behind * v.stepY * k,
    hh = v.h * k;
  const fx = 4,
    sx = fx + wide * k + gap;
  return (
    <svg
      class="draw narrow"
      viewBox={`0 0 ${W} ${top + hh + (v.behind ? 64 : 46)}`}
      width={W}
      role="group"
      aria-label={drawn(v)}
    >
      <Patterns id={p.id} looks={p.looks} />
      <Alike v={v} x={fx} y={top} k={k} />
      <View {...p} regions={v.front} x={fx} y={top} k={k} focusable />
      <View {...p} regions={v.side} x={sx} y={top} k={k} focusable={false} />
      <Dims v={v} units={units} k={k} top={top} fx={fx} sx={sx} between={fx + wide * k + gap / 2} />
    </svg>
  );
}
