/* Handing over: care card, the words and pictures of a listing, the story on one page. */
import type { PiecePlan, SheetPiece, Units } from '../net/types';
import { printPaper } from '../paper/print';
import { LISTING_SHOTS, listingOf } from '../paper/story';

export function Handing({
  sheet,
  piece,
  units,
}: {
  sheet: SheetPiece;
  piece: PiecePlan | undefined;
  units: Units;
}) {
  return (
    <div class="no-print gap" role="group" aria-label="Handing over">
      <div class="acts">
        <button type="button" class="btn" onClick={() => printPaper('care')}>
          Print the care card
        </button>
        <button type="button" class="btn" onClick={() => printPaper('story')}>
          Print its story
        </button>
      </div>
      <details class="gap-s">
        <summary>Words and pictures for a listing</summary>
        <label class="field">
          <span class="k">Words; change them as you like</span>
          <textarea class="listing" rows={10} value={listingOf(sheet, piece, units)} />
        </label>
        <p class="k gap-s">Pictures to take</p>
        <ul class="say">
          {LISTING_SHOTS.map((s) => (
            <li>{s}</li>
          ))}
        </ul>
      </details>
    </div>
  );
}
