/* What is never left half done over a break or a night, besides the coats. */
import { named, useChoices } from '../net/choices';
import type { Doc } from '../net/types';

export function OneGo({
  ids,
  patch,
}: {
  ids: string[];
  patch: (change: Doc, what: string) => Promise<boolean>;
}) {
  const all = useChoices().operations ?? [],
    chosen = new Set(ids);
  const put = (id: string, on: boolean) => {
    const next = on ? [...ids, id] : ids.filter((x) => x !== id);
    void patch({ in_one_go: next.length ? next : null }, 'What is done in one go is kept');
  };
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
      <div class="checks">
        {all.map((o) => (
          <label>
            <input
              type="checkbox"
              checked={chosen.has(o.id)}
              onChange={(e) => put(o.id, e.currentTarget.checked)}
            />{' '}
            {named(o)}
          </label>
        ))}
      </div>
    </details>
  );
}
