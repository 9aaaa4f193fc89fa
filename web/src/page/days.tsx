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
  promises?: string[];
  changes?: string[];
}

export function DaysPage() {
  const { data, failure } = useAnswer<DaysAnswer>('/api/days'),
    { shop } = useShop();
  const [moves, setMoves] = useState<{ anew: boolean; late: string[]; lines: string[] } | null>(null),
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
      t.piece_title ?? t.piece ?? '',
    );
  for (const p of data.pieces ?? []) titles.set(p.id, p.title ?? p.id);
  const now = nowMinutes(),
    left = tasks.filter((t) => t.state !== 'done');
  const accepted = tasks.some((t) => t.promised_utc_min !== undefined),
    moved = tasks.filter((t) => stoodAt(t) !== undefined).length;
  const look = async (anew: boolean) => {
    const o = await send<Replan>({
      method: 'POST',
      path: '/api/days/replan',
      body: anew ? { anew } : {},
      what: 'Plan the days again',
      keep: false,
    });
    if (told(o) && o.ok) setMoves({ anew, late: o.body.promises ?? [], lines: o.body.changes ?? [] });
  };
  const accept = async (anew: boolean) => {
    const o = await send({
      method: 'POST',
      path: '/api/days/accept',
      body: anew ? { anew } : {},
      what: 'Keep the days',
    });
    if (told(o, { text: 'The days stand.', act: undoAct(o.ok ? o.revision : undefined) }))
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
          {!accepted ? (
            <Act kind="btn main" run={() => accept(false)}>
              Keep these days
            </Act>
          ) : (
            <>
              <Act kind={moved ? 'btn main' : 'btn'} run={() => look(false)}>
                {moved ? `See what moves: ${moved}` : 'What moves?'}
              </Act>
              <Act run={() => look(true)}>Lay out anew</Act>
            </>
          )}
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
              <strong>
                {!moves.lines.length
                  ? 'Nothing moves.'
                  : moves.anew
                    ? 'Laid out anew, this would move.'
                    : 'This would move; the rest stays where it was accepted.'}
              </strong>
            </p>
            {moves.late.map((m) => (
              <p>{m}</p>
            ))}
            {moves.lines.length > 0 && (
              <ul class="moves">
                {moves.lines.map((m) => (
                  <li>{m}</li>
                ))}
              </ul>
            )}
            <div class="acts">
              {moves.lines.length > 0 && (
                <Act kind="btn main" run={() => accept(moves.anew)}>
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
