import { useEffect, useState } from 'preact/hooks';
import { send, type Failure } from '../../net/api';
import type { Recipes } from './kinds';

/* Recipes for what is asked, searched again when anything in the asking changes. */
export function useRecipes(body: Record<string, unknown> | null, revision?: number) {
  const [state, set] = useState<{ answer?: Recipes; failure?: Failure; busy: boolean }>({
      busy: false,
    }),
    text = body ? JSON.stringify(body) : '';
  useEffect(() => {
    if (!text) {
      set({ busy: false });
      return;
    }
    const stop = new AbortController(); /* the server searches one at a time: the next must not wait */
    set((s) => ({ ...s, busy: true }));
    const t = setTimeout(() => {
      send<Recipes>(
        {
          method: 'POST',
          path: '/api/recipes',
          body: JSON.parse(text),
          what: 'Search recipes',
          keep: false,
          quiet: true,
        },
        stop.signal,
      ).then(
        (o) =>
          set((s) =>
            o.ok
              ? { answer: o.body, busy: false }
              : { answer: s.answer, failure: o.failure, busy: false },
          ),
        () => undefined,
      );
    }, 150);
    return () => {
      clearTimeout(t);
      stop.abort();
    };
  }, [text, revision]);
  return state;
}
