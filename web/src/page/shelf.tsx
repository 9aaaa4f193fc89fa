/* The shelf: what stands on it, leftovers as paints of their own, samples, supplies, what to buy. */
import { useState } from 'preact/hooks';
import { useChoices } from '../net/choices';
import { useAnswer } from '../net/use';
import type { Doc, List } from '../net/types';
import { money } from '../lib/quantity';
import { isHalf } from '../lib/half';
import { Empty } from '../ui/controls';
import { useFigure } from '../ui/figure';
import { useKnown, type KnownPaint } from './color/known';
import { Buy, type Shopping } from './shelf_buy';
import { NewCan } from './shelf_can';
import { NEW_CAN } from './shelf_paint';
import { PaintRow, several } from './shelf_row';
import { Samples } from './shelf_samples';
import { Stock } from './shelf_stock';
import { SupplyForm, SupplyMore } from './shelf_supply';

export interface Paint {
  id: string;
  name?: string;
  class?: string;
  color_hex?: string;
  sheen?: string;
  stock_ml?: number;
  size_ml?: number;
  cost_cent?: number;
  opened_day?: number;
  leftover?: boolean;
  mixable?: boolean; /* its color is known, so that it can go into a recipe */
  document?: Doc;
}
export interface Supply {
  id: string;
  name?: string;
  kind?: string;
  count?: number;
  cost_cent?: number;
  note?: string;
}
function SupplyRow({ s, at }: { s: Supply; at: string }) {
  const [open, set] = useState(false),
    count = useFigure({ text: Math.max(0, s.count ?? 0), pointer: `${at}/count` });
  return (
    <li>
      <div class="when">
        <b class="num">{count.button}</b>
        <span>
          {s.name ?? s.id}
          <small>
            {[s.kind, s.cost_cent !== undefined ? `${money(s.cost_cent)} each` : '']
              .filter(Boolean)
              .join(', ')}
          </small>
          {(s.count ?? 0) < 0 && (
            <small>{-(s.count as number)} more were used than were on record: count them.</small>
          )}
        </span>
        <button class="btn small" aria-expanded={open} onClick={() => set(!open)}>
          Stock<span class="vh"> of {s.name}</span>
        </button>
      </div>
      {count.panel}
      {open && (
        <Stock
          path={`/api/supplies/${encodeURIComponent(s.id)}/stock`}
          name={s.name ?? s.id}
          unit="count"
          close={() => set(false)}
        />
      )}
      {open && <SupplyMore s={s} />}
    </li>
  );
}
/* The cans of one paint beside each other, where the first of them stands. */
function cansTogether(paints: Paint[], rows: KnownPaint[]): Paint[] {
  const of = (p: Paint) => rows.find((k) => k.id === p.id)?.can_of ?? p.id,
    all = new Map<string, Paint[]>();
  for (const p of paints) all.set(of(p), [...(all.get(of(p)) ?? []), p]);
  return [...all.values()].flat();
}
export function Shelf() {
  const live = useAnswer<List<Paint>>('/api/paints?limit=200'),
    paints = live.data?.rows,
    [adding, add] = useState(isHalf(NEW_CAN));
  const known = useKnown(),
    { classes } = useChoices();
  const supplies = useAnswer<List<Supply>>('/api/supplies').data?.rows ?? [],
    shopping = useAnswer<Shopping>('/api/shopping').data,
    buy = shopping?.rows;
  const own = cansTogether((paints ?? []).filter((p) => !p.leftover), known.rows),
    left = (paints ?? []).filter((p) => p.leftover);
  const groups = new Map<string, Paint[]>();
  for (const p of own) {
    const under = /primer|barrier/.test(classes?.find((c) => c.id === p.class)?.role ?? ''),
      k = p.color_hex && !under ? 'Paints' : 'Primers, clears and the rest';
    groups.set(k, [...(groups.get(k) ?? []), p]);
  }
  return (
    <>
      <div class="head">
        <div>
          <h1>Shelf</h1>
          <p>
            {paints?.length
              ? `${several(paints.length, 'can')}, ${several(known.samples.length, 'sample')}. `
              : ''}
            {!!buy?.length && <a href="#buy">{several(buy.length, 'thing')} to buy</a>}
          </p>
        </div>
        <div class="acts">
          <button class="btn main" aria-expanded={adding} onClick={() => add(!adding)}>
            Put a can on it
          </button>
          <a class="btn" href="/api/export/paint.csv" download="shelf.csv">
            CSV
          </a>
        </div>
      </div>
      {live.failure && !paints && <p class="note gap">{live.failure.text}</p>}
      {adding && (
        <section class="stage">
          <header>
            <h2>A can</h2>
          </header>
          <div class="stage-body">
            <NewCan paints={own} done={() => add(false)} />
          </div>
        </section>
      )}
      {paints && !paints.length && !adding && (
        <Empty title="Nothing on it yet">
          <p>
            A can needs a name, what it is, and the color it dries to. What is left is counted once;
            from then on every batch takes its share by itself.
          </p>
        </Empty>
      )}
      {[...groups].map(([k, rows]) => (
        <section class="stage" key={k}>
          <header>
            <h2>{k}</h2>
          </header>
          <ul class="things">
            {rows.map((p) => (
              <PaintRow key={p.id} p={p} paints={paints ?? []} rows={known.rows} />
            ))}
          </ul>
        </section>
      ))}
      {left.length > 0 && (
        <section class="stage">
          <header>
            <h2>Left over</h2>
            <p>Mixed here. Recipes use them up first where they come near enough.</p>
          </header>
          <ul class="things">
            {left.map((p) => (
              <PaintRow key={p.id} p={p} paints={paints ?? []} rows={known.rows} />
            ))}
          </ul>
        </section>
      )}
      <Samples paints={paints ?? []} rows={known.rows} known={known.samples} wet={known.wet} />
      <section class="stage">
        <header>
          <h2>Supplies</h2>
        </header>
        <div class="stage-body">
          <details class="gap-b">
            <summary>Another supply</summary>
            <SupplyForm />
          </details>
          {supplies.length ? (
            <ul>
              {supplies.map((s, i) => (
                <SupplyRow key={s.id} s={s} at={`/api/supplies#/rows/${i}`} />
              ))}
            </ul>
          ) : (
            <p class="say">Tape, abrasive, rollers. What a plan wants is listed on its sheet.</p>
          )}
        </div>
      </section>
      <Buy shopping={shopping} />
    </>
  );
}
