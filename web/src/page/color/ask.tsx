/* What is wanted, what it is measured with, and which paints may go in. */
import { useState } from 'preact/hooks';
import type { Failure } from '../../net/api';
import { useCell } from '../../net/use';
import { Field, Seg, Select } from '../../ui/controls';
import { ColorField } from '../../ui/edit';
import { useShop } from '../../ui/frame';
import { membersOf } from '../../ui/said';
import type { Paint } from '../shelf';
import { MeasuredColor, type Measured } from '../shelf_measured';
import { choices, choose, usualAmount, type Measure } from './choices';

const MEASURES: readonly (readonly [Measure | '', string])[] = [
  ['', 'As the shop does'],
  ['fl oz', 'Fluid ounces'],
  ['tsp', 'Spoons and cups'],
  ['ml', 'Milliliters'],
  ['gram', 'A scale, grams'],
  ['drop', 'Drops'],
  ['part', 'Parts alone'],
];
const STEPS: Record<string, string> = {
  'fl oz': '1/4 fl oz',
  tsp: '1/4 tsp',
  ml: '5 ml',
  gram: '1 g',
  drop: '1 drop',
};

/* The members of the search that have a field here. */
export const ASKED = ['target', 'parts', 'amount', 'step', 'smallest'];

/* Paints that every recipe holds, or none: added from a list, taken off by their tag. */
function Tags({
  label,
  ids,
  others,
  paints,
  set,
}: {
  label: string;
  ids: string[];
  others: string[];
  paints: Map<string, Paint>;
  set: (ids: string[]) => void;
}) {
  const free = [...paints.values()].filter(
    (p) => p.mixable && !ids.includes(p.id) && !others.includes(p.id),
  );
  return (
    <div class="tags">
      <Select
        label={label}
        value=""
        options={[['', 'Choose'], ...free.map((p) => [p.id, p.name ?? p.id] as const)]}
        set={(v) => v && set([...ids, v])}
      />
      {ids.length > 0 && (
        <ul>
          {ids.map((id) => (
            <li>
              <button type="button" class="btn small" onClick={() => set(ids.filter((x) => x !== id))}>
                {paints.get(id)?.name ?? id} <span aria-hidden="true">×</span>
                <span class="vh">: take it off</span>
              </button>
            </li>
          ))}
        </ul>
      )}
    </div>
  );
}

export function Ask({
  target,
  hex,
  setTarget,
  measured,
  setMeasured,
  paints,
  photo,
  failure,
}: {
  target: string;
  hex?: string;
  setTarget: (v: string) => void;
  measured?: Measured;
  setMeasured: (m: Measured | undefined) => void;
  paints: Map<string, Paint>;
  photo: string;
  failure?: Failure;
}) {
  const c = useCell(choices),
    { units, shop } = useShop(),
    narrowed = c.must.length + c.never.length > 0 || c.buy || !c.sure || !!c.smallest,
    [more, setMore] = useState(narrowed),
    error = (member: string) => (membersOf(failure).includes(member) ? failure?.text : undefined);
  const parts = c.measure === 'part';
  return (
    <>
      <div class="form ask">
        <ColorField
          label="Color wanted"
          value={target}
          hex={hex}
          error={error('target')}
          set={setTarget}
        />
        {parts ? (
          <Field
            key="parts"
            label="Parts in all"
            inputMode="numeric"
            value={c.parts}
            error={error('parts')}
            onChange={(e) => choose({ parts: e.currentTarget.value })}
          />
        ) : (
          <Field
            key="amount"
            label="How much"
            value={c.amount}
            error={error('amount')}
            placeholder={usualAmount(c, units)}
            onChange={(e) => choose({ amount: e.currentTarget.value.trim() })}
          />
        )}
        <Select
          label="Measured with"
          value={c.measure}
          options={MEASURES}
          set={(v) => choose({ measure: v as Measure | '', step: '', smallest: '' })}
        />
        {!parts && (
          <Field
            key={`step ${c.measure}`}
            label="Smallest step it shows"
            value={c.step}
            error={error('step')}
            placeholder={STEPS[c.measure || (shop.measure ?? (units === 'metric' ? 'ml' : 'fl oz'))]}
            onChange={(e) => choose({ step: e.currentTarget.value.trim() })}
          />
        )}
        <Seg
          label="Paints at most"
          value={c.most}
          options={['1', '2', '3', '4', '5'].map((n) => [n, n] as const)}
          set={(most) => choose({ most })}
        />
      </div>
      <MeasuredColor value={measured} set={setMeasured}>
        <button type="button" class="btn" aria-expanded={more} onClick={() => setMore(!more)}>
          Which paints, how sure
        </button>
        <a class="btn" href={photo}>
          Read it from a picture
        </a>
      </MeasuredColor>
      {more && (
        <>
        <div class="taps gap-s">
          <Seg
            label="Best is"
            value={c.sure ? 'sure' : 'near'}
            options={[
              ['sure', 'Surest'],
              ['near', 'Nearest on paper'],
            ]}
            set={(v) => choose({ sure: v === 'sure' })}
          />
          <Seg
            label="Paint"
            value={c.buy ? 'buy' : 'have'}
            options={[
              ['have', 'On the shelf'],
              ['buy', 'May be bought'],
            ]}
            set={(v) => choose({ buy: v === 'buy' })}
          />
        </div>
        <div class="form gap-s">
          {!parts && (
            <Field
              key={`least ${c.measure}`}
              label="No pour below"
              value={c.smallest}
              error={error('smallest')}
              placeholder="one step"
              onChange={(e) => choose({ smallest: e.currentTarget.value.trim() })}
            />
          )}
          <Tags
            label="Must be in it"
            ids={c.must}
            others={c.never}
            paints={paints}
            set={(must) => choose({ must })}
          />
          <Tags
            label="Must not be in it"
            ids={c.never}
            others={c.must}
            paints={paints}
            set={(never) => choose({ never })}
          />
        </div>
        </>
      )}
    </>
  );
}
