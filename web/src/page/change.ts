/* Changing a piece: one patch, one undo. */
import { changed, heldAnswer, send, type Failure, type Outcome } from '../net/api';
import type { Doc, PieceRow } from '../net/types';
import { patchAt, valueAt } from '../lib/doc';
import { go } from '../lib/router';
import { failureText, say, told, type Names } from '../ui/said';

export async function undo(revision: number | undefined) {
  told(
    await send({
      method: 'POST',
      path: '/api/undo',
      body: revision === undefined ? {} : { revision },
      what: 'Undo',
    }),
    { text: 'Taken back.' },
  );
}
export const undoAct = (revision: number | undefined) => ({
  word: 'Undo',
  run: () => void undo(revision),
});
/* Says what became of a change, with the way back where it was taken; true when it is in the book.
 * names: what a member is called on the page at hand. */
export const inBook = <T>(
  o: Outcome<T>,
  text: string,
  names?: Names,
): o is Extract<Outcome<T>, { ok: true }> =>
  told(o, { text, act: undoAct(o.ok ? o.revision : undefined) }, names);

/* A new piece: on to its page, from which an undo leads back to the list. */
export function entered(o: Outcome<{ id: string }>, text: string): void {
  const back = () => {
    go('/pieces'); /* first: the page would ask for a piece that is not there */
    void undo(o.ok ? o.revision : undefined);
  };
  const act = { word: 'Undo', run: back };
  if (told(o, { text, act })) go(`/pieces/${encodeURIComponent(o.body.id)}`);
}

export interface Edited {
  id: string;
  document: Doc;
  revision?: number;
}
export interface Editing extends Edited {
  row: PieceRow;
}
/* What this window itself wrote last of a piece: the next tap may come before the page has drawn it,
 * and is no quarrel with anybody. What it changes is made from that. */
const written = new Map<string, number>();
export const pieceAt = (id: string) => `/api/pieces/${encodeURIComponent(id)}`;
export function newest<T extends Edited>(edit: T): T {
  const now = heldAnswer<{ document?: Doc }>(pieceAt(edit.id)),
    revision = now?.revision ?? 0;
  return now?.body.document && revision === written.get(edit.id) && revision > (edit.revision ?? revision)
    ? { ...edit, document: now.body.document, revision }
    : edit;
}
export function wrote(id: string, revision: number | undefined) {
  if (revision !== undefined) written.set(id, revision);
}
/* Changes of one piece go one after another: each is made from what the one before came to. */
const turns = new Map<string, Promise<unknown>>();
export function inTurn<T>(id: string, run: () => Promise<T>): Promise<T> {
  const own = (turns.get(id) ?? Promise.resolve()).then(run, run);
  turns.set(id, own);
  return own;
}
/* Not taken, because somebody else was faster; what was typed does not stand in the book. */
export const STALE = '';
/* Sets one value of the document; null takes it out, a function makes it from what stands there. Gives
 * the reason where the server refuses it. */
export function setValue(
  shown: Edited,
  path: string[],
  value: unknown,
  what: string,
  refused?: (f: Failure) => void,
): Promise<string | undefined> {
  const piece = ({ document }: Edited) =>
    patchAt(document, path, typeof value === 'function' ? value(valueAt(document, path)) : value);
  return patchPiece(shown, (edit) => ({ piece: piece(edit) }), what, refused);
}
export function patchPiece(
  shown: Edited,
  body: Doc | ((edit: Edited) => Doc),
  what: string,
  refused?: (f: Failure) => void,
): Promise<string | undefined> {
  return inTurn(shown.id, async () => {
    const edit = newest(shown),
      o = await send<PieceRow & { revision?: number }>({
        method: 'PATCH',
        path: pieceAt(edit.id),
        body: typeof body === 'function' ? body(edit) : body,
        revision: edit.revision,
        shows: pieceAt(edit.id),
        what: `${edit.id}: ${what}`,
      });
    if (o.ok) {
      wrote(edit.id, o.revision);
      say({
        text: `${what}. Everything that hangs on it was computed again.`,
        act: undoAct(o.body.revision ?? o.revision),
      });
      return undefined;
    }
    if (!('unsent' in o) && o.failure.status !== 412) {
      say({ text: failureText(o.failure), stop: true });
      refused?.(o.failure);
      return o.failure.text;
    }
    told(o);
    if ('unsent' in o) return undefined;
    changed(); /* show what the other one wrote */
    return STALE;
  });
}
