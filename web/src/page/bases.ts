/* Where the figures of a plan come from, for what opens under them. */
import { useMemo } from 'preact/hooks';
import { get } from '../net/api';
import type { Basis, PlanAnswer, Units } from '../net/types';

/* Bases are asked for once, when the first figure opens. */
export function useBases(plan: PlanAnswer, path: string | null, units: Units) {
  return useMemo(() => {
    let all: Promise<Record<string, Basis>> | undefined;
    const find = async (pointer: string) => {
      if (plan.basis && pointer in plan.basis) return plan.basis[pointer];
      all ??= path
        ? get<PlanAnswer>(path).then((o) => (o.ok ? (o.body.basis ?? {}) : {}))
        : Promise.resolve({});
      return (await all)[pointer];
    };
    return { units, find };
  }, [plan, path, units]);
}
