/* A form that opens in place. Closed, it gives the keyboard back to what opened it. */
import { useLayoutEffect, useRef } from 'preact/hooks';

export function useBack() {
  const box = useRef<HTMLDivElement>(null);
  useLayoutEffect(() => {
    const at = box.current,
      from = document.activeElement as HTMLElement | null;
    return () => {
      if (at?.contains(document.activeElement)) from?.focus?.();
    };
  }, []);
  return box;
}
