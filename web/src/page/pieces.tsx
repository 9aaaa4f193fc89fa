/* Every piece as a row: picture, color, where it stands, what comes next, due, money. */
import { useState } from 'preact/hooks';
import { useChoices } from '../net/choices';
import { useAnswer } from '../net/use';
import type { Doc, List, PieceRow, Units } from '../net/types';
import { money, sizeText } from '../lib/quantity';
import { clockText, dueText, handsText, shortDay } from '../lib/time';
import { PieceThumb } from '../draw/piece';
import { Empty, Field, Seg, capital } from '../ui/controls';
import { useFigure } from '../ui/figure';
import { useShop } from '../ui/frame';
import { OPEN_PIECES, drawnOf } from './piece_row';
import { stageText } from './record';

/* Money and hours of an open piece come from its plan or its quote, of a closed one from its end. */
function from(r: PieceRow, open: string, closed: string): string | undefined {
  if (r.stage === 'left') return undefined;
  return r.stage === 'closed'
    ? `/api/money/pieces#${r.id}/${closed}`
    : `/api/money/open#${r.id}/${open}`;
}

function One({ r, units, usual }: { r: PieceRow; units: Units; usual?: Doc }) {
  const count = Number(r.document?.count ?? 1),
    priced = r.price_cent !== undefined,
    worked = r.hours !== undefined,
    price = useFigure({
      text: priced ? money(r.price_cent as number) : '',
      pointer: priced ? from(r, 'price_cent', 'actual_price_cent') : undefined,
    }),
    hours = useFigure({
      text: worked ? handsText(r.hours as number) : '',
      pointer: worked ? from(r, 'hours', 'actual_hours') : undefined,
    }),
    ready = useFigure({
      text: r.ready_utc_min === undefined ? '' : `${shortDay(r.ready_utc_min)}, ${clockText(r.ready_utc_min)}`,
      pointer:
        r.ready_utc_min === undefined
          ? undefined
          : `/api/pieces/${encodeURIComponent(r.id)}/plan#/pieces/0/deliver_utc_min`,
    });
  return (
    <li>
      <div class="thing pc">
        <div class="pic">
          <PieceThumb piece={drawnOf(r, usual)} hex={r.shown_hex} />
        </div>
        <div>
          <h2 class="name">
            <a href={`/pieces/${encodeURIComponent(r.id)}`}>{r.title ?? r.id}</a>
          </h2>
          <small>
            {count > 1 ? `${count} alike, ` : ''}
            {sizeText(r.width_mm, r.depth_mm, r.height_mm, units)}
            {r.client_name ? `, for ${r.client_name}` : ''}
          </small>
        </div>
        <div>
          <b>{stageText(r.stage)}</b>
          <small>
            {r.blocked_by ? `Waits: ${r.blocked_by}` : r.next_step ? `Next: ${r.next_step}` : ''}
          </small>
        </div>
        <div>
          {r.due_day !== undefined && <b class="num">Due {dueText(r.due_day)}</b>}
          {r.ready_utc_min !== undefined && (
            <small class="ready">
              ready <span class="num">{ready.button}</span>
            </small>
          )}
        </div>
        <div class="r">
          <b class="num">{price.button}</b>
          <small>{hours.button}</small>
        </div>
      </div>
      {ready.panel}
      {price.panel}
      {hours.panel}
    </li>
  );
}
interface Found {
  subject?: string;
  id?: string;
  title?: string;
  around?: string;
}
const PLACES: Record<string, (id: string) => string> = {
  client: (id) => `/clients/${id}`,
  batch: (id) => `/batches/${id}`,
  paint: () => '/shelf',
  supply: () => '/shelf',
  recipe: (id) => `/color?again=recipes%2F${id}`,
};
/* The same words in the rest of the book: clients, paints, batches, recipes. */
function Elsewhere({ q }: { q: string }) {
  const rows = (
    useAnswer<List<Found>>(q.trim() ? `/api/search?q=${encodeURIComponent(q)}` : null).data?.rows ?? []
  ).filter((f) => f.id && PLACES[f.subject ?? '']);
  if (!rows.length) return null;
  return (
    <section class="gap" aria-label="Elsewhere in the book">
      <h2 class="name">Elsewhere in the book</h2>
      <ul class="rows">
        {rows.slice(0, 8).map((f) => (
          <li class="when">
            <span class="k">{capital(f.subject)}</span>
            <span>
              <a href={PLACES[f.subject as string](encodeURIComponent(f.id as string))}>
                {f.title ?? f.id}
              </a>
              <small>{(f.around ?? '').replace(/[[\]]/g, '')}</small>
            </span>
          </li>
        ))}
      </ul>
    </section>
  );
}
export function Pieces() {
  const [which, set] = useState<'open' | 'closed' | 'all'>('open'),
    [q, search] = useState(''),
    { units } = useShop();
  const path =
      which === 'open' && !q
        ? OPEN_PIECES
        : `/api/pieces?documents=true${which === 'all' ? '' : `&stage=${which}`}${q ? `&q=${encodeURIComponent(q)}` : ''}`,
    { templates } = useChoices();
  const { data, failure } = useAnswer<List<PieceRow>>(path),
    rows = data?.rows;
  return (
    <>
      <div class="head">
        <div>
          <h1>Pieces</h1>
          <p>{rows?.length ? `${rows.length} ${which === 'all' ? 'in the book' : which}.` : ''}</p>
        </div>
        <div class="acts">
          <a class="btn main" href="/pieces/new">
            New piece
          </a>
          <a class="btn" href="/pieces/worth">
            Worth buying?
          </a>
        </div>
      </div>
      <div class="taps gap">
        <Seg
          label="Show"
          value={which}
          options={
            [
              ['open', 'Open'],
              ['closed', 'Closed'],
              ['all', 'All'],
            ] as const
          }
          set={set}
        />
        <Field
          label="Search"
          type="search"
          value={q}
          onInput={(e) => search(e.currentTarget.value)}
        />
      </div>
      <Elsewhere q={q} />
      {failure && !rows && <p class="note gap">{failure.text}</p>}
      {rows && !rows.length && (
        <Empty
          title={q ? 'Nothing has these words' : which === 'open' ? 'No piece is open' : 'None yet'}
        >
          {!q && (
            <p>
              A piece needs three things: what it is, its size and the color wanted. The rest is
              assumed, marked as assumed, and put right when you know it. Two minutes.
            </p>
          )}
          {!q && (
            <div class="acts">
              <a class="btn" href="/pieces/new">
                Begin with one
              </a>
            </div>
          )}
        </Empty>
      )}
      {!!rows?.length && (
        <ul class="things gap">
          {rows.map((r) => (
            <One
              key={r.id}
              r={r}
              units={units}
              usual={templates?.find((t) => t.id === r.template)?.usual}
            />
          ))}
        </ul>
      )}
    </>
  );
}
