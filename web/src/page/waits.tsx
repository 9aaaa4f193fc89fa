/* What a piece's work waits for from outside: a laboratory, a client's yes, an ordered part. */
import { useState } from 'preact/hooks';
import { named, pairs, useChoices } from '../net/choices';
import type { PlanAnswer } from '../net/types';
import { Act, Field, Select } from '../ui/controls';
import { More } from '../ui/more';
import { setValue } from './change';
import type { Editing } from './change';
import { SampleActs } from './outside';
import { listOf, without } from '../lib/doc';
import { shortDay } from '../lib/time';

interface WaitDoc {
  kind: string;
  before?: string;
  until?: string;
  note?: string;
}
const longDate = (iso: string) =>
  new Date(`${iso}T12:00`).toLocaleDateString('en-US', {
    weekday: 'short',
    month: 'short',
    day: 'numeric',
  });

export function Waits({ edit, plan }: { edit: Editing; plan: PlanAnswer }) {
  const choices = useChoices(),
    waits = (edit.document.waits as WaitDoc[] | undefined) ?? [];
  const sample = plan.pieces
    ?.find((p) => p.id === edit.id)
    ?.outside?.find((w) => w.kind === 'sample');
  const [fresh, set] = useState<WaitDoc>({ kind: 'client' });
  const nameOf = (list: typeof choices.waits, id?: string) => {
    const row = list?.find((c) => c.id === id);
    return row ? named(row) : (id ?? '');
  };
  const keep = (next: (were: WaitDoc[]) => WaitDoc[], what: string) =>
    setValue(edit, ['waits'], listOf(next), what);
  /* only steps that this piece has */
  const steps = new Set(
    (plan.days?.rows ?? []).filter((t) => t.piece === edit.id).map((t) => t.operation),
  );
  const before = pairs(
    choices.operations?.filter((o) => steps.has(o.id)),
    'What it usually holds up',
  );
  const add = async () => {
    const clean = Object.fromEntries(Object.entries(fresh).filter(([, v]) => v)) as typeof fresh;
    const no = await keep((were) => [...were, clean], `Waits for ${nameOf(choices.waits, fresh.kind)}`);
    if (no === undefined) set({ kind: 'client' });
    return no;
  };
  return (
    <div class="gap no-print">
      {(waits.length > 0 || sample) && (
        <ul class="rows">
          {sample && (
            <li class="when">
              <b>{sample.until_utc_min === undefined ? 'No date' : shortDay(sample.until_utc_min)}</b>
              <span>
                Waits for the client's signed sample
                <small>
                  {sample.expected_day === undefined
                    ? 'Nobody said when; taken as three days after the card.'
                    : ''}
                </small>
              </span>
              <SampleActs w={{ piece: edit.id, expected_day: sample.expected_day }} />
            </li>
          )}
          {waits.map((w) => (
            <li class="when" key={`${w.kind} ${w.until} ${w.note}`}>
              <b>{w.until ? longDate(w.until) : 'No date'}</b>
              <span>
                Waits for {nameOf(choices.waits, w.kind)}
                <small>
                  {[w.note, w.before && `before: ${nameOf(choices.operations, w.before)}`]
                    .filter(Boolean)
                    .join('. ')}
                </small>
              </span>
              <Act
                kind="btn small"
                run={() =>
                  keep(
                    (were) => without(were, w),
                    `${nameOf(choices.waits, w.kind)} is here`,
                  )
                }
              >
                It is here
              </Act>
            </li>
          ))}
        </ul>
      )}
      <More ask="It must wait for something" keep="Let it wait" run={add}>
        <Select
          label="Waits for"
          value={fresh.kind}
          options={pairs(choices.waits)}
          set={(kind) => set({ ...fresh, kind })}
        />
        <Field
          label="Expected"
          type="date"
          value={fresh.until ?? ''}
          onChange={(e) => set({ ...fresh, until: e.currentTarget.value })}
        />
        <Select
          label="Before"
          value={fresh.before ?? ''}
          options={before}
          set={(v) => set({ ...fresh, before: v })}
        />
        <Field
          label="What exactly"
          value={fresh.note ?? ''}
          onInput={(e) => set({ ...fresh, note: e.currentTarget.value })}
        />
      </More>
    </div>
  );
}
