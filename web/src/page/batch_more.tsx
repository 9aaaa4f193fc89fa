/* More into a batch that stands there: of the same, when it runs short, or of one paint, by eye. */
import { useState } from 'preact/hooks';
import { send } from '../net/api';
import { useAnswer } from '../net/use';
import type { List } from '../net/types';
import { quantity } from '../lib/quantity';
import { Act, Field, Select } from '../ui/controls';
import { useShop } from '../ui/frame';
import { shelfText, type BatchRow } from './color/kept';
import { againPath } from './color/again';
import { useRefused } from './refused';
import type { Paint } from './shelf';

export function PourMore({ b }: { b: BatchRow }) {
  const paints = useAnswer<List<Paint>>('/api/paints?limit=200').data?.rows ?? [],
    { units } = useShop(),
    [paint, choose] = useState(''),
    [amount, set] = useState(''),
    { took, at } = useRefused({ amount: 'How much' });
  const inIt = b.items ?? [],
    kind = paints.find((p) => p.id === inIt[0]?.paint)?.class,
    others = paints.filter(
      (p) => p.class === kind && !inIt.some((i) => i.paint === p.id) && p.id !== b.left_paint,
    ),
    short = inIt.filter((i) => (paints.find((p) => p.id === i.paint)?.stock_ml ?? 1) <= 0);
  const pour = async () => {
    const o = await send<BatchRow>({
      method: 'POST',
      path: `/api/batches/${encodeURIComponent(b.id)}/pour`,
      body: paint ? { items: [{ paint, amount: amount.trim() }] } : { amount: amount.trim() },
      what: `Poured into ${b.name ?? b.id}`,
    });
    if (took(o, `It is in the batch. ${shelfText(o)}`)) set('');
  };
  return (
    <>
      {short.length > 0 && (
        <p class="note gap-b">
          {short.map((i) => i.name ?? i.paint).join(', ')}: none is left.{' '}
          <a href={againPath(`batches/${b.id}`, b.piece, quantity(b.amount_ml ?? 0, 'volume', units))}>
            Mix it again
          </a>{' '}
          takes another can of it where one stands on the shelf.
        </p>
      )}
      <div class="form keep">
        <Select
          label="What"
          value={paint}
          options={[
            ['', 'The same'],
            ...inIt.map((i) => [i.paint, i.name ?? i.paint] as const),
            ...others.map((p) => [p.id, p.name ?? p.id] as const),
          ]}
          set={choose}
        />
        <Field
          label="How much"
          placeholder={paint ? '2 drops' : units === 'metric' ? '120 ml' : '4 fl oz'}
          {...at('amount', amount, set)}
        />
        <div class="acts">
          <Act enter disabled={!amount.trim()} run={pour}>
            I poured more in
          </Act>
        </div>
      </div>
    </>
  );
}
