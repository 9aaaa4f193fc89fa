/* Samples on record: as read beside as the model has them; those that contradict the others first. */
import { useState } from 'preact/hooks';
import { send } from '../net/api';
import { useAnswer } from '../net/use';
import type { List } from '../net/types';
import { Empty, capital } from '../ui/controls';
import { inBook } from './change';
import type { KnownPaint, KnownSample, KnownWet } from './color/known';
import type { Paint } from './shelf';
import { CardForm } from './shelf_card';

interface Sample {
  id: string;
  color_hex?: string;
  read?: string;
  document?: { items?: { paint: string; parts: number }[]; wet?: boolean; sheen?: string };
}
export function Samples({
  paints,
  rows: mixable,
  known,
  wet,
}: {
  paints: Paint[];
  rows: KnownPaint[];
  known: KnownSample[];
  wet: KnownWet[];
}) {
  const [adding, add] = useState(false),
    name = (id: string) => paints.find((p) => p.id === id)?.name ?? id,
    rows = useAnswer<List<Sample>>('/api/samples?limit=500').data?.rows ?? [],
    of = (id: string) => known.find((k) => k.id === id),
    doubted = known.filter((k) => k.contradicts),
    sorted = [...rows].sort(
      (a, b) => Number(!!of(b.id)?.contradicts) - Number(!!of(a.id)?.contradicts),
    );
  const remove = async (id: string) => {
    const o = await send({
      method: 'DELETE',
      path: `/api/samples/${encodeURIComponent(id)}`,
      what: 'Sample off',
    });
    inBook(o, 'Not learned from any more.');
  };
  /* Parts as they were counted; of a batch that was poured, shares. */
  const part = (n: number, all: { parts: number }[]) =>
    all.every((i) => Number.isInteger(i.parts))
      ? `${n}`
      : `${((100 * n) / all.reduce((sum, i) => sum + i.parts, 0)).toFixed(1)} %`;
  const mix = (s: Sample) =>
    (s.document?.items ?? [])
      .map((i, _, all) => `${part(i.parts, all)} ${name(i.paint)}`)
      .join(', ');
  return (
    <section class="stage" id="samples">
      <header>
        <h2>Samples</h2>
        <p>Left as read, right as the shelf’s model has that mix.</p>
      </header>
      <div class="stage-body">
        {mixable.length > 0 && (
          <div class="acts gap-b">
            <button type="button" class="btn" aria-expanded={adding} onClick={() => add(!adding)}>
              Log a card
            </button>
          </div>
        )}
        {adding && <CardForm known={mixable} name={name} done={() => add(false)} />}
        {doubted.map((k) => (
          <div class="mind gap-b" key={k.id}>
            <b>Mind</b>
            <div>
              <p>{k.text}</p>
            </div>
          </div>
        ))}
        {sorted.length ? (
          <ul class="samples">
            {sorted.map((s) => {
              const k = of(s.id),
                card = wet.find((w) => w.id === s.id);
              return (
                <li>
                  <div class="two-sw" aria-hidden="true">
                    <i style={{ background: s.color_hex }} />
                    <i style={{ background: k?.predicted_hex ?? card?.hex ?? s.color_hex }} />
                  </div>
                  <small>
                    {mix(s)}
                    {s.read ? `. ${capital(s.read)}` : ''}
                    {k?.residual !== undefined ? (
                      <>
                        .{' '}
                        <b class="num">
                          {k.residual.toFixed(1)} off{k.contradicts ? ', contradicts' : ''}
                        </b>
                      </>
                    ) : null}
                    {card?.text ? `. ${card.text}` : ''}
                    {k || card ? '' : '. Not learned from: a paint in it is in no recipe'}
                  </small>
                  <button class="btn small" onClick={() => void remove(s.id)}>
                    Take out<span class="vh"> of the record: {mix(s)}</span>
                  </button>
                </li>
              );
            })}
          </ul>
        ) : (
          <Empty title="No sample yet">
            <p>
              A known mix on a card, dried, its color read: the shelf learns from it how strong each
              paint is.
            </p>
          </Empty>
        )}
      </div>
    </section>
  );
}
