/* The figures of the answer, each of which opens. */
import { money } from '../lib/quantity';
import { handsText } from '../lib/time';
import { useFigure } from '../ui/figure';
import type { Worth } from './worth_ask';

function Line({ what, text, pointer }: { what: string; text: string; pointer: string }) {
  const f = useFigure({ pointer, text });
  return (
    <>
      <div class="row">
        <div class="f">{f.button}</div>
        <div class="w">{what}</div>
      </div>
      {f.panel}
    </>
  );
}
const span = (low: number, high: number) =>
  high - low < 0.05 ? '' : ` (${low.toFixed(0)} to ${high.toFixed(0)})`;
const handsSpan = (low: number, high: number) =>
  high - low < 0.05 ? '' : ` (${handsText(low)} to ${handsText(high)})`;

export function Answer({ w }: { w: Worth }) {
  const range =
    w.hour_low_cent_per_h !== undefined && w.hour_high_cent_per_h !== undefined
      ? span(w.hour_low_cent_per_h / 100, w.hour_high_cent_per_h / 100)
      : '';
  return (
    <div class="rows gap">
      {w.hour_cent_per_h !== undefined && (
        <Line
          what="An hour earns"
          text={`${money(Math.round(w.hour_cent_per_h))}${range}`}
          pointer="/hour_cent_per_h"
        />
      )}
      {w.offer_cent !== undefined && (
        <Line
          what={w.offer_cent < 0 ? 'Highest offer: none' : 'Highest offer'}
          text={money(Math.floor(w.offer_cent / 100) * 100)}
          pointer="/offer_cent"
        />
      )}
      {w.must_bring_cent !== undefined && (
        <Line
          what="Must sell for"
          text={money(Math.ceil(w.must_bring_cent / 100) * 100)}
          pointer="/must_bring_cent"
        />
      )}
      {w.break_even_cent !== undefined && (
        <Line
          what="Break-even"
          text={money(Math.ceil(w.break_even_cent / 100) * 100)}
          pointer="/break_even_cent"
        />
      )}
      {w.hours !== undefined && (
        <Line
          what="Hours"
          text={handsText(w.hours) + handsSpan(w.hours_low ?? w.hours, w.hours_high ?? w.hours)}
          pointer="/hours"
        />
      )}
      {w.supplies_cent !== undefined && (
        <Line what="Supplies" text={money(w.supplies_cent)} pointer="/supplies_cent" />
      )}
      {!!w.fee_cent && (
        <Line what="Seller’s fee" text={money(Math.round(w.fee_cent))} pointer="/fee_cent" />
      )}
    </div>
  );
}
