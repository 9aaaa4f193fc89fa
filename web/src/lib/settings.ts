/* What this browser likes to see; kept here, not in the book. */
import { Cell } from './cell';
import type { Units } from '../net/types';

export type Tone = 'light' | 'mid' | 'dark';
function kept<T extends string>(key: string, fallback: T): Cell<T> {
  let was: string | null = null;
  try {
    was = localStorage.getItem(key);
  } catch {
    /* storage may be closed to us */
  }
  const cell = new Cell((was ?? fallback) as T);
  cell.watch(() => {
    try {
      localStorage.setItem(key, cell.get());
    } catch {
      /* then it lasts as long as the page */
    }
  });
  return cell;
}
export const ground = kept<Tone>('ground', 'light');
export const surround = kept<Tone>('surround', 'mid');
export const units = kept<Units | ''>('units', '');

export function startSettings() {
  const root = document.documentElement;
  const apply = () => {
    root.dataset.ground = ground.get();
    root.dataset.surround = surround.get();
  };
  ground.watch(apply);
  surround.watch(apply);
  apply();
}
/* A path with the units that were chosen, if any were. */
export function inUnits(path: string): string {
  const u = units.get();
  return u ? `${path}${path.includes('?') ? '&' : '?'}units=${u}` : path;
}
