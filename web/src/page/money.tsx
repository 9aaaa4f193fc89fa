/* Money: planned beside actual, what an hour earned, what came in and went out. */
import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';
import { isKept, send } from '../net/api';
import { useAnswer } from '../net/use';
import type { List, PieceRow } from '../net/types';
import { money } from '../lib/quantity';
import { dueText, handsText } from '../lib/time';
import { said } from '../lib/doc';
import { Act, Empty, Field, Select, capital } from '../ui/controls';
import { inUnit } from '../lib/bare';
import { isHalf, useHalf } from '../lib/half';
import { useRefused } from './refused';
import { CameBack, Year, driven } from './books';
import { Owed } from './owed';
import type { Closed } from './closing';
import { Taught } from './taught';
import { FigureCells, FigureRow } from '../ui/figure_rows';
import { useShop } from '../ui/frame';

interface Movement {
  number?: number;
  kind?: string;
  amount_cent?: number;
  piece?: string;
  piece_title?: string;
  client?: string;
  day_day?: number;
  distance_m?: number;
  note?: string;
}
interface ClosedPiece extends Closed {
  title?: string;
}
const KINDS = [
  'deposit',
  'payment',
  'sale',
  'refund',
  'purchase',
  'material',
  'tool',
  'fee',
  'mileage',
  'rent',
  'other',
];

/* What an hour earned, piece by piece: one bar each, on one axis from zero. */
function HourChart({ rows }: { rows: ClosedPiece[] }) {
  const own = rows.filter((r) => r.hour_cent !== undefined).slice(0, 20);
  if (!own.length) return null;
  const most = Math.max(...own.map((r) => r.hour_cent as number), 1),
    least = Math.min(0, ...own.map((r) => r.hour_cent as number)),
    W = 560,
    x = (v: number) => ((v - least) / (most - least)) * W;
  return (
    <figure class="hours">
      <h3>What an hour earned</h3>
      {own.map((r) => {
        const h = r.hour_cent as number;
        return (
          <div class="hour-row">
            <span>{r.title ?? r.piece}</span>
            <svg
              viewBox={`0 0 ${W} 22`}
              width={W}
              preserveAspectRatio="none"
              height="22"
              aria-hidden="true"
            >
              <path d={`M${x(0)} 0v22`} stroke="var(--ink)" stroke-width="2" />
              <rect
                x={Math.min(x(0), x(h))}
                y="3"
                width={Math.abs(x(h) - x(0))}
                height="16"
                fill="var(--ink)"
              />
            </svg>
            <b class="num">{money(h)}</b>
          </div>
        );
      })}
    </figure>
  );
}
const pair = (a: number | undefined, b: number | undefined, f: (v: number) => string) => (
  <>
    {b !== undefined ? <b>{f(b)}</b> : ''}
    {a !== undefined ? <small> of {f(a)}</small> : ''}
  </>
);
function cellsOf(r: ClosedPiece, at: string) {
  const cell = (text: ComponentChildren, key: keyof ClosedPiece) => ({
    text,
    pointer: r[key] === undefined ? undefined : `${at}/${key}`,
  });
  return [
    {
      text: <a href={`/pieces/${encodeURIComponent(r.piece ?? '')}`}>{r.title ?? r.piece}</a>,
      words: true,
    },
    cell(pair(r.planned_hours, r.actual_hours, handsText), 'actual_hours'),
    cell(pair(r.planned_material_cent, r.actual_material_cent, money), 'actual_material_cent'),
    cell(pair(r.planned_price_cent, r.actual_price_cent, money), 'actual_price_cent'),
    cell(<b>{r.hour_cent !== undefined ? money(r.hour_cent) : ''}</b>, 'hour_cent'),
    { text: r.days_to_sell ?? '' },
  ];
}
const HALF = 'money';
const NAMES = { amount: 'How much', distance: 'How far', day: 'On which day', note: 'Note' };
function Enter({ pieces, done }: { pieces: PieceRow[]; done: () => void }) {
  const { units } = useShop(),
    {
      value: v,
      set,
      clear,
    } = useHalf<Record<string, string>>(HALF, { kind: 'deposit', amount: '', piece: '', note: '' }),
    { took, at } = useRefused(NAMES),
    driven = v.kind === 'mileage',
    put = (k: string) => at(k, v[k] ?? '', (text) => set({ ...v, [k]: text }));
  const save = async () => {
    const o = await send({
      method: 'POST',
      path: '/api/money',
      body: said({
        ...v,
        amount: inUnit(v.amount, 'money', units),
        distance: driven ? inUnit(v.distance, 'distance', units) : '',
      }),
      what: `${capital(v.kind)} ${v.amount}`,
    });
    took(o, 'Written down.');
    if (isKept(o)) {
      clear();
      done();
    }
  };
  return (
    <div>
      <div class="form">
        <Select
          label="What for"
          value={v.kind}
          options={KINDS.map((k) => [k, capital(k)] as const)}
          set={(kind) => set({ ...v, kind })}
        />
        <Field
          label="How much"
          inputMode="decimal"
          placeholder="$120"
          help={driven ? 'Empty: only the way counts.' : undefined}
          {...put('amount')}
        />
        {driven && (
          <Field
            label="How far"
            placeholder={units === 'metric' ? '40 km' : '24 mi'}
            {...put('distance')}
          />
        )}
        <Select
          label="For which piece"
          value={v.piece}
          options={[['', 'None'], ...pieces.map((p) => [p.id, p.title ?? p.id] as const)]}
          set={(piece) => set({ ...v, piece })}
        />
        <Field
          label="On which day"
          type="date"
          help="Empty: today."
          {...put('day')}
        />
        <Field label="Note" {...put('note')} />
      </div>
      <div class="acts">
        <Act enter kind="btn main" disabled={!v.amount && !(driven && v.distance)} run={save}>
          Write it down
        </Act>
      </div>
    </div>
  );
}
export function Money() {
  const closed = useAnswer<List<ClosedPiece>>('/api/money/pieces').data?.rows ?? [],
    live = useAnswer<List<Movement>>('/api/money'),
    moves = live.data?.rows,
    pieces = useAnswer<List<PieceRow>>('/api/pieces').data?.rows ?? [];
  const [adding, add] = useState(isHalf(HALF)),
    units = useShop().units;
  return (
    <>
      <div class="head">
        <div>
          <h1>Money</h1>
          <p>Quotes, deposits, costs, and what each piece earned by the hour.</p>
        </div>
        <div class="acts">
          <button class="btn main" aria-expanded={adding} onClick={() => add(!adding)}>
            In or out
          </button>
          <a class="btn" href="/api/export/money.csv" download="money.csv">
            CSV
          </a>
        </div>
      </div>
      {live.failure && !moves && <p class="note gap">{live.failure.text}</p>}
      {adding && (
        <section class="stage">
          <header>
            <h2>In or out</h2>
          </header>
          <div class="stage-body">
            <Enter pieces={pieces} done={() => add(false)} />
          </div>
        </section>
      )}
      <Owed />
      <section class="stage">
        <header>
          <h2>Planned beside actual</h2>
          <p>Closed pieces.</p>
        </header>
        <div class="stage-body">
          {closed.length ? (
            <>
              <HourChart rows={closed} />
              <div class="scroll" tabIndex={0} role="region" aria-label="Planned beside actual">
                <table class="table">
                  <thead>
                    <tr>
                      <th>Piece</th>
                      <th class="n">Hours</th>
                      <th class="n">Material</th>
                      <th class="n">Price</th>
                      <th class="n">An hour earned</th>
                      <th class="n">Days to sell</th>
                    </tr>
                  </thead>
                  <tbody>
                    {closed.map((r, i) => (
                      <FigureCells key={r.piece} cells={cellsOf(r, `/api/money/pieces#/rows/${i}`)} />
                    ))}
                  </tbody>
                </table>
              </div>
              {closed
                .filter((r) => r.unbooked_cent !== undefined)
                .map((r) => (
                  <p key={r.piece} class="note gap-s">
                    {money(r.unbooked_cent as number)} of{' '}
                    <a href={`/pieces/${encodeURIComponent(r.piece ?? '')}`}>{r.title ?? r.piece}</a>{' '}
                    is not under Money, and so in no books: it can be written down there.
                  </p>
                ))}
            </>
          ) : (
            <Empty title="No piece is closed yet">
              <p>
                When a piece is done, close it on its sheet with the hours it took and the price
                that was paid. Here stands then what was planned beside what it was, and what an
                hour earned.
              </p>
            </Empty>
          )}
        </div>
      </section>
      <Year units={units} />
      <Taught />
      <CameBack />
      <section class="stage">
        <header>
          <h2>In and out</h2>
          {!!moves?.length && (
            <p>
              Nothing is overwritten. A wrong line is taken back under{' '}
              <a href="/shop#done">What was done</a>.
            </p>
          )}
        </header>
        <div class="stage-body">
          {moves?.length ? (
            <div class="rows">
              {moves.map((m, i) => (
                <FigureRow
                  key={m.number}
                  pointer={`/api/money#/rows/${i}/amount_cent`}
                  figure={
                    !m.amount_cent && m.distance_m
                      ? driven(m.distance_m, units)
                      : money(m.amount_cent ?? 0)
                  }
                  known={m.day_day !== undefined ? dueText(m.day_day) : ''}
                >
                  {capital(m.kind)}
                  {m.piece_title ? `, ${m.piece_title}` : ''}
                  <small>
                    {[m.amount_cent && m.distance_m && driven(m.distance_m, units), m.note]
                      .filter(Boolean)
                      .join(', ')}
                  </small>
                </FigureRow>
              ))}
            </div>
          ) : (
            <p class="say">
              Deposits, payments and what was bought. Nothing is overwritten: a correction is a line
              of its own.
            </p>
          )}
        </div>
      </section>
    </>
  );
}
