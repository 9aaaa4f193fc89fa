/* The days on a phone: time runs downward, one column a piece. */
import { useId } from 'preact/hooks';
import type { DayTask } from '../net/types';
import { clockOfMinutes, localMinutes, weekday, dayNumber } from '../lib/time';
import { Hatch } from './days_legend';
import { byPiece, fromToday, handsOf, sentence, stoodAt, type DaysProps } from './days_lanes';
import { timeScale } from './scale';
import { LINE, Words, inFull, stepWords } from './words';

export function DaysNarrow(p: DaysProps) {
  const id = useId().replace(/:/g, ''),
    tasks = fromToday(p.tasks, p.now),
    s = timeScale(tasks, p.shop, 44, 3, p.now);
  if (!s) return null;
  const W = 358,
    left = 56,
    BAR = 14,
    all = byPiece(
      tasks.filter((t) => (t.start_utc_min ?? Infinity) < (s.spans[s.spans.length - 1]?.to ?? 0)),
    ),
    pieces = all.slice(0, 4);
  const cw = (W - left) / Math.max(1, pieces.length),
    names = pieces.map(([piece]) => inFull(p.titles.get(piece) ?? piece, cw - 6)),
    top = 16 + LINE * Math.max(1, ...names.map((l) => l.length)),
    y = (t: number) => top + s.at(t),
    H = top + s.length + 10,
    more = all.length > pieces.length;
  return (
    <svg
      class="narrow days-tall"
      viewBox={`0 0 ${W} ${H + (more ? 22 : 0)}`}
      width={W}
      role="img"
      aria-label={sentence(p)}
    >
      <Hatch id={id} />
      <rect x={left} y={top} width={W - left} height={s.length} fill="var(--sunk)" />
      {s.spans
        .filter((a) => a.open)
        .map((a) => (
          <>
            <rect
              x={left}
              y={y(a.from)}
              width={W - left}
              height={y(a.to) - y(a.from)}
              fill="var(--raised)"
            />
            <text class="s2" x={left - 8} y={y(a.from) + 12} text-anchor="end">
              {clockOfMinutes(localMinutes(a.from)).replace(':00', '')}
            </text>
          </>
        ))}
      {s.days.map((d) => {
        const f = s.spans.find((a) => a.open && a.from >= d.from)?.from ?? d.from;
        return (
          <text class="b" x="0" y={y(f) + 30}>
            {weekday(f)} {dayNumber(f)}
          </text>
        );
      })}
      {pieces.map(([, tasks], i) => {
        const shown = tasks.filter(
            (t) => t.start_utc_min !== undefined && y(t.start_utc_min) < top + s.length,
          ),
          at = (t: DayTask) => y(t.start_utc_min as number),
          ends = (t: DayTask) => Math.max(y(t.end_utc_min ?? 0), at(t) + 3),
          dries = (t: DayTask) => (t.dry_until_utc_min ? y(t.dry_until_utc_min) : ends(t));
        /* a label needs a line of its own, and may run on to where the next one begins */
        const labeled = shown.reduce<DayTask[]>((all, t) => {
          const last = all[all.length - 1];
          const own = !last || at(t) >= at(last) + LINE;
          return own && Math.max(ends(t), dries(t)) - at(t) > LINE - 2 ? [...all, t] : all;
        }, []);
        return (
          <g transform={`translate(${left + i * cw} 0)`}>
            <Words x={4} y={16} lines={names[i]} bold />
            <path d={`M0 ${top - 12}V${H}`} stroke="var(--hair)" />
            {shown.map((t) => {
              const stood = stoodAt(t),
                a = at(t),
                e = ends(t),
                dry = dries(t),
                n = labeled.indexOf(t),
                next = labeled[n + 1];
              return (
                <g>
                  {dry > e && (
                    <rect
                      x="5"
                      y={e}
                      width={BAR}
                      height={dry - e}
                      fill={`url(#${id})`}
                      stroke="var(--ink)"
                    />
                  )}
                  {stood !== undefined && y(stood) > top && (
                    <rect
                      x="2"
                      y={y(stood)}
                      width={BAR + 6}
                      height={Math.max(e - a, 4)}
                      fill="none"
                      stroke="var(--ink)"
                      stroke-dasharray="3 2"
                    />
                  )}
                  {t.pauses && (
                    <path
                      d={`M${5 + BAR / 2} ${a}V${e}`}
                      stroke="var(--ink)"
                      stroke-dasharray="1 3"
                    />
                  )}
                  {handsOf(t, s, 0, 0).map(([from, to]) => (
                    <rect
                      x="5"
                      y={y(from)}
                      width={BAR}
                      height={Math.max(y(to) - y(from), 3)}
                      fill="var(--ink)"
                    />
                  ))}
                  {n >= 0 && (
                    <Words
                      x={BAR + 9}
                      y={a + 12}
                      lines={stepWords(
                        t.name ?? '',
                        cw - BAR - 10,
                        Math.min(3, next ? Math.floor((at(next) - a) / LINE) : 3),
                        false,
                      )}
                    />
                  )}
                </g>
              );
            })}
          </g>
        );
      })}
      {p.now !== undefined && s.at(p.now) > 0 && (
        <path d={`M${left - 6} ${y(p.now)}H${W}`} stroke="var(--ink)" stroke-width="4" />
      )}
      {more && (
        <text class="s2" x="0" y={H + 14}>
          The first {pieces.length} of {all.length} pieces; all stand in the list.
        </text>
      )}
    </svg>
  );
}
