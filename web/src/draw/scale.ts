/* Time as a board with folded nights: shop hours at full length, closed hours at a fifth. */
import type { DayTask, Shop } from '../net/types';
import { dayOf, localMinutes } from '../lib/time';

export interface Span {
  from: number;
  to: number;
  open: boolean;
  idle?: boolean; /* days on which nothing is done: drawn as a mere break */
}
export interface TimeScale {
  at: (t: number) => number;
  spans: Span[];
  length: number;
  days: { day: number; from: number }[];
}
const WEEK = ['sun', 'mon', 'tue', 'wed', 'thu', 'fri', 'sat'];

/* Shop hours of one local day, in minutes from midnight, merged. */
export function hoursOf(shop: Shop, day: number): [number, number][] {
  if (shop.days_off?.includes(new Date(day * 86400000).toISOString().slice(0, 10))) return [];
  const wd = WEEK[(((day + 4) % 7) + 7) % 7],
    work = !['sat', 'sun'].includes(wd);
  const rows = (shop.hours ?? []).filter(
    (h) => h.day === wd || h.day === 'daily' || (h.day === 'weekdays' && work),
  );
  return rows
    .map((h) => [h.open_min ?? 480, h.close_min ?? 1020] as [number, number])
    .sort((a, b) => a[0] - b[0]);
}
export function timeScale(
  tasks: DayTask[],
  shop: Shop,
  hourLength: number,
  mostDays: number,
  now?: number,
): TimeScale | null {
  const starts = tasks.map((t) => t.start_utc_min).filter((v): v is number => v !== undefined);
  if (!starts.length) return null;
  const soonest = Math.min(
    ...starts,
    ...(now !== undefined && now < Math.min(...starts) && Math.min(...starts) - now < 1440
      ? [now]
      : []),
  );
  const end = Math.max(...tasks.map((t) => t.end_utc_min ?? t.start_utc_min ?? 0)),
    /* a coat of yesterday that is still wet reaches into today, where the board begins */
    today = now === undefined ? soonest : now - localMinutes(now),
    begin = end >= today ? Math.max(soonest, today) : soonest;
  const spans: Span[] = [],
    days: TimeScale['days'] = [];
  let midnight = begin - localMinutes(begin);
  for (let i = 0; i < mostDays && midnight <= end; i++) {
    const day = dayOf(midnight + 720),
      hours = hoursOf(shop, day),
      /* what pauses over closed days is not worked on then */
      worked = tasks.some(
        (t) =>
          (hours.length > 0 || !t.pauses) &&
          (t.start_utc_min ?? 0) < midnight + 1440 &&
          (t.end_utc_min ?? 0) > midnight,
      );
    const open: [number, number][] = hours.length ? hours : worked ? [[480, 1020]] : [];
    days.push({ day, from: midnight });
    if (!worked) spans.push({ from: midnight, to: midnight + 1440, open: false, idle: true });
    let at = 0;
    for (const [a, b] of worked ? open : []) {
      if (a > at) spans.push({ from: midnight + at, to: midnight + a, open: false });
      spans.push({ from: midnight + Math.max(a, at), to: midnight + b, open: true });
      at = b;
    }
    if (worked && at < 1440) spans.push({ from: midnight + at, to: midnight + 1440, open: false });
    const next = midnight + 1440 + 180;
    midnight = next - localMinutes(next); /* also right where the clock changes */
  }
  while (spans.length && !spans[0].open) spans.shift();
  const tail = spans[spans.length - 1];
  if (tail && !tail.open) tail.to = Math.min(tail.to, tail.from + 180);
  const scale = (s: Span) =>
    s.idle ? 14 : ((s.to - s.from) / 60) * hourLength * (s.open || s.to - s.from < 150 ? 1 : 0.2);
  const marks: number[] = [0];
  for (const s of spans) marks.push(marks[marks.length - 1] + scale(s));
  const at = (t: number) => {
    if (!spans.length || t <= spans[0].from) return 0;
    for (let i = 0; i < spans.length; i++)
      if (t <= spans[i].to) {
        const s = spans[i];
        return (
          marks[i] + ((Math.max(t, s.from) - s.from) / (s.to - s.from)) * (marks[i + 1] - marks[i])
        );
      }
    return marks[marks.length - 1];
  };
  return {
    at,
    spans,
    days: days.filter((d) =>
      spans.some((s) => s.open && s.from >= d.from && s.from < d.from + 1440),
    ),
    length: marks[marks.length - 1],
  };
}
