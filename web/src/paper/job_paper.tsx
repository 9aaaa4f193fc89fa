/* The job sheet for the bench: what must not be missed, the days, the steps to tick. */
import type { DayTask, SheetRow } from '../net/types';
import { datedTasks } from '../lib/dated';
import { clockText, dayOf, longDay, spanText, whenText } from '../lib/time';
import { describe, labCss } from '../draw/parts';
import { PieceThumb } from '../draw/piece';
import { nice } from '../ui/sheet';
import { Heads, Foot, PaperRow, rowsOf, isRow, type SheetProps } from './sheet_parts';
import { doneWord } from '../draw/days_list';

function Task({ t }: { t: DayTask }) {
  return (
    <li>
      <i />
      <time>{clockText(t.start_utc_min as number)}</time>
      <span>
        {t.name}
        {t.dry_until_utc_min && t.dry_until_utc_min > (t.end_utc_min ?? 0) ? (
          <small>
            {doneWord(t)}{' '}
            {dayOf(t.dry_until_utc_min) === dayOf(t.start_utc_min as number)
              ? clockText(t.dry_until_utc_min)
              : whenText(t.dry_until_utc_min)}
          </small>
        ) : null}
      </span>
      <em>{spanText(t.hands_min ?? 0)}</em>
      <u />
    </li>
  );
}

/* The steps under the heads that stand between them. */
function groupsOf(rows: SheetRow[]): { name?: string; steps: SheetRow[] }[] {
  const groups: { name?: string; steps: SheetRow[] }[] = [];
  for (const r of rows)
    if (r.kind === 'head') groups.push({ name: r.what, steps: [] });
    else if (r.kind === 'step') {
      if (!groups.length) groups.push({ steps: [] });
      groups[groups.length - 1].steps.push(r);
    }
  return groups.filter((g) => g.steps.length);
}
function StepGroup({ name, steps }: { name?: string; steps: SheetRow[] }) {
  return (
    <section>
      {name && (
        <header>
          <h3>{name}</h3>
        </header>
      )}
      <ol class="p-tasks">
        {steps.map((r) => (
          <li>
            <i />
            <time>{r.number ?? ''}</time>
            <span>
              {r.what}
              <small>{r.detail}</small>
            </span>
            <em>{r.figure}</em>
            <u />
          </li>
        ))}
      </ol>
    </section>
  );
}

export function JobPaper({ plan, piece, sheet }: SheetProps) {
  const summary = sheet.summary ?? [],
    tasks = datedTasks(plan, rowsOf(sheet, 'days'));
  const days = [...new Set(tasks.map((t) => dayOf(t.start_utc_min as number)))];
  /* a refusal, every Stop, then what to mind, that of the hazards before the rest, as far as there is
   * room */
  const refusal = piece?.hazards?.refused ? summary.filter((r) => !isRow(r)) : [],
    said = [...(sheet.sections ?? [])]
      .sort((a, b) => Number(b.id === 'hazards') - Number(a.id === 'hazards'))
      .flatMap((s) => s.rows ?? []),
    stops = said.filter((r) => r.kind === 'stop'),
    minds = said.filter((r) => r.kind === 'mind').slice(0, Math.max(0, 8 - stops.length));
  const steps = ['takedown', 'coats'].flatMap((id) => groupsOf(rowsOf(sheet, id)));
  const [color, amounts, fittings] = ['color', 'amounts', 'fittings'].map((id) =>
    rowsOf(sheet, id).filter(isRow),
  );
  return (
    <article class="paper-sheet">
      <Heads
        title={sheet.title ?? ''}
        sub={describe(piece)}
        cells={summary
          .filter(isRow)
          .slice(0, 8)
          .map((r) => [
            r.what ?? '',
            <span class={r.assumed ? 'p-assumed' : ''}>{r.figure ?? r.detail}</span>,
          ])}
      />
      <Foot shop={plan.shop ?? {}} />
      {refusal.length + stops.length + minds.length > 0 && (
        <section class="p-stops">
          {[...refusal, ...stops, ...minds].map((r) => (
            <p>
              <b>{r.kind === 'stop' ? 'Stop' : r.kind === 'mind' ? 'Mind' : r.what}</b>{' '}
              {nice([r.kind === 'note' ? '' : r.what, r.detail].filter(Boolean).join(' '))}
              <u />
            </p>
          ))}
        </section>
      )}
      {days.length > 0 && (
        <div class="p-cols">
          {days.map((d) => {
            const of = tasks.filter((t) => dayOf(t.start_utc_min as number) === d);
            return (
              <section>
                <header>
                  <h2>{longDay(of[0].start_utc_min as number)}</h2>
                </header>
                <ol class="p-tasks">
                  {of.map((t) => (
                    <Task t={t} />
                  ))}
                </ol>
              </section>
            );
          })}
        </div>
      )}
      {/* a job that is refused has none of this, and nothing asks for it */}
      {steps.length > 0 && (
        <div class="p-two">
          <div>
            <section>
              <h2>Color</h2>
              {color.slice(0, 12).map((r) => (
                <PaperRow r={r} />
              ))}
              <div class="p-side">
                {piece?.color && (
                  <div class="p-swatch">
                    <b
                      style={{
                        background: labCss(piece.color.lab) ?? piece.color.target?.hex ?? '#fff',
                      }}
                    />
                    <i />
                    as printed, and a dab of the paint
                  </div>
                )}
                {piece && (
                  <PieceThumb
                    piece={piece.piece}
                    surfaces={piece.surfaces?.rows ?? []}
                    color={piece.color}
                    label="Front of the piece"
                  />
                )}
              </div>
            </section>
            {fittings.length > 0 && (
              <section>
                <h2>Fittings</h2>
                {fittings.slice(0, 8).map((r) => (
                  <PaperRow r={r} />
                ))}
              </section>
            )}
          </div>
          <div>
            <section>
              <h2>Amounts</h2>
              {amounts.slice(0, 14).map((r) => (
                <PaperRow r={r} />
              ))}
            </section>
            <section>
              <h2>Air when coating</h2>
              <p class="p-write">
                temperature <u /> humidity <u />
              </p>
              <p class="p-write">
                really mixed <u /> left <u />
              </p>
            </section>
          </div>
        </div>
      )}
      {steps.length > 0 && (
        <section class="p-steps">
          <h2>{days.length ? 'How, coat by coat' : 'Steps'}</h2>
          <div class="p-cols">
            {steps.map((g) => (
              <StepGroup {...g} />
            ))}
          </div>
        </section>
      )}
    </article>
  );
}
