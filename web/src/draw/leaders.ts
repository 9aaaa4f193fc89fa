/* Where the names beside a drawing point: at a place where the part is seen, spread over its height. */
import type { Part } from '../net/types';
import type { Region } from './form/body';

interface Leader {
  part: Part;
  x: number;
  y: number;
}
const ACROSS = [0.04, 0.12, 0.3, 0.5],
  DOWN = [0.1, 0.3, 0.5, 0.7, 0.9],
  NEAR = 0.35; /* how much a way across counts beside one down: a leader is short before it is level */

/* Places on the regions that no later region covers. */
function seen(own: Region[], all: Region[]): [number, number][] {
  const upper = [...all].reverse();
  const top = (x: number, y: number) =>
    upper.find((r) => x >= r.x && x <= r.x + r.w && y >= r.y && y <= r.y + r.h);
  const places = own.flatMap((r) =>
    ACROSS.flatMap((a) =>
      DOWN.map((d): [number, number] => [r.x + a * r.w, r.y + d * r.h]).filter(
        ([x, y]) => top(x, y) === r,
      ),
    ),
  );
  return places.length ? places : [[own[0].x, own[0].y + own[0].h / 2]];
}

/* One place for each part, from the top down. */
export function leaders(parts: { part: Part; front: Region[] }[], all: Region[], h: number): Leader[] {
  const mean = (p: [number, number][]) => p.reduce((s, [, y]) => s + y, 0) / p.length;
  return parts
    .filter((q) => q.front.length)
    .map((q) => ({ part: q.part, places: seen(q.front, all) }))
    .sort((a, b) => mean(a.places) - mean(b.places))
    .map(({ part, places }, i, { length }) => {
      const want = ((i + 0.5) / length) * h,
        cost = ([x, y]: [number, number]) => Math.abs(y - want) + NEAR * x,
        [x, y] = places.reduce((best, p) => (cost(p) < cost(best) ? p : best));
      return { part, x, y };
    })
    .sort((a, b) => a.y - b.y);
}
