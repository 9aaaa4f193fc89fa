/* Several of a list. What was chosen stands at once and goes on from there: the next tap must not
 * wait until the book has taken the last one. */
import { useEffect, useRef, useState } from 'preact/hooks';

export function Checks({
  rows,
  chosen,
  put,
}: {
  rows: { id: string; name: string }[];
  chosen: string[];
  put: (ids: string[]) => Promise<boolean>;
}) {
  const [now, draw] = useState(chosen),
    latest = useRef(chosen); /* ahead of what is drawn when taps come fast */
  const set = (ids: string[]) => {
    latest.current = ids;
    draw(ids);
  };
  useEffect(() => set(chosen), [chosen.join()]); /* the book has it, or another has changed it */
  const tap = async (id: string, on: boolean) => {
    const next = latest.current.filter((x) => x !== id);
    set(on ? [...next, id] : next);
    if (!(await put(latest.current))) set(chosen); /* refused: as the book has it */
  };
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
