/* Papers of a piece: job sheet, quote, agreement, care card. Not seen on the screen; the browser
 * prints the one that was asked for, on letter or A4. */
import type { ComponentChildren } from 'preact';
import { useAccepted, wordsOf } from '../page/agreed';
import { Shots, StoryPaper, usePictures } from './story';
import { useAnswer, useCell } from '../net/use';
import type {
  DayTask,
  PiecePlan,
  PlanAnswer,
  SheetPiece,
  SheetRow,
  Shop,
  Units,
} from '../net/types';
import { clockText, dayOf, dueText, longDay, shortDay, spanText, whenText, nowMinutes } from '../lib/time';
import { inUnits } from '../lib/settings';
import { exactMoney, sizeText } from '../lib/quantity';
import { PieceThumb } from '../draw/piece';
import { labCss } from '../draw/parts';
import { paper } from './print';

export { paper, printPaper } from './print';

interface P {
  plan: PlanAnswer;
  piece: PiecePlan | undefined;
  sheet: SheetPiece;
  units: Units;
}
const rowsOf = (s: SheetPiece, id: string) => s.sections?.find((x) => x.id === id)?.rows ?? [];
const isRow = (r: SheetRow) => !r.kind || r.kind === 'row';

function Heads({
  title,
  sub,
  cells,
}: {
  title: string;
  sub?: string;
  cells: [string, ComponentChildren][];
}) {
  return (
    <header class="p-head">
      <h1>{title}</h1>
      {sub && <p>{sub}</p>}
      <dl>
        {cells
          .filter(([, v]) => v)
          .map(([k, v]) => (
            <div>
              <dt>{k}</dt>
              <dd>{v}</dd>
            </div>
          ))}
      </dl>
    </header>
  );
}
function Foot({ shop }: { shop: Shop }) {
  return (
    <footer class="p-foot">
      {shop.name ? `${shop.name}. ` : ''}Printed {whenText(nowMinutes())}. Local rules, the label of
      the product and licensed practice come first.
    </footer>
  );
}
function Signs({ who }: { who: string[] }) {
  return (
    <div class="p-signs">
      {who.map((w) => (
        <p>
          <span />
          {w}, date
        </p>
      ))}
    </div>
  );
}
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

function JobPaper({ plan, piece, sheet, units }: P) {
  const q = piece?.piece,
    summary = sheet.summary ?? [],
    tasks = (plan.days?.rows ?? []).filter(
      (t) => t.piece === sheet.id && t.start_utc_min !== undefined,
    );
  const days = [...new Set(tasks.map((t) => dayOf(t.start_utc_min as number)))];
  const stops = (sheet.sections ?? []).flatMap((s) =>
    (s.rows ?? []).filter((r) => r.kind === 'stop' || r.kind === 'mind'),
  );
  const steps = ['takedown', 'coats'].flatMap((id) =>
    rowsOf(sheet, id).filter((r) => r.kind === 'step' || r.kind === 'head'),
  );
  return (
    <article class="paper-sheet">
      <Heads
        title={sheet.title ?? ''}
        sub={sizeText(q?.width_mm, q?.depth_mm, q?.height_mm, units)}
        cells={summary
          .filter(isRow)
          .slice(0, 8)
          .map((r) => [
            r.what ?? '',
            <span class={r.assumed ? 'p-assumed' : ''}>{r.figure ?? r.detail}</span>,
          ])}
      />
      <Foot shop={plan.shop ?? {}} />
      {stops.length > 0 && (
        <section class="p-stops">
          {stops.slice(0, 8).map((r) => (
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
          <section>
            <h2>Fittings</h2>
            {rowsOf(sheet, 'fittings')
              .filter(isRow)
              .slice(0, 8)
              .map((r) => (
                <PaperRow r={r} />
              ))}
          </section>
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
function PaperRow({ r }: { r: SheetRow }) {
  return (
    <p class="p-row">
      <b class={r.assumed ? 'p-assumed' : ''}>{r.figure}</b>
      <span>
        {r.what}
        {r.detail && <small>{r.detail}</small>}
      </span>
    </p>
  );
}
function Lines({ title, lines }: { title: string; lines: (string | undefined)[] }) {
  const own = lines.filter(Boolean);
  return own.length ? (
    <section>
      <h2>{title}</h2>
      <ul class="p-list">
        {own.map((l) => (
          <li>{l}</li>
        ))}
      </ul>
    </section>
  ) : null;
}
function QuotePaper({ plan, piece, sheet, units }: P) {
  const q = piece?.piece,
    price = piece?.price;
  return (
    <article class="paper-sheet">
      <Heads
        title="Quote"
        sub={`${sheet.title ?? ''}${q?.agreement?.client ? `, for ${q.agreement.client}` : ''}`}
        cells={[
          ['Size', sizeText(q?.width_mm, q?.depth_mm, q?.height_mm, units)],
          [
            'Price',
            price?.price_cent !== undefined && exactMoney(q?.agreement?.quoted_cent ?? price.price_cent),
          ],
          ['Deposit', price?.deposit_cent ? exactMoney(price.deposit_cent) : ''],
          [
            'Ready',
            piece?.deliver_utc_min ? shortDay(piece.deliver_utc_min) : (plan.days?.blocked_by ?? ''),
          ],
        ]}
      />
      <Lines title="The work" lines={price?.work ?? []} />
      <Lines title="Agreed" lines={q?.agreement?.agreed ?? []} />
      <Lines title="Not part of it" lines={q?.agreement?.excluded ?? []} />
      <Lines title="Terms" lines={price?.terms?.split('\n') ?? []} />
      <Signs who={['For the shop', 'Client']} />
      <Foot shop={plan.shop ?? {}} />
    </article>
  );
}
function AgreementPaper({ plan, piece, sheet, units }: P) {
  const accepted = useAccepted(sheet.id ?? '').filter((r) => !r.withdrawn && r.kind !== 'caution'),
    before = usePictures(sheet.id ?? '').filter((p) => p.kind === 'before');
  const q = piece?.piece,
    /* of the reminders to the shop only what the client signs; what it was bought for is not theirs */
    signed = (piece?.agreement ?? []).map((n) => n.signs),
    /* what the work itself waits for; how the shop keeps itself safe is not the client's to sign */
    waits = (piece?.hazards?.notices ?? []).filter((n) => n.rank === 'stop' && n.blocks);
  return (
    <article class="paper-sheet">
      <Heads
        title="Agreement"
        sub={`${sheet.title ?? ''}${q?.agreement?.client ? `, ${q.agreement.client}` : ''}`}
        cells={[
          ['Size', sizeText(q?.width_mm, q?.depth_mm, q?.height_mm, units)],
          ['Due', q?.agreement?.due_day ? dueText(q.agreement.due_day) : ''],
          ['Price', exactMoney(q?.agreement?.quoted_cent ?? piece?.price?.price_cent ?? 0)],
          ['Deposit', exactMoney(q?.agreement?.deposit_cent ?? piece?.price?.deposit_cent ?? 0)],
        ]}
      />
      <Lines title="What it will be used for" lines={[q?.agreement?.use]} />
      <Lines title="The work" lines={piece?.price?.work ?? []} />
      <Lines title="Agreed" lines={q?.agreement?.agreed ?? []} />
      <Lines title="Not part of the work" lines={q?.agreement?.excluded ?? []} />
      <Lines
        title={`Condition when it came${q?.agreement?.seen_day ? `, written down ${dueText(q.agreement.seen_day)}` : ''}`}
        lines={q?.agreement?.marks ?? []}
      />
      {before.length > 0 && <Shots rows={before} title="As it came" />}
      <Lines
        title="Agreed so far"
        lines={accepted.map((r) =>
          [
            r.at_utc_min ? whenText(r.at_utc_min) : '',
            r.kind === 'change' ? 'change' : r.kind,
            r.amount_cent !== undefined ? exactMoney(r.amount_cent) : '',
            r.who,
            wordsOf(r),
          ]
            .filter(Boolean)
            .join(', '),
        )}
      />
      <Lines
        title="Fetching"
        lines={[
          q?.agreement?.collect_day ? `Fetched on ${dueText(q.agreement.collect_day)}.` : undefined,
          q?.agreement?.storage_fee_cent
            ? `Storage after that: ${exactMoney(q.agreement.storage_fee_cent)} a week.`
            : undefined,
          'A change gets its price and its days in writing before it is made.',
        ]}
      />
      <Lines title="Read and accepted" lines={signed} />
      <Lines
        title="Waits for"
        lines={waits.map((n) => n.text)}
      />
      <section>
        <h2>Color</h2>
        <div class="p-swatch">
          <b style={{ background: labCss(piece?.color?.lab) ?? q?.wanted?.color?.hex ?? '#fff' }} />
          <i />
          {q?.agreement?.sample_signed
            ? 'The signed sample card or test board is what is agreed, not this print.'
            : 'No color coat before a sample card or a test board is signed; it is what is agreed, not this print.'}
        </div>
      </section>
      <Signs who={['For the shop', 'Client']} />
      <Foot shop={plan.shop ?? {}} />
    </article>
  );
}
function CarePaper({ plan, piece, sheet }: P) {
  const rows = rowsOf(sheet, 'care');
  return (
    <article class="paper-sheet p-care">
      <Heads
        title="Care"
        sub={sheet.title}
        cells={[
          ['May be handled', piece?.handle_utc_min ? longDay(piece.handle_utc_min) : ''],
          ['Cured', piece?.cured_utc_min ? longDay(piece.cured_utc_min) : ''],
        ]}
      />
      <section>
        {rows.map((r) => (
          <p class="p-row p-until">
            <b>{r.figure}</b>
            <span>
              {r.what}
              {r.detail && <small>{r.detail}</small>}
            </span>
          </p>
        ))}
      </section>
      <Foot shop={plan.shop ?? {}} />
    </article>
  );
}
export function Papers(p: P) {
  const kind = useCell(paper);
  if (!kind || kind === 'label') return null;
  return (
    <div class="paper">
      {kind === 'jobsheet' ? (
        <JobPaper {...p} />
      ) : kind === 'quote' ? (
        <QuotePaper {...p} />
      ) : kind === 'agreement' ? (
        <AgreementPaper {...p} />
      ) : kind === 'story' ? (
        <StoryPaper {...p} />
      ) : (
        <CarePaper {...p} />
      )}
    </div>
  );
}

/* ---- the label of a batch: six a sheet, the recipe, a swatch, a frame for a dab, the code ---- */

interface LabelAnswer {
  title?: string;
  lines?: string[];
  qr?: string;
  hex?: string;
}
export function Label({ id, copies = 1 }: { id: string; copies?: number }) {
  const kind = useCell(paper),
    { data } = useAnswer<LabelAnswer>(
      kind === 'label'
        ? inUnits(
            `/api/batches/${encodeURIComponent(id)}/label?base=${encodeURIComponent(location.origin)}`,
          )
        : null,
    );
  if (kind !== 'label' || !data) return null;
  const code = data.qr;
  return (
    <div class="paper">
      <div class="p-labels">
        {Array.from({ length: copies }, () => (
          <section class="p-label">
            <div>
              <h2>{data.title ?? id}</h2>
              {(data.lines ?? []).map((l) => (
                <p>{l}</p>
              ))}
            </div>
            <div class="p-label-side">
              {code && (
                <img
                  alt={`Code of batch ${id}`}
                  src={`data:image/svg+xml;charset=utf-8,${encodeURIComponent(code)}`}
                />
              )}
              <div class="p-swatch">
                <b style={{ background: data.hex ?? '#fff' }} />
                <i />
              </div>
            </div>
          </section>
        ))}
      </div>
    </div>
  );
}
