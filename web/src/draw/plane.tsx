/* Where target and mix lie at the target's hue: lighter upward, stronger to the right. The plane is
 * filled with the colors that the shelf can reach, its edge is drawn; a detail circle shows the
 * neighborhood larger, as a drawing shows a joint. */
import { useEffect, useMemo, useState } from 'preact/hooks';

interface ReachRow {
  l: number;
  low: number;
  high: number;
}
const chroma = (lab: number[]) => Math.hypot(lab[1], lab[2]);
const CELL = 4, /* chroma units a cell */
  EACH = 2; /* rows of the reach a cell */

interface Frame {
  width: number;
  height: number;
  plot: { w: number; h: number };
  detail: { x: number; y: number; r: number };
}
const WIDE: Frame = {
  width: 590,
  height: 340,
  plot: { w: 400, h: 290 },
  detail: { x: 510, y: 214, r: 72 },
};
const NARROW: Frame = {
  width: 350,
  height: 484,
  plot: { w: 300, h: 270 },
  detail: { x: 256, y: 388, r: 72 },
};
const LEFT = 40,
  TOP = 18;

/* Edge of what can be reached: up along the strongest, down along the weakest. */
function outline(rows: ReachRow[], x: (c: number) => number, y: (l: number) => number): string {
  const up = rows.map((r) => `${x(r.high).toFixed(1)} ${y(r.l).toFixed(1)}`),
    down = [...rows].reverse().map((r) => `${x(r.low).toFixed(1)} ${y(r.l).toFixed(1)}`);
  return `M${[...up, ...down].join('L')}Z`;
}

function Drawing({
  f,
  target,
  mix,
  doubt,
  later,
  hue,
  rows,
  name,
  class: cls,
}: {
  f: Frame;
  target?: number[];
  mix?: number[];
  doubt?: number;
  later?: number;
  hue: number;
  rows: ReachRow[];
  name: string;
  class: string;
}) {
  const spots = [target, mix].filter((v): v is number[] => !!v),
    most = Math.max(40, ...spots.map((s) => chroma(s) + 6), ...rows.map((r) => r.high)) * 1.04;
  const x = (c: number) => LEFT + (c / most) * f.plot.w,
    y = (l: number) => TOP + ((100 - l) / 100) * f.plot.h,
    perC = f.plot.w / most,
    perL = f.plot.h / 100;
  /* the ground is drawn once for a reach: only the marks follow the sliders */
  const cells = useMemo(() => {
    const step = rows.length > 1 ? Math.abs(rows[1].l - rows[0].l) : 4;
    return rows
      .filter((_, n) => n % EACH === 0)
      .flatMap((r, n) => {
        const out = [],
          high = Math.max(r.high, rows[n * EACH + 1]?.high ?? 0);
        for (let c = Math.floor(r.low / CELL) * CELL; c < high + CELL; c += CELL)
          out.push(
            <rect
              x={x(c)}
              y={y(r.l + (EACH - 0.5) * step)}
              width={CELL * perC + 0.6}
              height={EACH * step * perL + 0.6}
              fill={`lch(${r.l + ((EACH - 1) * step) / 2}% ${c + CELL / 2} ${hue})`}
            />,
          );
        return out;
      });
  }, [rows, hue, most, f]);
  const edge = rows.length > 1 ? outline(rows, x, y) : '',
    ticks: number[] = [];
  for (let c = 0; c <= most; c += most > 80 ? 20 : 10) ticks.push(c);
  /* the detail is centered on the target, so large that the ellipse fits */
  const center = target ?? mix,
    cx = center ? x(chroma(center)) : 0,
    cy = center ? y(center[0]) : 0,
    size = Math.max(
      10,
      (doubt ?? 3) * Math.max(perC, perL) +
        (mix && center ? Math.abs(x(chroma(mix)) - cx) : 0),
      ...spots.map((s) => Math.hypot(x(chroma(s)) - cx, y(s[0]) - cy)),
    ),
    zoom = Math.max(1.2, Math.min(4, (f.detail.r - 12) / size));
  const marks = (k: number) => {
    const at = (s: number[]) => [cx + (x(chroma(s)) - cx) * k, cy + (y(s[0]) - cy) * k];
    return (
      <>
        {['under', 'over'].map((pen) => (
          <>
            {mix && doubt !== undefined && (
              <ellipse
                cx={at(mix)[0]}
                cy={at(mix)[1]}
                rx={Math.max(4, doubt * perC * k)}
                ry={Math.max(4, doubt * perL * k)}
                class={pen}
              />
            )}
            {mix && later !== undefined && (
              <ellipse
                cx={at(mix)[0]}
                cy={at(mix)[1]}
                rx={Math.max(4, later * perC * k)}
                ry={Math.max(4, later * perL * k)}
                class={pen}
                stroke-dasharray="5 5"
              />
            )}
            {target && (
              <rect
                x={at(target)[0] - 6}
                y={at(target)[1] - 6}
                width="12"
                height="12"
                class={pen}
              />
            )}
          </>
        ))}
        {mix && <circle cx={at(mix)[0]} cy={at(mix)[1]} r="4.5" class="dot" />}
      </>
    );
  };
  const clip = `reach-${cls}`,
    { x: dx, y: dy, r: dr } = f.detail;
  return (
    <svg class={`plane ${cls}`} viewBox={`0 0 ${f.width} ${f.height}`} width={f.width} role="img" aria-label={name}>
      <defs>
        {edge && (
          <clipPath id={clip}>
            <path d={edge} />
          </clipPath>
        )}
        <clipPath id={`${clip}-d`}>
          <circle cx={dx} cy={dy} r={dr} />
        </clipPath>
      </defs>
      {edge && (
        <>
          <g id={`${clip}-g`} clip-path={`url(#${clip})`}>
            {cells}
          </g>
          <path d={edge} fill="none" stroke="var(--ink)" stroke-width="2" stroke-linejoin="round" />
        </>
      )}
      <path d={`M${LEFT} ${y(100)}V${y(0)}H${LEFT + f.plot.w}`} fill="none" stroke="var(--ink)" />
      {[20, 40, 60, 80].map((l) => (
        <>
          <path d={`M${LEFT - 5} ${y(l)}h5`} stroke="var(--ink)" />
          <text class="s2" x={LEFT - 9} y={y(l) + 4} text-anchor="end">
            {l}
          </text>
        </>
      ))}
      {ticks.map((c) => (
        <>
          <path d={`M${x(c)} ${y(0)}v5`} stroke="var(--ink)" />
          <text class="s2" x={x(c)} y={y(0) + 19} text-anchor="middle">
            {c}
          </text>
        </>
      ))}
      <text class="b" x="0" y="12">
        lighter
      </text>
      <text class="b" x={LEFT + f.plot.w} y={y(0) - 7} text-anchor="end">
        stronger
      </text>
      {center && (
        <>
          <circle cx={cx} cy={cy} r={dr / zoom} class="under" />
          <circle cx={cx} cy={cy} r={dr / zoom} class="over" />
          <path
            d={`M${cx + dr / zoom} ${cy}L${dx - (dx > cx + dr ? dr : 0)} ${dx > cx + dr ? dy : dy - dr}`}
            stroke="var(--ink)"
            fill="none"
          />
          <g clip-path={`url(#${clip}-d)`}>
            <rect x={dx - dr} y={dy - dr} width={2 * dr} height={2 * dr} fill="var(--sunk)" />
            <g transform={`translate(${dx - cx * zoom} ${dy - cy * zoom}) scale(${zoom})`}>
              {edge && (
                <>
                  <use href={`#${clip}-g`} />
                  <path d={edge} fill="none" stroke="var(--ink)" stroke-width={2 / zoom} />
                </>
              )}
            </g>
            <g transform={`translate(${dx - cx} ${dy - cy})`}>{marks(zoom)}</g>
          </g>
          <circle cx={dx} cy={dy} r={dr} fill="none" stroke="var(--ink)" stroke-width="2" />
          <text class="s2" x={dx} y={dy + dr + 17} text-anchor="middle">
            {zoom.toFixed(zoom < 3 ? 1 : 0)} times as large
          </text>
        </>
      )}
    </svg>
  );
}

/* A phone gets a drawing of its own, not this one made small. */
function useNarrow(): boolean {
  const query = useMemo(() => matchMedia('(max-width: 40rem)'), []),
    [is, set] = useState(query.matches);
  useEffect(() => {
    const on = () => set(query.matches);
    query.addEventListener('change', on);
    return () => query.removeEventListener('change', on);
  }, [query]);
  return is;
}

export function Plane({
  target,
  mix,
  doubt,
  later,
  hue,
  reach,
}: {
  target?: number[];
  mix?: number[];
  doubt?: number;
  later?: number /* the same after the next sample */;
  hue?: number;
  reach?: ReachRow[];
}) {
  const narrow = useNarrow(),
    rows = useMemo(() => (reach ?? []).filter((r) => r.high > r.low), [reach]);
  if (!target && !mix) return null;
  const h = hue ?? (target ? (Math.atan2(target[2], target[1]) * 180) / Math.PI : 0),
    say = (s: string, v?: number[]) =>
      v ? `${s} lightness ${v[0].toFixed(0)}, strength ${chroma(v).toFixed(0)}` : '';
  const name = [
    'Lightness upward, strength to the right.',
    say('Target', target),
    say('Mix', mix),
    doubt !== undefined ? `Nine of ten mixes dry within ${doubt.toFixed(1)}` : '',
    later !== undefined ? `After the next sample within ${later.toFixed(1)}` : '',
  ]
    .filter(Boolean)
    .join('. ');
  const all = { target, mix, doubt, later, hue: h, rows, name };
  return (
    <>
      <Drawing f={narrow ? NARROW : WIDE} class={narrow ? 'narrow' : 'wide'} {...all} />
      <div class="legend" aria-hidden="true">
        <span>□ target</span>
        <span>● mix</span>
        <span>◯ nine of ten dry inside</span>
        {later !== undefined && <span>broken: after the next sample</span>}
        {rows.length > 1 && <span>outline: edge of the shelf</span>}
      </div>
    </>
  );
}
