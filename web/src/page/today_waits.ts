/* What waits, and why nothing is to be done now. */
import type { DayTask } from '../net/types';

export interface Waiting {
  piece?: string;
  title?: string;
  text?: string;
  stops?: boolean;
  unplanned?: boolean; /* it is in no days: the text says why */
}
/* What several pieces wait for stands once, with all of them; the reason of each is on its sheet. */
export const first = (w: Waiting) => (w.text ?? '').split(/(?<=[.!?]) /)[0];
export function alike(waiting: Waiting[]): Waiting[][] {
  const all = new Map<string, Waiting[]>();
  for (const w of waiting) all.set(first(w), [...(all.get(first(w)) ?? []), w]);
  return [...all.values()].sort((a, b) => Number(b[0].stops ?? false) - Number(a[0].stops ?? false));
}

/* Nothing is to be done now: because all of it is stuck, or because it dries or waits. */
export function nothing(waiting: Waiting[], drying: DayTask[]): string {
  if (drying.length) return 'Nothing for your hands now';
  if (waiting.some((w) => w.unplanned)) return 'Nothing can be planned';
  return waiting.some((w) => w.stops) ? 'Nothing may be worked on' : 'Nothing for your hands now';
}
export function rests(waiting: Waiting[], drying: DayTask[], when: (at?: number) => string): string {
  const named = (w: Waiting) => w.title ?? w.piece ?? '',
    names = (rows: Waiting[]) => [...new Set(rows.map(named))].filter(Boolean).join(', '),
    unplanned = names(waiting.filter((w) => w.unplanned)),
    stopped = names(waiting.filter((w) => w.stops)),
    rest = names(waiting.filter((w) => !w.unplanned && !w.stops)),
    last = drying[drying.length - 1];
  return [
    last && `${last.name}, ${last.piece_title ?? last.piece}, dries until ${when(last.dry_until_utc_min)}.`,
    unplanned && `Its sheet says what is missing: ${unplanned}.`,
    stopped && `Stopped, with the reason below: ${stopped}.`,
    rest && `Waits for somebody: ${rest}.`,
  ]
    .filter(Boolean)
    .join(' ');
}
