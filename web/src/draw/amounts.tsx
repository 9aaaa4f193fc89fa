/* Amounts of a piece as ranges over the stock: what sticks out of the gray bar is what to buy. One axis
 * for all of them, so that they are compared. */
import type { Amount, Units } from '../net/types';
import { quantity } from '../lib/quantity';
import { AmountLine, along } from './range';
import { capital } from '../ui/controls';

const UNIT = { us: { ml: 29.5735295625, name: 'fl oz' }, metric: { ml: 1, name: 'ml' } };
/* Marks of the axis, at most six steps: ounces double from measure to measure, milliliters go by tens. */
function marksOf(most_ml: number, units: Units): number[] {
  const unit_ml = UNIT[units].ml,
    least = most_ml / unit_ml / 6,
    ten = 10 ** Math.floor(Math.log10(least)),
    step =
      units === 'metric'
        ? ([1, 2, 5].find((k) => k * ten >= least) ?? 10) * ten
        : 2 ** Math.ceil(Math.log2(least));
  return Array.from(
    { length: Math.floor(most_ml / unit_ml / step) + 1 },
    (_, i) => i * step * unit_ml,
  );
}

interface Scale {
  most: number;
  marks: number[];
  width: number;
  cls: 'wide' | 'narrow';
}
function Axis({ most, marks, width, cls, units }: Scale & { units: Units }) {
  return (
    <svg class={cls} viewBox={`0 0 ${width} 26`} width={width} aria-hidden="true">
      {marks.map((v, i) => (
        <text class="s2" x={along(v, most, width)} y="13" text-anchor={i ? 'middle' : 'start'}>
          {i ? Number((v / UNIT[units].ml).toFixed(2)) : `0 ${UNIT[units].name}`}
        </text>
      ))}
      <path
        d={`M${along(0, most, width)} 25H${width}${marks.map((v) => `M${along(v, most, width)} 19v6`).join('')}`}
        stroke="var(--ink)"
        stroke-width="2"
      />
    </svg>
  );
}

export function AmountsChart({ amounts, units }: { amounts: Amount[]; units: Units }) {
  const rows = amounts.filter((a) => a.high_ml !== undefined || a.mix_ml !== undefined);
  if (!rows.length) return null;
  const most =
    Math.max(
      ...rows.map((a) =>
        Math.max(a.high_ml ?? 0, a.mix_ml ?? 0, Math.min(a.stock_ml ?? 0, (a.high_ml ?? 0) * 2)),
      ),
    ) * 1.08;
  const marks = marksOf(most, units),
    scales: Scale[] = [
      { most, marks, width: 720, cls: 'wide' },
      { most, marks, width: 358, cls: 'narrow' },
    ];
  const q = (v: number | undefined) => (v === undefined ? '' : quantity(v, 'volume', units));
  return (
    <figure class="amounts">
      <div class="amount">
        <p />
        {scales.map((s) => (
          <Axis {...s} units={units} />
        ))}
      </div>
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
          {scales.map((s) => (
            <AmountLine
              range={{
                low: a.low_ml,
                need: a.need_ml,
                high: a.high_ml,
                mix: a.mix_ml,
                stock: (a.stock_ml ?? 0) + (a.mixed_ml ?? 0),
                most,
              }}
              marks={marks}
              width={s.width}
              cls={s.cls}
              label={`${a.name ?? a.class}: 1 in 10 needs less than ${q(a.low_ml)}, 1 in 10 more than ${q(a.high_ml)}; likeliest ${q(a.need_ml)}; have ready ${q(a.mix_ml)}; on the shelf ${q(a.stock_ml) || 'none'}`}
            />
          ))}
        </div>
      ))}
      <figcaption class="k">
        Diamond: likeliest. Line: 8 of 10 jobs. Stroke: what to have ready. Gray bar: on the shelf.
      </figcaption>
    </figure>
  );
}
