/* A document as it was typed, and merge patches (RFC 7396) on it. */
import type { Doc } from '../net/types';

export function valueAt(doc: unknown, path: string[]): unknown {
  let v: unknown = doc;
  for (const k of path) {
    if (Array.isArray(v)) v = v.find((x, i) => (x as Doc)?.id === k || String(i) === k);
    else if (v && typeof v === 'object') v = (v as Doc)[k];
    else return undefined;
  }
  return v;
}
/* The patch that sets one value. A list on the way is replaced whole, because a merge patch cannot
 * reach into it; an item that is not there yet is begun with its id. */
export function patchAt(doc: Doc, path: string[], value: unknown): Doc {
  const [k, ...rest] = path;
  if (!rest.length) return { [k]: value };
  const inside = doc[k];
  if (Array.isArray(inside)) return { [k]: itemSet(inside, rest, value) };
  return { [k]: patchAt((inside ?? {}) as Doc, rest, value) };
}
function itemSet(list: unknown[], [which, ...rest]: string[], value: unknown): unknown[] {
  const at = list.findIndex((x, i) => (x as Doc)?.id === which || String(i) === which);
  const old = (at < 0 ? { id: which } : list[at]) as Doc;
  const item = rest.length ? merged(old, patchAt(old, rest, value)) : merged(old, value as Doc);
  return at < 0 ? [...list, item] : list.map((x, i) => (i === at ? item : x));
}
export function merged(a: Doc, b: Doc): Doc {
  const out: Doc = { ...a };
  for (const [k, v] of Object.entries(b)) {
    if (v === null) delete out[k];
    else if (typeof v === 'object' && !Array.isArray(v))
      out[k] = merged((out[k] && typeof out[k] === 'object' ? out[k] : {}) as Doc, v as Doc);
    else out[k] = v;
  }
  return out;
}
/* Leaves out what was not said. */
export function said(doc: Doc): Doc {
  const out: Doc = {};
  for (const [k, v] of Object.entries(doc)) {
    if (v === '' || v === undefined || v === null) continue;
    if (Array.isArray(v)) {
      if (v.length) out[k] = v;
    } else if (typeof v === 'object') {
      const s = said(v as Doc);
      if (Object.keys(s).length) out[k] = s;
    } else out[k] = v;
  }
  return out;
}
/* A count as it was typed: a number where it is one, else the text, which is refused with its field. */
export function counted(text: string): number | string | undefined {
  const t = text.trim();
  return t === '' ? undefined : Number.isFinite(Number(t)) ? Number(t) : t;
}
/* The patch from what stood there to what was typed: only what differs. What was emptied is taken out:
 * of a document by null, of a row of the book by an empty word. */
export function changes(
  typed: Record<string, string>,
  was: Record<string, string | undefined>,
  none: null | '',
): Doc {
  const out: Doc = {};
  for (const [k, v] of Object.entries(typed)) if (v !== (was[k] ?? '')) out[k] = v.trim() || none;
  return out;
}
/* A list of a document made from what stands there; one that is empty is taken out. */
export function listOf<T>(next: (were: T[]) => T[]) {
  return (were: unknown) => {
    const list = next((were as T[] | undefined) ?? []);
    return list.length ? list : null;
  };
}
/* Without the first item that is this one. */
export function without<T>(list: T[], one: T): T[] {
  const text = JSON.stringify(one),
    at = list.findIndex((x) => JSON.stringify(x) === text);
  return list.filter((_, i) => i !== at);
}
