/* Everything that is said of a can: entered anew, or put right. */
import { useState } from 'preact/hooks';
import { named, useChoices } from '../net/choices';
import { inUnit } from '../lib/bare';
import { changes, said } from '../lib/doc';
import { useHalf } from '../lib/half';
import type { Doc } from '../net/types';
import { Act } from '../ui/controls';
import { useShop } from '../ui/frame';
import type { Paint } from './shelf';
import { sheens, useForm, type Values } from './shelf_form';
import { MeasuredColor, type Measured } from './shelf_measured';

/* What the can says of itself beats what is usual for its kind. */
const LABEL = [
  ['label_spread', 'Spread', '400 ft2/gal'],
  ['label_solids', 'Solids by volume', '38 %'],
  ['label_touch', 'Dry to touch', '30 min'],
  ['label_recoat', 'Next coat after', '4 h'],
  ['label_recoat_until', 'Next coat unscuffed before', '24 h'],
  ['label_handle', 'May be handled after', '12 h'],
  ['label_cure', 'Cured after', '21 d'],
  ['label_pot_life', 'Once mixed, good for', '4 h'],
  ['label_lowest', 'Not below', '50 F'],
] as const;
const LABEL_NAMES = Object.fromEntries(LABEL.map(([k, label]) => [k, label]));
const isLabel = (k: string) => k.startsWith('label_');
const MEMBERS = [
  ...['name', 'class', 'color', 'sheen', 'size', 'cost', 'opened', 'hides_in', 'can_of', 'note'],
  ...LABEL.map(([k]) => k),
];
const only = (v: Values, keep: (k: string) => boolean) =>
  Object.fromEntries(Object.entries(v).filter(([k, x]) => keep(k) && x.trim()));

/* A number of coats is sent as a number; what is none is refused with its field. */
function counted(v: Doc): Doc {
  const n = v.hides_in ? Number(v.hides_in) : NaN;
  return Number.isNaN(n) ? v : { ...v, hides_in: n };
}

export const NEW_CAN = 'new can';
export function PaintForm({
  p,
  others = [],
  done,
}: {
  p?: Paint;
  others?: Paint[] /* of which it may be another can */;
  done: () => void;
}) {
  const { classes } = useChoices(),
    { units } = useShop(),
    was: Values = {};
  for (const k of MEMBERS) if (p?.document?.[k] !== undefined) was[k] = `${p.document[k]}`;
  const { value: v, set, clear } = useHalf<Values>(p ? undefined : NEW_CAN, was),
    { field, select, color, keep } = useForm(v, (k, text) => set({ ...v, [k]: text }), LABEL_NAMES),
    [measured, measure] = useState<Measured>();
  const save = () => {
    const now = v.cost ? { ...v, cost: inUnit(v.cost, 'money', units) as string } : v,
      spectrum = measured?.spectrum && { spectrum: measured.spectrum },
      what = `Paint ${v.name}`,
      over = () => {
        clear();
        done();
      };
    return p
      ? keep(
          {
            method: 'PATCH',
            path: `/api/paints/${encodeURIComponent(p.id)}`,
            body: { paint: { ...counted(changes(now, was, null)), ...spectrum } },
            what,
          },
          `${v.name} is put right.`,
          over,
        )
      : keep(
          {
            method: 'POST',
            path: '/api/paints',
            body: {
              ...said(counted(only(now, (k) => !isLabel(k)))),
              paint: { ...only(v, isLabel), ...spectrum },
            },
            what,
          },
          `${v.name} stands on the shelf.`,
          over,
        );
  };
  return (
    <div>
      <div class="form">
        {field('name')}
        {classes?.length
          ? select('class', [['', 'Choose'], ...classes.map((c) => [c.id, named(c)] as const)])
          : field('class')}
        {color()}
        <MeasuredColor
          value={measured}
          set={(m) => {
            measure(m);
            set({
              ...v,
              name: v.name || (m?.name ?? ''),
              ...(m ? { color: m.spectrum ? '' : (m.notation ?? '') } : {}),
            });
          }}
        />
        {select('sheen', sheens)}
        {!p && field('stock', { placeholder: '13 fl oz' })}
        {field('size', { placeholder: '1 qt' })}
        {field('cost', { placeholder: '$24' })}
        {field('opened', { type: 'date' })}
        {field('note')}
        {field('hides_in', { inputMode: 'numeric', help: 'beside white, tried on a card' })}
        {others.length > 0 &&
          select('can_of', [
            ['', 'None other'],
            ...others.map((q) => [q.id, q.name ?? q.id] as const),
          ])}
      </div>
      <details>
        <summary>
          What its label says
          {LABEL.some(([k]) => v[k]) ? `: ${LABEL.filter(([k]) => v[k]).length} figures` : ''}
        </summary>
        <div class="form">
          {LABEL.map(([k, , placeholder]) => field(k, { placeholder }))}
        </div>
      </details>
      <div class="acts">
        <Act enter kind={p ? 'btn' : 'btn main'} disabled={!v.name} run={save}>
          {p ? 'Put it right' : 'Put it on the shelf'}
        </Act>
      </div>
    </div>
  );
}
