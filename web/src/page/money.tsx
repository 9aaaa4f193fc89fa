/* Money: planned beside actual, what an hour earned, what came in and went out. */
import { useState } from 'preact/hooks';
import { useAnswer } from '../net/use';
import type { List, PieceRow } from '../net/types';
import { isHalf } from '../lib/half';
import { money } from '../lib/quantity';
import { dueText } from '../lib/time';
import { capital } from '../ui/controls';
import { FigureRow } from '../ui/figure_rows';
import { useShop } from '../ui/frame';
import { CameBack, Year, driven } from './books';
import { PlannedBesideActual } from './money_closed';
import { MoneyEntry, NEW_ENTRY } from './money_entry';
import { Owed } from './owed';
import { Taught } from './taught';

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
export function Money() {
  const live = useAnswer<List<Movement>>('/api/money'),
    moves = live.data?.rows,
    pieces = useAnswer<List<PieceRow>>('/api/pieces').data?.rows ?? [];
  const [adding, add] = useState(isHalf(NEW_ENTRY)),
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
            <MoneyEntry pieces={pieces} done={() => add(false)} />
          </div>
        </section>
      )}
      <Owed />
      <PlannedBesideActual />
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
