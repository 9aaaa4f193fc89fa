/* The tasks that a piece's sheet dates: of a closed piece those that are done, and no plan of today. */
import type { DayTask, PlanAnswer, SheetRow } from '../net/types';

export function datedTasks(plan: PlanAnswer, days: SheetRow[]): DayTask[] {
  const dated = new Set(days.map((r) => r.task));
  return (plan.days?.rows ?? []).filter((t) => dated.has(t.id) && t.start_utc_min !== undefined);
}
