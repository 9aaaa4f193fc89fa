/* What comes in the second script (rest.ts). It is fetched when the first page stands, so that it is
 * there before somebody wants it, also when the network goes. */
import { useEffect } from 'preact/hooks';
import { Cell } from '../lib/cell';
import { useCell } from '../net/use';

export type Rest = typeof import('./rest');
const rest = new Cell<Rest | null>(null),
  failed = new Cell(false);

export function fetchRest() {
  if (rest.get()) return;
  failed.set(false);
  import('./rest').then(
    (m) => rest.set(m),
    () => failed.set(true),
  );
}
/* quiet: nothing is said while it is on its way. */
export function Later({ of, quiet }: { of: (r: Rest) => preact.VNode; quiet?: boolean }) {
  const r = useCell(rest),
    no = useCell(failed);
  useEffect(fetchRest, []);
  if (r) return of(r);
  if (quiet) return null;
  return no ? (
    <div class="head">
      <div>
        <h1>This page did not come</h1>
        <p>There is no connection to the book.</p>
      </div>
      <div class="acts">
        <button class="btn main" onClick={fetchRest}>
          Try again
        </button>
      </div>
    </div>
  ) : (
    <p class="say">Opening.</p>
  );
}
