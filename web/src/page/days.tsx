/* The days over all open pieces; a re-plan says in words what moves before it is accepted. */
import { useRef, useState } from 'preact/hooks';
import { send } from '../net/api';
import { useAnswer } from '../net/use';
import type { DayTask, Days, Outside } from '../net/types';
import { nowMinutes, spanText, whenText } from '../lib/time';
import { DaysPaper, DaysWide } from '../draw/days';
import { stoodAt } from '../draw/days_lanes';
import { DaysLegend } from '../draw/days_legend';
import { DaysNarrow } from '../draw/days_narrow';
import { DaysList } from '../draw/days_list';
import { Coming } from '../ui/coming';
import { Act, Empty } from '../ui/controls';
import { useShop } from '../ui/frame';
import { told } from '../ui/said';
import { Notices, Warn } from '../ui/warn';
import { inBook } from './change';
import { Moves, WhatIf, asQuery, type IfSo, type Replan } from './days_if';
import { Sooner } from './days_sooner';
import { OutsideRows } from './outside';
import { TaskButtons } from './task_acts';

interface DaysAnswer {
  days?: Days;
  tasks?: DayTask[];
  pieces?: { id: string; title?: string }[];
  order?: string; /* how good the order is, in words */
  clock?: string; /* that the clocks are changed */
  promises?: string[];
  left_out?: string[];
  cut?: boolean; /* more pieces are open than are planned together */
  outside?: Outside[];
}

/* What shared set-ups save. */
function savedText(d: Days): string {
  return d.saved_min
    ? ` A tool that is still wet saves ${spanText(d.saved_min)} of set-up and clean-up.`
    : '';
}

export function DaysPage() {
  const [tried, setTried] = useState<{ ask: IfSo; answer: Replan } | null>(null),
    [asks, setAsks] = useState(false),
    [open, setOpen] = useState<string | null>(null);
  const { data: fresh, failure } = useAnswer<DaysAnswer>(`/api/days${asQuery(tried?.ask)}`),
    { shop } = useShop(),
    before = useRef<DaysAnswer | undefined>(undefined);
  /* while something is tried the last days stay in sight */
  const data = (before.current = fresh ?? before.current);
  if (!data)
    return <Coming title="Days" says="Laying out the days." failure={failure} />;
  const d = data.days ?? {},
    tasks = (data.tasks ?? [])
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
  const look = async (ask: IfSo) => {
    const o = await send<Replan>({
      method: 'POST',
      path: '/api/days/replan',
      body: { ...ask },
      what: 'Plan the days again',
      keep: false,
      quiet: true,
    });
    if (told(o) && o.ok) {
      setTried({ ask, answer: o.body });
      setAsks(false);
    }
  };
  const accept = async (ask: IfSo) => {
    const o = await send({
      method: 'POST',
      path: '/api/days/accept',
      body: { ...ask },
      what: 'Keep the days',
    });
    if (inBook(o, 'The days stand.'))
      setTried(null);
  };
  const chart = { tasks, titles, shop, now };
  return (
    <>
      <div class="head">
        <div>
          <h1>Days</h1>
          <p>
            {tasks.length > 0 &&
              `${titles.size} ${titles.size === 1 ? 'piece' : 'pieces'}, ${left.length} tasks. ${data.order ?? ''}${savedText(d)} ${data.clock ?? ''}`}{' '}
            {tasks.length > 0 && d.deliver_utc_min && (
              <b>All may be handed over {whenText(d.deliver_utc_min)}.</b>
            )}
          </p>
        </div>
        <div class="acts no-print">
          {!accepted ? (
            tasks.length > 0 &&
            !tried && (
              <>
                <Act kind="btn main" run={() => accept({})}>
                  Keep these days
                </Act>
                {!d.proven && <Act run={() => look({ anew: true })}>Look for a better order</Act>}
              </>
            )
          ) : (
            <>
              {moved > 0 && !tried && (
                <Act kind="btn main" run={() => look({})}>
                  See what moves: {moved}
                </Act>
              )}
              <button
                type="button"
                class="btn"
                aria-expanded={asks}
                onClick={() => setAsks(!asks)}
              >
                What if
              </button>
              <Act run={() => look({ anew: true })}>Lay out anew</Act>
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
      {asks && <WhatIf shop={shop} look={look} />}
      {tried && (
        <Moves
          answer={tried.answer}
          anew={tried.ask.anew === true}
          titles={[...titles.values()]}
          keep={() => accept(tried.ask)}
          leave={() => setTried(null)}
        />
      )}
      {!tried && [...(data.left_out ?? []), ...(data.promises ?? [])].length > 0 && (
        <div class="gap">
          <Warn rank="mind">
            {[...(data.left_out ?? []), ...(data.promises ?? [])].map((m) => (
              <p>{m}</p>
            ))}
          </Warn>
        </div>
      )}
      {data.cut && (
        <p class="note gap">
          <b>Not every open piece is in these days.</b> Those promised first are, then those longest
          in the book.
        </p>
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
      {!!data.outside?.length && (
        <section class="part-h no-print">
          <h2>Waits</h2>
          <OutsideRows rows={data.outside} />
        </section>
      )}
      <Notices rows={d.gates} />
      {left.length > 0 && !tried && <Sooner />}
      {tasks.length ? (
        <>
          <DaysLegend
            moved={tasks.some((t) => stoodAt(t) !== undefined)}
            ready={tasks.some((t) => t.setup_min || t.cleanup_min)}
          />
          <DaysWide {...chart} />
          <DaysPaper {...chart} />
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
        </>
      ) : data.left_out?.length ? null : (
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
