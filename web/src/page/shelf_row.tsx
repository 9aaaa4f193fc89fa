/* A can on the shelf: how much is left, when it was opened, how well its color is known. */
import type { VNode } from 'preact';
import { useState } from 'preact/hooks';
import { named, useChoices } from '../net/choices';
import type { Units } from '../net/types';
import { quantity } from '../lib/quantity';
import { dayText } from '../lib/time';
import { DifferenceLine } from '../draw/difference';
import { Swatch } from '../ui/controls';
import { useFigure } from '../ui/figure';
import { useShop } from '../ui/frame';
import type { KnownPaint } from './color/known';
import type { Paint } from './shelf';
import { PaintMore } from './shelf_more';
import { Stock } from './shelf_stock';

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
export function PaintRow({ p, paints, rows }: { p: Paint; paints: Paint[]; rows: KnownPaint[] }) {
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
export const several = (n: number, what: string) => `${n} ${what}${n === 1 ? '' : 's'}`;
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
