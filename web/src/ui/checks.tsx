/* Several of a list. What was chosen stands at once: the next tap need not wait for the book. */
import { useAhead } from './ahead';

export function Checks({
  rows,
  chosen,
  put,
}: {
  rows: { id: string; name: string }[];
  chosen: string[];
  put: (ids: string[]) => Promise<boolean>;
}) {
  const { now, say } = useAhead(chosen, put);
  const tap = (id: string, on: boolean) =>
    say((was) => {
      const others = was.filter((x) => x !== id);
      return on ? [...others, id] : others;
    });
  return (
    <div class="checks">
      {rows.map((r) => (
        <label>
          <input
            type="checkbox"
            checked={now.includes(r.id)}
            onChange={(e) => void tap(r.id, e.currentTarget.checked)}
          />{' '}
          {r.name}
        </label>
      ))}
    </div>
  );
}
