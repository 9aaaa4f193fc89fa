/* What to buy over all open pieces: it hangs on every recipe and comes late. */
import type { List, Units } from '../net/types';
import { money, quantity } from '../lib/quantity';
import { capital } from '../ui/controls';
import { useFigure } from '../ui/figure';
import { FigureRow } from '../ui/figure_rows';
import { useShop } from '../ui/frame';
import { shelfText, type Short } from './short';

export type Shopping = List<Short> & { cost_cent?: number };
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

export function Buy({ shopping }: { shopping?: Shopping }) {
  const { units } = useShop(),
    buy = shopping?.rows,
    cost = shopping?.cost_cent;
  return (
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
  );
}
