/* What the app says back: one line above the bottom bar, with what can be done about it. */
import { Cell } from '../lib/cell';
import { type Changed, type Failure, type Outcome } from '../net/api';
import { useCell } from '../net/use';
import { specOf } from './fields';

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
const short = (s: string) => (s.length > 40 ? `${s.slice(0, 38)}…` : s);
function changeText(c: Changed): string {
  const label = specOf(c.pointer.slice(1).replace(/\//g, '.')).label;
  if (c.after === undefined) return `${label} taken out`;
  return `${label} ${c.before === undefined ? '' : `${short(c.before)}, now `}${short(c.after)}`;
}
export type Names = Record<string, string>;
/* The members on the way to what was refused, the last one first: /shop/hours/3/close. */
export const membersOf = (f?: Failure): string[] =>
  (f?.field ?? '')
    .split('/')
    .filter((p) => p && !/^\d+$/.test(p))
    .reverse();

/* names: what a member is called on the page at hand */
export function failureText(f: Failure, names: Names = {}): string {
  if (f.status === 412) {
    const what = (f.changed ?? []).slice(0, 4).map(changeText).join('; ');
    return `Changed meanwhile by another window${what && `: ${what}`}. It is shown as it is now; nothing of yours was written. Look, then do it again.`;
  }
  /* a pointer is for programs; a person is told what the page calls the member, unless the sentence has it */
  const way = membersOf(f),
    named = way.find((m) => names[m]),
    path = way.filter((m) => !/^(piece|pieces)$/.test(m)).reverse().join('.'),
    words = named ? names[named] : path && specOf(path).label;
  return words && !f.text.toLowerCase().includes(words.toLowerCase())
    ? `${words.charAt(0).toUpperCase()}${words.slice(1)}: ${f.text}`
    : f.text;
}
/* Says what became of a write; true when it is in the book. */
export function told<T>(
  o: Outcome<T>,
  done?: Said,
  names?: Names,
): o is Extract<Outcome<T>, { ok: true }> {
  if (o.ok) {
    if (done) say(done);
    return true;
  }
  if ('unsent' in o)
    say({ text: 'No connection. It waits here and is sent as soon as the server answers.' });
  else say({ text: failureText(o.failure, names), stop: true });
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
