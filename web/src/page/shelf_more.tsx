/* More of one can: another one of it, put right, how its stock came about, off the shelf. */
import { useEffect, useState } from 'preact/hooks';
import { get } from '../net/api';
import { useAnswer } from '../net/use';
import type { List } from '../net/types';
import { money, quantity } from '../lib/quantity';
import { whenText } from '../lib/time';
import { capital } from '../ui/controls';
import { useShop } from '../ui/frame';
import { failureText, say } from '../ui/said';
import type { Paint } from './shelf';
import { CanForm } from './shelf_can';
import { TakeOff } from './shelf_form';
import { PaintForm } from './shelf_paint';

interface Movement {
  number: number;
  kind?: string;
  amount_ml?: number;
  cost_cent?: number;
  piece?: string;
  batch?: string;
  at_utc_min?: number;
  note?: string;
}
function Movements({ id }: { id: string }) {
  const rows =
      useAnswer<List<Movement>>(`/api/paints/${encodeURIComponent(id)}/stock?limit=50`).data?.rows ??
      [],
    { units } = useShop();
  if (!rows.length) return <p class="say">Nothing was entered yet.</p>;
  return (
    <ol class="rows gap-s">
      {rows.map((m) => (
        <li class="when" key={m.number}>
          <span class="k">{m.at_utc_min !== undefined ? whenText(m.at_utc_min) : ''}</span>
          <span>
            {capital(m.kind)}{' '}
            <b class="num">
              {(m.amount_ml ?? 0) < 0 ? '−' : '+'}
              {quantity(Math.abs(m.amount_ml ?? 0), 'volume', units)}
            </b>
            <small>
              {[
                m.piece && `for ${m.piece}`,
                m.batch && `batch ${m.batch}`,
                m.cost_cent !== undefined && money(m.cost_cent),
                m.note,
              ]
                .filter(Boolean)
                .join(', ')}
            </small>
          </span>
        </li>
      ))}
    </ol>
  );
}
/* As it stands in the book now, asked for when somebody wants to put it right. */
function Right({ id, others, done }: { id: string; others: Paint[]; done: () => void }) {
  const [full, set] = useState<Paint | null>(null);
  useEffect(() => {
    const stop = new AbortController();
    get<Paint>(`/api/paints/${encodeURIComponent(id)}`, stop.signal).then(
      (o) => (o.ok ? set(o.body) : say({ text: failureText(o.failure), stop: true })),
      () => undefined,
    );
    return () => stop.abort();
  }, [id]);
  return full ? (
    <PaintForm p={full} others={others} done={done} />
  ) : (
    <p class="say">Opening.</p>
  );
}
export function PaintMore({
  p,
  samples,
  lots,
  heir,
  others,
}: {
  p: Paint;
  others: Paint[] /* of which it may be another can */;
  samples?: number;
  lots?: string;
  heir?: string /* another can of it on the shelf */;
}) {
  const [shown, show] = useState('');
  const part = (name: string, title: string, body: () => preact.VNode) => (
    <details
      open={shown === name}
      onToggle={(e) => {
        if (e.currentTarget.open) show(name);
        else if (shown === name) show('');
      }}
    >
      <summary>{title}</summary>
      {shown === name && body()}
    </details>
  );
  return (
    <div class="gap-b">
      {lots && <p class="say">{lots}</p>}
      {!p.leftover &&
        part('can', 'Another can of it', () => <CanForm of={p} done={() => show('')} />)}
      {part('right', 'Put it right', () => (
        <Right id={p.id} others={p.leftover ? [] : others} done={() => show('')} />
      ))}
      {part('stock', 'How its stock came about', () => (
        <Movements id={p.id} />
      ))}
      {!!samples && heir && (
        <p class="say">
          What {samples === 1 ? 'its sample' : `its ${samples} samples`} taught stays when it leaves
          the shelf: {heir} is another can of it.
        </p>
      )}
      {!!samples && !heir && (
        <p class="say">
          {samples === 1 ? 'One sample was' : `${samples} samples were`} painted with it. Off the shelf it
          takes what {samples === 1 ? 'that' : 'they'} taught along, also of the other paints in{' '}
          {samples === 1 ? 'it' : 'them'}. If it is only used up, count it as 0.
        </p>
      )}
      <TakeOff path={`/api/paints/${encodeURIComponent(p.id)}`} name={p.name ?? p.id} of="shelf" />
    </div>
  );
}
