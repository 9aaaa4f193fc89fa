/* Money in or out, written down. */
import { isKept, send } from '../net/api';
import type { PieceRow } from '../net/types';
import { inUnit } from '../lib/bare';
import { said } from '../lib/doc';
import { useHalf } from '../lib/half';
import { Act, Field, Select, capital } from '../ui/controls';
import { useShop } from '../ui/frame';
import { useRefused } from './refused';

const KINDS = [
  'deposit',
  'payment',
  'sale',
  'refund',
  'purchase',
  'material',
  'tool',
  'fee',
  'mileage',
  'rent',
  'other',
];
export const NEW_ENTRY = 'money';
const NAMES = { amount: 'How much', distance: 'How far', day: 'On which day', note: 'Note' };
export function MoneyEntry({ pieces, done }: { pieces: PieceRow[]; done: () => void }) {
  const { units } = useShop(),
    {
      value: v,
      set,
      clear,
    } = useHalf<Record<string, string>>(NEW_ENTRY, { kind: 'deposit', amount: '', piece: '', note: '' }),
    { took, at } = useRefused(NAMES),
    driven = v.kind === 'mileage',
    put = (k: string) => at(k, v[k] ?? '', (text) => set({ ...v, [k]: text }));
  const save = async () => {
    const o = await send({
      method: 'POST',
      path: '/api/money',
      body: said({
        ...v,
        amount: inUnit(v.amount, 'money', units),
        distance: driven ? inUnit(v.distance, 'distance', units) : '',
      }),
      what: `${capital(v.kind)} ${v.amount}`,
    });
    took(o, 'Written down.');
    if (isKept(o)) {
      clear();
      done();
    }
  };
  return (
    <div>
      <div class="form">
        <Select
          label="What for"
          value={v.kind}
          options={KINDS.map((k) => [k, capital(k)] as const)}
          set={(kind) => set({ ...v, kind })}
        />
        <Field
          label="How much"
          inputMode="decimal"
          placeholder="$120"
          help={driven ? 'Empty: only the way counts.' : undefined}
          {...put('amount')}
        />
        {driven && (
          <Field
            label="How far"
            placeholder={units === 'metric' ? '40 km' : '24 mi'}
            {...put('distance')}
          />
        )}
        <Select
          label="For which piece"
          value={v.piece}
          options={[['', 'None'], ...pieces.map((p) => [p.id, p.title ?? p.id] as const)]}
          set={(piece) => set({ ...v, piece })}
        />
        <Field
          label="On which day"
          type="date"
          help="Empty: today."
          {...put('day')}
        />
        <Field label="Note" {...put('note')} />
      </div>
      <div class="acts">
        <Act enter kind="btn main" disabled={!v.amount && !(driven && v.distance)} run={save}>
          Write it down
        </Act>
      </div>
    </div>
  );
}
