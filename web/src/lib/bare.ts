/* A bare number gets the unit in which everybody in this shop would read it; anything else goes to
 * the server as it was typed. Amounts of paint have none: 3 may be fluid ounces or quarts. */
import type { Units } from '../net/types';

export type Measured = 'length' | 'area' | 'distance' | 'temperature' | 'money' | 'rate' | 'share';
const NUMBER = /^\d+([./ ]\d+)*(\/\d+)?$/;

export function inUnit(v: unknown, measured: Measured | undefined, units: Units): unknown {
  if (typeof v !== 'string' || !measured) return v;
  const text = v.trim(),
    n = /^(money|rate)$/.test(measured) ? text.replace(/^\$\s*/, '') : text;
  if (!NUMBER.test(n)) return v;
  switch (measured) {
    case 'length':
      return `${n} ${units === 'metric' ? 'mm' : 'in'}`;
    case 'area':
      return `${n} ${units === 'metric' ? 'm2' : 'ft2'}`;
    case 'distance':
      return `${n} ${units === 'metric' ? 'km' : 'mi'}`;
    case 'temperature':
      return `${n} ${units === 'metric' ? '°C' : '°F'}`;
    case 'money':
      return `$${n}`;
    case 'rate':
      return `$${n}/h`;
    case 'share':
      return `${n} %`;
  }
}
