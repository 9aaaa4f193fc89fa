/* What the page begins with: which recipe, and the card to make of a mix. */
import type { MixItem, Pour, Recipe, Recipes } from './kinds';

/* A card is a spoonful: the shares of the mix in the smallest whole parts; where no spoon counts so
 * many it is painted out of the batch, as that is poured. */
const CARD_PARTS = 16;
export function smallest(items: MixItem[], poured: Pour[] = []): Pour[] {
  const two = (a: number, b: number): number => (b ? two(b, a % b) : a),
    by = items.reduce((n, i) => two(n, i.parts), 0) || 1,
    card = items.map((i) => ({ ...i, parts: i.parts / by }));
  if (card.reduce((n, i) => n + i.parts, 0) <= CARD_PARTS) return card;
  return card.map((i) => ({ ...i, text: poured.find((p) => p.paint === i.paint)?.text }));
}

/* The surest; before the first card all is unsure alike, and the nearest on paper, which stands last,
 * is what a card teaches most of. */
export function begunWith(a: Recipes, samples: number): Recipe {
  const rows = a.recipes ?? [];
  return samples ? rows[0] : rows.reduce((x, y) => ((y.difference ?? 0) < (x.difference ?? 0) ? y : x));
}
