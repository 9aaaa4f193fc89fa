/* Recipes that were kept, and the batches that were mixed: to be mixed again. */
import { useState } from 'preact/hooks';
import { isKept, send, type Outcome } from '../../net/api';
import { useAnswer } from '../../net/use';
import type { List } from '../../net/types';
import { quantity } from '../../lib/quantity';
import { whenText } from '../../lib/time';
import { Act, Field } from '../../ui/controls';
import { useShop } from '../../ui/frame';
import { differenceWord } from '../../draw/difference';
import { inBook } from '../change';
import { againPath } from './again';
import { listed, type MixItem, type Pour } from './kinds';

interface KeptRow {
  id: string;
  name?: string;
  target?: string;
  color_hex?: string;
  difference?: number;
  items?: Pour[];
  piece?: string;
}
export interface BatchRow {
  id: string;
  name?: string;
  target?: string;
  predicted_hex?: string;
  dried?: string;
  difference?: number;
  amount_ml?: number;
  left_ml?: number;
  made_utc_min?: number;
  piece?: string;
  note?: string;
  left_paint?: string;
  past?: string; /* what was poured now that the shelf had not */
  items?: (Pour & { hex?: string })[];
}
/* What a pour did to the shelf. */
export const shelfText = (o: Outcome<{ past?: string }>) =>
  o.ok && o.body.past ? `${o.body.past} Count what is left.` : 'The shelf is less by it.';

export function Keep({
  items,
  target,
  piece,
}: {
  items: MixItem[];
  target: string;
  piece?: string;
}) {
  const [name, set] = useState('');
  const keep = async () => {
    const o = await send({
      method: 'POST',
      path: '/api/recipes/kept',
      body: {
        name,
        target,
        items: items.filter((i) => i.parts > 0),
        ...(piece ? { piece } : {}),
      },
      what: `Recipe ${name}`,
    });
    inBook(o, `${name} is kept.`);
    if (isKept(o)) set('');
  };
  return (
    <div class="form keep gap">
      <Field
        label="Keep this recipe as"
        value={name}
        placeholder="Bowl blue-green"
        onInput={(e) => set(e.currentTarget.value)}
      />
      <div class="acts">
        <Act enter disabled={!name.trim()} run={keep}>
          Keep it
        </Act>
      </div>
    </div>
  );
}

export function Kept({ name }: { name: (id: string) => string }) {
  const rows = useAnswer<List<KeptRow>>('/api/recipes/kept').data?.rows ?? [];
  if (!rows.length) return null;
  const off = async (r: KeptRow) => {
    const o = await send({
      method: 'DELETE',
      path: `/api/recipes/kept/${encodeURIComponent(r.id)}`,
      what: `${r.name} off`,
    });
    inBook(o, `${r.name} is off the list.`);
  };
  return (
    <section class="stage gap" id="kept">
      <header>
        <h2>Kept recipes</h2>
      </header>
      <ul class="things">
        {rows.map((r) => (
          <li class="thing kept" key={r.id}>
            <div class="two-sw" aria-hidden="true">
              <i style={{ background: r.target }} />
              <i style={{ background: r.color_hex }} />
            </div>
            <div>
              <h3>{r.name ?? r.id}</h3>
              <small>{listed(r.items ?? [], name)}</small>
            </div>
            <div>
              {r.difference !== undefined && (
                <>
                  <b class="num">{r.difference.toFixed(1)}</b>{' '}
                  <small>{differenceWord(r.difference)}, when kept</small>
                </>
              )}
            </div>
            <div class="r">
              <a class="btn small" href={againPath(`recipes/${r.id}`, r.piece)}>
                Mix again<span class="vh">: {r.name}</span>
              </a>{' '}
              <button class="btn small" onClick={() => void off(r)}>
                Take off<span class="vh"> the list: {r.name}</span>
              </button>
            </div>
          </li>
        ))}
      </ul>
    </section>
  );
}

export function Batches({ piece, inside }: { piece?: string; inside?: boolean }) {
  const { data } = useAnswer<List<BatchRow>>(
      `/api/batches?limit=30${piece ? `&piece=${encodeURIComponent(piece)}` : ''}`,
    ),
    { units } = useShop(),
    rows = data?.rows ?? [];
  if (!rows.length) return null;
  const list = (
      <ul class="things">
        {rows.map((b) => (
          <li class="thing kept" key={b.id}>
            <div class="two-sw" aria-hidden="true">
              <i style={{ background: b.target }} />
              <i style={{ background: b.dried ?? b.predicted_hex }} />
            </div>
            <div>
              <h3>
                <a href={`/batches/${encodeURIComponent(b.id)}`}>{b.name ?? b.id}</a>
              </h3>
              <small>
                {quantity(b.amount_ml ?? 0, 'volume', units)}
                {b.made_utc_min ? `, ${whenText(b.made_utc_min)}` : ''}
                {b.left_ml !== undefined
                  ? `; ${quantity(b.left_ml, 'volume', units)} left on the shelf`
                  : ''}
              </small>
            </div>
            <div>
              {b.difference !== undefined ? (
                <>
                  <b class="num">{b.difference.toFixed(1)}</b>{' '}
                  <small>{differenceWord(b.difference)}, dry</small>
                </>
              ) : (
                <small>not read dry</small>
              )}
            </div>
            <div class="r">
              <a class="btn small" href={againPath(`batches/${b.id}`, b.piece, quantity(b.amount_ml ?? 0, 'volume', units))}>
                Mix again<span class="vh">: {b.name}</span>
              </a>
            </div>
          </li>
        ))}
      </ul>
  );
  if (inside)
    return (
      <>
        <h3 class="gap">Mixed for it</h3>
        {list}
      </>
    );
  return (
    <section class="stage gap" id="batches">
      <header>
        <h2>Batches</h2>
        <p>{piece ? 'Mixed for this piece.' : 'Newest first.'}</p>
      </header>
      {list}
    </section>
  );
}
