/* Where the figures of a plan come from, for what opens under them. */
import { useMemo } from 'preact/hooks';
import { get } from '../net/api';
import type { Basis, PlanAnswer, Units } from '../net/types';

/* A finding of the inspection is a word with its own reason and source. */
function findingAt(plan: PlanAnswer, pointer: string): Basis | undefined {
  const m = /^\/pieces\/(\d+)\/inspection\/findings\/(\d+)\/verdict$/.exec(pointer),
    f = m && plan.pieces?.[Number(m[1])]?.inspection?.findings?.[Number(m[2])];
  if (!f) return undefined;
  const sure: Record<string, string> = { tested: 'measured', seen: 'measured', assumed: 'assumed' };
  return {
    inputs: [{ name: f.name, text: f.verdict }],
    rule: f.detail,
    source: f.source,
    certainty: sure[f.state ?? ''] ?? f.state,
  };
}
/* Bases are asked for once, when the first figure opens. */
export function useBases(plan: PlanAnswer, path: string | null, units: Units) {
  return useMemo(() => {
    let all: Promise<Record<string, Basis>> | undefined;
    const find = async (pointer: string) => {
      if (plan.basis && pointer in plan.basis) return plan.basis[pointer];
      const finding = findingAt(plan, pointer);
      if (finding) return finding;
      all ??= path
        ? get<PlanAnswer>(path).then((o) => (o.ok ? (o.body.basis ?? {}) : {}))
        : Promise.resolve({});
      return (await all)[pointer];
    };
    return { units, find };
  }, [plan, path, units]);
}
