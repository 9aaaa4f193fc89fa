/* The plan of a piece that is not in the book yet. */
import { useEffect, useState } from 'preact/hooks';
import type { Basis, Doc, PlanAnswer } from '../net/types';
import { inUnits } from '../lib/settings';
import { specOf } from '../ui/fields';

/* What the plan still lacks, by the name that the field has on the page. */
export function lacking(field: string | undefined, text: string): string {
  const label = specOf((field ?? '').replace(/^\/piece\//, '').replace(/\//g, '.')).label;
  return field?.startsWith('/piece/') && !/\d/.test(label) ? `${label}: ${text}` : text;
}
/* Where the figures of that plan come from: asked when the first one opens. */
function reasons(piece: Doc): (pointer: string) => Promise<Basis | undefined> {
  let all: Promise<Record<string, Basis>> | undefined;
  return async (pointer) => {
    all ??= fetch(inUnits('/api/pieces/preview'), {
      method: 'POST',
      headers: { 'content-type': 'application/json', accept: 'application/json' },
      body: JSON.stringify({ piece, why: true }),
    })
      .then((r) => (r.ok ? r.json() : {}))
      .then((body: PlanAnswer) => body.basis ?? {})
      .catch(() => ({}));
    return (await all)[pointer];
  };
}
/* The plan of what stands here, in the shop with its jars and what is open, a moment after the last
 * change; nothing is saved. */
export function usePreview(piece: Doc, ready: boolean) {
  const [state, set] = useState<{
    plan?: PlanAnswer;
    why?: (pointer: string) => Promise<Basis | undefined>;
    text?: string;
    field?: string;
    busy?: boolean;
  }>({});
  const key = JSON.stringify(piece);
  useEffect(() => {
    if (!ready) {
      set({});
      return;
    }
    const stop = new AbortController();
    const t = setTimeout(async () => {
      set((s) => ({ ...s, busy: true }));
      try {
        const r = await fetch(inUnits('/api/pieces/preview'), {
          method: 'POST',
          signal: stop.signal,
          headers: { 'content-type': 'application/json', accept: 'application/json' },
          body: JSON.stringify({ piece }),
        });
        const body = await r.json();
        set(
          r.ok
            ? { plan: body, why: reasons(piece) }
            : { text: body.error?.text ?? 'It cannot be planned yet.', field: body.error?.field },
        );
      } catch {
        if (!stop.signal.aborted)
          set({
            text: 'The server does not answer; the piece can be saved all the same and is sent later.',
          });
      }
    }, 250);
    return () => {
      clearTimeout(t);
      stop.abort();
    };
  }, [key, ready]);
  return state;
}
