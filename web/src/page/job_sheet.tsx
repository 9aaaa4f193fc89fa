/* A job document served by itself: its pieces one after another, nothing to write to. */
import type { PlanAnswer } from '../net/types';
import { DaysList } from '../draw/days_list';
import { Bases } from '../ui/figure';
import { useShop } from '../ui/frame';
import { SheetRows } from '../ui/sheet';
import { useBases } from './bases';
import { PieceSheet } from './piece_sheet';

export function JobSheet({ plan }: { plan: PlanAnswer }) {
  const { units } = useShop(),
    bases = useBases(plan, null, plan.sheet?.units ?? units);
  const many = (plan.sheet?.pieces?.length ?? 0) > 1;
  return (
    <Bases.Provider value={bases}>
      <div class="head">
        <div>
          <h1>
            {plan.sheet?.title ?? plan.title ?? plan.sheet?.pieces?.[0]?.title ?? 'Job sheet'}
          </h1>
        </div>
        <div class="acts no-print">
          <button class="btn" onClick={() => window.print()}>
            Print the sheet
          </button>
        </div>
      </div>
      {(plan.sheet?.summary ?? []).length > 0 && (
        <div class="gap">
          <SheetRows rows={plan.sheet?.summary ?? []} />
        </div>
      )}
      {(plan.sheet?.pieces ?? []).map((s, i) => (
        <article>
          {many && <h2 class="gap-l">{s.title}</h2>}
          <PieceSheet
            plan={plan}
            piece={plan.pieces?.[i]}
            sheet={s}
            units={plan.sheet?.units ?? units}
            among={many}
          />
        </article>
      ))}
      {many && plan.days?.rows && (
        <DaysList
          tasks={plan.days.rows}
          titles={new Map((plan.pieces ?? []).map((x) => [x.id, x.title ?? x.id]))}
          many
        />
      )}
    </Bases.Provider>
  );
}
