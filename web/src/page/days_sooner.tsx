/* What would bring the days forward: asked for, since each line is laid out anew. */
import { useEffect, useState } from 'preact/hooks';
import { get, tick } from '../net/api';
import { useCell } from '../net/use';
import { shortDay } from '../lib/time';
import { Act } from '../ui/controls';
import { told } from '../ui/said';

interface SoonerAnswer {
  as_it_is?: string;
  rows?: { name: string; text: string; ready_utc_min: number }[];
  in_vain?: string;
}

export function Sooner() {
  const [answer, setAnswer] = useState<SoonerAnswer | null>(null),
    [busy, setBusy] = useState(false),
    changes = useCell(tick);
  useEffect(() => setAnswer(null), [changes]); /* of a book that is another now */
  const look = async () => {
    setBusy(true);
    const o = await get<SoonerAnswer>('/api/days/sooner');
    setBusy(false);
    if (told(o) && o.ok) setAnswer(o.body);
  };
  return (
    <section class="part-h no-print" aria-live="polite">
      {!answer && (
        <div class="acts">
          <Act run={look}>What would bring the days forward</Act>
          {busy && <p class="note">Laying the days out anew, once for each thing: some seconds.</p>}
        </div>
      )}
      {answer && (
        <>
          <h2>What would bring the days forward</h2>
          <p class="note">
            {answer.as_it_is} Each line is the shop otherwise in one thing, likewise.
          </p>
          {!!answer.rows?.length && (
            <ol class="rows">
              {answer.rows.map((r) => (
                <li class="row">
                  <div class="f">{shortDay(r.ready_utc_min)}</div>
                  <div class="w">
                    {r.name}
                    <small>{r.text}</small>
                  </div>
                </li>
              ))}
            </ol>
          )}
          <p class="gap-s">
            {answer.in_vain} <a href="/shop">Change the shop</a>
          </p>
        </>
      )}
    </section>
  );
}
