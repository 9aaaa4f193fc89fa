/* A color that was mixed for an earlier piece: its batch, and the way to mix it again for this one. */
import type { List } from '../../net/types';
import { useAnswer } from '../../net/use';
import { whenText } from '../../lib/time';
import { againPath } from './again';

interface Mixed {
  id: string;
  piece?: string;
  name?: string;
  target?: string;
  dried?: string;
  predicted_hex?: string;
  made_utc_min?: number;
}
export function MixedBefore({ piece, colors }: { piece: string; colors: (string | undefined)[] }) {
  const wanted = new Set(colors.filter(Boolean).map((c) => (c as string).toLowerCase())),
    rows = useAnswer<List<Mixed>>('/api/batches?limit=200').data?.rows ?? [],
    same = rows.filter(
      (b) =>
        b.piece !== piece &&
        [b.target, b.dried, b.predicted_hex].some((c) => c && wanted.has(c.toLowerCase())),
    );
  if (!same.length) return null;
  return (
    <ul class="rows gap">
      {same.slice(0, 3).map((b) => (
        <li class="when" key={b.id}>
          <b>Mixed before</b>
          <span>
            <a href={`/batches/${encodeURIComponent(b.id)}`}>{b.name ?? b.id}</a>
            <small>{b.made_utc_min ? whenText(b.made_utc_min) : ''}</small>
          </span>
          <a
            class="btn small"
            href={againPath(`batches/${b.id}`, piece)}
          >
            Mix it again<span class="vh">: {b.name ?? b.id}</span>
          </a>
        </li>
      ))}
    </ul>
  );
}
