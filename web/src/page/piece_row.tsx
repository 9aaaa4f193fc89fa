/* A piece by its row of the list: what it is drawn from where its plan is not at hand. */
import { useChoices } from '../net/choices';
import { useAnswer } from '../net/use';
import type { Doc, List, Piece, PieceRow } from '../net/types';
import { PieceThumb } from '../draw/piece';

export const OPEN_PIECES = '/api/pieces?documents=true&stage=open';

/* What a row is drawn from: what was typed of it, else what is usual for its template. */
export function drawnOf(r: PieceRow, usual: Doc | undefined): Piece {
  const of = (k: string) => {
    const n = Number(r.document?.[k] ?? usual?.[k]);
    return Number.isFinite(n) ? n : undefined;
  };
  return {
    template: r.template,
    width_mm: r.width_mm,
    depth_mm: r.depth_mm,
    height_mm: r.height_mm,
    drawers: of('drawers'),
    doors: of('doors'),
    shelves: of('shelves'),
    slats: of('slats'),
    legs: of('legs'),
    count: of('count'),
  };
}
/* The piece that the work of the hour is on, beside it. */
export function PieceOfHour({ id }: { id: string }) {
  const row = useAnswer<List<PieceRow>>(OPEN_PIECES).data?.rows?.find((r) => r.id === id),
    usual = useChoices().templates?.find((x) => x.id === row?.template)?.usual;
  return (
    <div class="thumb">
      {row && <PieceThumb piece={drawnOf(row, usual)} hex={row.shown_hex} />}
    </div>
  );
}
