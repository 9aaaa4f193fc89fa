/* The story of a piece on one page: before and after, its colors, what was used, how long it took. */
import { useAnswer } from '../net/use';
import type { List, PiecePlan, PlanAnswer, SheetPiece, Units } from '../net/types';
import { lookOf, type Picture } from '../net/picture';
import { quantity, sizeText } from '../lib/quantity';
import { shortDay } from '../lib/time';
import { labCss } from '../draw/parts';

interface Batch {
  id: string;
  name?: string;
  predicted_hex?: string;
  amount_ml?: number;
}
interface Hours {
  operation?: string;
  actual?: number;
  weight?: number;
  at_utc_min?: number;
}
export function usePictures(id: string): Picture[] {
  return useAnswer<List<Picture>>(`/api/pictures?piece=${encodeURIComponent(id)}`).data?.rows ?? [];
}
export function Shots({ rows, title }: { rows: Picture[]; title: string }) {
  return (
    <section>
      <h2>{title}</h2>
      {rows.length ? (
        <div class="p-shots">
          {rows.slice(0, 2).map((p) => (
            <figure>
              <img src={lookOf(p.id, 900)} alt={title} />
              <figcaption>{p.at_utc_min !== undefined ? shortDay(p.at_utc_min) : ''}</figcaption>
            </figure>
          ))}
        </div>
      ) : (
        <div class="p-noshot">no picture was taken</div>
      )}
    </section>
  );
}
export function StoryPaper({
  plan,
  piece,
  sheet,
  units,
}: {
  plan: PlanAnswer;
  piece: PiecePlan | undefined;
  sheet: SheetPiece;
  units: Units;
}) {
  const id = sheet.id ?? '',
    q = piece?.piece,
    at = `piece=${encodeURIComponent(id)}`;
  const pictures = usePictures(id),
    batches = useAnswer<List<Batch>>(`/api/batches?${at}`).data?.rows ?? [],
    hours = (useAnswer<List<Hours>>(`/api/records?${at}&kind=hours`).data?.rows ?? []).filter(
      (r) => r.actual !== undefined,
    );
  const took = hours.reduce((s, r) => s + (r.actual ?? 0) * (r.weight ?? 1), 0),
    days = hours.map((r) => r.at_utc_min ?? 0).filter(Boolean);
  const work = [
    ...new Set(
      (sheet.sections ?? [])
        .filter((s) => s.id === 'coats')
        .flatMap((s) => s.rows ?? [])
        .filter((r) => r.kind === 'step')
        .map((r) => r.what),
    ),
  ].slice(0, 10);
  const of = (kind: string) => pictures.filter((p) => p.kind === kind);
  return (
    <article class="paper-sheet p-story">
      <header class="p-head">
        <h1>{sheet.title}</h1>
        <p>
          {[
            sizeText(q?.width_mm, q?.depth_mm, q?.height_mm, units),
            q?.wood?.replace(/_/g, ' '),
            q?.year ? `about ${q.year}` : '',
          ]
            .filter(Boolean)
            .join(', ')}
        </p>
      </header>
      <div class="p-two">
        <Shots rows={of('before')} title="Before" />
        <Shots rows={of('after')} title="After" />
      </div>
      <div class="p-two">
        <section>
          <h2>Colors</h2>
          {batches.length > 0
            ? batches.slice(0, 4).map((b) => (
                <div class="p-swatch">
                  <b style={{ background: b.predicted_hex ?? '#fff' }} />
                  {b.name}
                  {b.amount_ml ? `, ${quantity(b.amount_ml, 'volume', units)} mixed` : ''}
                </div>
              ))
            : piece?.color && (
                <div class="p-swatch">
                  <b style={{ background: labCss(piece.color.lab) ?? piece.color.target?.hex ?? '#fff' }} />
                  as planned
                </div>
              )}
          <h2>What was used</h2>
          <ul class="p-list">
            {(piece?.amounts ?? []).slice(0, 8).map((a) => (
              <li>
                {a.name ?? a.product ?? a.class}
                {a.need_ml ? `, about ${quantity(a.need_ml, 'volume', units)}` : ''}
              </li>
            ))}
          </ul>
        </section>
        <section>
          <h2>What was done</h2>
          <ul class="p-list">
            {work.map((w) => (
              <li>{w}</li>
            ))}
          </ul>
          <h2>How long it took</h2>
          <p>
            {took > 0
              ? `${(took / 60).toFixed(1)} hours by hand${days.length ? `, from ${shortDay(Math.min(...days))} to ${shortDay(Math.max(...days))}` : ''}.`
              : `${(piece?.price?.hours ?? 0).toFixed(1)} hours by hand as planned; none are on record yet.`}
          </p>
          {piece?.cured_utc_min && <p>Cured on {shortDay(piece.cured_utc_min)}.</p>}
        </section>
      </div>
      <footer class="p-foot">{plan.shop?.name ?? ''}</footer>
    </article>
  );
}

/* Words for a listing and the pictures it wants, from the plan and the record. */
export function listingOf(sheet: SheetPiece, piece: PiecePlan | undefined, units: Units): string {
  const q = piece?.piece,
    rows = (id: string) => sheet.sections?.find((s) => s.id === id)?.rows ?? [];
  const coats = [
    ...new Set(
      rows('coats')
        .filter((r) => r.kind === 'step')
        .map((r) => r.what),
    ),
  ].filter(Boolean);
  const lead = piece?.inspection?.findings?.find((f) => f.name === 'Lead');
  return [
    `${sheet.title}, ${sizeText(q?.width_mm, q?.depth_mm, q?.height_mm, units)}.`,
    [q?.wood && `Wood: ${q.wood.replace(/_/g, ' ')}.`, q?.year && `Made about ${q.year}.`]
      .filter(Boolean)
      .join(' '),
    coats.length ? `What was done: ${coats.join('; ')}.` : '',
    lead?.verdict ? `Lead: ${lead.verdict}.` : '',
    piece?.cured_utc_min ? `Fully cured on ${shortDay(piece.cured_utc_min)}; light use until then.` : '',
    ...rows('care')
      .slice(0, 4)
      .map((r) => [r.what, r.detail].filter(Boolean).join(' ')),
  ]
    .filter(Boolean)
    .join('\n');
}
export const LISTING_SHOTS = [
  'the front, square on, in even light',
  'three-quarter, from the height of the top',
  'a drawer or door open, the inside seen',
  'a corner close, with the sheen',
  'the mark that stayed, with a rule',
  'before',
];
