/* What a recipe may be made of and measured with; remembered in this browser. */
import { Cell } from '../../lib/cell';
import type { Units } from '../../net/types';
import type { Measured } from '../shelf_measured';

export type Measure = 'fl oz' | 'tsp' | 'ml' | 'gram' | 'drop' | 'part';
export interface Choices {
  amount: string;
  measure: Measure | '' /* the shop's */;
  step: string;
  smallest: string;
  parts: string /* where parts alone count */;
  most: string;
  must: string[];
  never: string[];
  sure: boolean;
  buy: boolean;
}
const USUAL: Choices = {
  amount: '',
  measure: '',
  step: '',
  smallest: '',
  parts: '16',
  most: '3',
  must: [],
  never: [],
  sure: true,
  buy: false,
};
const KEY = 'color.choices';
function read(): Choices {
  try {
    return { ...USUAL, ...(JSON.parse(localStorage.getItem(KEY) ?? '{}') as Partial<Choices>) };
  } catch {
    return USUAL;
  }
}
export const choices = new Cell<Choices>(read());
choices.watch(() => {
  try {
    localStorage.setItem(KEY, JSON.stringify(choices.get()));
  } catch {
    /* then they last as long as the page */
  }
});
export const choose = (c: Partial<Choices>) => choices.set({ ...choices.get(), ...c });

/* A measured target as the search reads it: its reflectance as a table of two columns. */
export const measuredText = (m?: Measured) =>
  m?.spectrum
    ? `wavelength,target\n${m.spectrum.values
        .map((v, i) => `${m.spectrum!.first_nm + i * m.spectrum!.step_nm},${v}`)
        .join('\n')}\n`
    : undefined;

/* How much, also where nothing was said. */
export const wantedAmount = (c: Choices, units: Units) => c.amount || usualAmount(c, units);
/* Drops are counted for a card, not for a batch. */
export const usualAmount = (c: Choices, units: Units) =>
  c.measure === 'drop'
    ? units === 'metric'
      ? '5 ml'
      : '1 tsp'
    : units === 'metric'
      ? '500 ml'
      : '16 fl oz';
/* What the search is asked; the server refuses what makes no sense and says why. */
export function searchOf(target: string, c: Choices, units: Units): Record<string, unknown> {
  const parts = c.measure === 'part';
  return {
    target,
    paints_max: Number(c.most) || 3,
    ...(c.measure ? { measure: c.measure } : {}),
    ...(parts ? { parts: Number(c.parts) || 16 } : { amount: wantedAmount(c, units) }),
    ...(!parts && c.step ? { step: c.step } : {}),
    ...(!parts && c.smallest ? { smallest: c.smallest } : {}),
    ...(c.must.length ? { must: c.must } : {}),
    ...(c.never.length ? { never: c.never } : {}),
    ...(c.sure ? { sure: true } : {}),
    ...(c.buy ? { buy: true } : {}),
  };
}
