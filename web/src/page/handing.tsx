/* Handing over: care card, the words and pictures of a listing, the story on one page. */
import { useState } from 'preact/hooks';
import type { Units } from '../net/types';
import { useAnswer } from '../net/use';
import { printPaper } from '../paper/print';

interface Listing {
  text?: string;
  unsaid?: string;
  pictures?: { id: string; what: string; why?: string; taken?: boolean }[];
}

function Words({ id, units }: { id: string; units: Units }) {
  const at = `/api/pieces/${encodeURIComponent(id)}/listing?units=${units}`,
    listing = useAnswer<Listing>(at).data,
    [own, write] = useState<string | undefined>();
  if (!listing) return <p class="note">Writing it down.</p>;
  return (
    <>
      <label class="field">
        <span class="k">Words; change them as you like</span>
        <textarea
          class="listing"
          rows={10}
          value={own ?? listing.text ?? ''}
          onInput={(e) => write(e.currentTarget.value)}
        />
      </label>
      {listing.unsaid && <p class="note">{listing.unsaid} Take out what was not done.</p>}
      <p class="k gap-s">Pictures to take</p>
      <ul class="say">
        {(listing.pictures ?? []).map((s) => (
          <li>
            {s.what} <small>{s.taken ? 'The book has such a picture.' : s.why}</small>
          </li>
        ))}
      </ul>
    </>
  );
}

export function Handing({ id, units }: { id: string; units: Units }) {
  const [open, setOpen] = useState(false);
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
      <details class="gap-s" onToggle={(e) => e.currentTarget.open && setOpen(true)}>
        <summary>Words and pictures for a listing</summary>
        {open && <Words id={id} units={units} />}
      </details>
    </div>
  );
}
