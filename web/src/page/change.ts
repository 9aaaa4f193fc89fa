/* Changing a piece: one patch, one undo. */
import { changed, send, type Failure, type Outcome } from '../net/api';
import type { Doc, PieceRow } from '../net/types';
import { patchAt } from '../lib/doc';
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
/* What this window itself wrote last of a piece: the next tap may come before the page has read it
 * again, and is no quarrel with anybody. Only for what is not made from the document as it is shown:
 * a list made from an old one would lose what was just added. */
const written = new Map<string, number>();
export function latest(edit: Edited): number | undefined {
  const own = written.get(edit.id);
  return own === undefined || (edit.revision ?? own) > own ? edit.revision : own;
}
export function wrote(id: string, revision: number | undefined) {
  if (revision !== undefined) written.set(id, revision);
}
/* Not taken, because somebody else was faster; what was typed does not stand in the book. */
export const STALE = '';
/* Sets one value of the document; null takes it out. Gives the reason where the server refuses it. */
export async function setValue(
  edit: Edited,
  path: string[],
  value: unknown,
  what: string,
  refused?: (f: Failure) => void,
): Promise<string | undefined> {
  const piece = patchAt(edit.document, path, value),
    whole = JSON.stringify(piece).includes('['); /* a list, as it was shown */
  return patchPiece(whole ? edit : { ...edit, revision: latest(edit) }, { piece }, what, refused);
}
export async function patchPiece(
  edit: Edited,
  body: Doc,
  what: string,
  refused?: (f: Failure) => void,
): Promise<string | undefined> {
  const o = await send<PieceRow & { revision?: number }>({
    method: 'PATCH',
    path: `/api/pieces/${encodeURIComponent(edit.id)}`,
    body,
    revision: edit.revision,
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
}
