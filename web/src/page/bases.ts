/* Where the figures of a plan come from, for what opens under them. */
import { useMemo } from 'preact/hooks';
import { get, tick } from '../net/api';
import { useCell } from '../net/use';
import type { Basis, DayTask, List, PlanAnswer, Units } from '../net/types';

/* Bases are asked for once, when the first figure opens; again, where no answer came. */
export function useBases(plan: PlanAnswer, path: string | null, units: Units) {
  return useMemo(() => {
    let all: Promise<Record<string, Basis>> | undefined;
    const find = async (pointer: string) => {
      if (plan.basis && pointer in plan.basis) return plan.basis[pointer];
      all ??= path
        ? get<PlanAnswer>(path).then((o) => {
            if (!o.ok) all = undefined;
            return (o.ok && o.body.basis) || {};
          })
        : Promise.resolve({});
      return (await all)[pointer];
    };
    return { units, find };
  }, [plan, path, units]);
}

/* Of pages that are no sheet: a figure's pointer is the question that has it and its place in the
 * answer ("/api/shopping#/rows/0/buy_ml"); of an hour of the days, the task it is of, of a list the
 * piece ("/api/money/open#chest/hours"). */
export const hourOf = (t: DayTask, member: 'start' | 'dry_until' | 'window_end') =>
  t.piece && `/api/pieces/${encodeURIComponent(t.piece)}/plan#${t.id}/${member}_utc_min`;

/* Of how long a task takes: as its step or its coat says it on the sheet. */
export const handsOf = (t: DayTask) =>
  t.piece && t.hands_min ? `/api/pieces/${encodeURIComponent(t.piece)}/plan#${t.id}/hands_min` : undefined;

interface Row {
  id?: string;
  piece?: string;
}
export function useBookBases(units: Units) {
  const changes = useCell(tick);
  return useMemo(() => {
    const asked = new Map<string, Promise<PlanAnswer>>();
    const find = async (pointer: string) => {
      const [path, at] = pointer.split('#'),
        ask = `${path}${path.includes('?') ? '&' : '?'}why=true`;
      if (!asked.has(ask))
        asked.set(
          ask,
          get<PlanAnswer>(ask).then((o) => {
            if (!o.ok) asked.delete(ask);
            return o.ok ? o.body : {};
          }),
        );
      const { basis, days, rows } = (await asked.get(ask)) as PlanAnswer & List<Row>;
      if (at.startsWith('/')) return basis?.[at];
      const [id, member] = at.split('/'),
        row = (days?.rows ?? rows)?.findIndex((x: Row) => x.id === id || (!days && x.piece === id));
      return basis?.[`${days ? '/days' : ''}/rows/${row}/${member}`];
    };
    return { units, find };
  }, [units, changes]);
}
