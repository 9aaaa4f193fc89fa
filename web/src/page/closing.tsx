/* Closing a piece with what it really took, and what it came to: planned beside actual. */
import { useState } from 'preact/hooks';
import { send } from '../net/api';
import { useAnswer } from '../net/use';
import type { List, OwedRow, Units } from '../net/types';
import { exactMoney, money, quantity } from '../lib/quantity';
import { handsText } from '../lib/time';
import { Act, Field } from '../ui/controls';
import { useShop } from '../ui/frame';
import { inUnit } from '../lib/bare';
import { useRefused } from './refused';
import { bookMoney } from './owed';
import type { Editing } from './change';

interface Product {
  paint?: string;
  name?: string;
  planned_ml?: number;
  actual_ml?: number;
  planned_cost_cent?: number;
  actual_cost_cent?: number;
}
export interface Closed {
  piece?: string;
  planned_hours?: number;
  actual_hours?: number;
  planned_material_cent?: number;
  actual_material_cent?: number;
  planned_price_cent?: number;
  actual_price_cent?: number;
  hour_cent?: number;
  unbooked_cent?: number;
  days_to_sell?: number;
  products?: Product[];
}

const PRICE_IS: Record<string, string> = { quoted: 'Quoted', asked: 'Asked' };
interface Story {
  used?: Product[];
  hours_planned?: number;
  hours_actual?: number;
}
const asPlanned = (p: Product, units: Units) =>
  p.actual_ml === undefined && p.planned_ml ? quantity(p.planned_ml, 'volume', units) : '';

export function CloseForm({ edit }: { edit: Editing }) {
  const { units } = useShop(),
    at = encodeURIComponent(edit.id),
    story = useAnswer<Story>(`/api/pieces/${at}/story`).data,
    owed = useAnswer<List<OwedRow>>(`/api/money/open?piece=${at}`).data?.rows?.[0],
    cans = (story?.used ?? []).filter((p) => p.paint);
  const [hours, setHours] = useState(''),
    [price, setPrice] = useState(''),
    [note, setNote] = useState(''),
    [used, setUsed] = useState<Record<string, string>>({}),
    { no, took, at: field } = useRefused({
      hours: 'Hours it took',
      price: 'Price paid',
      note: 'Note',
      amount: 'Used in all',
    });
  const withUnit = (v: string) => (/^[\d.,/ ]+$/.test(v) ? `${v} ${units === 'metric' ? 'ml' : 'fl oz'}` : v);
  const said = cans
      .map((p) => [p.paint, (used[p.paint as string] ?? asPlanned(p, units)).trim()])
      .filter(([, v]) => v),
    line = /^\/used\/(\d+)/.exec(no?.field ?? ''),
    refusedCan = line && said[Number(line[1])]?.[0];
  const closing = async () => {
    const body: Record<string, unknown> = {};
    if (story) body.unlogged = 'none'; /* every can stands in the form, as planned where it was */
    if (hours) body.hours = /^\d+([.,]\d+)?$/.test(hours) ? `${hours.replace(',', '.')} h` : hours;
    if (price) body.price = inUnit(price, 'money', units);
    if (note) body.note = note;
    if (said.length)
      body.used = said.map(([paint, v]) => ({ paint, amount: withUnit(v as string) }));
    const o = await send<Closed>({
      method: 'POST',
      path: `/api/pieces/${encodeURIComponent(edit.id)}/close`,
      body,
      revision: edit.revision,
      what: 'Close the job',
    });
    const earned = o.ok && o.body.hour_cent !== undefined ? money(o.body.hour_cent) : '';
    took(o, `Closed.${earned && ` An hour earned ${earned}.`}`);
  };
  return (
    <div class="gap-s">
      <div class="form">
        <Field
          label="Hours it took"
          {...field('hours', hours, setHours)}
          help={[
            story?.hours_planned && `Planned ${handsText(story.hours_planned)}.`,
            story?.hours_actual
              ? `Empty: ${handsText(story.hours_actual)}, the sum of the tasks.`
              : 'Empty: the sum of the tasks.',
          ]
            .filter(Boolean)
            .join(' ')}
        />
        <Field
          label="Price paid"
          inputMode="decimal"
          {...field('price', price, setPrice)}
          help={[
            owed?.price_cent !== undefined &&
              `${PRICE_IS[owed.price_is ?? ''] ?? 'Planned'} ${money(owed.price_cent)}.`,
            owed &&
              `Empty: ${money(owed.paid_cent ?? 0)}, the money on record; what is said beyond that is in no books.`,
          ]
            .filter(Boolean)
            .join(' ')}
        />
        <Field label="Note" {...field('note', note, setNote)} />
      </div>
      {cans.length > 0 && (
        <fieldset class="gap">
          <legend>Used in all; as planned where nobody logged it. Empty: none, or as logged.</legend>
          <div class="form">
            {cans.map((p) => (
              <Field
                label={p.name ?? (p.paint as string)}
                value={used[p.paint as string] ?? asPlanned(p, units)}
                error={refusedCan === p.paint ? no?.text : undefined}
                onInput={(e) => setUsed({ ...used, [p.paint as string]: e.currentTarget.value })}
                help={
                  p.actual_ml === undefined
                    ? undefined
                    : `Planned ${quantity(p.planned_ml ?? 0, 'volume', units)}. Empty: ${quantity(p.actual_ml, 'volume', units)}, as logged.`
                }
              />
            ))}
          </div>
        </fieldset>
      )}
      <div class="acts">
        <Act enter kind="btn main" run={closing}>
          Close the job
        </Act>
      </div>
    </div>
  );
}

function Line({ what, planned, actual }: { what: string; planned?: string; actual?: string }) {
  return (
    <tr>
      <th scope="row">{what}</th>
      <td class="n">{planned ?? ''}</td>
      <td class="n">
        <b>{actual ?? 'not said'}</b>
      </td>
    </tr>
  );
}
const put = <T,>(v: T | undefined, f: (v: T) => string) => (v === undefined ? undefined : f(v));

/* What a closing says was paid is no entry of the books until it is written down. */
function Unbooked({ id, cent, kind }: { id: string; cent: number; kind: 'sale' | 'payment' }) {
  return (
    <div class="gap-s gap-b">
      <p class="note">Of the price {exactMoney(cent)} is not under Money, and so in no books.</p>
      <div class="acts">
        <Act run={() => bookMoney(id, cent, kind)}>Write it into the books as a {kind}</Act>
      </div>
    </div>
  );
}

/* What a closed piece came to. */
export function CameTo({ id, units, sold }: { id: string; units: Units; sold: boolean }) {
  const c = useAnswer<List<Closed>>(`/api/money/pieces?piece=${encodeURIComponent(id)}`).data
    ?.rows?.[0];
  if (!c) return null;
  const ml = (v: number) => quantity(v, 'volume', units);
  return (
    <section class="gap" aria-label="What it came to">
      {c.hour_cent !== undefined && (
        <p class="note">
          <b>An hour earned {money(c.hour_cent)}.</b>
        </p>
      )}
      {c.unbooked_cent !== undefined && (
        <Unbooked id={id} cent={c.unbooked_cent} kind={sold ? 'sale' : 'payment'} />
      )}
      <div class="scroll" tabIndex={0} role="region" aria-label="Planned beside actual">
        <table class="table gap-s">
          <thead>
            <tr>
              <th scope="col">What it came to</th>
              <th scope="col" class="n">
                Planned
              </th>
              <th scope="col" class="n">
                Actual
              </th>
            </tr>
          </thead>
          <tbody>
            <Line
              what="Hours"
              planned={put(c.planned_hours, handsText)}
              actual={put(c.actual_hours, handsText)}
            />
            <Line
              what="Material"
              planned={put(c.planned_material_cent, money)}
              actual={put(c.actual_material_cent, money)}
            />
            <Line
              what="Price"
              planned={put(c.planned_price_cent, money)}
              actual={put(c.actual_price_cent, money)}
            />
            {(c.products ?? []).map((p) => (
              <Line
                what={p.name ?? p.paint ?? ''}
                planned={put(p.planned_ml, ml)}
                actual={put(p.actual_ml, ml)}
              />
            ))}
          </tbody>
        </table>
      </div>
    </section>
  );
}
