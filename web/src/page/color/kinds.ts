/* What the server says of colors and mixes, and small words for it. */
import { labCss } from '../../draw/parts';
import type { ColorSaid } from '../../net/types';

export interface MixItem {
  paint: string;
  parts: number;
}
export interface Pour extends MixItem {
  name?: string;
  amount_ml?: number;
  text?: string;
}
export interface Look {
  light: Light;
  hex?: string;
  hex_flat?: string;
  difference?: number;
  difference_flat?: number;
}
export interface Recipe {
  items: Pour[];
  parts?: number;
  lab?: number[];
  hex?: string;
  difference?: number;
  expected_difference?: number;
  difference_90?: number;
  metamerism?: number;
  pour_error?: number;
  cost_cent?: number;
  leftover_parts?: number;
  lights?: Look[];
  proven?: boolean;
}
export interface Recipes {
  recipes?: Recipe[];
  tradeoff?: Recipe[];
  target?: ColorSaid;
  target_hex?: string;
  target_lights?: Look[];
  parts?: number;
  part_ml?: number;
  proof?: { kind?: string; bound?: number; grid_points?: number };
  out_of_reach?: boolean;
  advice?: string;
  coarse?: string /* why it makes more or less than was asked */;
  left_out?: string /* why some paints of the shelf were not looked at */;
}
export interface Mix {
  lab?: number[];
  hex?: string;
  text?: string;
  difference?: number;
  expected_difference?: number;
  difference_90?: number;
  lights?: Look[];
  target_lights?: Look[];
  items?: Pour[];
  ramps?: { paint: string; hex: string[] }[];
  samples?: number;
}
export interface Step {
  paint: string;
  name?: string;
  hex?: string;
  text?: string;
  mark?: string;
  check?: boolean;
}
export interface Steps {
  items?: Pour[];
  steps?: Step[];
  amount_ml?: number;
  error_frac?: number;
  hex?: string;
  difference?: number;
  expected_difference?: number;
  difference_90?: number;
  cost_cent?: number;
  short_of?: string[];
  apart?: string /* why two of the paints do not go together */;
  larger?: string /* why it makes much more than was asked */;
}
export interface NextSample {
  rows?: {
    items?: Pour[];
    hex?: string;
    text?: string;
    before?: number;
    after?: number;
    gain?: number;
  }[];
  text?: string;
  samples?: number;
}

export const LIGHTS = [
  ['d65', 'Daylight'],
  ['a', 'Evening lamp'],
  ['led', 'LED'],
] as const;
export type Light = (typeof LIGHTS)[number][0];
export const SURFACES = [
  ['satin', 'Satin'],
  ['flat', 'Flat'],
] as const;
export type Surface = (typeof SURFACES)[number][0];

export const itemsText = (items: MixItem[]) =>
  items
    .filter((i) => i.parts > 0)
    .map((i) => `${i.paint}=${i.parts}`)
    .join(',');
/* The page that reads a color from a picture: a target, or a sample of these items. */
export const photoPath = (piece?: string, items?: MixItem[]) =>
  `/photo?back=${encodeURIComponent(piece ? `/color/${piece}` : '/color')}${items ? `&items=${encodeURIComponent(itemsText(items))}` : ''}`;
export const css = (m?: { hex?: string; lab?: number[] }) => m?.hex ?? labCss(m?.lab);
export const ask = (path: string, query: Record<string, string | number | undefined>) =>
  `${path}?${Object.entries(query)
    .filter(([, v]) => v !== undefined && v !== '')
    .map(([k, v]) => `${k}=${encodeURIComponent(v as string)}`)
    .join('&')}`;
export const amountOf = (i: Pour) => i.text ?? `${i.parts} ${i.parts === 1 ? 'part' : 'parts'}`;
export const listed = (items: Pour[], name: (id: string) => string) =>
  items
    .filter((i) => i.parts > 0)
    .map((i) => `${amountOf(i)} ${i.name ?? name(i.paint)}`)
    .join(', ');
