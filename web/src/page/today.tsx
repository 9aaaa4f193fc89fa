/* What now? The hour's work, what dries, what waits, what must not be missed, what runs short. */
import { useAnswer } from '../net/use';
import type { DayTask, List, Outside } from '../net/types';
import { quantity } from '../lib/quantity';
import { clockText, dayOf, nowMinutes, spanText, weekday } from '../lib/time';
import { DayRule } from '../draw/day_rule';
import { Coming } from '../ui/coming';
import { Empty } from '../ui/controls';
import { FigureLine } from '../ui/figure_rows';
import { useShop } from '../ui/frame';
import { Warn, firstStrong } from '../ui/warn';
import { handsOf, hourOf } from './bases';
import { PieceOfHour } from './piece_row';
import { cansText, shelfText, type Short } from './short';
import { OutsideRows } from './outside';
import { TaskButtons } from './task_acts';
import { HandsLead, Where } from './today_hour';
import { alike, first, nothing, rests, type Waiting } from './today_waits';

interface TodayAnswer {
  now?: DayTask[]; /* all that is begun, else the first that is open */
  now_utc_min?: number;
  next?: DayTask[];
  drying?: DayTask[];
  outside?: Outside[];
  waiting?: Waiting[];
  late?: string[]; /* pieces that come after their day */
  windows?: DayTask[];
  around?: DayTask[]; /* within 16 h of the first open task, done ones too */
}

function Span({ t, now }: { t: DayTask; now: number }) {
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
export function Today() {
  const { data, failure } = useAnswer<TodayAnswer>('/api/today?days_only=true'),
    short = useAnswer<List<Short>>('/api/shopping').data?.rows, /* hangs on every recipe */
    { units, shop } = useShop();
  if (!data)
    return <Coming title="Today" says="Looking at the clock." failure={failure} />;
  const now = data.now_utc_min ?? nowMinutes(),
    [t, ...also] = data.now ?? [],
    next = data.next ?? [],
    drying = data.drying ?? [],
    outside = data.outside ?? [],
    waiting = data.waiting ?? [],
    windows = data.windows ?? [],
    late = data.late ?? [];
  const idle = !t && !next.length && !drying.length && !waiting.length;
  const soon = (x: DayTask) => (x.start_utc_min ?? now) > now + 5;
  const when = (at: number | undefined) =>
    at === undefined
      ? ''
      : dayOf(at) === dayOf(now)
        ? clockText(at)
        : `${weekday(at)} ${clockText(at)}`;
  const link = (x: DayTask) => (
    <a href={`/pieces/${encodeURIComponent(x.piece ?? '')}`}>{x.piece_title ?? x.piece}</a>
  );
  return (
    <>
      {!idle && <DayRule tasks={data.around ?? []} shop={shop} now={now} />}
      <div class="now no-line">
        <div>
          {t ? (
            <>
              <Where
                key={t.id}
                pointer={hourOf(t, 'start')}
                word={soon(t) ? 'Next, at' : 'Now, to'}
                hour={when(soon(t) ? t.start_utc_min : t.end_utc_min)}
              >
                {link(t)}
              </Where>
              <h1>{t.name}</h1>
              <HandsLead key={t.id} t={t}>
                {t.setup_min && (t.start_utc_min ?? now) > now
                  ? `Get ready from ${when((t.start_utc_min ?? now) - t.setup_min)}.`
                  : ''}{' '}
                {t.held_by ?? ''} {t.note ?? ''}
              </HandsLead>
              <TaskButtons key={t.id} task={t} big />
              {also.map((x) => (
                <section class="part-h" key={x.id}>
                  <h2>Begun too: {x.name}</h2>
                  <p>
                    {link(x)}
                    {x.person ? `, ${x.person}` : ''}
                  </p>
                  <TaskButtons task={x} />
                </section>
              ))}
            </>
          ) : (
            <>
              <h1>{idle ? 'The shop is empty' : nothing(waiting, drying)}</h1>
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
                    : rests(waiting, drying, when)}
                </p>
              )}
            </>
          )}
        </div>
        {!idle && (
          <div class="aside">
            {t?.piece && <PieceOfHour id={t.piece} />}
            <p class="acts">
              <a class="btn" href="/days">
                The days
              </a>
              <a class="btn" href="/pieces/new">
                New piece
              </a>
            </p>
          </div>
        )}
      </div>
      {!idle && (
        <div class="two lists">
          <div>
            {late.length > 0 && (
              <section class="part-h">
                <h2>Late</h2>
                <div class="warns">
                  <Warn rank="mind">
                    {late.map((text) => (
                      <p key={text}>{text}</p>
                    ))}
                  </Warn>
                </div>
              </section>
            )}
            {windows.length > 0 && (
              <section class="part-h">
                <h2>Must not be missed</h2>
                <ul>
                  {windows.map((w) => (
                    <FigureLine
                      key={w.id}
                      pointer={hourOf(w, 'window_end')}
                      figure={when(w.window_end_utc_min)}
                      end={w.window_end_utc_min ? spanText(w.window_end_utc_min - now) : ''}
                    >
                      <b>{w.name}</b>
                      <small>
                        {link(w)}
                        {w.start_utc_min ? `. Planned for ${when(w.start_utc_min)}` : ''}. After
                        that the coat must be scuffed first.
                      </small>
                    </FigureLine>
                  ))}
                </ul>
              </section>
            )}
            {outside.length + waiting.length > 0 && (
              <section class="part-h">
                <h2>Waits</h2>
                {outside.length > 0 && <OutsideRows rows={outside} />}
                <div class="warns">
                  {alike(waiting).map((all) => (
                    <Warn rank={all[0].stops ? 'stop' : 'mind'}>
                      <p>
                        {all.length > 1 ? (
                          <strong>{first(all[0])}</strong>
                        ) : (
                          firstStrong(all[0].text ?? '')
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
                    <FigureLine
                      key={d.id}
                      pointer={hourOf(d, 'dry_until')}
                      figure={when(d.dry_until_utc_min)}
                      end={d.dry_until_utc_min ? spanText(d.dry_until_utc_min - now) : ''}
                    >
                      {d.name}
                      <small>{link(d)}</small>
                      <Span t={d} now={now} />
                    </FigureLine>
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
                    <FigureLine
                      key={n.id}
                      pointer={hourOf(n, 'start')}
                      figure={when(n.start_utc_min)}
                      end={spanText(n.hands_min ?? 0)}
                      endPointer={handsOf(n)}
                    >
                      {n.name}
                      <small>{link(n)}</small>
                    </FigureLine>
                  ))}
                </ol>
              ) : (
                <p class="say gap-s">Nothing is planned.</p>
              )}
            </section>
            <section class="part-h">
              <h2>Runs short</h2>
              {short?.length ? (
                <ul class="short">
                  {short.map((s, i) => (
                    <FigureLine
                      key={s.product}
                      pointer={`/api/shopping#/rows/${i}/buy_ml`}
                      figure={s.buy_ml !== undefined && `buy ${quantity(s.buy_ml, 'volume', units)}`}
                    >
                      {s.name ?? s.product}
                      <small>
                        {[cansText(s), s.stock_ml !== undefined && shelfText(s, units)]
                          .filter(Boolean)
                          .join('; ')}
                      </small>
                    </FigureLine>
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
