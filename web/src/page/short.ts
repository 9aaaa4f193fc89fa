/* What runs short, and what to buy of it. */
import type { Units } from '../net/types';
import { money, quantity } from '../lib/quantity';

export interface Short {
  product?: string;
  name?: string;
  buy_ml?: number;
  need_ml?: number;
  stock_ml?: number;
  used_ml?: number;
  cans_text?: string;
  estimated?: boolean;
  cost_cent?: number;
  pieces?: string[];
}
/* What the shelf's record has, and what of it the coats that are done will have taken. */
export function shelfText(s: Short, units: Units): string {
  const stock = `${quantity(s.stock_ml ?? 0, 'volume', units)} on the shelf`;
  return s.used_ml
    ? `${stock}, of it ${quantity(s.used_ml, 'volume', units)} used by coats that are done`
    : stock;
}
/* "1 gallon, 2 quarts, about $87": what to ask for at the counter. */
export function cansText(s: Short): string {
  if (!s.cans_text) return '';
  const about = s.estimated ? 'about ' : '',
    cost = s.cost_cent === undefined ? '' : `, ${about}${money(s.cost_cent)}`;
  return s.cans_text + cost;
}
