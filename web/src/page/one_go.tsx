/* What is never left half done over a break or a night, besides the coats. */
import { named, useChoices } from '../net/choices';
import type { Doc } from '../net/types';
import { Checks } from '../ui/checks';

export function OneGo({
  ids,
  patch,
}: {
  ids: string[];
  patch: (change: Doc, what: string) => Promise<boolean>;
}) {
  const all = useChoices().operations ?? [],
    chosen = new Set(ids);
  return (
    <details class="gap-s">
      <summary>
        {ids.length
          ? `In one go, besides the coats: ${all
              .filter((o) => chosen.has(o.id))
              .map(named)
              .join(', ')}`
          : 'Coats are laid on in one go; other work may stop at a break'}
      </summary>
      <Checks
        rows={all.map((o) => ({ id: o.id, name: named(o) }))}
        chosen={ids}
        put={(next) =>
          patch({ in_one_go: next.length ? next : null }, 'What is done in one go is kept')
        }
      />
    </details>
  );
}
