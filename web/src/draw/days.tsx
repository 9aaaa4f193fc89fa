/* The days as a chart: hands solid, drying hatched, the shop's hours as ground, windows as dimension
 * lines. Wide: time to the right. Narrow: time downward, one column a piece. */
import { useId } from 'preact/hooks';
import type { DayTask, Shop } from '../net/types';
import {
  clockOfMinutes,
  dueText,
  localMinutes,
  weekday,
  dayNumber,
} from '../lib/time';
import { timeScale, type TimeScale } from './scale';
import { inFull, LINE, stepWords, Words, wrapped } from './words';

interface DaysProps {
  tasks: DayTask[];
  shop: Shop;
  titles: Map<string, string>;
  now?: number;
}

function Hatch({ id }: { id: string }) {
  return (
    <defs>
      <pattern
        id={id}
        width="6"
        height="6"
        patternUnits="userSpaceOnUse"
        patternTransform="rotate(45)"
      >
        <rect width="6" height="6" fill="var(--raised)" />
        <path d="M0 0v6" stroke="var(--ink)" stroke-width="2" />
      </pattern>
    </defs>
  );
}
function Ghost({ x, y, w, h, to }: { x: number; y: number; w: number; h: number; to: number }) {
  const from = to > x ? x + w : x,
    head = to > from ? -5 : 5,
    at = y + h / 2;
  return (
    <g class="ghost" fill="none" stroke="var(--ink)">
      <rect x={x} y={y} width={w} height={h} stroke-dasharray="3 2" />
      {Math.abs(to - from) > 8 && (
        <>
          <path d={`M${from} ${at}H${to}`} stroke-dasharray="1 3" />
          <path d={`M${to + head} ${at - 4}L${to} ${at}l${head} 4`} />
        </>
      )}
    </g>
  );
}
export function DaysLegend({ moved, ready }: { moved?: boolean; ready?: boolean }) {
  const id = useId().replace(/:/g, '');
  return (
    <div class="legend">
      <span>
        <svg width="36" height="16" aria-hidden="true">
          <rect y="1" width="36" height="14" fill="var(--ink)" />
        </svg>
        your hands
      </span>
      {ready && (
        <span class="lg">
          <svg width="36" height="16" aria-hidden="true">
            <path d="M0 13.5h9M27 13.5h9" stroke="var(--ink)" stroke-width="3" />
            <rect x="9" y="1" width="18" height="14" fill="var(--ink)" />
          </svg>
          with getting ready and cleaning up
        </span>
      )}
      <span>
        <svg width="36" height="16" aria-hidden="true">
          <Hatch id={id} />
          <rect x=".5" y="1.5" width="35" height="13" fill={`url(#${id})`} stroke="var(--ink)" />
        </svg>
        drying
      </span>
      <span>
        <svg width="44" height="16" aria-hidden="true">
          <path d="M4 8h36M4 2v12M40 2v12" stroke="var(--ink)" />
          <path d="M1 11l6-6M37 11l6-6" stroke="var(--ink)" stroke-width="2" />
        </svg>
        next coat takes, from and until
      </span>
      <span>
        <svg width="36" height="16" aria-hidden="true">
          <rect width="36" height="16" fill="var(--raised)" stroke="var(--hair)" />
        </svg>
        shop open
      </span>
      <span>
        <svg width="36" height="16" aria-hidden="true">
          <rect width="36" height="16" fill="var(--sunk)" stroke="var(--hair)" />
        </svg>
        closed; nights drawn at a fifth
      </span>
      {moved && (
        <span>
          <svg width="44" height="16" aria-hidden="true">
            <Ghost x={1} y={1} w={16} h={14} to={38} />
          </svg>
          accepted there, moved
        </span>
      )}
    </div>
  );
}
/* Where a task stood when the days were last accepted, if it stands elsewhere now. */
const STILL_MIN = 15;
export function stoodAt(t: DayTask): number | undefined {
  const then = t.promised_utc_min;
  return t.state !== 'done' &&
    then !== undefined &&
    t.start_utc_min !== undefined &&
    Math.abs(t.start_utc_min - then) > STILL_MIN
    ? then
    : undefined;
}
const byPiece = (tasks: DayTask[]) => {
  const all = new Map<string, DayTask[]>();
  for (const t of tasks) all.set(t.piece ?? '', [...(all.get(t.piece ?? '') ?? []), t]);
  return [...all];
};
const sentence = (p: DaysProps) =>
  `${p.tasks.length} tasks of ${byPiece(p.tasks).length} pieces over the coming days; the same times stand in the list below.`;

/* Bars that overlap go to rows of their own. */
function lanes(tasks: DayTask[], s: TimeScale, over: number): { t: DayTask; lane: number; room: number }[] {
  const ends: number[] = [],
    rows = tasks
      .filter((t) => t.start_utc_min !== undefined)
      .map((t) => {
        const x = s.at(t.start_utc_min as number),
          to = Math.max(s.at(t.dry_until_utc_min ?? t.end_utc_min ?? 0), x + 2);
        let lane = ends.findIndex((e) => e <= x + 1);
        if (lane < 0) lane = ends.length < 4 ? ends.length : ends.indexOf(Math.min(...ends));
        ends[lane] = to;
        return { t, lane, x, room: 0 };
      });
  /* a label may run to where the next one of its row begins */
  rows.forEach((r, i) => {
    const next = rows.slice(i + 1).find((n) => n.lane === r.lane);
    r.room = (next?.x ?? s.length + over) - r.x;
  });
  return rows;
}

/* How far the last labels of the wide chart run on behind its last day. */
const OVER = 64;
/* When hands are on it: in one go, or in the open hours between its begin and end. */
function handsOf(t: DayTask, s: TimeScale, before: number, after: number): [number, number][] {
  if (t.start_utc_min === undefined) return [];
  const from = t.start_utc_min - before,
    to = (t.end_utc_min ?? t.start_utc_min) + after;
  if (!t.pauses) return [[from, to]];
  return s.spans
    .filter((a) => a.open && a.from < to && a.to > from)
    .map((a) => [Math.max(a.from, from), Math.min(a.to, to)]);
}
/* On paper the first days that fit the width of a page. */
export function DaysPaper(p: DaysProps) {
  const s = timeScale(p.tasks, p.shop, 11, 5);
  const last = s?.spans[s.spans.length - 1]?.to ?? 0,
    tasks = p.tasks.filter((t) => (t.start_utc_min ?? Infinity) < last);
  return s ? <Chart {...p} tasks={tasks} now={undefined} s={s} kind="paper" /> : null;
}
export function DaysWide(p: DaysProps) {
  const s = timeScale(p.tasks, p.shop, 22, 14, p.now);
  return s ? <Chart {...p} s={s} kind="wide" /> : null;
}
function Chart({ s, kind, ...p }: DaysProps & { s: TimeScale; kind: 'wide' | 'paper' }) {
  const id = useId().replace(/:/g, ''),
    left = 150,
    H = 22,
    W = left + Math.max(s.length, kind === 'wide' ? 700 : 0) + (kind === 'wide' ? OVER : 4),
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
        role="img"
        aria-label={sentence(p)}
      >
        <Hatch id={id} />
        <rect x={left} y="46" width={W - left} height={bottom - 46} fill="var(--sunk)" />
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

export function DaysNarrow(p: DaysProps) {
  const id = useId().replace(/:/g, ''),
    s = timeScale(p.tasks, p.shop, 44, 3, p.now);
  if (!s) return null;
  const W = 358,
    left = 56,
    BAR = 14,
    all = byPiece(
      p.tasks.filter((t) => (t.start_utc_min ?? Infinity) < (s.spans[s.spans.length - 1]?.to ?? 0)),
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
