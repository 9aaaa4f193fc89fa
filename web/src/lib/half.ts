/* A form that is half filled: kept by this window until it is sent, so that a look at another page,
 * the way back, or a page that is loaded anew loses no word of it. */
import { useRef, useState } from 'preact/hooks';

const at = (key: string) => `half ${key}`;
function read(key: string): string | null {
  try {
    return sessionStorage.getItem(at(key));
  } catch {
    return null; /* storage may be closed to us; then it lasts as long as the form */
  }
}
function keep(key: string, text: string | null) {
  try {
    if (text === null) sessionStorage.removeItem(at(key));
    else sessionStorage.setItem(at(key), text);
  } catch {
    /* as above */
  }
}
export const isHalf = (key: string) => read(key) !== null;

/* The form's value, its setter, and what empties it (without a key it is kept nowhere); `begun` while it differs from an empty one. What is
 * set is kept at once: the tap that leaves a field may leave the page. */
export function useHalf<T>(key: string | undefined, empty: T) {
  const blank = JSON.stringify(empty),
    [value, show] = useState<T>(() => JSON.parse((key && read(key)) || blank) as T),
    now = useRef(value),
    put = (next: T, text: string) => {
      now.current = next;
      if (key) keep(key, text === blank ? null : text);
      show(next);
    };
  return {
    value,
    set: (v: T | ((was: T) => T)) => {
      const next = typeof v === 'function' ? (v as (was: T) => T)(now.current) : v;
      put(next, JSON.stringify(next));
    },
    clear: () => put(JSON.parse(blank) as T, blank),
    begun: JSON.stringify(value) !== blank,
  };
}
