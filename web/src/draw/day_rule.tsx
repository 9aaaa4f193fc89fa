/* One day as a rule: the pieces' hands and drying between its hours, to true scale, and where now is. */
import { useId } from 'preact/hooks';
import type { DayTask, Shop } from '../net/types';
import { useRoom } from '../lib/room';
import { clockOfMinutes, dayOf, dueText, localMinutes } from '../lib/time';
import { Hatch } from './days_legend';
import { byPiece } from './days_lanes';
import { hoursOf } from './scale';
import { BOLD, LINE, Words, stepWords, wrapped } from './words';

const BAR = 20,
  NARROW = 600, /* a page so narrow has the names above their rows: beside them little would be left of either */
  DAY = 100 /* "Wed Nov 25" */,
  LETTERS = 70; /* a bar shorter than that carries no word */

/* "Bow-front chest, five drawers": what it is, without the rest. */
const nameOf = (t: DayTask) => (t.piece_title ?? t.piece ?? '').split(',')[0];
/* A name in the middle of its row, on two lines where one is too short. */
function Name({ text, room }: { text: string; room: number }) {
  const lines = wrapped(text, room, 2, true);
  return <Words x={0} y={15 - ((lines.length - 1) * LINE) / 2} lines={lines} bold />;
}
interface Bar {
  hands: [number, number][];
  to: number;
  dry: number;
  t: DayTask;
}
/* In minutes from the midnight that the day begins with. */
function barsOf(tasks: DayTask[], hours: [number, number][], midnight: number): Bar[] {
  return tasks
    .map((t) => {
      const from = (t.start_utc_min ?? 0) - midnight,
        to = (t.end_utc_min ?? t.start_utc_min ?? 0) - midnight,
        hands = (t.pauses ? hours : [[0, 1440] as [number, number]])
          .map(([a, b]): [number, number] => [Math.max(a, from), Math.min(b, to)])
          .filter(([a, b]) => b > a);
      return { t, from, hands, to, dry: Math.max(to, (t.dry_until_utc_min ?? 0) - midnight) };
    })
    .filter((b) => b.from < 1440 && b.dry > 0);
}

export function DayRule({ tasks, shop, now }: { tasks: DayTask[]; shop: Shop; now: number }) {
  const open = tasks.find((t) => t.state !== 'done'),
    first = Math.max(now, open?.start_utc_min ?? now),
    day = dayOf(first),
    hours = hoursOf(shop, day),
    bars = barsOf(tasks, hours, first - localMinutes(first));
  if (!bars.length) return null;
  const worked = [...hours, ...bars.flatMap((b) => b.hands)],
    from = Math.min(...worked.map(([a]) => a), 720) - 20,
    to = Math.max(...worked.map(([, b]) => b), 720) + 30;
  const shared = { bars, hours, from, to, day, now: dayOf(now) === day ? localMinutes(now) : undefined };
  return <Rule {...shared} />;
}

function Rule({
  bars,
  hours,
  from,
  to,
  day,
  now,
}: {
  bars: Bar[];
  hours: [number, number][];
  from: number;
  to: number;
  day: number;
  now?: number;
}) {
  const id = useId().replace(/:/g, ''),
    { ref, room: width } = useRoom(),
    narrow = width < NARROW,
    named = bars.map((b) => nameOf(b.t).length * BOLD + 14),
    left = narrow ? 0 : Math.min(0.28 * width, Math.max(120, ...named)),
    above = narrow ? 18 : 0,
    row = BAR + 10 + above,
    rows = byPiece(bars.map((b) => b.t)).map(([piece]) => bars.filter((b) => (b.t.piece ?? '') === piece)),
    x = (min: number) =>
      left + ((Math.max(from, Math.min(min, to)) - from) / (to - from)) * (width - left - 8),
    foot = rows.length * row + 6,
    each = (width - left) / ((to - from) / 60) < 44 ? 2 : 1, /* hours between two words */
    /* where now is, from top to foot; past the names that stand above their rows */
    line = (min: number) =>
      narrow
        ? rows.map((_, i) => `M${x(min)} ${i * row + above}v${BAR + 8}`).join('')
        : `M${x(min)} 0V${foot}`,
    ticks = Array.from({ length: 25 }, (_, h) => h * 60).filter((m) => m >= from && m <= to);
  return (
    <div class="day-rule" ref={ref} style={{ minHeight: `${foot + 30}px` }}>
      {width > 0 && (
        <svg
          viewBox={`0 0 ${width} ${foot + 30}`}
          width={width}
          role="img"
          aria-label={`The hours of ${dueText(day)}; the same work stands in the lists below.`}
        >
          <Hatch id={id} />
          {hours.map(([a, b]) => (
            <rect x={x(a)} y={above + 4} width={x(b) - x(a)} height={foot - above - 4} fill="var(--raised)" />
          ))}
          {rows.map((own, i) => (
            <g transform={`translate(0 ${i * row + above + 4})`}>
              {narrow ? (
                <text class="b" x="0" y="-5">
                  {wrapped(nameOf(own[0].t), width - (i ? 0 : DAY), 1, true)[0]}
                </text>
              ) : (
                <Name text={nameOf(own[0].t)} room={left - 10} />
              )}
              {own
                .filter((b) => b.dry > b.to)
                .map((b) => (
                  <rect
                    x={x(b.to)}
                    y=".5"
                    width={Math.max(0, x(b.dry) - x(b.to))}
                    height={BAR - 1}
                    fill={`url(#${id})`}
                    stroke="var(--ink)"
                  />
                ))}
              {own.flatMap(({ t, hands }) =>
                hands.map(([a, b]) => {
                  const w = Math.max(2, x(b) - x(a) - 1);
                  return (
                    <>
                      <rect
                        x={x(a)}
                        y="0"
                        width={w}
                        height={BAR}
                        fill={t.state === 'done' ? 'var(--line)' : 'var(--ink)'}
                      />
                      {w > LETTERS && (
                        <text class="on-bar" x={x(a) + 6} y="14.5">
                          {stepWords(t.name ?? '', w - 10, 1)[0]}
                        </text>
                      )}
                    </>
                  );
                }),
              )}
            </g>
          ))}
          <path
            d={`M${left} ${foot}H${width}${ticks.map((m) => `M${x(m)} ${foot}v${m % (60 * each) ? 4 : 7}`).join('')}`}
            stroke="var(--ink)"
            stroke-width="2"
          />
          <text
            class="s2"
            x={narrow ? width : 0}
            y={narrow ? above - 1 : foot + 22}
            text-anchor={narrow ? 'end' : 'start'}
          >
            {dueText(day).replace(',', '')}
          </text>
          {ticks
            .filter((m) => m % (60 * each) === 0)
            .map((m) => (
              <text class="s2" x={x(m)} y={foot + 22} text-anchor="middle">
                {clockOfMinutes(m).replace(/:00| .m/g, '')}
              </text>
            ))}
          {now !== undefined && now > from && now < to && (
            <g>
              <path d={line(now)} stroke="var(--ground)" stroke-width="5" />
              <path d={line(now)} stroke="var(--ink)" stroke-width="2" />
              <path d={`M${x(now) - 6} ${foot + 9}h12l-6-9z`} fill="var(--ink)" />
            </g>
          )}
        </svg>
      )}
    </div>
  );
}
