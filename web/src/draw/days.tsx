/* The days as a chart: hands solid, drying hatched, the shop's hours as ground, windows as dimension
 * lines. Time runs to the right. */
import { useId } from 'preact/hooks';
import type { DayTask } from '../net/types';
import { clockOfMinutes, dueText, localMinutes } from '../lib/time';
import { Ghost, Hatch } from './days_legend';
import { byPiece, fromToday, handsOf, lanes, sentence, stoodAt, type DaysProps } from './days_lanes';
import { timeScale, type TimeScale } from './scale';
import { Words, stepWords, wrapped } from './words';

/* How far the last labels of the wide chart run on behind its last day. */
const OVER = 64;
/* On paper the days one below the other, as many at a time as fit the width of a page. */
const STRIPS_MOST = 6;
export function DaysPaper(p: DaysProps) {
  const strips: { s: TimeScale; tasks: DayTask[] }[] = [];
  let now = p.now,
    on = fromToday(p.tasks, now);
  while (strips.length < STRIPS_MOST) {
    const s = timeScale(on, p.shop, 11, 5, now);
    if (!s?.spans.length) break;
    const last = s.spans[s.spans.length - 1].to;
    strips.push({ s, tasks: on.filter((t) => (t.start_utc_min ?? Infinity) < last) });
    /* the day after, wherever the clock is changed; what is still wet then goes on there */
    now = last - 1 - localMinutes(last - 1) + 1440 + 180;
    on = fromToday(p.tasks.filter((t) => Math.max(t.start_utc_min ?? 0, t.dry_until_utc_min ?? 0) > last), now);
    if (!on.some((t) => (t.start_utc_min ?? 0) >= last)) break;
  }
  const most = Math.max(...strips.map((strip) => strip.s.length));
  return (
    <>
      {strips.map((strip) => (
        <Chart {...p} {...strip} now={undefined} kind="paper" atLeast={most} />
      ))}
    </>
  );
}
export function DaysWide(p: DaysProps) {
  const tasks = fromToday(p.tasks, p.now),
    s = timeScale(tasks, p.shop, 22, 14, p.now);
  return s ? <Chart {...p} tasks={tasks} s={s} kind="wide" atLeast={700} /> : null;
}
/* atLeast: the length of time's axis, so that charts below each other are of one scale. */
function Chart({ s, kind, atLeast, ...p }: DaysProps & { s: TimeScale; kind: 'wide' | 'paper'; atLeast: number }) {
  const id = useId().replace(/:/g, ''),
    left = 150,
    H = 22,
    W = left + Math.max(s.length, atLeast) + (kind === 'wide' ? OVER : 4),
    x = (t: number) => left + s.at(t),
    pieces = byPiece(p.tasks).map(([piece, tasks]) => ({ piece, rows: lanes(tasks, s, kind === 'wide' ? OVER : 0) }));
  /* an edge that lies weeks ahead is told in the list, not drawn */
  const edge = (t: DayTask) =>
    t.window_end_utc_min &&
    t.dry_until_utc_min &&
    t.window_end_utc_min - t.dry_until_utc_min < 3 * 1440
      ? x(t.window_end_utc_min)
      : 0;
  /* one row of hands for each of those who are told apart */
  const people = [...new Set(p.tasks.map((t) => t.person ?? ''))].sort(),
    hands = people.length > 1 ? people : [''],
    HAND = 34;
  let y = 96 + (hands.length - 1) * HAND;
  const bands = pieces.map((q) => {
    const at = y,
      n = Math.max(1, ...q.rows.map((r) => r.lane + 1)),
      tops: number[] = [];
    for (let lane = 0; lane < n; lane++) {
      /* where something moved, its old place stands above, clear of the rule */
      if (q.rows.some((r) => r.lane === lane && stoodAt(r.t) !== undefined)) y += 12;
      tops.push(y);
      y += H + (q.rows.some((r) => r.lane === lane && edge(r.t)) ? 36 : 24);
    }
    y += 20;
    return { ...q, at, tops };
  });
  const bottom = y + 4;
  return (
    <div
      class={kind === 'wide' ? 'days-scroll wide' : 'days-paper'}
      tabIndex={kind === 'wide' ? 0 : undefined}
      role={kind === 'wide' ? 'region' : undefined}
      aria-label={kind === 'wide' ? 'Chart of the days' : undefined}
    >
      <svg
        class="days-chart"
        viewBox={`0 0 ${W} ${bottom}`}
        width={W}
        height={bottom}
        preserveAspectRatio="xMinYMin meet" /* on paper a tall one is made smaller: its edge stays */
        role="img"
        aria-label={sentence(p)}
      >
        <Hatch id={id} />
        <rect x={left} y="46" width={kind === 'paper' ? s.length : W - left} height={bottom - 46} fill="var(--sunk)" />
        {s.spans
          .filter((a) => a.open)
          .map((a) => (
            <rect
              x={x(a.from)}
              y="46"
              width={x(a.to) - x(a.from)}
              height={bottom - 46}
              fill="var(--raised)"
            />
          ))}
        {s.days.map((d, i) => (
          <>
            {i > 0 && <path d={`M${x(d.from) - 6} 46v${bottom - 46}`} stroke="var(--hair)" />}
            <text
              class="b"
              x={x(s.spans.find((a) => a.open && a.from >= d.from)?.from ?? d.from)}
              y="16"
            >
              {dueText(d.day).replace(',', '')}
            </text>
          </>
        ))}
        {s.spans
          .filter((a) => a.open)
          .map((a) => (
            <>
              <text class="s2" x={x(a.from)} y="38">
                {clockOfMinutes(localMinutes(a.from)).replace(':00', '')}
              </text>
              {x(a.to) - x(a.from) > 90 && (
                <text class="s2" x={x(a.to)} y="38" text-anchor="end">
                  {clockOfMinutes(localMinutes(a.to)).replace(':00', '')}
                </text>
              )}
            </>
          ))}
        <path d={`M${left} 46H${W}`} stroke="var(--ink)" stroke-width="2" />
        {hands.map((name, i) => (
          <Words x={0} y={70 + i * HAND} lines={wrapped(name || 'Your hands', left - 12, 2, true)} bold />
        ))}
        {p.tasks.map((t) =>
          handsOf(t, s, t.setup_min ?? 0, t.cleanup_min ?? 0).map(([from, to]) => (
            <rect
              x={x(from)}
              y={54 + Math.max(0, hands.indexOf(t.person ?? '')) * HAND}
              width={Math.max(2, x(to) - x(from) - 1)}
              height="24"
              fill="var(--ink)"
            />
          )),
        )}
        {bands.map((b) => (
          <g>
            <path d={`M0 ${b.at - 8}H${W}`} stroke="var(--hair)" />
            <Words
              x={0}
              y={b.at + 16}
              lines={wrapped(p.titles.get(b.piece) ?? b.piece, left - 12, 3, true)}
              bold
            />
            {b.rows.map(({ t, lane, room }) => {
              const a = x(t.start_utc_min as number),
                e = Math.max(x(t.end_utc_min ?? 0), a + 2),
                top = b.tops[lane],
                dry = t.dry_until_utc_min ? x(t.dry_until_utc_min) : e;
              const stood = stoodAt(t),
                win = edge(t),
                from = x((t.start_utc_min as number) - (t.setup_min ?? 0)),
                to = x((t.end_utc_min ?? 0) + (t.cleanup_min ?? 0));
              return (
                <g>
                  <title>{t.name}</title>
                  {dry > e && (
                    <rect
                      x={e}
                      y={top + 0.5}
                      width={dry - e}
                      height={H - 1}
                      fill={`url(#${id})`}
                      stroke="var(--ink)"
                    />
                  )}
                  {handsOf(t, s, 0, 0).map(([f, u]) => (
                    <rect
                      x={x(f)}
                      y={top}
                      width={Math.max(2, x(u) - x(f))}
                      height={H}
                      fill={t.state === 'done' ? 'var(--line)' : 'var(--ink)'}
                    />
                  ))}
                  {t.pauses && (
                    <path d={`M${a} ${top + H / 2}H${e}`} stroke="var(--ink)" stroke-dasharray="1 3" />
                  )}
                  {(from < a || to > e) && (
                    <path
                      d={`M${from} ${top + H - 1.5}H${a}M${e} ${top + H - 1.5}H${to}`}
                      stroke="var(--ink)"
                      stroke-width="3"
                    />
                  )}
                  {win > dry && (
                    <>
                      <path
                        d={`M${dry} ${top + H + 25}H${win}M${dry} ${top + H + 20}v10M${win} ${top + H + 20}v10`}
                        stroke="var(--ink)"
                        fill="none"
                      />
                      <path
                        d={`M${win - 3} ${top + H + 28}l6-6`}
                        stroke="var(--ink)"
                        stroke-width="2"
                      />
                    </>
                  )}
                  {stood !== undefined && (
                    <Ghost x={x(stood)} y={top - 13} w={Math.max(e - a, 6)} h={9} to={a} />
                  )}
                  <text x={a} y={top + H + 15}>
                    {stepWords(t.name ?? '', room - 6, 1)[0]}
                  </text>
                </g>
              );
            })}
          </g>
        ))}
        {p.now !== undefined && s.at(p.now) > 0 && s.at(p.now) < s.length && (
          <>
            <path d={`M${x(p.now)} 40V${bottom}`} stroke="var(--ink)" stroke-width="2" />
            <path d={`M${x(p.now) - 6} 38h12l-6 9z`} fill="var(--ink)" />
          </>
        )}
      </svg>
    </div>
  );
}
