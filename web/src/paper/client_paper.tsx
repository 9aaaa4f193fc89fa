/* What the client gets before the work: the quote, and the agreement to sign. */
import { exactMoney, sizeText } from '../lib/quantity';
import { dueText, shortDay, whenText } from '../lib/time';
import { labCss } from '../draw/parts';
import { useAccepted, wordsOf } from '../page/agreed';
import { Shots, usePictures } from './story';
import { Heads, Foot, Signs, Lines, type SheetProps } from './sheet_parts';

export function QuotePaper({ plan, piece, sheet, units }: SheetProps) {
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
          q?.agreement?.due_day ? ['Due', dueText(q.agreement.due_day)] : [
            'Ready',
            piece?.deliver_utc_min ? shortDay(piece.deliver_utc_min) : (plan.days?.blocked_by ?? ''),
          ],
        ]}
      />
      <Lines title="The work" lines={price?.work ?? []} />
      <Lines title="Agreed" lines={q?.agreement?.agreed ?? []} />
      <Lines title="Not part of it" lines={price?.excluded ?? []} />
      <Lines title="Terms" lines={price?.terms?.split('\n') ?? []} />
      <Signs who={['For the shop', 'Client']} />
      <Foot shop={plan.shop ?? {}} />
    </article>
  );
}
export function AgreementPaper({ plan, piece, sheet, units }: SheetProps) {
  const accepted = useAccepted(sheet.id ?? '').filter((r) => !r.withdrawn && r.kind !== 'caution'),
    before = usePictures(sheet.id ?? '').filter((p) => p.kind === 'before');
  const q = piece?.piece,
    /* of the reminders to the shop only what the client signs; what it was bought for is not theirs */
    signed = (piece?.agreement ?? []).map((n) => n.signs),
    /* what the work itself waits for, where that is not signed already; how the shop keeps itself
       safe is not the client's to sign */
    accepts = new Set((piece?.agreement ?? []).filter((n) => n.signs).map((n) => n.topic)),
    waits = (piece?.hazards?.notices ?? []).filter(
      (n) => n.rank === 'stop' && n.blocks && !accepts.has(n.topic),
    );
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
      <Lines title="Not part of the work" lines={piece?.price?.excluded ?? []} />
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
        title="Terms"
        lines={[
          /* what the price hangs on is read and accepted below */
          ...(piece?.price?.terms?.split('\n') ?? []).filter((t) => !signed.includes(t)),
          q?.agreement?.collect_day ? `Fetched on ${dueText(q.agreement.collect_day)}.` : undefined,
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
