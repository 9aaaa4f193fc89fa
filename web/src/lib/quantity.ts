/* A number of the plan in the units a person reads. For labels on drawings and charts and in a basis;
 * every figure of the sheet comes from the server as text. */
import type { Units } from '../net/types';
import { spanText } from './time';

/* To the sixteenth, as on a rule; what is less than that to the thousandth. */
function inches(mm: number): string {
  if (mm < 0) return `-${inches(-mm)}`;
  if (mm > 0 && mm < 25.4 / 16) return `${(mm / 25.4).toFixed(3)} in`;
  const parts = Math.round((mm / 25.4) * 16),
    whole = Math.floor(parts / 16);
  let n = parts % 16,
    d = 16;
  while (n && n % 2 === 0) {
    n /= 2;
    d /= 2;
  }
  if (!n) return `${whole} in`;
  return whole ? `${whole} ${n}/${d} in` : `${n}/${d} in`;
}
function digits(v: number, n: number): string {
  if (v === 0) return '0';
  const p = Math.max(0, n - 1 - Math.floor(Math.log10(Math.abs(v))));
  return v.toLocaleString('en-US', { maximumFractionDigits: Math.min(p, 4) });
}
/* 11 quarters: 2 3/4. */
function inQuarters(n: number): string {
  return [Math.floor(n / 4) || '', ['', '1/4', '1/2', '3/4'][n % 4]].filter(Boolean).join(' ') || '0';
}
/* As cups and spoons show it: a pour keeps the quarter it was read at, from 8 fl oz on all else is
 * said to the half; what no mark of a cup shows is spoons, and less than a spoon drops. */
function ounces(ml: number): string {
  const oz = ml / 29.5735295625,
    size = Math.abs(oz),
    sign = oz < 0 ? '−' : '',
    near = Math.round(size * 4),
    read = near > 0 && Math.abs(size * 4 - near) < 0.02;
  if (size >= 127.75) {
    const whole = Math.round(size),
      rest = whole % 128;
    return `${sign}${Math.floor(whole / 128)} gal${rest ? ` ${rest} fl oz` : ''}`;
  }
  if (read || size >= 0.75 || !ml)
    return `${sign}${inQuarters(read || size < 8 ? near : Math.round(size * 2) * 2)} fl oz`;
  const tsp = Math.round(size * 6 * 4);
  return tsp ? `${sign}${inQuarters(tsp)} tsp` : `${sign}${Math.round(size * 591.47)} drops`;
}
/* Over $100 without cents, to be compared at a look. */
export function money(cent: number): string {
  return dollars(cent, Math.abs(cent) >= 10000 || cent % 100 === 0);
}
/* To the cent: what is signed and what is paid. */
export const exactMoney = (cent: number) => dollars(cent, cent % 100 === 0);
function dollars(cent: number, whole: boolean): string {
  const text = (cent / 100).toLocaleString('en-US', {
    style: 'currency',
    currency: 'USD',
    minimumFractionDigits: whole ? 0 : 2,
    maximumFractionDigits: whole ? 0 : 2,
  });
  return text.replace('-', '−'); /* a minus, as everywhere */
}
export function quantity(v: number, unit: string | undefined, u: Units): string {
  const us = u !== 'metric';
  switch (unit) {
    case 'length':
      return us ? inches(v) : `${digits(v, 4)} mm`;
    case 'film':
      return us ? `${digits(v / 25.4, 2)} mil` : `${digits(v, 3)} µm`;
    case 'area':
      return us ? `${digits(v / 0.09290304, 3)} ft²` : `${digits(v, 3)} m²`;
    case 'volume':
      return us ? ounces(v) : v >= 1000 ? `${digits(v / 1000, 3)} L` : `${digits(v, 3)} ml`;
    case 'mass':
      return us ? `${digits(v / 28.349523125, 3)} oz` : `${digits(v, 3)} g`;
    case 'density':
      return us ? `${digits(v * 8.3454, 3)} lb/gal` : `${digits(v, 3)} g/ml`;
    case 'spread':
      return us ? `${digits(v * 40.7458, 3)} ft²/gal` : `${digits(v, 3)} m²/L`;
    case 'duration':
      return spanText(v);
    case 'temperature':
      return us ? `${Math.round(v * 1.8 + 32)} °F` : `${Math.round(v)} °C`;
    case 'fraction':
      return `${digits(v * 100, 3)} %`;
    case 'money':
      return money(v);
    case 'rate':
      return `${money(v)}/h`;
    case 'force':
      return us ? `${digits(v / 4.4482, 3)} lbf` : `${digits(v, 3)} N`;
    default:
      return digits(v, 4);
  }
}
export function sizeText(
  w: number | undefined,
  d: number | undefined,
  h: number | undefined,
  u: Units,
): string {
  const all = [w, d, h].filter((x): x is number => x !== undefined);
  const unit = u === 'metric' ? ' mm' : ' in';
  return (
    all.map((x) => quantity(x, 'length', u).replace(unit, '')).join(' × ') +
    (all.length ? unit : '')
  );
}
