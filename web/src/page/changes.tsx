/* Everything that was done in the book, newest first; each can be taken back. */
import { useState } from 'preact/hooks';
import { useAnswer } from '../net/use';
import type { List } from '../net/types';
import { whenText } from '../lib/time';
import { Act, capital } from '../ui/controls';
import { specOf } from '../ui/fields';
import { undo } from './change';

interface Change {
  revision: number;
  at_utc_min?: number;
  operation?: string;
  done?: string;
  what?: string;
  undoes?: number;
  undone_by?: number;
  final?: boolean; /* it cannot be taken back */
}
/* "Farm table: tests/lead" is read as "Farm table: Lead". */
const whatText = (what = '') =>
  what.replace(/: ([a-z_]+(?:\/[a-z_]+)+)$/, (_, path: string) => `: ${specOf(path.replace(/\//g, '.')).label}`);
const sameWords = (a?: string, b?: string) => a?.toLowerCase() === b?.toLowerCase();
export function Changes() {
  const [limit, more] = useState(10),
    answer = useAnswer<List<Change>>(`/api/history?limit=${limit}`).data;
  if (!answer?.rows?.length) return null;
  return (
    <section class="stage" id="done">
      <header>
        <h2>What was done</h2>
        <p>Nothing is lost. Every line can be taken back, and the taking back too.</p>
      </header>
      <div class="stage-body">
        <ol class="rows">
          {answer.rows.map((c) => (
            <li class="when" key={c.revision}>
              <span class="k">{c.at_utc_min !== undefined ? whenText(c.at_utc_min) : ''}</span>
              <span class={c.undone_by === undefined ? undefined : 'done'}>
                {whatText(c.what) || (c.done ?? capital(c.operation))}
                <small>{c.what && !c.undoes && !sameWords(c.what, c.done) ? (c.done ?? capital(c.operation)) : ''}</small>
              </span>
              {c.undone_by === undefined && !c.final && (
                <Act kind="btn small" run={() => undo(c.revision)}>
                  Take back<span class="vh">: {c.done ?? c.operation}, {c.what}</span>
                </Act>
              )}
            </li>
          ))}
        </ol>
        {answer.next && (
          <div class="acts">
            <Act run={() => more(limit + 40)}>More</Act>
          </div>
        )}
      </div>
    </section>
  );
}
