/* What now? The hour's work, what dries, what waits, what must not be missed, what runs short. */
import { useState } from 'preact/hooks';
import { send } from '../net/api';
import { useAnswer } from '../net/use';
import type { DayTask, List, Units } from '../net/types';
import { money, quantity } from '../lib/quantity';
import { clockText, dayOf, isoDay, nowMinutes, spanText, weekday } from '../lib/time';
import { Act, Empty, Field, Select } from '../ui/controls';
import { useShop } from '../ui/frame';
import { told } from '../ui/said';
import { Warn, firstStrong } from '../ui/warn';
import { undoAct } from './change';
import { StepHelp } from './help';

interface TodayTask extends DayTask {
  piece_title?: string;
  piece_id?: string;
  detail?: string;
  why?: string;
}
interface Waiting {
  piece?: string;
  title?: string;
  text?: string;
  what?: string;
  blocks?: string;
}
export interface Short {
  product?: string;
  name?: string;
  buy_ml?: number;
  need_ml?: number;
  stock_ml?: number;
  used_ml?: number;
  cans_text?: string;
  estimated?: boolean;
  cost_cent?: number;
  pieces?: string[];
}
/* What the shelf's record has, and what of it the coats that are done will have taken. */
export function shelfText(s: Short, units: Units): string {
  const stock = `${quantity(s.stock_ml ?? 0, 'volume', units)} on the shelf`;
  return s.used_ml
    ? `${stock}, of it ${quantity(s.used_ml, 'volume', units)} used by coats that are done`
    : stock;
}
/* "1 gallon, 2 quarts, about $87": what to ask for at the counter. */
export function cansText(s: Short): string {
  if (!s.cans_text) return '';
  const about = s.estimated ? 'about ' : '',
    cost = s.cost_cent === undefined ? '' : `, ${about}${money(s.cost_cent)}`;
  return s.cans_text + cost;
}
interface TodayAnswer {
  now?: TodayTask | TodayTask[];
  now_utc_min?: number;
  next?: TodayTask[];
  drying?: TodayTask[];
  waiting?: Waiting[];
  windows?: TodayTask[];
  closing?: TodayTask[];
  done?: TodayTask[];
  pieces_open?: number;
}
const one = <T,>(v: T | T[] | undefined): T | undefined => (Array.isArray(v) ? v[0] : v);
const pieceOf = (t: TodayTask) => t.piece_title ?? t.piece ?? '';

const SAID: Record<string, string> = {
  done: 'Done',
  start: 'Begun',
  undone: 'Open again',
  slip: 'Cannot go on yet',
};
/* Start, done, took longer, cannot go on; each can be taken back. */
async function taskAct(
  t: { id: string; name?: string },
  what: 'start' | 'done' | 'undone' | 'slip',
  body: Record<string, unknown> = {},
) {
  const o = await send({
    method: 'POST',
    path: `/api/tasks/${t.id.split('/').map(encodeURIComponent).join('/')}/${what}`,
    body,
    what: `${SAID[what]}: ${t.name ?? t.id}`,
  });
  /* what must be read first, or keeps the step from being begun, is shown at the step */
  if (!o.ok && !('unsent' in o) && /^\/(cautions|gate)/.test(o.failure.field ?? '')) return false;
  told(o, {
    text: `${SAID[what]}: ${t.name ?? t.id}.`,
    act: undoAct(o.ok ? o.revision : undefined),
  });
  return true;
}
/* A coat that is not dry yet is looked at again in two hours, on the full hour. */
function soon(): { day: string; clock: string } {
  const at = Math.ceil((nowMinutes() + 120) / 60) * 60;
  return { day: isoDay(dayOf(at)), clock: clockText(at) };
}
export function TaskButtons({ task, big }: { task: TodayTask; big?: boolean }) {
  const [longer, setLonger] = useState(false),
    [took, setTook] = useState(''),
    [slips, setSlips] = useState(false),
    [until, setUntil] = useState(soon),
    [help, setHelp] = useState(false),
    [pending, setPending] = useState<(() => Promise<void>) | undefined>();
  const crew = useShop().shop.crew ?? [],
    [by, setBy] = useState(task.who ?? '');
  const act = async (what: 'start' | 'done' | 'slip', body: Record<string, unknown> = {}) => {
    const who = crew.length > 1 && by && what !== 'slip' ? { person: by } : {};
    const went = await taskAct(task, what, { ...who, ...body });
    setPending(went ? undefined : () => () => act(what, body));
    setHelp(!went);
  };
  const slip = () => {
    setUntil(soon());
    setSlips(!slips);
  };
  const begun =
    task.begun_utc_min !== undefined || task.state === 'begun' || task.state === 'started';
  return (
    <div class="task-acts">
      {crew.length > 1 && (
        <div class="task-by">
          <Select
            label="By"
            value={by}
            set={setBy}
            options={[
              ...(task.who ? [] : [['', 'not said'] as const]),
              ...crew.map((m) => [m.id, m.name ?? m.id] as const),
            ]}
          />
        </div>
      )}
      <div class="acts">
        <Act kind={big ? 'btn main' : 'btn'} run={() => act('done')}>
          Done
        </Act>
        {!begun && <Act run={() => act('start')}>Start</Act>}
        <button type="button" class="btn" aria-expanded={longer} onClick={() => setLonger(!longer)}>
          Took longer or shorter
        </button>
        <button type="button" class="btn" aria-expanded={slips} onClick={slip}>
          Cannot go on yet
        </button>
        <button type="button" class="btn" aria-expanded={help} onClick={() => setHelp(!help)}>
          How, or what went wrong
        </button>
      </div>
      {help && <StepHelp task={task.id} then={pending} />}
      {slips && (
        <div class="acts took">
          <Field
            label="Not before"
            type="date"
            value={until.day}
            onChange={(e) => setUntil({ day: e.currentTarget.value, clock: '' })}
          />
          <Field
            label="at"
            value={until.clock}
            placeholder="8:00 am"
            onInput={(e) => setUntil({ ...until, clock: e.currentTarget.value })}
          />
          <Act
            disabled={!until.day}
            run={() => act('slip', { until: `${until.day} ${until.clock || '8:00 am'}` })}
          >
            It waits until then
          </Act>
        </div>
      )}
      {longer && (
        <div class="acts took">
          <Field
            label="How long it took"
            value={took}
            placeholder={`${Math.round((task.hands_min ?? 30) * 1.5)} min`}
            onInput={(e) => setTook(e.currentTarget.value)}
          />
          <Act
            run={() =>
              act(
                'done',
                took
                  ? { took: /^\d+$/.test(took.trim()) ? `${took.trim()} min` : took.trim() }
                  : {},
              )
            }
          >
            Done
          </Act>
        </div>
      )}
    </div>
  );
}
function Span({ t, now }: { t: TodayTask; now: number }) {
  const from = t.end_utc_min ?? t.start_utc_min ?? now,
    to = t.dry_until_utc_min ?? now,
    part = Math.min(1, Math.max(0, (now - from) / Math.max(1, to - from)));
  return (
    <div class="dry-bar" aria-hidden="true">
      <i style={{ width: `${part * 100}%` }} />
      <b class="hatch" style={{ width: `${(1 - part) * 100}%` }} />
    </div>
  );
}
/* What several pieces wait for stands once, with all of them; the reason of each is on its sheet. */
const first = (w: Waiting) => (w.text ?? w.what ?? '').split(/(?<=[.!?]) /)[0];
function alike(waiting: Waiting[]): Waiting[][] {
  const all = new Map<string, Waiting[]>();
  for (const w of waiting) all.set(first(w), [...(all.get(first(w)) ?? []), w]);
  return [...all.values()];
}

export function Today() {
  const { data, failure } = useAnswer<TodayAnswer>('/api/today?days_only=true'),
    short = useAnswer<List<Short>>('/api/shopping').data?.rows, /* hangs on every recipe */
    { units } = useShop();
  if (!data)
    return failure ? <p class="note">{failure.text}</p> : <p class="say">Looking at the clock.</p>;
  const now = data.now_utc_min ?? nowMinutes(),
    t = one(data.now),
    next = data.next ?? [],
    drying = data.drying ?? [],
    waiting = data.waiting ?? [],
    windows = data.windows ?? data.closing ?? [];
  const idle = !t && !next.length && !drying.length && !waiting.length;
  const when = (at: number | undefined) =>
    at === undefined
      ? ''
      : dayOf(at) === dayOf(now)
        ? clockText(at)
        : `${weekday(at)} ${clockText(at)}`;
  const link = (x: TodayTask) => (
    <a href={`/pieces/${encodeURIComponent(x.piece ?? x.piece_id ?? '')}`}>{pieceOf(x)}</a>
  );
  return (
    <>
      <div class="now no-line">
        <div>
          {t ? (
            <>
              <p class="where">
                <b>
                  {(t.start_utc_min ?? now) > now + 5
                    ? `Next, at ${when(t.start_utc_min)}`
                    : `Now, to ${when(t.end_utc_min)}`}
                </b>{' '}
                {link(t)}
              </p>
              <h1>{t.name}</h1>
              <p class="lead">
                {t.detail ?? ''} {t.hands_min ? `${spanText(t.hands_min)} of work.` : ''}{' '}
                {t.setup_min && (t.start_utc_min ?? now) > now
                  ? `Get ready from ${when((t.start_utc_min ?? now) - t.setup_min)}.`
                  : ''}{' '}
                {t.held_by ?? ''} {t.note ?? ''}
              </p>
              <TaskButtons task={t} big />
            </>
          ) : (
            <>
              <h1>{idle ? 'The shop is empty' : 'Nothing for your hands now'}</h1>
              {idle ? (
                <Empty title="What will stand here">
                  <p>
                    The work of the hour, what is drying and until when, what waits for somebody,
                    and what must not be missed. It begins with a piece.
                  </p>
                  <div class="acts">
                    <a class="btn main" href="/pieces/new">
                      New piece
                    </a>
                    <a class="btn" href="/shelf">
                      Fill the shelf
                    </a>
                    <a class="btn" href="/shop">
                      Set the hours
                    </a>
                  </div>
                </Empty>
              ) : (
                <p class="lead">
                  {next[0]
                    ? `Next: ${next[0].name}, ${when(next[0].start_utc_min)}.`
                    : 'The rest dries or waits.'}
                </p>
              )}
            </>
          )}
        </div>
        {!idle && (
          <p class="acts aside">
            <a class="btn" href="/days">
              The days
            </a>
            <a class="btn" href="/pieces/new">
              New piece
            </a>
          </p>
        )}
      </div>
      {!idle && (
        <div class="two">
          <div>
            {windows.length > 0 && (
              <section class="part-h">
                <h2>Must not be missed</h2>
                <ul>
                  {windows.map((w) => (
                    <li class="when">
                      <b>{when(w.window_end_utc_min)}</b>
                      <span>
                        <b>{w.name}</b>
                        <small>
                          {link(w)}
                          {w.start_utc_min ? `. Planned for ${when(w.start_utc_min)}` : ''}. After
                          that the coat must be scuffed first.
                        </small>
                      </span>
                      <span class="num">
                        {w.window_end_utc_min ? spanText(w.window_end_utc_min - now) : ''}
                      </span>
                    </li>
                  ))}
                </ul>
              </section>
            )}
            {waiting.length > 0 && (
              <section class="part-h">
                <h2>Waits</h2>
                <div class="warns">
                  {alike(waiting).map((all) => (
                    <Warn rank="mind">
                      <p>
                        {all.length > 1 ? (
                          <strong>{first(all[0])}</strong>
                        ) : (
                          firstStrong(all[0].text ?? all[0].what ?? '')
                        )}
                        {all.map((w, i) => (
                          <>
                            {i ? ', ' : ' '}
                            {w.piece && (
                              <a href={`/pieces/${encodeURIComponent(w.piece)}`}>
                                {w.title ?? w.piece}
                              </a>
                            )}
                          </>
                        ))}
                      </p>
                    </Warn>
                  ))}
                </div>
              </section>
            )}
            <section class="part-h">
              <h2>Drying</h2>
              {drying.length ? (
                <ul>
                  {drying.map((d) => (
                    <li class="when">
                      <b>{when(d.dry_until_utc_min)}</b>
                      <span>
                        {d.name}
                        <small>{link(d)}</small>
                        <Span t={d} now={now} />
                      </span>
                      <span class="num">
                        {d.dry_until_utc_min ? spanText(d.dry_until_utc_min - now) : ''}
                      </span>
                    </li>
                  ))}
                </ul>
              ) : (
                <p class="say gap-s">Nothing is wet.</p>
              )}
            </section>
          </div>
          <div>
            <section class="part-h">
              <h2>After this</h2>
              {next.length ? (
                <ol>
                  {next.slice(0, 9).map((n) => (
                    <li class="when">
                      <b>{when(n.start_utc_min)}</b>
                      <span>
                        {n.name}
                        <small>{link(n)}</small>
                      </span>
                      <span class="num">{spanText(n.hands_min ?? 0)}</span>
                    </li>
                  ))}
                </ol>
              ) : (
                <p class="say gap-s">Nothing is planned.</p>
              )}
            </section>
            {(data.done ?? []).length > 0 && (
              <section class="part-h">
                <h2>Done today</h2>
                <ol>
                  {(data.done ?? []).map((n) => (
                    <li class="when">
                      <span>{when(n.done_utc_min)}</span>
                      <span>
                        <s>{n.name}</s>
                        <small>{link(n)}</small>
                      </span>
                      <button class="btn small" onClick={() => void taskAct(n, 'undone')}>
                        Not done
                      </button>
                    </li>
                  ))}
                </ol>
              </section>
            )}
            <section class="part-h">
              <h2>Runs short</h2>
              {short?.length ? (
                <ul class="short">
                  {short.map((s) => (
                    <li class="when">
                      <b>{s.buy_ml !== undefined && `buy ${quantity(s.buy_ml, 'volume', units)}`}</b>
                      <span>
                        {s.name ?? s.product}
                        <small>
                          {[cansText(s), s.stock_ml !== undefined && shelfText(s, units)]
                            .filter(Boolean)
                            .join('; ')}
                        </small>
                      </span>
                    </li>
                  ))}
                </ul>
              ) : (
                <p class="say gap-s">
                  {short ? 'The shelf holds what the open pieces want.' : 'Looking through the recipes.'}
                </p>
              )}
            </section>
          </div>
        </div>
      )}
    </>
  );
}
