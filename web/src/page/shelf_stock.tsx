/* The stock take: what was counted, bought, used or thrown out of a can or a supply. */
import { useState } from 'preact/hooks';
import { isKept, send } from '../net/api';
import { inUnit } from '../lib/bare';
import { counted } from '../lib/doc';
import { useBack } from '../ui/back';
import { Act, Field, Seg } from '../ui/controls';
import { useShop } from '../ui/frame';
import { useRefused } from './refused';

const MOVES = [
  ['counted', 'Counted'],
  ['bought', 'Bought'],
  ['used', 'Used'],
  ['thrown', 'Thrown out'],
] as const;
type Move = (typeof MOVES)[number][0];
const NAMES = { amount: 'How much', count: 'How many', cost: 'Paid', note: 'Note' };

export function Stock({
  path,
  name,
  unit,
  close,
}: {
  path: string;
  name: string;
  unit: 'amount' | 'count';
  close: () => void;
}) {
  const [kind, setKind] = useState<Move>('counted'),
    [amount, setAmount] = useState(''),
    [cost, setCost] = useState(''),
    [note, setNote] = useState(''),
    { took, at } = useRefused(NAMES),
    { units } = useShop(),
    box = useBack();
  const bare = /^[\d./ ]+$/.test(amount.trim()),
    how = unit === 'count' ? 'How many' : 'How much';
  const save = async () => {
    const body = {
      kind,
      [unit]:
        unit === 'count'
          ? counted(amount)
          : bare
            ? `${amount.trim()} ${units === 'metric' ? 'ml' : 'fl oz'}`
            : amount,
      ...(kind === 'bought' && cost.trim() ? { cost: inUnit(cost.trim(), 'money', units) } : {}),
      ...(note.trim() ? { note: note.trim() } : {}),
    };
    const o = await send({ method: 'POST', path, body, what: `${name}: ${kind} ${amount}` });
    const word = MOVES.find(([k]) => k === kind)?.[1].toLowerCase();
    took(o, `${name}: ${word}, ${amount.trim()}.`);
    if (isKept(o)) close();
  };
  return (
    <div
      ref={box}
      class="basis part-edit"
      role="group"
      aria-label={`Stock of ${name}`}
      onKeyDown={(e) => {
        if (e.key === 'Escape') close();
      }}
    >
      <Seg label="What happened" value={kind} options={MOVES} set={setKind} />
      <div class="form gap-s">
        <Field
          label={kind === 'counted' ? `${how} ${unit === 'count' ? 'are' : 'is'} there` : how}
          example={unit === 'count' ? undefined : units === 'metric' ? 'ml, L' : 'fl oz, qt, gal'}
          inputMode={unit === 'count' ? 'numeric' : undefined}
          {...at(unit, amount, setAmount)}
        />
        {kind === 'bought' && (
          <Field label="Paid" inputMode="decimal" example="$24" {...at('cost', cost, setCost)} />
        )}
        <Field
          label="Note"
          example={kind === 'thrown' ? 'tipped over, dried up, given away' : undefined}
          {...at('note', note, setNote)}
        />
      </div>
      <div class="acts">
        <Act enter kind="btn" disabled={!amount.trim()} run={save}>
          Write it down
        </Act>
        <Act run={close}>Close</Act>
      </div>
    </div>
  );
}
