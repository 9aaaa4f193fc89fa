/* The story of a piece on one page: before and after, its colors, what was used, how long it took. */
import { useAnswer } from '../net/use';
import type { List, PlanAnswer, SheetPiece, Units } from '../net/types';
import { lookOf, type Picture } from '../net/picture';
import { quantity } from '../lib/quantity';
import { handsText, shortDay } from '../lib/time';

interface Product {
  name?: string;
  class?: string;
  planned_ml?: number;
  actual_ml?: number;
}
interface Story {
  title?: string;
  size?: string;
  wood?: string;
  year?: number;
  colors?: { name?: string; hex?: string; mixed_ml?: number }[];
  used?: Product[];
  work?: string[];
  unsaid?: string[];
  hours_planned?: number;
  hours_actual?: number;
  begun_utc_min?: number;
  done_utc_min?: number;
  cured_utc_min?: number;
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
const amounts = (p: Product, units: Units) =>
  [
    p.actual_ml !== undefined ? `${quantity(p.actual_ml, 'volume', units)} used` : 'none logged',
    p.planned_ml !== undefined ? `${quantity(p.planned_ml, 'volume', units)} planned` : 'not planned',
  ].join(', ');

export function StoryPaper({ plan, sheet, units }: { plan: PlanAnswer; sheet: SheetPiece; units: Units }) {
  const id = sheet.id ?? '';
  const pictures = usePictures(id),
    story = useAnswer<Story>(`/api/pieces/${encodeURIComponent(id)}/story?units=${units}`).data,
    t = story ?? {};
  const of = (kind: string) => pictures.filter((p) => p.kind === kind);
  const took = [
    t.hours_actual !== undefined ? `${handsText(t.hours_actual)} by hand` : '',
    t.hours_planned !== undefined ? `${handsText(t.hours_planned)} planned` : '',
  ].filter(Boolean);
  return (
    <article class="paper-sheet p-story" aria-busy={!story}>
      <header class="p-head">
        <h1>{sheet.title}</h1>
        <p>{[t.size, t.wood, t.year ? `about ${t.year}` : ''].filter(Boolean).join(', ')}</p>
      </header>
      <div class="p-two">
        <Shots rows={of('before')} title="Before" />
        <Shots rows={of('after')} title="After" />
      </div>
      <div class="p-two">
        <section>
          <h2>Colors</h2>
          {(t.colors ?? []).slice(0, 4).map((c) => (
            <div class="p-swatch">
              <b style={{ background: c.hex ?? '#fff' }} />
              {c.mixed_ml !== undefined
                ? `${c.name ?? ''}, ${quantity(c.mixed_ml, 'volume', units)} mixed`
                : 'as planned'}
            </div>
          ))}
          <h2>What was used</h2>
          <ul class="p-list">
            {(t.used ?? []).slice(0, 10).map((p) => (
              <li>
                {p.name ?? p.class}: {amounts(p, units)}
              </li>
            ))}
          </ul>
        </section>
        <section>
          <h2>What was done</h2>
          <ul class="p-list">
            {(t.work ?? []).slice(0, 16).map((w) => (
              <li>{w}</li>
            ))}
          </ul>
          <h2>How long it took</h2>
          <p>
            {took.join(', ')}
            {t.begun_utc_min !== undefined && t.done_utc_min !== undefined
              ? `, from ${shortDay(t.begun_utc_min)} to ${shortDay(t.done_utc_min)}`
              : ''}
            .
          </p>
          {t.cured_utc_min !== undefined && <p>Cured on {shortDay(t.cured_utc_min)}.</p>}
          {(t.unsaid ?? []).filter((u) => !/picture/.test(u)).map((u) => (
            <p class="p-unsaid">{u}</p>
          ))}
        </section>
      </div>
      <footer class="p-foot">{plan.shop?.name ?? ''}</footer>
    </article>
  );
}
