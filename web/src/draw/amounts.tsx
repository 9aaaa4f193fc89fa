/* Amounts of a piece as ranges over the stock: what sticks out of the gray bar is what to buy. */
import type { Amount, Units } from '../net/types';
import { quantity } from '../lib/quantity';
import { AmountLine } from './range';
import { capital } from '../ui/controls';

export function AmountsChart({ amounts, units }: { amounts: Amount[]; units: Units }) {
  const rows = amounts.filter((a) => a.high_ml !== undefined || a.mix_ml !== undefined);
  if (!rows.length) return null;
  const most =
    Math.max(
      ...rows.map((a) =>
        Math.max(a.high_ml ?? 0, a.mix_ml ?? 0, Math.min(a.stock_ml ?? 0, (a.high_ml ?? 0) * 2)),
      ),
    ) * 1.05;
  const q = (v: number | undefined) => (v === undefined ? '' : quantity(v, 'volume', units));
  return (
    <figure class="amounts">
      {rows.map((a) => (
        <div class="amount">
          <p>
            <b>{capital(a.name ?? a.class ?? a.product)}</b>
            <small>
              {a.mixed_ml
                ? `${q(a.mixed_ml)} mixed${(a.mix_ml ?? 0) - a.mixed_ml > 1 ? ` of ${q(a.mix_ml)}` : ''}`
                : `${a.role === 'color' ? 'mix' : 'have'} ${q(a.mix_ml)}`}
              {a.buy_ml ? `, buy ${q(a.buy_ml)}` : ''}
            </small>
          </p>
          <AmountLine
            range={{
              low: a.low_ml,
              need: a.need_ml,
              high: a.high_ml,
              mix: a.mix_ml,
              stock: (a.stock_ml ?? 0) + (a.mixed_ml ?? 0),
              most,
            }}
            label={`${a.name ?? a.class}: 1 in 10 needs less than ${q(a.low_ml)}, 1 in 10 more than ${q(a.high_ml)}; likeliest ${q(a.need_ml)}; have ready ${q(a.mix_ml)}; on the shelf ${q(a.stock_ml) || 'none'}`}
          />
        </div>
      ))}
      <figcaption class="k">
        Diamond: likeliest. Line: 8 of 10 jobs. Stroke: what to have ready. Gray bar: on the shelf.
      </figcaption>
    </figure>
  );
}
