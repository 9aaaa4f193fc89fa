/* The days as words: one column a day, in it the pieces in the order of the work. Days that are over
 * and days far ahead are folded: these will be laid out again before they come. */
import { useEffect, useRef } from 'preact/hooks';
import type { ComponentChildren } from 'preact';
import type { DayTask } from '../net/types';
import { stoodAt } from './days_lanes';
import { clockText, dayOf, longDay, nowMinutes, shortDay, spanText, weekday } from '../lib/time';

interface ListProps {
  tasks: DayTask[];
  titles: Map<string, string>;
  many: boolean;
  act?: (t: DayTask) => ComponentChildren;
}
const OPEN_DAYS = 5;

function groups<T, K>(rows: T[], key: (t: T) => K): [K, T[]][] {
  const all: [K, T[]][] = [];
  for (const r of rows) {
    const last = all[all.length - 1];
    if (last && last[0] === key(r)) last[1].push(r);
    else all.push([key(r), [r]]);
  }
  return all;
}
/* A smell test is over, and not dry. */
export const doneWord = (t: DayTask) => (t.operation === 'smell_test' ? 'over' : 'dry');
function dryText(t: DayTask): string {
  const start = t.start_utc_min as number,
    dry = t.dry_until_utc_min;
  if (!dry || dry <= (t.end_utc_min ?? 0)) return '';
  const until = t.window_end_utc_min && t.window_end_utc_min > dry ? t.window_end_utc_min : 0,
    edge = until ? `, next coat unscuffed until ${shortDay(until)}, ${clockText(until)}` : '';
  return `${doneWord(t)} ${dayOf(dry) === dayOf(start) ? '' : `${weekday(dry)} `}${clockText(dry)}${edge}`;
}
function stackText(t: DayTask): string {
  const at = t.stack_utc_min;
  if (!at || t.state === 'done') return '';
  const day = dayOf(at) === dayOf(t.start_utc_min as number) ? '' : `${weekday(at)} `;
  return `may be stacked from ${day}${clockText(at)}${t.stack_how ? `, ${t.stack_how}` : ''}`;
}
function Row({ t, act }: { t: DayTask; act?: ListProps['act'] }) {
  const stood = stoodAt(t),
    before = stood === undefined ? '' : `was ${weekday(stood)} ${clockText(stood)}`;
  const ready = t.setup_min
    ? `get ready from ${clockText((t.start_utc_min as number) - t.setup_min)}`
    : '';
  const end = t.end_utc_min ?? 0,
    pause = !t.pauses
      ? ''
      : `with a pause, until ${dayOf(end) === dayOf(t.start_utc_min as number) ? '' : `${weekday(end)} `}${clockText(end)}`;
  const facts = [t.person, spanText(t.hands_min ?? 0), ready, pause, dryText(t), stackText(t), before]
    .filter(Boolean)
    .join(', ');
  return (
    <li class={t.state === 'done' ? 'done' : undefined}>
      <b>{clockText(t.start_utc_min as number)}</b>
      <span>
        {t.name}
        <small>
          {facts}
          {t.held_by ? `. ${t.held_by}` : ''}
          {t.note && t.state !== 'done' ? `${t.held_by ? '' : '.'} ${t.note}` : ''}
        </small>
      </span>
      {act?.(t)}
    </li>
  );
}
function Day({ rows, p }: { rows: DayTask[]; p: ListProps }) {
  return (
    <section class="day-col">
      <header>
        <h2 class="name">
          {longDay(rows[0].start_utc_min as number)}{' '}
          <small>{spanText(rows.reduce((n, t) => n + (t.hands_min ?? 0), 0))} of work</small>
        </h2>
      </header>
      {groups(rows, (t) => t.piece ?? '').map(([piece, own]) => (
        <div class="day-of" key={own[0].id}>
          {p.many && p.titles.get(piece) && <h3>{p.titles.get(piece)}</h3>}
          <ol>
            {own.map((t) => (
              <Row key={t.id} t={t} act={p.act} />
            ))}
          </ol>
        </div>
      ))}
    </section>
  );
}

export function DaysList(p: ListProps) {
  const folded = useRef<HTMLDetailsElement>(null);
  useEffect(() => {
    /* paper has no fold */
    const unfold = () => folded.current?.setAttribute('open', '');
    window.addEventListener('beforeprint', unfold);
    return () => window.removeEventListener('beforeprint', unfold);
  }, []);
  const rows = p.tasks
    .filter((t) => t.start_utc_min !== undefined)
    .sort((a, b) => (a.start_utc_min as number) - (b.start_utc_min as number));
  const all = groups(rows, (t) => dayOf(t.start_utc_min as number)),
    today = dayOf(nowMinutes()),
    first = all.findIndex(([day]) => day >= today),
    past = first < 0 ? [] : all.slice(0, first),
    days = all.slice(past.length),
    later = days.slice(OPEN_DAYS);
  const columns = (list: typeof days) => (
    <div class="days-cols">
      {list.map(([day, own]) => (
        <Day key={day} rows={own} p={p} />
      ))}
    </div>
  );
  return (
    <>
      {past.length > 0 && (
        <details class="later-days no-print">
          <summary>
            {past.length === 1 ? 'One day' : `${past.length} days`} of work before, since{' '}
            {longDay(past[0][1][0].start_utc_min as number)}
          </summary>
          {columns(past)}
        </details>
      )}
      {columns(days.slice(0, OPEN_DAYS))}
      {later.length > 0 && (
        <details class="later-days" ref={folded}>
          <summary>
            {later.length === 1 ? 'One more day' : `${later.length} more days`}, until{' '}
            {longDay(later[later.length - 1][1][0].start_utc_min as number)}
          </summary>
          {columns(later)}
        </details>
      )}
    </>
  );
}
