/* What a piece at a flea market is worth: the question as it was typed, and the server's answer. */
import { useEffect, useState } from 'preact/hooks';
import { get } from '../net/api';
import type { Assumption, Basis, Notice, Units } from '../net/types';

export interface Worth {
  text?: string;
  verdict?: 'take' | 'offer' | 'leave';
  name?: string;
  sale_cent?: number;
  fee_cent?: number;
  supplies_cent?: number;
  delivery_cent?: number;
  hours?: number;
  hours_low?: number;
  hours_high?: number;
  hour_cent_per_h?: number;
  hour_low_cent_per_h?: number;
  hour_high_cent_per_h?: number;
  break_even_cent?: number;
  must_bring_cent?: number;
  offer_cent?: number;
  notices?: Notice[];
  assumed?: Assumption[];
  basis?: Record<string, Basis>;
}
export type Said = Record<string, string>;

/* A bare number is meant as a person writes it beside the label: dollars, percent, hours. */
const bare = /^\d+([.,]\d+)?$/;
const written: Record<string, (v: string) => string> = {
  asked: (v) => `$${v}`,
  price: (v) => `$${v}`,
  supplies: (v) => `$${v}`,
  delivery: (v) => `$${v}`,
  pay: (v) => `$${v}/h`,
  fee: (v) => `${v} %`,
  hours: (v) => `${v} h`,
};
export function asked(said: Said, units: Units): Said {
  const out: Said = {};
  for (const [k, v] of Object.entries(said)) {
    const t = v.trim().replace(/^\$/, written[k] ? '' : '$');
    if (!t) continue;
    out[k] = bare.test(t)
      ? (written[k]?.(t.replace(',', '.')) ??
        (/^(width|depth|height)$/.test(k) ? `${t} ${units === 'metric' ? 'mm' : 'in'}` : t))
      : t;
  }
  return out;
}
export function useWorth(said: Said): { worth?: Worth; text?: string } {
  const [state, set] = useState<{ worth?: Worth; text?: string }>({});
  const key = new URLSearchParams({ ...said, why: 'true' }).toString();
  useEffect(() => {
    if (!said.template) {
      set({});
      return;
    }
    const stop = new AbortController();
    const t = setTimeout(async () => {
      try {
        const o = await get<Worth>(`/api/worth?${key}`, stop.signal);
        set((s) => (o.ok ? { worth: o.body } : { ...s, text: o.failure.text }));
      } catch {
        /* a later key has stopped it */
      }
    }, 150);
    return () => {
      clearTimeout(t);
      stop.abort();
    };
  }, [key]);
  return state;
}
