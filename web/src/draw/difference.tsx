/* The difference as an axis with words, because a number never stands alone. */
export function differenceWord(d: number): string {
  return d < 1
    ? 'unseen'
    : d < 3
      ? 'seen side by side'
      : d < 6
        ? 'seen at a glance'
        : 'another color';
}
const W = 236,
  MOST = 6,
  LEFT = 20,
  along = (v: number, most: number) => LEFT + (Math.min(v, most) / most) * (W - LEFT - 8),
  x = (v: number) => along(v, MOST),
  ticks = [0, 1, 2, 3, 4, 5, 6];

export function DifferenceHead() {
  return (
    <svg viewBox={`0 0 ${W} 38`} width={W} aria-hidden="true">
      <text class="s2" x={x(1) - 5} y="12" text-anchor="end">
        unseen
      </text>
      <text class="s2" x={x(2)} y="12" text-anchor="middle">
        beside
      </text>
      <text class="s2" x={x(4.5)} y="12" text-anchor="middle">
        at a glance
      </text>
      {ticks.map((v) => (
        <text x={x(v)} y="34" text-anchor="middle">
          {v}
        </text>
      ))}
      <path d={`M${x(1)} 2v14M${x(3)} 2v14`} stroke="var(--ink)" />
    </svg>
  );
}

/* What to expect before and after something, from 0 on the same axis, however long. */
export function DifferenceFall({ now, then }: { now: number; then: number }) {
  const most = Math.max(MOST, now),
    end = (v: number) => along(v, most);
  return (
    <dl class="now-then">
      {(
        [
          ['now', now],
          ['after it', then],
        ] as const
      ).map(([word, v]) => (
        <>
          <dt>{word}</dt>
          <dd>
            <svg viewBox={`0 0 ${W} 30`} width={W} aria-hidden="true">
              <path d={`M${end(0)} 3v24M${end(most)} 3v24`} stroke="var(--hair)" />
              <path d={`M${end(0)} 15H${end(v)}`} stroke="var(--ink)" stroke-width="2" fill="none" />
              <path d={`M${end(v)} 9l6 6-6 6-6-6z`} fill="var(--ink)" />
            </svg>
            <b class="num">{v.toFixed(1)}</b>
          </dd>
        </>
      ))}
    </dl>
  );
}

/* From what paper says to what nine of ten stay under, what to expect as a diamond. An end beyond
 * the axis is an arrow with its number. */
export function DifferenceLine({
  at,
  expected,
  most,
}: {
  at?: number;
  expected?: number;
  most?: number;
}) {
  const hi = most ?? expected ?? at ?? 0,
    lo = at ?? 0,
    mid = expected ?? at ?? 0,
    beyond = hi > MOST;
  return (
    <svg
      viewBox={`0 0 ${W} 30`}
      width={W}
      role="img"
      aria-label={`expect ${mid.toFixed(1)}, ${differenceWord(mid)}${hi !== mid ? `; nine of ten within ${hi.toFixed(1)}` : ''}`}
    >
      {ticks.map((v) => (
        <path d={`M${x(v)} 3v24`} stroke="var(--hair)" />
      ))}
      <path
        d={`M${x(lo)} 15H${x(hi)}M${x(lo)} 8v14${beyond ? '' : `M${x(hi)} 8v14`}`}
        stroke="var(--ink)"
        fill="none"
      />
      <path
        d={`M${x(lo) - 4} 19l8-8${beyond ? '' : `M${x(hi) - 4} 19l8-8`}`}
        stroke="var(--ink)"
        stroke-width="2.5"
      />
      {beyond && (
        <>
          <path d={`M${W - 8} 10l6 5-6 5`} fill="none" stroke="var(--ink)" stroke-width="2" />
          <text class="s2" x={W - 12} y="12" text-anchor="end">
            {hi.toFixed(1)}
          </text>
        </>
      )}
      <path d={`M${x(mid)} 9l6 6-6 6-6-6z`} fill="var(--ink)" />
    </svg>
  );
}
