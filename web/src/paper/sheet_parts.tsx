/* What the papers are made of: head, foot, rows, lines to sign on. */
import type { ComponentChildren } from 'preact';
import type { PiecePlan, PlanAnswer, SheetPiece, SheetRow, Shop, Units } from '../net/types';
import { nowMinutes, whenText } from '../lib/time';

export interface SheetProps {
  plan: PlanAnswer;
  piece: PiecePlan | undefined;
  sheet: SheetPiece;
  units: Units;
}
export const rowsOf = (s: SheetPiece, id: string) => s.sections?.find((x) => x.id === id)?.rows ?? [];
export const isRow = (r: SheetRow) => !r.kind || r.kind === 'row';

export function Heads({
  title,
  sub,
  cells,
}: {
  title: string;
  sub?: string;
  cells: [string, ComponentChildren][];
}) {
  return (
    <header class="p-head">
      <h1>{title}</h1>
      {sub && <p>{sub}</p>}
      <dl>
        {cells
          .filter(([, v]) => v)
          .map(([k, v]) => (
            <div>
              <dt>{k}</dt>
              <dd>{v}</dd>
            </div>
          ))}
      </dl>
    </header>
  );
}
export function Foot({ shop }: { shop: Shop }) {
  return (
    <footer class="p-foot">
      {shop.name ? `${shop.name}. ` : ''}Printed {whenText(nowMinutes())}. Local rules, the label of
      the product and licensed practice come first.
    </footer>
  );
}
export function Signs({ who }: { who: string[] }) {
  return (
    <div class="p-signs">
      {who.map((w) => (
        <p>
          <span />
          {w}, date
        </p>
      ))}
    </div>
  );
}
export function PaperRow({ r }: { r: SheetRow }) {
  return (
    <p class="p-row">
      <b class={r.assumed ? 'p-assumed' : ''}>{r.figure}</b>
      <span>
        {r.what}
        {r.detail && <small>{r.detail}</small>}
      </span>
    </p>
  );
}
export function Lines({ title, lines }: { title: string; lines: (string | undefined)[] }) {
  const own = lines.filter(Boolean);
  return own.length ? (
    <section>
      <h2>{title}</h2>
      <ul class="p-list">
        {own.map((l) => (
          <li>{l}</li>
        ))}
      </ul>
    </section>
  ) : null;
}
