import { useEffect, useState } from 'preact/hooks';
import { Cell } from '../lib/cell';
import { get, heldAnswer, tick, type Answer, type Failure } from './api';

export function useCell<T>(cell: Cell<T>): T {
  const [, again] = useState(0),
    seen = cell.get();
  useEffect(() => {
    if (cell.get() !== seen) again((n) => n + 1); /* it moved before anybody watched */
    return cell.watch(() => again((n) => n + 1));
  }, [cell]);
  return seen;
}

interface Live<T> {
  data?: T;
  revision?: number;
  failure?: Failure;
  reload: () => void;
}

/* A live answer: what is held is shown at once, then read again, and again when the book changed.
 * What another reader or a write of ours brought since is held too, and shown. */
export function useAnswer<T>(path: string | null): Live<T> {
  const changes = useCell(tick);
  const [asked, ask] = useState(0);
  const [state, set] = useState<{ path: string | null; a?: Answer<T>; failure?: Failure }>({
    path: null,
  });
  const held = path ? heldAnswer<T>(path) : undefined;
  useEffect(() => {
    if (!path) return;
    /* the embedded answer is fresh: it is not asked for again before something changes */
    if (held && changes === 0 && asked === 0 && state.path !== path) {
      set({ path, a: held });
      return;
    }
    const stop = new AbortController();
    get<T>(path, stop.signal).then(
      (o) =>
        set(
          o.ok
            ? { path, a: { body: o.body, revision: o.revision } }
            : { path, a: heldAnswer<T>(path), failure: o.failure },
        ),
      () => undefined,
    );
    return () => stop.abort();
  }, [path, changes, asked]);
  const a = held ?? (state.path === path ? state.a : undefined);
  return {
    data: a?.body,
    revision: a?.revision,
    failure: state.path === path ? state.failure : undefined,
    reload: () => ask((n) => n + 1),
  };
}
