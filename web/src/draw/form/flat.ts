/* Doors and frames that lie or hang for themselves. */
import { put, type Body, type Faces, type Rect } from './body';
import type { Role } from '../parts';

export function flat(b: Body): Faces {
  const { w, h, d, t } = b,
    role: Role = b.part('frame') ? 'rail' : 'door',
    part = ['door', 'louvers', 'frame'].find(b.part),
    m = Math.min(b.leg ?? 0.16 * w, 0.2 * w),
    inner: Rect = [m, m, w - 2 * m, h - 2 * m];
  const front = [put(role, part, [0, 0, w, h])];
  if (b.part('louvers')) {
    const blades = Math.min(24, Math.max(2, Math.round((h - 2 * m) / (b.open ?? 40)))),
      step = (h - 2 * m) / blades;
    for (let i = 0; i < blades; i++)
      front.push(put('slat', 'louvers', [m, m + i * step, w - 2 * m, 0.8 * step]));
  } else front.push(put(b.part('glass') ? 'back' : 'case', b.part('glass') ? 'glass' : part, inner));
  return { front, side: [put(role, part, [0, 0, b.part('frame') || d < 80 ? d : t, h])] };
}
