/* Closed pieces: what was planned beside what it came to, and what an hour earned. */
import type { ComponentChildren } from 'preact';
import { useAnswer } from '../net/use';
import type { List } from '../net/types';
import { money } from '../lib/quantity';
import { handsText } from '../lib/time';
import { Empty } from '../ui/controls';
import { FigureCells } from '../ui/figure_rows';
import type { Closed } from './closing';

interface ClosedPiece extends Closed {
  title?: string;
}

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

export function PlannedBesideActual() {
  const closed = useAnswer<List<ClosedPiece>>('/api/money/pieces').data?.rows ?? [];
  return (
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
  );
}
