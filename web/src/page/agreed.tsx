/* What was agreed on a piece, as it was promised then; and agreeing: quote, change order, sample. */
import { useState } from 'preact/hooks';
import { isKept, send } from '../net/api';
import { useAnswer } from '../net/use';
import type { List } from '../net/types';
import { money } from '../lib/quantity';
import { dueText, whenText } from '../lib/time';
import { Act, Field, Seg, capital } from '../ui/controls';
import { inUnit } from '../lib/bare';
import { useShop } from '../ui/frame';
import { undo } from './change';
import { useRefused } from './refused';
import { OwedLine } from './owed';

interface Accepted {
  number: number;
  revision?: number;
  kind?: string;
  about?: string;
  amount_cent?: number;
  due_day?: number;
  text?: string;
  who?: string;
  at_utc_min?: number;
  corrects?: number;
  withdrawn?: boolean;
  document?: { work?: string[]; agreed?: string[]; excluded?: string[]; marks?: string[]; quote?: string };
}
/* Where nobody said anything the text is the quote as it stood, which is shown by its lines. */
export const wordsOf = (r: Accepted): string => (r.text && r.text !== r.document?.quote ? r.text : '');
export const useAccepted = (id: string): Accepted[] =>
  (
    useAnswer<List<Accepted>>(`/api/pieces/${encodeURIComponent(id)}/accepted`).data?.rows ?? []
  ).filter((r) => r.corrects === undefined);

const KINDS = [
  ['quote', 'Quote'],
  ['agreement', 'Agreement'],
  ['change', 'Change order'],
  ['sample', 'Sample card'],
  ['board', 'Test board'],
] as const;
type Kind = (typeof KINDS)[number][0];

function One({ r }: { r: Accepted }) {
  const d = r.document ?? {};
  const kept: [string, string[] | undefined][] = [
    ['Condition when it came', d.marks],
    ['The work', d.work],
    ['Agreed', d.agreed],
    ['Not part of it', d.excluded],
  ];
  return (
    <li class="when">
      <span class="k">{r.at_utc_min ? whenText(r.at_utc_min) : ''}</span>
      <span>
        <b class={r.withdrawn ? 'withdrawn' : ''}>
          {r.kind === 'sample' && r.about ? `Sample ${r.about}`.replace('Sample board', 'Test board') : capital(r.kind)}
          {r.amount_cent !== undefined
            ? `, ${r.kind === 'change' && r.amount_cent >= 0 ? '+' : ''}${money(r.amount_cent)}`
            : ''}
          {r.due_day !== undefined ? `, for ${dueText(r.due_day)}` : ''}
        </b>
        {r.withdrawn ? ' Taken back.' : ''}
        <small>
          {[r.who, wordsOf(r)].filter(Boolean).join(': ')}
        </small>
        {kept.some(([, l]) => l?.length) && (
          <details>
            <summary>As it was promised</summary>
            {kept.map(([k, l]) =>
              l?.length ? (
                <p class="say">
                  <b>{k}.</b> {l.join('; ')}.
                </p>
              ) : null,
            )}
          </details>
        )}
      </span>
      {!r.withdrawn && r.kind !== 'caution' && (
        <button
          type="button"
          class="btn small"
          aria-label={`Take back: ${capital(r.kind)}`}
          onClick={() => void undo(r.revision)}
        >
          Take back
        </button>
      )}
    </li>
  );
}

export function Agreed({
  id,
  revision,
  client,
}: {
  id: string;
  revision?: number;
  client?: string;
}) {
  const rows = useAccepted(id);
  const [kind, setKind] = useState<Kind>('quote'),
    [who, setWho] = useState(client ?? ''),
    [amount, setAmount] = useState(''),
    [due, setDue] = useState(''),
    [text, setText] = useState(''),
    { took, at } = useRefused({
      who: 'Who agreed',
      amount: kind === 'change' ? 'Adds to the price' : 'Price',
      due: kind === 'change' ? 'New day' : 'Promised for',
      text: kind === 'change' ? 'What changes' : 'In words',
    }),
    { units } = useShop();
  const seen = kind === 'sample' || kind === 'board';
  const accept = async () => {
    const body: Record<string, string> = seen ? { kind: 'sample', about: kind === 'board' ? 'board' : 'card' } : { kind };
    if (who.trim()) body.who = who.trim();
    if (amount.trim() && !seen)
      body.amount = inUnit(amount.trim(), 'money', units) as string;
    if (due && !seen) body.due = due;
    if (text.trim()) body.text = text.trim();
    const o = await send({
      method: 'POST',
      path: `/api/pieces/${encodeURIComponent(id)}/accepted`,
      body,
      revision,
      what: `${KINDS.find((k) => k[0] === kind)?.[1]} agreed`,
    });
    took(o, 'Kept as it was promised.');
    if (isKept(o)) {
      setAmount('');
      setText('');
    }
  };
  return (
    <div class="agreed no-print gap" role="group" aria-label="What was agreed">
      {rows.length > 0 && (
        <ol class="rows">
          {rows.map((r) => (
            <One r={r} key={r.number} />
          ))}
        </ol>
      )}
      <OwedLine id={id} />
      <details class="gap-s">
        <summary>Write down what was agreed</summary>
        <div class="form gap-s">
          <Seg label="What" value={kind} options={KINDS} set={setKind} />
          <Field label="Who agreed" {...at('who', who, setWho)} />
          {!seen && (
            <Field
              label={kind === 'change' ? 'Adds to the price' : 'Price'}
              inputMode="decimal"
              help={kind === 'change' ? '$0 if nothing' : 'Empty: as quoted or planned.'}
              {...at('amount', amount, setAmount)}
            />
          )}
          {!seen && (
            <Field
              label={kind === 'change' ? 'New day' : 'Promised for'}
              type="date"
              {...at('due', due, setDue)}
            />
          )}
          <Field
            label={kind === 'change' ? 'What changes' : 'In words'}
            {...at('text', text, setText)}
          />
        </div>
        <div class="acts">
          <Act kind="btn main" run={accept}>
            It was agreed
          </Act>
        </div>
      </details>
    </div>
  );
}
