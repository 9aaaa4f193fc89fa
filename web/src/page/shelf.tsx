/* The shelf: how much is left, when opened, how well its color is known; leftovers as paints of their
 * own; the stock take; at the end, since it hangs on every recipe and comes late, what to buy. */
import type { VNode } from 'preact';
import { useState } from 'preact/hooks';
import { named, useChoices } from '../net/choices';
import { useAnswer } from '../net/use';
import type { Doc, List, Units } from '../net/types';
import { money, quantity } from '../lib/quantity';
import { isHalf } from '../lib/half';
import { dayText } from '../lib/time';
import { DifferenceLine } from '../draw/difference';
import { Empty, Swatch, capital } from '../ui/controls';
import { useFigure } from '../ui/figure';
import { FigureRow } from '../ui/figure_rows';
import { useShop } from '../ui/frame';
import { useKnown, type KnownPaint } from './color/known';
import { NewCan } from './shelf_can';
import { PaintMore } from './shelf_more';
import { NEW_CAN } from './shelf_paint';
import { Samples } from './shelf_samples';
import { Stock } from './shelf_stock';
import { SupplyForm, SupplyMore } from './shelf_supply';
import { shelfText, type Short } from './short';

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
/* Of one can that is full or begun; of several, what one of them holds. */
function ofCan(p: Paint, units: Units): string {
  if (!p.size_ml) return '';
  const one = quantity(p.size_ml, 'volume', units);
  return (p.stock_ml ?? 0) > p.size_ml * 1.01 ? `in cans of ${one}` : `of ${one}`;
}
/* A can from which something is missing was opened, whether or not somebody wrote down when. */
function openedText(p: Paint): string {
  if (p.opened_day !== undefined) return `opened ${dayText(p.opened_day)}`;
  const full = p.size_ml !== undefined && (p.stock_ml ?? 0) >= p.size_ml * 0.99;
  return full ? 'not opened' : '';
}
function PaintRow({ p, paints, rows }: { p: Paint; paints: Paint[]; rows: KnownPaint[] }) {
  const [open, set] = useState(false),
    classes = useChoices().classes,
    kind = classes?.find((c) => c.id === p.class),
    known = rows.find((k) => k.id === p.id),
    heir = rows.find((k) => k.can_of === p.id),
    at = `/api/paints/${encodeURIComponent(p.id)}/stock`,
    { units } = useShop();
  const stock = useFigure(
      p.stock_ml === undefined
        ? { text: 'not counted' }
        : { text: quantity(Math.max(0, p.stock_ml), 'volume', units), pointer: `${at}#/stock_ml` },
    ),
    off = useFigure({
      text: known?.expected_difference?.toFixed(1),
      pointer: `/api/shelf/known#/paints/${rows.indexOf(known as KnownPaint)}/expected_difference`,
    });
  const most = Math.max(p.size_ml ?? 0, p.stock_ml ?? 0, 1);
  return (
    <li>
      <div class="thing pt">
        <div class="chipbox">
          <Swatch hex={p.color_hex} clear={!p.color_hex && !!kind && !/color|primer/.test(kind.role ?? '')} big />
        </div>
        <div>
          <h3>{p.name ?? p.id}</h3>
          <small>
            {[
              kind ? named(kind) : '',
              p.sheen,
              p.leftover ? 'left over from a job' : '',
            ]
              .filter(Boolean)
              .join(', ')}
          </small>
        </div>
        <div>
          <svg
            viewBox="0 0 200 14"
            width="200"
            preserveAspectRatio="none"
            height="14"
            aria-hidden="true"
          >
            <rect x=".5" y=".5" width="199" height="13" fill="none" stroke="var(--line)" />
            <rect
              y="1"
              x="1"
              width={Math.max(0, Math.min(198, ((p.stock_ml ?? 0) / most) * 198))}
              height="12"
              fill="var(--line)"
            />
          </svg>
          <b class="num">{stock.button}</b>{' '}
          <small class="in">{ofCan(p, units)}</small>
          {(p.stock_ml ?? 0) < 0 && (
            <small>
              {quantity(-(p.stock_ml ?? 0), 'volume', units)} more was poured than was on record:
              count it.
            </small>
          )}
        </div>
        <div>
          {known ? (
            <Doubt k={known} off={off.button} />
          ) : (
            <small>{p.color_hex ? 'not for color coats' : 'color not read'}</small>
          )}
          <small>{openedText(p)}</small>
        </div>
        <div class="r">
          <button class="btn small" aria-expanded={open} onClick={() => set(!open)}>
            Stock<span class="vh"> of {p.name ?? p.id}</span>
          </button>
        </div>
      </div>
      {stock.panel}
      {off.panel}
      {open && (
        <Stock
          path={at}
          name={p.name ?? p.id}
          unit="amount"
          close={() => set(false)}
        />
      )}
      {open && (
        <PaintMore
          p={p}
          samples={known?.samples}
          lots={known?.lots}
          heir={heir?.name}
          others={paints.filter((q) => q.id !== p.id && q.class === p.class && !q.leftover)}
        />
      )}
    </li>
  );
}
/* How well its color is known: at which level, and what a half-and-half mix with white would be off. */
const several = (n: number, what: string) => `${n} ${what}${n === 1 ? '' : 's'}`;
function Doubt({ k, off }: { k: KnownPaint; off: VNode }) {
  return (
    <>
      <small>
        <b>{k.text ? k.text.charAt(0).toUpperCase() + k.text.slice(1) : ''}</b>
      </small>
      {k.expected_difference !== undefined && (
        <>
          <DifferenceLine at={0} expected={k.expected_difference} most={k.difference_90} />
          <small>{k.with === k.name ? 'by itself' : `half with ${k.with}`}: expect {off} off</small>
        </>
      )}
    </>
  );
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
/* How much of it, and what to ask for at the counter. */
function ToBuy({ s, at, units }: { s: Short; at: string; units: Units }) {
  const buy = useFigure({ text: quantity(s.buy_ml ?? 0, 'volume', units), pointer: `${at}/buy_ml` }),
    cost = useFigure({ text: money(s.cost_cent ?? 0), pointer: `${at}/cost_cent` });
  return (
    <>
      <div class="row">
        <div class="f num">{buy.button}</div>
        <div class="w">
          {capital(s.name ?? s.product)}
          <small>
            {s.cans_text}
            {s.cans_text && s.cost_cent !== undefined && (
              <>
                , {s.estimated && 'about '}
                {cost.button}
              </>
            )}
            {s.cans_text && s.need_ml !== undefined && '. '}
            {s.need_ml !== undefined &&
              `${shelfText(s, units)}; still wanted ${quantity(s.need_ml, 'volume', units)}`}
          </small>
        </div>
        <div class="h">{(s.pieces ?? []).join(', ')}</div>
      </div>
      {buy.panel}
      {cost.panel}
    </>
  );
}
export function Shelf() {
  const live = useAnswer<List<Paint>>('/api/paints?limit=200'),
    paints = live.data?.rows,
    { units } = useShop(),
    [adding, add] = useState(isHalf(NEW_CAN));
  const known = useKnown(),
    { classes } = useChoices();
  const supplies = useAnswer<List<Supply>>('/api/supplies').data?.rows ?? [],
    shopping = useAnswer<List<Short> & { cost_cent?: number }>('/api/shopping').data,
    buy = shopping?.rows,
    cost = shopping?.cost_cent;
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
      <section class="stage" id="buy">
        <header>
          <h2>To buy</h2>
          <p>Over all open pieces.</p>
        </header>
        <div class="stage-body">
          {buy?.length ? (
            <div class="rows">
              {buy.map((s, i) => (
                <ToBuy key={s.product} s={s} at={`/api/shopping#/rows/${i}`} units={units} />
              ))}
              {buy.length > 1 && cost !== undefined && (
                <FigureRow pointer="/api/shopping#/cost_cent" figure={<b>{money(cost)}</b>}>
                  <b>In all</b>
                  <small>Whole cans.</small>
                </FigureRow>
              )}
            </div>
          ) : (
            <p class="say">{buy ? 'Nothing is short.' : 'Looking through the recipes.'}</p>
          )}
        </div>
      </section>
    </>
  );
}
