/* The mix as it stands, with the colors along every slider. While one answer is under way the
 * latest move waits for it; so a drag shows every color that the server can keep up with, and the
 * last one always. */
import { useEffect, useRef, useState } from 'preact/hooks';
import { get } from '../../net/api';
import { ask, itemsText, type Mix, type MixItem } from './kinds';

const MARKS = 16;

export interface Grid {
  parts: number;
  part_ml?: number;
  measure?: string;
}
export function useMix(
  items: MixItem[],
  target: string,
  grid: Grid,
  revision: number | undefined,
): Mix | undefined {
  const [mix, set] = useState<Mix | undefined>(),
    busy = useRef(false),
    wanted = useRef('');
  const text = itemsText(items),
    all = items.map((i) => `${i.paint}=${i.parts}`).join(',');
  const path = text
    ? ask('/api/mix', {
        items: all,
        target,
        marks: MARKS,
        most: grid.parts,
        part: grid.part_ml ? `${grid.part_ml} ml` : undefined,
        measure: grid.measure,
      })
    : '';
  useEffect(() => {
    wanted.current = path;
    if (!path) set(undefined);
    if (!path || busy.current) return;
    const run = async () => {
      busy.current = true;
      for (let asked = ''; wanted.current && wanted.current !== asked; ) {
        asked = wanted.current;
        const o = await get<Mix>(asked);
        if (o.ok && wanted.current) set(o.body);
      }
      busy.current = false;
    };
    void run();
  }, [path, revision]);
  useEffect(
    () => () => {
      wanted.current = '';
    },
    [],
  );
  return mix;
}
