/* Where target and mix lie: lighter upward, stronger to the right. And the difference as an axis
 * with words, because a number never stands alone. */
export interface Spot {
  lab: number[];
  name: string;
}
const chroma = (lab: number[]) => Math.hypot(lab[1], lab[2]);

export function Plane({
  target,
  mix,
  doubt,
  others = [],
}: {
  target?: number[];
  mix?: number[];
  doubt?: number;
  others?: Spot[];
}) {
  const all = [target, mix, ...others.map((o) => o.lab)].filter((v): v is number[] => !!v);
  if (!all.length) return null;
  const most = Math.max(40, ...all.map(chroma)) * 1.1,
    W = 430,
    H = 330,
    x = (c: number) => 46 + (c / most) * (W - 66),
    y = (l: number) => 14 + ((100 - l) / 100) * (H - 56);
  const ux = (W - 66) / most,
    uy = (H - 56) / 100;
  const step = most > 80 ? 20 : 10,
    ticks: number[] = [];
  for (let c = 0; c <= most; c += step) ticks.push(c);
  const say = (s: string, v?: number[]) =>
    v ? `${s} L* ${v[0].toFixed(0)}, C* ${chroma(v).toFixed(0)}` : '';
  return (
    <svg
      class="plane"
      viewBox={`0 0 ${W} ${H}`}
      width={W}
      role="img"
      aria-label={`Lightness upward, strength to the right. ${[say('Target', target), say('Mix', mix)].filter(Boolean).join('. ')}.`}
    >
      <path
        d={`M46 ${y(100)}V${y(0)}H${W - 14}`}
        fill="none"
        stroke="var(--ink)"
        stroke-width="1"
      />
      {[20, 40, 60, 80].map((l) => (
        <>
          <path d={`M41 ${y(l)}h5`} stroke="var(--ink)" />
          <text class="s2" x="36" y={y(l) + 4} text-anchor="end">
            {l}
          </text>
        </>
      ))}
      {ticks.map((c) => (
        <>
          <path d={`M${x(c)} ${y(0)}v5`} stroke="var(--ink)" />
          <text class="s2" x={x(c)} y={y(0) + 20} text-anchor="middle">
            {c}
          </text>
        </>
      ))}
      <text class="b" x="8" y="12">
        lighter
      </text>
      <text class="b" x={W - 8} y={H - 6} text-anchor="end">
        stronger
      </text>
      {others.map((o) => (
        <g>
          <title>{o.name}</title>
          <circle
            cx={x(chroma(o.lab))}
            cy={y(o.lab[0])}
            r="7"
            fill={`lab(${o.lab[0]}% ${o.lab[1]} ${o.lab[2]})`}
            stroke="var(--line)"
          />
        </g>
      ))}
      {mix && doubt !== undefined && (
        <ellipse
          cx={x(chroma(mix))}
          cy={y(mix[0])}
          rx={Math.max(6, doubt * ux)}
          ry={Math.max(6, doubt * uy)}
          fill="none"
          stroke="var(--ink)"
          stroke-width="2"
        />
      )}
      {target && (
        <rect
          x={x(chroma(target)) - 7}
          y={y(target[0]) - 7}
          width="14"
          height="14"
          fill="none"
          stroke="var(--ink)"
          stroke-width="2.5"
        />
      )}
      {mix && <circle cx={x(chroma(mix))} cy={y(mix[0])} r="4.5" fill="var(--ink)" />}
    </svg>
  );
}
export function differenceWord(d: number): string {
  return d < 1
    ? 'unseen'
    : d < 3
      ? 'seen side by side'
      : d < 6
        ? 'seen at a glance'
        : 'another color';
}

/* One recipe's difference: likeliest as a diamond, from best to the one in ten. */
export function DifferenceLine({
  at,
  expected,
  most,
  head,
}: {
  at?: number;
  expected?: number;
  most?: number;
  head?: boolean;
}) {
  const W = 236,
    x = (v: number) => 6 + (Math.min(v, 6) / 6) * (W - 12),
    hi = most ?? expected ?? at;
  if (head)
    return (
      <svg viewBox={`0 0 ${W} 38`} width={W} aria-hidden="true">
        <text class="s2" x={x(0.5)} y="12" text-anchor="middle">
          unseen
        </text>
        <text class="s2" x={x(2)} y="12" text-anchor="middle">
          beside
        </text>
        <text class="s2" x={x(4.5)} y="12" text-anchor="middle">
          at a glance
        </text>
        {[0, 1, 2, 3, 4, 5, 6].map((v) => (
          <text x={x(v)} y="34" text-anchor="middle">
            {v}
          </text>
        ))}
        <path d={`M${x(1)} 2v14M${x(3)} 2v14`} stroke="var(--ink)" />
      </svg>
    );
  const mid = expected ?? at ?? 0;
  return (
    <svg
      viewBox={`0 0 ${W} 30`}
      width={W}
      role="img"
      aria-label={`${mid.toFixed(1)} off, ${differenceWord(mid)}${hi !== undefined && hi !== mid ? `; nine of ten within ${hi.toFixed(1)}` : ''}`}
    >
      {[0, 1, 2, 3, 4, 5, 6].map((v) => (
        <path d={`M${x(v)} 3v24`} stroke="var(--hair)" />
      ))}
      {hi !== undefined && (
        <>
          <path
            d={`M${x(at ?? 0)} 15H${x(hi)}M${x(at ?? 0)} 8v14M${x(hi)} 8v14`}
            stroke="var(--ink)"
            fill="none"
          />
          <path d={`M${x(hi) - 4} 19l8-8`} stroke="var(--ink)" stroke-width="2.5" />
        </>
      )}
      <path d={`M${x(mid)} 9l6 6-6 6-6-6z`} fill="var(--ink)" />
    </svg>
  );
}
