/* The guided inspection: the one test worth making now, its answers as taps, what an answer changed
 * in the plan, and all tests with their state. What nobody has tested stays unknown. */
import { useEffect, useRef, useState } from 'preact/hooks';
import { send } from '../net/api';
import { useAnswer } from '../net/use';
import { Act, capital } from '../ui/controls';
import { EditField } from '../ui/edit';
import { specOf } from '../ui/fields';
import { type Edited, inBook } from './change';

interface Answer {
  id: string;
  name?: string;
  means?: string;
  member?: string;
  chosen?: boolean;
}
interface Test {
  id: string;
  name?: string;
  state?: 'next' | 'open' | 'done' | 'skipped' | 'waits' | 'not needed';
  answer?: string;
  told?: string;
  rank?: 'stop' | 'mind';
  what?: string;
  see?: string;
  means?: string;
  waits_for?: string;
  answers?: Answer[];
}
interface Change {
  what?: string;
  before?: string;
  after?: string;
}
interface GuideAnswer {
  next?: string;
  refusal?: string;
  tests?: Test[];
  changed?: Change[];
  revision?: number;
}
const STATE: Record<string, string> = {
  next: 'To test',
  open: 'To test',
  done: 'Tested',
  skipped: 'Skipped, unknown',
  waits: 'Waits',
  'not needed': 'Not needed',
};

export function Changed({ rows }: { rows: Change[] }) {
  if (!rows.length) return <p class="say gap-s">Nothing in the plan has changed.</p>;
  return (
    <div class="changed gap-s" role="status">
      <p class="k">What it changed in the plan</p>
      <ul>
        {rows.map((c) => (
          <li>
            <b>{c.what}</b>{' '}
            {c.before && c.after ? (
              <>
                {c.after} <small>was {c.before}</small>
              </>
            ) : c.after ? (
              `new: ${c.after}`
            ) : (
              <s>{c.before}</s>
            )}
          </li>
        ))}
      </ul>
    </div>
  );
}

function One({
  test,
  give,
  stay,
}: {
  test: Test;
  give: (body: Record<string, unknown>) => Promise<void>;
  stay: () => void; /* it is being answered: what changes elsewhere does not put another in its place */
}) {
  const taps = (test.answers ?? []).filter((a) => !a.member),
    typed = (test.answers ?? []).filter((a) => a.member);
  return (
    <div class="guide-test">
      <h3>{test.name}</h3>
      <dl>
        <dt>Do</dt>
        <dd>{test.what}</dd>
        <dt>Look for</dt>
        <dd>{test.see}</dd>
        <dt>It means</dt>
        <dd>{test.means}</dd>
      </dl>
      {taps.length > 0 && (
        <div class="choices gap-s" role="group" aria-label={`${test.name}: what was seen`}>
          {taps.map((a) => (
            <button
              type="button"
              key={a.id}
              aria-pressed={!!a.chosen}
              onClick={() => void give({ answer: a.id })}
            >
              {a.name}
              <small>{a.means}</small>
            </button>
          ))}
        </div>
      )}
      {typed.length > 0 && (
        <div class="form gap-s" onFocusIn={stay}>
          {typed.map((a) => (
            <EditField
              key={a.id}
              spec={{ ...specOf(a.member as string), label: a.name ?? '' }}
              value={a.chosen ? test.answer : undefined}
              set={(v) => {
                if (v !== null) void give({ answer: a.id, value: String(v) });
              }}
            />
          ))}
        </div>
      )}
    </div>
  );
}

export function Guide({ edit }: { edit: Edited }) {
  const at = `/api/pieces/${encodeURIComponent(edit.id)}`,
    { data } = useAnswer<GuideAnswer>(`${at}/inspection`);
  const [shown, show] = useState<string | undefined>(),
    [changed, setChanged] = useState<{ test: string; rows: Change[] } | undefined>();
  /* Chosen far below in the list, it is answered up here: the page goes there, the keyboard too. */
  const top = useRef<HTMLParagraphElement>(null),
    pick = (id: string) => {
      show(id);
      requestAnimationFrame(() => {
        top.current?.scrollIntoView({ block: 'start' });
        top.current?.focus({ preventScroll: true });
      });
    };
  useEffect(() => show(undefined), [edit.id]);
  if (!data) return null;
  const tests = data.tests ?? [],
    test = tests.find((t) => t.id === (shown ?? data.next));
  const open = tests.filter((t) => t.state === 'next' || t.state === 'open').length,
    skipped = tests.filter((t) => t.state === 'skipped').length;
  const give = async (which: Test, body: Record<string, unknown>) => {
    const o = await send<GuideAnswer>({
      method: 'POST',
      path: `${at}/tests`,
      body: { test: which.id, ...body }, /* one member: it contradicts no other change */
      what: `${which.name}: ${body.skip ? 'skipped' : body.open ? 'open again' : 'answered'}`,
    });
    if (!inBook(o, `${which.name}. Written down.`)) return;
    setChanged({ test: which.name ?? '', rows: o.body.changed ?? [] });
    show((now) => (now === which.id ? undefined : now));
  };
  return (
    <div class="guide no-print gap" aria-label="Guided inspection" role="group">
      {changed && (
        <>
          <p class="k">{changed.test}</p>
          <Changed rows={changed.rows} />
        </>
      )}
      {test ? (
        <>
          <p class="k guide-top" ref={top} tabIndex={-1}>
            {shown && shown !== data.next ? 'Answer' : 'Next test'}
            {open > 0 ? `, ${open} open` : ''}
            {test.rank === 'stop' ? '. Before anything else' : ''}
          </p>
          <One key={test.id} test={test} give={(b) => give(test, b)} stay={() => show(test.id)} />
          <div class="acts">
            {(test.state === 'next' || test.state === 'open') && (
              <Act run={() => give(test, { skip: true })}>Skip: stays unknown</Act>
            )}
            {(test.state === 'done' || test.state === 'skipped') && (
              <Act run={() => give(test, { open: true })}>Not tested</Act>
            )}
            {shown && (
              <button type="button" class="btn" onClick={() => show(undefined)}>
                Back to the next one
              </button>
            )}
          </div>
        </>
      ) : (
        <p class="note">
          <b>No test is open.</b>{' '}
          {data.refusal
            ? 'The job is refused, for the reason that stands above: nothing on it is to be tested.'
            : skipped
              ? `${skipped} skipped: unknown, and planned as the worst it may be.`
              : ''}
        </p>
      )}
      <details class="gap">
        <summary>
          All tests, in the order in which they are made{' '}
          <small class="k">
            {tests.filter((t) => t.state === 'done').length} tested, {open} open
            {skipped ? `, ${skipped} skipped` : ''}
          </small>
        </summary>
        <ol class="rows">
          {tests
            .filter((t) => t.state !== 'not needed')
            .map((t) => (
              <li class="when">
                <span class="k">
                  {t.state === 'waits' && t.waits_for
                    ? `Waits for ${t.waits_for}`
                    : STATE[t.state ?? '']}
                </span>
                <span>
                  <b>{t.name}</b>
                  {t.answer ? `: ${capital(t.answer)}` : ''}
                  {t.told && <small>{t.told}</small>}
                </span>
                {(t.state !== 'waits' || t.waits_for) && (
                  <button
                    type="button"
                    class="btn small"
                    aria-label={`${t.state === 'done' ? 'Again' : 'Answer'}: ${t.name}`}
                    onClick={() => pick(t.id)}
                  >
                    {t.state === 'done' ? 'Again' : 'Answer'}
                  </button>
                )}
              </li>
            ))}
        </ol>
      </details>
    </div>
  );
}
