/* How wide the place of a drawing is: a chart is drawn for the room that is there, never scaled, so
 * that its words keep their size. It is measured before anything is shown, so that nothing jumps. */
import { useLayoutEffect, useRef, useState } from 'preact/hooks';

export function useRoom() {
  const ref = useRef<HTMLDivElement>(null),
    [room, set] = useState(0);
  useLayoutEffect(() => {
    const box = ref.current as HTMLElement,
      measure = () => set(box.clientWidth),
      watch = new ResizeObserver(measure);
    measure();
    watch.observe(box);
    return () => watch.disconnect();
  }, []);
  return { ref, room };
}
/* The width of a drawing that has its words beside it: what a desk gives it, less on a tablet. */
export const wideOf = (room: number) => Math.min(870, Math.max(560, room));
