/* What the drawings add to a section of a piece's sheet, above its rows. */
import type { VNode } from 'preact';
import { useState } from 'preact/hooks';
import type { PiecePlan, PlanAnswer, SheetRow, Units } from '../net/types';
import { AmountsChart } from '../draw/amounts';
import { DaysPaper, DaysWide } from '../draw/days';
import { datedTasks } from '../lib/dated';
import { DaysLegend } from '../draw/days_legend';
import { DaysNarrow } from '../draw/days_narrow';
import { Film } from '../draw/film';
import { treatmentText } from '../draw/parts';
import { PieceDrawing } from '../draw/piece';
import { nice } from '../ui/sheet';
import type { Editing } from './change';
import { AddPart, PartEdit } from './part';

export function Above({
  id,
  rows,
  plan,
  piece,
  units,
  edit,
}: {
  id: string;
  rows: SheetRow[];
  plan: PlanAnswer;
  piece: PiecePlan | undefined;
  units: Units;
  edit?: Editing;
}): VNode | null {
  const [part, choose] = useState<string | undefined>();
  if (!piece) return null;
  const surfaces = piece.surfaces?.rows ?? [];
  if (id === 'coats') return <Film plan={piece} />;
  if (id === 'surfaces')
    return (
      <>
        <PieceDrawing
          piece={piece.piece}
          surfaces={surfaces}
          color={piece.color}
          units={units}
          chosen={part}
          choose={(x) => choose(x === part ? undefined : x)}
        />
        {part && edit && (
          <PartEdit
            key={part}
            edit={edit}
            surface={surfaces.find((s) => s.part.id === part)}
            close={() => choose(undefined)}
          />
        )}
        {edit && (
          <details class="no-print gap">
            <summary>All parts</summary>
            <ul class="csv gap-b">
              {surfaces.map((s) => (
                <li key={s.part.id}>
                  <button
                    type="button"
                    class="btn small"
                    aria-pressed={part === s.part.id}
                    onClick={() => choose(part === s.part.id ? undefined : s.part.id)}
                  >
                    {nice(s.part.name ?? s.part.id)}
                    <span class="vh">: {treatmentText(s.part.treatment)}. Change it</span>
                  </button>
                </li>
              ))}
            </ul>
          </details>
        )}
        {edit && <AddPart edit={edit} />}
      </>
    );
  if (id === 'fittings' && edit && piece.piece?.fittings?.pulls?.new_spacing_mm)
    return (
      <p class="say no-print">
        <a
          class="btn"
          href={`/api/pieces/${encodeURIComponent(edit.id)}/drill?units=${units}`}
          target="_blank"
          rel="noopener"
        >
          Drilling template, true size
        </a>
      </p>
    );
  if (id === 'amounts') return <AmountsChart amounts={piece.amounts ?? []} units={units} />;
  if (id === 'days') {
    const tasks = datedTasks(plan, rows),
      titles = new Map([[piece.id, piece.title ?? piece.id]]);
    if (!tasks.length) return null;
    const chart = { tasks, titles, shop: plan.shop ?? {}, now: plan.now_utc_min };
    return (
      <>
        <DaysLegend ready={tasks.some((t) => t.setup_min || t.cleanup_min)} />
        <DaysWide {...chart} />
        <DaysPaper {...chart} />
        <DaysNarrow {...chart} />
      </>
    );
  }
  return null;
}
