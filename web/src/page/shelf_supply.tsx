/* A supply: kept from now on, put right, taken off the list. */
import { useState } from 'preact/hooks';
import { inUnit } from '../lib/bare';
import { changes, said } from '../lib/doc';
import { money } from '../lib/quantity';
import { Act } from '../ui/controls';
import { useShop } from '../ui/frame';
import type { Supply } from './shelf';
import { TakeOff, useForm, type Values } from './shelf_form';

const KINDS = 'tape abrasive roller brush rag filler glue cane hardware other'.split(' ');
const NAMES = { name: 'Name of the supply', cost: 'One costs' };

export function SupplyForm({ s, done }: { s?: Supply; done?: () => void }) {
  const was = {
      name: s?.name,
      kind: s?.kind,
      cost: s?.cost_cent === undefined ? undefined : money(s.cost_cent),
      note: s?.note,
    },
    [typed, set] = useState<Values>({}),
    { units } = useShop(),
    name = typed.name ?? was.name ?? '',
    shown = Object.fromEntries(Object.entries(was).map(([k, x]) => [k, typed[k] ?? x ?? '']));
  const { field, select, keep } = useForm(
    shown,
    (k, text) => set({ ...typed, [k]: text }),
    NAMES,
  );
  const save = () => {
    const now = typed.cost ? { ...typed, cost: inUnit(typed.cost, 'money', units) as string } : typed;
    return keep(
      {
        method: s ? 'PATCH' : 'POST',
        path: s ? `/api/supplies/${encodeURIComponent(s.id)}` : '/api/supplies',
        body: s ? changes(now, was, '') : said(now),
        what: `Supply ${name}`,
      },
      s ? `${name} is put right.` : `${name} is kept from now on.`,
      () => {
        set({});
        done?.();
      },
    );
  };
  return (
    <div>
      <div class="form">
        {field('name')}
        {select('kind', [...(s?.kind ? [] : [['', 'Not said'] as const]), ...KINDS.map((k) => [k, k] as const)])}
        {field('cost', { placeholder: '$4' })}
        {field('note')}
      </div>
      <div class="acts">
        <Act enter disabled={!name} run={save}>
          {s ? 'Put it right' : 'Keep it'}
        </Act>
      </div>
    </div>
  );
}
export function SupplyMore({ s }: { s: Supply }) {
  const [shown, show] = useState(false);
  return (
    <div class="gap-b">
      <details open={shown} onToggle={(e) => show(e.currentTarget.open)}>
        <summary>Put it right</summary>
        {shown && <SupplyForm s={s} done={() => show(false)} />}
      </details>
      <TakeOff path={`/api/supplies/${encodeURIComponent(s.id)}`} name={s.name ?? s.id} of="list" />
    </div>
  );
}
