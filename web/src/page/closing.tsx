/* Closing a piece with what it really took, and what it came to: planned beside actual. */
import { useState } from 'preact/hooks';
import { send } from '../net/api';
import { useAnswer } from '../net/use';
import type { List, PiecePlan, Units } from '../net/types';
import { money, quantity } from '../lib/quantity';
import { Act, Field } from '../ui/controls';
import { useShop } from '../ui/frame';
import { told } from '../ui/said';
import { undoAct } from './change';
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
  days_to_sell?: number;
  products?: Product[];
}

/* The cans that the plan pours from, with how much of each is likely. */
function cansOf(plan: PiecePlan | undefined): { paint: string; name: string; ml: number }[] {
  const cans = new Map<string, { paint: string; name: string; ml: number }>();
  const add = (paint: string | undefined, name: string | undefined, ml: number | undefined) => {
    if (!paint || !ml) return;
    const c = cans.get(paint) ?? { paint, name: name ?? paint, ml: 0 };
    c.ml += ml;
    cans.set(paint, c);
  };
  for (const a of plan?.amounts ?? []) add(a.product, a.name, a.need_ml);
  for (const c of [plan?.color, ...(plan?.colors ?? [])])
    for (const l of c?.lines ?? []) add(l.paint, l.name, l.volume_ml);
  return [...cans.values()];
}

export function CloseForm({ edit, plan }: { edit: Editing; plan: PiecePlan | undefined }) {
  const { units } = useShop();
  const [hours, setHours] = useState(''),
    [price, setPrice] = useState(''),
    [note, setNote] = useState(''),
    [used, setUsed] = useState<Record<string, string>>({});
  const withUnit = (v: string) => (/^[\d.,/ ]+$/.test(v) ? `${v} ${units === 'metric' ? 'ml' : 'fl oz'}` : v);
  const closing = async () => {
    const body: Record<string, unknown> = {};
    if (hours) body.hours = /^\d+([.,]\d+)?$/.test(hours) ? `${hours.replace(',', '.')} h` : hours;
    if (price) body.price = /^\d/.test(price) ? `$${price}` : price;
    if (note) body.note = note;
    const said = Object.entries(used).filter(([, v]) => v.trim());
    if (said.length)
      body.used = said.map(([paint, v]) => ({ paint, amount: withUnit(v.trim()) }));
    const o = await send<Closed>({
      method: 'POST',
      path: `/api/pieces/${encodeURIComponent(edit.id)}/close`,
      body,
      revision: edit.revision,
      what: 'Close the job',
    });
    told(o, {
      text: `Closed.${o.ok && o.body.hour_cent !== undefined ? ` An hour earned ${money(o.body.hour_cent)}.` : ''}`,
      act: undoAct(o.ok ? o.revision : undefined),
    });
  };
  return (
    <div>
      <div class="form">
        <Field
          label="Hours it took"
          value={hours}
          onInput={(e) => setHours(e.currentTarget.value)}
          help={
            plan?.price?.hours
              ? `Planned ${plan.price.hours.toFixed(1)} h. Empty: the sum of the tasks.`
              : 'Empty: the sum of the tasks.'
          }
        />
        <Field
          label="Price paid"
          value={price}
          inputMode="decimal"
          onInput={(e) => setPrice(e.currentTarget.value)}
          help={
            plan?.price?.price_cent
              ? `Planned ${money(plan.price.price_cent)}. Empty: the money on record.`
              : 'Empty: the money on record.'
          }
        />
        <Field label="Note" value={note} onInput={(e) => setNote(e.currentTarget.value)} />
      </div>
      {cansOf(plan).length > 0 && (
        <fieldset class="gap">
          <legend>Used in all, where you know it better than the book</legend>
          <div class="form">
            {cansOf(plan).map((c) => (
              <Field
                label={c.name}
                value={used[c.paint] ?? ''}
                onInput={(e) => setUsed({ ...used, [c.paint]: e.currentTarget.value })}
                help={`Planned ${quantity(c.ml, 'volume', units)}. Empty: what is on record.`}
              />
            ))}
          </div>
        </fieldset>
      )}
      <div class="acts">
        <Act kind="btn main" run={closing}>
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

/* What a closed piece came to. */
export function CameTo({ id, units }: { id: string; units: Units }) {
  const c = useAnswer<List<Closed>>(`/api/money/pieces?piece=${encodeURIComponent(id)}`).data
    ?.rows?.[0];
  if (!c) return null;
  const hours = (v: number) => `${v.toFixed(1)} h`,
    ml = (v: number) => quantity(v, 'volume', units);
  return (
    <section class="gap" aria-label="What it came to">
      {c.hour_cent !== undefined && (
        <p class="note">
          <b>An hour earned {money(c.hour_cent)}.</b>
        </p>
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
            <Line what="Hours" planned={put(c.planned_hours, hours)} actual={put(c.actual_hours, hours)} />
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
