/* Front and side of a piece as regions in mm, by the kind of its body: what a drawing of the piece
 * shows of it. Sizes come from its numbers, counts and parts; proportions nobody says are usual ones. */
import type { Piece, Surface } from '../net/types';
import { roleOf } from './parts';
import { bed, crib } from './form/bed';
import type { Body, Faces, Views } from './form/body';
import { cased, lidded, mediaStand, openShelves, pedestalDesk, twoParts } from './form/case';
import { chair } from './form/chair';
import { flat } from './form/flat';
import { columnTable, table } from './form/table';

/* A template that is not named here is drawn as a case. */
const BODIES: Record<string, (b: Body) => Faces> = {
  school_desk: table,
  writing_table: table,
  dining_table: table,
  turned_table: table,
  coffee_table: table,
  side_table: table,
  round_table: columnTable,
  stool: (b) => table(b, 'seat'),
  bench: (b) => table(b, 'seat'),
  side_chair: chair,
  turned_chair: chair,
  rocking_chair: chair,
  wicker_chair: chair,
  outdoor_chair: chair,
  outdoor_bench: chair,
  back_bench: chair,
  bed,
  crib,
  kitchen_doors: flat,
  louvered_doors: flat,
  mirror_frame: flat,
  media_stand: mediaStand,
  desk: pedestalDesk,
  display_cabinet: twoParts,
  blanket_chest: lidded,
  bookcase: openShelves,
  wall_shelf: openShelves,
  dresser: (b) => cased(b, 2),
  sideboard: (b) => cased(b, Math.max(1, b.n.drawers)),
};

function glassOf(piece: Piece): Body['glass'] {
  const of = (piece.fittings?.panels ?? []).filter((p) => p.kind === 'mirror' || p.kind === 'glass');
  return {
    w: of[0]?.width_mm ?? 0,
    h: of[0]?.height_mm ?? 0,
    n: of.reduce((n, p) => n + (p.count ?? 1), 0),
  };
}

export function viewsOf(piece: Piece, surfaces: Surface[]): Views | null {
  const w = piece.width_mm,
    h = piece.height_mm ?? piece.opening_mm;
  if (!w || !h) return null;
  const round = piece.template === 'round_table',
    d = piece.depth_mm ?? (round ? w : Math.min(w, h) / 10),
    form = BODIES[piece.template ?? ''] ?? ((b: Body) => cased(b));
  const faces = form({
    w,
    h,
    d,
    t: Math.min(piece.thickness_mm ?? 20, h / 8),
    leg: piece.leg_mm,
    open: piece.opening_mm,
    n: {
      drawers: Math.min(piece.drawers ?? 0, 40),
      doors: Math.min(piece.doors ?? 0, 20),
      shelves: Math.min(piece.shelves ?? 0, 20),
      slats: Math.min(piece.slats ?? 0, 60),
      legs: piece.legs ?? 0,
    },
    part: (id) => surfaces.find((s) => s.part.id === id),
    may: (id) => !surfaces.length || surfaces.some((s) => s.part.id === id),
    glass: glassOf(piece),
    has: (role) => !surfaces.length || surfaces.some((s) => roleOf(s.part) === role),
  });
  const count = Math.max(1, piece.count ?? 1),
    behind = Math.min(count, 3) - 1;
  return { ...faces, w, d, h, bow: piece.bow_mm ?? 0, count, behind, stepX: 0.12 * w, stepY: 0.035 * h };
}
