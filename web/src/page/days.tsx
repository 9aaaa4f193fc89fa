/* The days over all open pieces; a re-plan says in words what moves before it is accepted. */
import { useState } from 'preact/hooks';
import { send } from '../net/api';
import { useAnswer } from '../net/use';
import type { DayTask, Days } from '../net/types';
import { nowMinutes, whenText } from '../lib/time';
import { DaysLegend, DaysNarrow, DaysWide, stoodAt } from '../draw/days';
import { DaysList } from '../draw/days_list';
import { Act, Empty } from '../ui/controls';
import { useShop } from '../ui/frame';
import { told } from '../ui/said';
import { Notices, Warn } from '../ui/warn';
import { undoAct } from './change';
import { TaskButtons } from './today';

interface DaysAnswer extends Days {
  days?: Days;
  tasks?: DayTask[];
  pieces?: { id: string; title?: string }[];
  stale?: boolean;
}
interface Replan {
  changes?: (string | { text?: string; what?: string })[];
  rows?: { text?: string; what?: string }[];
  days?: Days;
}
const words = (c: string | { text?: string; what?: string }) =>
  typeof c === 'string' ? c : (c.text ?? c.what ?? '');

export function DaysPage() {
  const { data, failure } = useAnswer<DaysAnswer>('/api/days'),
    { shop } = useShop();
  const [moves, setMoves] = useState<string[] | null>(null),
    [open, setOpen] = useState<string | null>(null);
  if (!data)
    return failure ? <p class="note">{failure.text}</p> : <p class="say">Laying out the days.</p>;
  const d: Days = data.days ?? data,
    tasks = (data.tasks ?? d.rows ?? [])
      .filter((t) => t.start_utc_min !== undefined)
      .sort((a, b) => (a.start_utc_min as number) - (b.start_utc_min as number));
  const titles = new Map<string, string>();
  for (const t of tasks)
    titles.set(
      t.piece ?? '',
      (t as { piece_title?: string }).piece_title ?? t.title ?? t.piece ?? '',
    );
  for (const p of data.pieces ?? []) titles.set(p.id, p.title ?? p.id);
  const now = nowMinutes(),
    left = tasks.filter((t) => t.state !== 'done');
  const replan = async () => {
    const o = await send<Replan>({
      method: 'POST',
      path: '/api/days/replan',
      body: {},
      what: 'Plan the days again',
      keep: false,
    });
    if (told(o) && o.ok) setMoves((o.body.changes ?? o.body.rows ?? []).map(words).filter(Boolean));
  };
  const accept = async () => {
    const o = await send({
      method: 'POST',
      path: '/api/days/accept',
      body: {},
      what: 'Keep the new days',
    });
    if (told(o, { text: 'The new days stand.', act: undoAct(o.ok ? o.revision : undefined) }))
      setMoves(null);
  };
  const chart = { tasks, titles, shop, now };
  return (
    <>
      <div class="head">
        <div>
          <h1>Days</h1>
          <p>
            {titles.size} {titles.size === 1 ? 'piece' : 'pieces'}, {left.length} tasks.{' '}
            {d.proven
              ? 'This order is proven: none with your hours delivers sooner.'
              : tasks.length
                ? 'The best order found; not proven.'
                : ''}
          </p>
        </div>
        <div class="acts no-print">
          <Act kind="btn main" run={replan}>
            Something slipped
          </Act>
          <a class="btn" href="/api/calendar.ics" download="days.ics">
            Calendar
          </a>
          <a class="btn" href="/api/days.csv" download="days.csv">
            CSV
          </a>
        </div>
      </div>
      {moves && (
        <div class="gap">
          <Warn rank="mind">
            <p>
              <strong>{moves.length ? 'This would move.' : 'Nothing moves.'}</strong>
            </p>
            {moves.length > 0 && (
              <ul class="moves">
                {moves.map((m) => (
                  <li>{m}</li>
                ))}
              </ul>
            )}
            <div class="acts">
              {moves.length > 0 && (
                <Act kind="btn main" run={accept}>
                  Keep it
                </Act>
              )}
              <Act run={() => setMoves(null)}>Leave it as it was</Act>
            </div>
          </Warn>
        </div>
      )}
      {d.blocked_by && (
        <div class="gap">
          <Warn rank="stop">
            <p>
              <strong>The dates wait.</strong> {d.blocked_by}
            </p>
          </Warn>
        </div>
      )}
      <Notices rows={d.gates} />
      {tasks.length ? (
        <>
          <DaysLegend moved={tasks.some((t) => stoodAt(t) !== undefined)} />
          <DaysWide {...chart} />
          <DaysNarrow {...chart} />
          <DaysList
            tasks={tasks}
            titles={titles}
            many={titles.size > 1}
            act={(t) =>
              t.state === 'done' || left.indexOf(t) > 4 ? null : open === t.id ? (
                <TaskButtons task={t} />
              ) : (
                <button type="button" class="btn small no-print" onClick={() => setOpen(t.id)}>
                  Say how it went<span class="vh">: {t.name}</span>
                </button>
              )
            }
          />
          {d.deliver_utc_min && (
            <p class="note gap">
              <b>All delivered {whenText(d.deliver_utc_min)}.</b>
            </p>
          )}
        </>
      ) : (
        <Empty title="No day is planned">
          <p>
            When a piece is in the book, its tasks stand here in your hours: hands solid, drying
            hatched, the edges of the recoat windows drawn.
          </p>
          <div class="acts">
            <a class="btn" href="/pieces/new">
              New piece
            </a>
          </div>
        </Empty>
      )}
    </>
  );
}
