/* A list of the book that is changed tap by tap. Each tap goes on from what was said last, ahead of
 * what the book is known to have: while a write is under way its older answer takes nothing back. */
import { useEffect, useRef, useState } from 'preact/hooks';

export function useAhead<T, More extends unknown[]>(
  book: T,
  put: (next: T, ...more: More) => Promise<boolean>,
) {
  const [now, draw] = useState(book),
    latest = useRef(book),
    known = useRef(book),
    open = useRef(0);
  known.current = book;
  const show = (v: T) => {
    latest.current = v;
    draw(v);
  };
  useEffect(() => {
    if (!open.current) show(book); /* another has changed it, or it was refused */
  }, [JSON.stringify(book)]);
  const say = async (change: (was: T) => T, ...more: More) => {
    show(change(latest.current));
    open.current++;
    const kept = await put(latest.current, ...more);
    open.current--;
    if (!kept && !open.current) show(known.current);
    return kept;
  };
  return { now, say };
}
