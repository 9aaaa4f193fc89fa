/* What the app says back: one line above the bottom bar, with what can be done about it. */
import { Cell } from '../lib/cell';
import { type Failure, type Outcome } from '../net/api';
import { useCell } from '../net/use';

export interface Said {
  text: string;
  act?: { word: string; run: () => void };
  stop?: boolean;
}
export const said = new Cell<Said | null>(null);
let timer = 0;
export function say(s: Said | null) {
  window.clearTimeout(timer);
  said.set(s);
  if (s && !s.stop) timer = window.setTimeout(() => said.set(null), s.act ? 12000 : 5000);
}
export function failureText(f: Failure): string {
  if (f.status === 412)
    return `Somebody changed this meanwhile${f.changed?.[0]?.what ? `: ${f.changed.map((c) => c.what).join('; ')}` : ''}. It is shown as it is now; nothing of yours was written.`;
  return f.field ? `${f.field}: ${f.text}` : f.text;
}
/* Says what became of a write; true when it is in the book. */
export function told<T>(o: Outcome<T>, done?: Said): o is Extract<Outcome<T>, { ok: true }> {
  if (o.ok) {
    if (done) say(done);
    return true;
  }
  if ('unsent' in o)
    say({ text: 'No connection. It waits here and is sent as soon as the server answers.' });
  else say({ text: failureText(o.failure), stop: true });
  return false;
}
export function SaidLine() {
  const s = useCell(said);
  return (
    <div class="said" role="status" aria-live="polite">
      {s && (
        <div class={s.stop ? 'said-line said-stop' : 'said-line'}>
          <p>{s.text}</p>
          {s.act && (
            <button
              type="button"
              class="btn"
              onClick={() => {
                s.act?.run();
                say(null);
              }}
            >
              {s.act.word}
            </button>
          )}
          <button type="button" class="btn plain" onClick={() => say(null)}>
            Close
          </button>
        </div>
      )}
    </div>
  );
}
