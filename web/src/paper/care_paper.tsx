/* The care card for who will own the piece. */
import { longDay } from '../lib/time';
import { Heads, Foot, rowsOf, type SheetProps } from './sheet_parts';

export function CarePaper({ plan, piece, sheet }: SheetProps) {
  const rows = rowsOf(sheet, 'care');
  return (
    <article class="paper-sheet p-care">
      <Heads
        title="Care"
        sub={sheet.title}
        cells={[
          ['May be handled', piece?.handle_utc_min ? longDay(piece.handle_utc_min) : ''],
          ['Cured', piece?.cured_utc_min ? longDay(piece.cured_utc_min) : ''],
        ]}
      />
      <section>
        {rows.map((r) => (
          <p class="p-row p-until">
            <b>{r.figure}</b>
            <span>
              {r.what}
              {r.detail && <small>{r.detail}</small>}
            </span>
          </p>
        ))}
      </section>
      <Foot shop={plan.shop ?? {}} />
    </article>
  );
}
