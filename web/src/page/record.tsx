/* The record of a piece: where it stands, what was done to it, closing it with what it really took. */
import { useState } from 'preact/hooks';
import { send } from '../net/api';
import { useAnswer } from '../net/use';
import type { List, PiecePlan } from '../net/types';
import { money } from '../lib/quantity';
import { go } from '../lib/router';
import { whenText } from '../lib/time';
import { Act, Field, Seg, capital } from '../ui/controls';
import { told } from '../ui/said';
import { patchPiece, undo, undoAct } from './change';
import type { Editing } from './piece';

export const STAGES = [
  ['looked_over', 'Looked over'],
  ['agreed', 'Agreed'],
  ['in_work', 'In work'],
  ['curing', 'Curing'],
  ['ready', 'Ready'],
  ['closed', 'Closed'],
  ['left', 'Left'],
] as const;
export const stageText = (s: string | undefined) =>
  STAGES.find(([v]) => v === s)?.[1] ?? capital(s);

interface Change {
  revision: number;
  at_utc_min?: number;
  what?: string;
  operation?: string;
  undone?: boolean;
  undoes?: number;
}
interface Closed {
  planned_hours?: number;
  actual_hours?: number;
  planned_material_cent?: number;
  actual_material_cent?: number;
  planned_price_cent?: number;
  actual_price_cent?: number;
  hour_cent?: number;
}

function Close({ edit, plan }: { edit: Editing; plan: PiecePlan | undefined }) {
  const [hours, setHours] = useState(''),
    [price, setPrice] = useState(''),
    [note, setNote] = useState(''),
    [done, setDone] = useState<Closed | null>(null);
  const closing = async () => {
    const body: Record<string, string> = {};
    if (hours) body.hours = /^\d+([.,]\d+)?$/.test(hours) ? `${hours.replace(',', '.')} h` : hours;
    if (price) body.price = /^\d/.test(price) ? `$${price}` : price;
    if (note) body.note = note;
    const o = await send<Closed>({
      method: 'POST',
      path: `/api/pieces/${encodeURIComponent(edit.id)}/close`,
      body,
      revision: edit.revision,
      what: 'Close the job',
    });
    if (told(o, { text: 'Closed.', act: undoAct(o.ok ? o.revision : undefined) }) && o.ok)
      setDone(o.body);
  };
  return (
    <div>
      <div class="form">
        <Field
          label="Hours it took"
          value={hours}
          onInput={(e) => setHours(e.currentTarget.value)}
          help={
            plan?.price?.hours
              ? `Planned ${plan.price.hours.toFixed(1)} h. Empty: the sum of the tasks.`
              : 'Empty: the sum of the tasks.'
          }
        />
        <Field
          label="Price paid"
          value={price}
          onInput={(e) => setPrice(e.currentTarget.value)}
          help={
            plan?.price?.price_cent
              ? `Planned ${money(plan.price.price_cent)}. Empty: the money on record.`
              : undefined
          }
        />
        <Field label="Note" value={note} onInput={(e) => setNote(e.currentTarget.value)} />
      </div>
      <div class="acts">
        <Act kind="btn main" run={closing}>
          Close the job
        </Act>
      </div>
      {done && (
        <p class="note gap">
          <b>
            {done.hour_cent !== undefined ? `An hour earned ${money(done.hour_cent)}.` : 'Closed.'}
          </b>{' '}
          <a href="/money">Planned beside actual</a>
        </p>
      )}
    </div>
  );
}
export function Record({
  edit,
  plan,
  number,
}: {
  edit: Editing;
  plan: PiecePlan | undefined;
  number: number;
}) {
  const at = `/api/pieces/${encodeURIComponent(edit.id)}`,
    history = useAnswer<List<Change>>(`${at}/history`).data?.rows ?? [];
  const stage = edit.row.stage ?? 'looked_over';
  const remove = async () => {
    const o = await send({
      method: 'DELETE',
      path: at,
      revision: edit.revision,
      what: 'Take off the list',
    });
    if (told(o, { text: 'Taken off the list.', act: undoAct(o.ok ? o.revision : undefined) }))
      go('/pieces');
  };
  return (
    <section class="stage no-print" id="record" aria-labelledby="record-t">
      <header>
        <h2 id="record-t">
          <span class="n">{number}</span> Record
        </h2>
        <p>Nothing is lost. Every line can be taken back.</p>
      </header>
      <div class="stage-body">
        <Seg
          label="Where it stands"
          value={stage}
          options={STAGES}
          set={(v) => void patchPiece(edit, { stage: v }, stageText(v))}
        />
        {stage !== 'closed' && (
          <details class="gap">
            <summary>Close the job with what it really took</summary>
            <Close edit={edit} plan={plan} />
          </details>
        )}
        {history.length > 0 && (
          <ol class="rows gap">
            {history.slice(0, 30).map((c) => (
              <li class="when">
                <span class="k">{c.at_utc_min ? whenText(c.at_utc_min) : ''}</span>
                <span>{c.what || capital(c.operation)}</span>
                {!c.undone && (
                  <button class="btn small" onClick={() => void undo(c.revision)}>
                    Take back
                  </button>
                )}
              </li>
            ))}
          </ol>
        )}
        <div class="acts">
          <a class="btn" href={`${at}/document`} download={`${edit.id}.job.json`}>
            Save the job document
          </a>
          <Act run={remove}>Take it off the list</Act>
        </div>
      </div>
    </section>
  );
}
