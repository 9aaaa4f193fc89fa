/* What the tax adviser asks for, which coating systems came back, where a piece's hours went. */
import { send } from '../net/api';
import type { List, Units } from '../net/types';
import { useAnswer } from '../net/use';
import { money } from '../lib/quantity';
import { spanText } from '../lib/time';
import { Act, capital } from '../ui/controls';
import { FigureCells, FigureSentence } from '../ui/figure_rows';
import { inBook } from './change';

interface Books {
  rows?: { kind?: string; in_cent?: number; out_cent?: number; distance_m?: number }[];
  in_cent?: number;
  out_cent?: number;
  left_cent?: number;
  distance_m?: number;
  stock_cent?: number;
  note?: string;
}
interface System {
  system?: string;
  pieces?: number;
  callbacks?: number;
}
interface Went {
  id?: string;
  name?: string;
  planned_min?: number;
  actual_min?: number;
}

export const driven = (m: number, u: Units) =>
  u === 'metric' ? `${(m / 1000).toFixed(0)} km` : `${(m / 1609.344).toFixed(0)} mi`;

const sum = (v: number | undefined, f: (v: number) => string, pointer: string) =>
  v ? { text: f(v), pointer } : { text: '' };

/* The calendar year so far, by kind; the files hold every entry. */
export function Year({ units }: { units: Units }) {
  const y = new Date().getFullYear(),
    at = `/api/books?from=${y}-01-01&to=${y}-12-31`,
    { data } = useAnswer<Books>(at);
  return (
    <section class="stage">
      <header>
        <h2>{y}, for the tax adviser</h2>
        <p>{data?.note}</p>
      </header>
      <div class="stage-body">
        <div class="scroll" tabIndex={0} role="region" aria-label={`Money of ${y} by kind`}>
          <table class="table">
            <thead>
              <tr>
                <th>What for</th>
                <th class="n">In</th>
                <th class="n">Out</th>
                <th class="n">Driven</th>
              </tr>
            </thead>
            <tbody>
              {(data?.rows ?? []).map((r, i) => (
                <FigureCells
                  key={r.kind}
                  cells={[
                    { text: capital(r.kind), words: true },
                    sum(r.in_cent, money, `${at}#/rows/${i}/in_cent`),
                    sum(r.out_cent, money, `${at}#/rows/${i}/out_cent`),
                    sum(r.distance_m, (m) => driven(m, units), `${at}#/rows/${i}/distance_m`),
                  ]}
                />
              ))}
              <FigureCells
                cells={[
                  { text: <b>In all</b>, words: true },
                  { text: <b>{money(data?.in_cent ?? 0)}</b>, pointer: `${at}#/in_cent` },
                  { text: <b>{money(data?.out_cent ?? 0)}</b>, pointer: `${at}#/out_cent` },
                  {
                    text: <b>{driven(data?.distance_m ?? 0, units)}</b>,
                    pointer: `${at}#/distance_m`,
                  },
                ]}
              />
            </tbody>
          </table>
        </div>
        <FigureSentence
          parts={[
            'Left ',
            { text: money(data?.left_cent ?? 0), pointer: `${at}#/left_cent` },
            '. Stock of today at its cost: ',
            { text: money(data?.stock_cent ?? 0), pointer: `${at}#/stock_cent` },
            '.',
          ]}
        />
        <div class="acts">
          <a
            class="btn"
            href={`/api/books.csv?from=${y}-01-01&to=${y}-12-31`}
            download={`books-${y}.csv`}
          >
            Every entry, CSV
          </a>
          <a class="btn" href="/api/stock.csv" download="stock.csv">
            Stock at cost, CSV
          </a>
        </div>
      </div>
    </section>
  );
}

export function CameBack() {
  const rows = useAnswer<List<System>>('/api/callbacks').data?.rows ?? [];
  if (!rows.length) return null;
  return (
    <section class="stage">
      <header>
        <h2>What came back</h2>
        <p>Closed pieces by what lay there and what was put on.</p>
      </header>
      <div class="stage-body">
        <div class="scroll" tabIndex={0} role="region" aria-label="Call-backs by coating system">
          <table class="table">
            <thead>
              <tr>
                <th>Coating system</th>
                <th class="n">Pieces</th>
                <th class="n">Came back</th>
              </tr>
            </thead>
            <tbody>
              {rows.map((r) => (
                <tr>
                  <td>{r.system}</td>
                  <td class="n">{r.pieces ?? 0}</td>
                  <td class="n">{r.callbacks ? <b>{r.callbacks}</b> : '0'}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </div>
        <div class="acts">
          <a class="btn" href="/api/callbacks.csv" download="callbacks.csv">
            CSV
          </a>
        </div>
      </div>
    </section>
  );
}

/* Planned beside on record, part by part; a closed piece that comes back is logged here. */
export function WhereItWent({ id }: { id: string }) {
  const rows = useAnswer<List<Went>>(`/api/pieces/${encodeURIComponent(id)}/went`).data?.rows ?? [],
    most = Math.max(1, ...rows.map((r) => Math.max(r.planned_min ?? 0, r.actual_min ?? 0)));
  const back = async () => {
    const o = await send({
      method: 'POST',
      path: '/api/records',
      body: { kind: 'callback', piece: id },
      what: 'It came back',
    });
    inBook(o, 'Counted for its coating system.');
  };
  return (
    <div class="gap">
      {rows.some((r) => r.actual_min !== undefined) && (
        <>
          <h3>Where the hours went</h3>
          <div class="scroll" tabIndex={0} role="region" aria-label="Where the hours went">
            <table class="table">
              <thead>
                <tr>
                  <th>Work</th>
                  <th class="n">Planned</th>
                  <th class="n">On record</th>
                  <th>
                    <span class="vh">Compared</span>
                  </th>
                </tr>
              </thead>
              <tbody>
                {rows.map((r) => (
                  <tr>
                    <td>{r.name}</td>
                    <td class="n">{r.planned_min ? spanText(r.planned_min) : ''}</td>
                    <td class="n">
                      <b>{r.actual_min ? spanText(r.actual_min) : ''}</b>
                    </td>
                    <td>
                      <svg width="120" height="14" aria-hidden="true">
                        <rect
                          width={(120 * (r.planned_min ?? 0)) / most}
                          height="5"
                          fill="var(--line)"
                        />
                        <rect
                          y="7"
                          width={(120 * (r.actual_min ?? 0)) / most}
                          height="5"
                          fill="currentColor"
                        />
                      </svg>
                    </td>
                  </tr>
                ))}
              </tbody>
            </table>
          </div>
        </>
      )}
      <div class="acts">
        <Act run={back}>It came back</Act>
      </div>
    </div>
  );
}
