/* What is agreed or asked for open pieces, what came in, what is still to come. */
import { send } from '../net/api';
import { useAnswer } from '../net/use';
import type { List, OwedRow } from '../net/types';
import { exactMoney, money } from '../lib/quantity';
import { handsText } from '../lib/time';
import { Act, capital } from '../ui/controls';
import { useFigure } from '../ui/figure';
import { inBook } from './change';

const IS: Record<string, string> = { quoted: 'quoted', asked: 'asked', planned: 'as planned' };
function paidText(r: OwedRow): string {
  if (!r.paid_cent) return r.to_come_cent ? 'Nothing paid yet' : '';
  const left = r.to_come_cent ?? 0;
  return left > 0
    ? `${exactMoney(r.paid_cent)} paid, ${exactMoney(left)} to come`
    : `${exactMoney(r.paid_cent)} paid`;
}
function Row({ r, at }: { r: OwedRow; at: string }) {
  const price = useFigure({ text: money(r.price_cent ?? 0), pointer: `${at}/price_cent` }),
    hours = useFigure({ text: handsText(r.hours ?? 0), pointer: `${at}/hours` }),
    come = useFigure({ text: exactMoney(r.to_come_cent ?? 0), pointer: `${at}/to_come_cent` });
  return (
    <>
      <div class="row">
        <div class="f num">{price.button}</div>
        <div class="w">
          <a href={`/pieces/${encodeURIComponent(r.id)}`}>{r.title ?? r.id}</a>
          <small>
            {[r.client_name, IS[r.price_is ?? '']].filter(Boolean).join(', ')}
            {r.paid_cent ? `, ${exactMoney(r.paid_cent)} paid` : ''}
            {(r.to_come_cent ?? 0) > 0 && <>, {come.button} to come</>}
          </small>
        </div>
        <div class="h">{r.hours !== undefined && <>{hours.button} planned</>}</div>
      </div>
      {price.panel}
      {come.panel}
      {hours.panel}
    </>
  );
}
export function Owed() {
  const rows = useAnswer<List<OwedRow>>('/api/money/open').data?.rows ?? [],
    priced = rows.filter((r) => r.price_cent !== undefined),
    quoted = rows.filter((r) => r.to_come_cent !== undefined),
    all = quoted.reduce((n, r) => n + Math.max(r.to_come_cent ?? 0, 0), 0);
  return (
    <section class="stage">
      <header>
        <h2>To come</h2>
        <p>Open pieces: what was quoted or is asked, and what is paid.</p>
      </header>
      <div class="stage-body">
        {priced.length ? (
          <>
            <div class="rows">
              {priced.map((r) => (
                <Row key={r.id} r={r} at={`/api/money/open#/rows/${rows.indexOf(r)}`} />
              ))}
            </div>
            {quoted.length > 1 && <p class="say">Of what was quoted {exactMoney(all)} is to come.</p>}
          </>
        ) : (
          <p class="say">Prices of open pieces stand here.</p>
        )}
      </div>
    </section>
  );
}
/* What was said of a piece is no entry of the books until it is written down. */
export async function bookMoney(piece: string, cent: number, kind: 'purchase' | 'sale' | 'payment') {
  const o = await send({
    method: 'POST',
    path: '/api/money',
    body: { kind, amount: `$${(cent / 100).toFixed(2)}`, piece },
    what: `${capital(kind)} ${exactMoney(cent)}`,
  });
  inBook(o, `In the books as a ${kind}.`);
}
/* The same of one piece, where it was agreed. */
export function OwedLine({ id }: { id: string }) {
  const row = useAnswer<List<OwedRow>>(`/api/money/open?piece=${encodeURIComponent(id)}`).data
    ?.rows?.[0];
  if (!row) return null;
  const bought = row.unbooked_cent;
  return (
    <>
      {(row.to_come_cent !== undefined || !!row.paid_cent) && (
        <p class="say">
          {paidText(row)}. <a href="/money">Write down what came in</a>
        </p>
      )}
      {bought !== undefined && (
        <div class="acts">
          <Act run={() => bookMoney(id, bought, 'purchase')}>
            Write {exactMoney(bought)}, what it was bought for, into the books
          </Act>
        </div>
      )}
    </>
  );
}
