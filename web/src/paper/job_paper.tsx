/* The job sheet for the bench: what must not be missed, the days, the steps to tick. */
import type { DayTask } from '../net/types';
import { clockText, dayOf, longDay, spanText, whenText } from '../lib/time';
import { describe, labCss } from '../draw/parts';
import { PieceThumb } from '../draw/piece';
import { Heads, Foot, PaperRow, rowsOf, isRow, type SheetProps } from './sheet_parts';

function Task({ t }: { t: DayTask }) {
  return (
    <li>
      <i />
      <time>{clockText(t.start_utc_min as number)}</time>
      <span>
        {t.name}
        {t.dry_until_utc_min && t.dry_until_utc_min > (t.end_utc_min ?? 0) ? (
          <small>
            dry{' '}
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

export function JobPaper({ plan, piece, sheet }: SheetProps) {
  const summary = sheet.summary ?? [],
    tasks = (plan.days?.rows ?? []).filter(
      (t) => t.piece === sheet.id && t.start_utc_min !== undefined,
    );
  const days = [...new Set(tasks.map((t) => dayOf(t.start_utc_min as number)))];
  /* every Stop, then what to mind, that of the hazards before the rest, as far as there is room */
  const said = [...(sheet.sections ?? [])]
      .sort((a, b) => Number(b.id === 'hazards') - Number(a.id === 'hazards'))
      .flatMap((s) => s.rows ?? []),
    stops = said.filter((r) => r.kind === 'stop'),
    minds = said.filter((r) => r.kind === 'mind').slice(0, Math.max(0, 8 - stops.length));
  const steps = ['takedown', 'coats'].flatMap((id) =>
    rowsOf(sheet, id).filter((r) => r.kind === 'step' || r.kind === 'head'),
  );
  const fittings = rowsOf(sheet, 'fittings').filter(isRow);
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
      {stops.length + minds.length > 0 && (
        <section class="p-stops">
          {[...stops, ...minds].map((r) => (
            <p>
              <b>{r.kind === 'stop' ? 'Stop' : 'Mind'}</b>{' '}
              {[r.what, r.detail].filter(Boolean).join(' ')}
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
                <h2>{longDay(of[0].start_utc_min as number)}</h2>
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
      <div class="p-two">
        <div>
          <section>
            <h2>Color</h2>
            {rowsOf(sheet, 'color')
              .filter(isRow)
              .slice(0, 12)
              .map((r) => (
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
            {rowsOf(sheet, 'amounts')
              .filter(isRow)
              .slice(0, 14)
              .map((r) => (
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
      <section class="p-steps">
        <h2>{days.length ? 'How, coat by coat' : 'Steps'}</h2>
        <ol class="p-tasks p-cols">
          {steps.map((r) =>
            r.kind === 'head' ? (
              <li class="p-sub">{r.what}</li>
            ) : (
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
            ),
          )}
        </ol>
      </section>
    </article>
  );
}
