/* What a drawing of a piece is made of: regions in mm, and the body they are laid out from. */
import type { Surface } from '../../net/types';
import type { Role } from '../parts';

export interface Region {
  role: Role;
  part?: string; /* the template's part; the role finds one where the piece has no such part */
  x: number;
  y: number;
  w: number;
  h: number;
  form?: 'turned' | 'taper' | 'feet';
}
export interface Views {
  front: Region[];
  side: Region[];
  w: number;
  d: number;
  h: number;
  bow: number;
  count: number; /* alike */
  behind: number; /* of them, as many are drawn behind the first, each so far aside and up */
  stepX: number;
  stepY: number;
}
export type Faces = Pick<Views, 'front' | 'side'>;

/* What a body is drawn from; leg and open mean what the template says of them. */
export interface Body {
  w: number;
  d: number;
  h: number;
  t: number;
  leg?: number;
  open?: number;
  n: { drawers: number; doors: number; shelves: number; slats: number; legs: number };
  part: (id: string) => Surface | undefined;
  may: (id: string) => boolean; /* it has this part, or its parts are not known yet */
  has: (role: Role) => boolean;
  glass: { w: number; h: number; n: number }; /* mirrors and panes in the doors */
}

/* From the top left corner; y runs down. */
export type Rect = [x: number, y: number, w: number, h: number];
export const put = (role: Role, part: string | undefined, [x, y, w, h]: Rect, form?: Region['form']) =>
  ({ role, part, x, y, w, h, form }) satisfies Region;
/* n of them side by side: each is given the middle of its share. */
export const across = (n: number, from: number, to: number, each: (x: number) => Region) =>
  Array.from({ length: n }, (_, i) => each(from + ((to - from) / n) * (i + 0.5)));
