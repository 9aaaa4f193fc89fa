/* A can that is new to the shelf: of a paint that is new here, or another one of a paint that is known. */
import { useState } from 'preact/hooks';
import { inUnit } from '../lib/bare';
import { said } from '../lib/doc';
import { money, quantity } from '../lib/quantity';
import { Act, Select } from '../ui/controls';
import { useShop } from '../ui/frame';
import type { Paint } from './shelf';
import { useForm, type Values } from './shelf_form';
import { PaintForm } from './shelf_paint';

/* Only what may differ from can to can: the rest is as the one that is known has it. */
export function CanForm({ of, done }: { of: Paint; done: () => void }) {
  const [v, set] = useState<Values>({}),
    { field, color, keep } = useForm(v, (k, text) => set({ ...v, [k]: text })),
    name = of.name ?? of.id,
    { units } = useShop(),
    full = of.size_ml ? quantity(of.size_ml, 'volume', units) : '';
  const save = () =>
    keep(
      {
        method: 'POST',
        path: '/api/paints',
        body: {
          ...said({ ...v, stock: v.stock?.trim() || full, cost: inUnit(v.cost, 'money', units) }),
          can_of: of.id,
        },
        what: `Another can of ${name}`,
      },
      `Another can of ${name} stands on the shelf.`,
      done,
    );
  return (
    <div>
      <p class="say">
        It begins with what was learned of {name}. Another lot may differ a little: that is in its
        doubt until a card of it is logged. More of the same lot is stock of that can: Bought.
      </p>
      <div class="form gap-s">
        {field('stock', { placeholder: full || '1 qt' })}
        {field('cost', { placeholder: of.cost_cent !== undefined ? money(of.cost_cent) : '$24' })}
        {field('opened', { type: 'date' })}
        {field('name', { placeholder: `${name} 2` })}
        {field('note', { placeholder: 'lot number' })}
      </div>
      {of.color_hex && (
        <details>
          <summary>Its color was read anew</summary>
          {color()}
        </details>
      )}
      <div class="acts">
        <Act enter kind="btn main" run={save}>
          Put this can on the shelf
        </Act>
      </div>
    </div>
  );
}

export function NewCan({ paints, done }: { paints: Paint[]; done: () => void }) {
  const [id, of] = useState(''),
    known = paints.find((p) => p.id === id);
  return (
    <>
      {paints.length > 0 && (
        <div class="form gap-b">
          <Select
            label="It is"
            value={id}
            options={[
              ['', 'A paint that is new here'],
              ...paints.map((p) => [p.id, `Another can of ${p.name ?? p.id}`] as const),
            ]}
            set={of}
          />
        </div>
      )}
      {known ? <CanForm key={id} of={known} done={done} /> : <PaintForm done={done} />}
    </>
  );
}
