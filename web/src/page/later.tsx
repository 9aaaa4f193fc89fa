/* What comes in the second script (rest.ts). It is fetched when the first page stands, so that it is
 * there before somebody wants it, also when the network goes. */
import { useEffect, useState } from 'preact/hooks';
import { Cell } from '../lib/cell';
import { get, heldAnswer } from '../net/api';
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
/* Whether all of these are at hand or were asked for. A page whose parts stand above each other waits
 * for them: what came late would push the rest down under the finger. */
function useThere(asks: string[]): boolean {
  const [there, set] = useState(() => asks.every(heldAnswer));
  useEffect(() => {
    const stop = new AbortController();
    if (!there)
      Promise.all(asks.filter((a) => !heldAnswer(a)).map((a) => get(a, stop.signal))).then(
        () => set(true),
        () => undefined,
      );
    return () => stop.abort();
  }, []);
  return there;
}
const NOTHING: string[] = [];
/* asks: what the page begins with. quiet: nothing is said while it is on its way. */
export function Later({
  of,
  asks = NOTHING,
  quiet,
}: {
  of: (r: Rest) => preact.VNode;
  asks?: string[];
  quiet?: boolean;
}) {
  const r = useCell(rest),
    no = useCell(failed),
    there = useThere(asks);
  useEffect(fetchRest, []);
  if (r && there) return of(r);
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
