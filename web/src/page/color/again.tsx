/* A color that was mixed before, mixed again: by its old recipe where the paints are the same, by a
 * new one for its stored color where one has changed. */
import { useEffect, useState } from 'preact/hooks';
import { get } from '../../net/api';
import { place } from '../../lib/router';
import { useCell } from '../../net/use';
import { say } from '../../ui/said';
import type { MixItem } from './kinds';

interface AgainAnswer {
  name?: string;
  target?: string;
  same?: boolean;
  text?: string;
  items?: MixItem[];
  changed?: { paint: string; name?: string; text?: string }[];
  body?: Record<string, unknown>;
}
/* Where it is mixed again: for the piece that it was for, and as much. */
export const againPath = (of: string, piece?: string, amount?: string) =>
  `/color${piece ? `/${encodeURIComponent(piece)}` : ''}?again=${encodeURIComponent(of)}${
    amount ? `&amount=${encodeURIComponent(amount)}` : ''
  }`;
/* From the address: /color?again=batches/ID or recipes/ID. */
export function useAgain(): AgainAnswer | null {
  const at = useCell(place),
    of = new URLSearchParams(at.split('?')[1] ?? '').get('again') ?? '',
    [kind, id] = of.split('/'),
    [answer, set] = useState<AgainAnswer | null>(null);
  useEffect(() => {
    set(null);
    if (!id) return;
    const path =
      kind === 'recipes'
        ? `/api/recipes/kept/${encodeURIComponent(id)}/again`
        : `/api/batches/${encodeURIComponent(id)}/again`;
    const stop = new AbortController();
    get<AgainAnswer>(path, stop.signal).then(
      (o) => {
        if (!o.ok) say({ text: o.failure.text, stop: true });
        else
          set({
            ...o.body,
            items: o.body.same ? o.body.items : [],
            body: kind === 'recipes' ? { recipe: id } : { batch: id },
          });
      },
      () => undefined,
    );
    return () => stop.abort();
  }, [of]);
  return answer;
}
export function Again({ again }: { again: AgainAnswer }) {
  return (
    <div class="note gap">
      <p>
        <b>{again.name ? `${again.name}, again. ` : ''}</b>
        {again.text}
      </p>
      {again.changed?.map((c) => (
        <p>
          {c.name ?? c.paint}: {c.text}
        </p>
      ))}
    </div>
  );
}
