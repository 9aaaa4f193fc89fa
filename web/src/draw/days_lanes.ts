/* What a chart of days lays out: lanes of bars that overlap, hands, where a task stood. */
import type { DayTask, Shop } from '../net/types';
import { localMinutes } from '../lib/time';
import type { TimeScale } from './scale';

export interface DaysProps {
  tasks: DayTask[];
  shop: Shop;
  titles: Map<string, string>;
  now?: number;
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
/* What is over and dry before today is no longer drawn, unless nothing else is left. */
export function fromToday(tasks: DayTask[], now: number | undefined): DayTask[] {
  if (now === undefined) return tasks;
  const today = now - localMinutes(now),
    on = tasks.filter(
      (t) =>
        Math.max(t.start_utc_min ?? 0, t.end_utc_min ?? 0, t.dry_until_utc_min ?? 0) >= today,
    );
  return on.length ? on : tasks;
}
export const byPiece = (tasks: DayTask[]) => {
  const all = new Map<string, DayTask[]>();
  for (const t of tasks) all.set(t.piece ?? '', [...(all.get(t.piece ?? '') ?? []), t]);
  return [...all];
};
export const sentence = (p: DaysProps) =>
  `${p.tasks.length} tasks of ${byPiece(p.tasks).length} pieces over the coming days; the same times stand in the list below.`;

/* Bars that overlap go to rows of their own. */
export function lanes(tasks: DayTask[], s: TimeScale, over: number): { t: DayTask; lane: number; room: number }[] {
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

/* When hands are on it: in one go, or in the open hours between its begin and end. */
export function handsOf(t: DayTask, s: TimeScale, before: number, after: number): [number, number][] {
  if (t.start_utc_min === undefined) return [];
  const from = t.start_utc_min - before,
    to = (t.end_utc_min ?? t.start_utc_min) + after;
  if (to <= (s.spans[0]?.from ?? 0)) return [];
  if (!t.pauses) return [[from, to]];
  return s.spans
    .filter((a) => a.open && a.from < to && a.to > from)
    .map((a) => [Math.max(a.from, from), Math.min(a.to, to)]);
}
