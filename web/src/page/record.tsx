/* The record of a piece: where it stands, what was done to it, closing it with what it really took. */
import { useState } from 'preact/hooks';
import { send } from '../net/api';
import { useAnswer } from '../net/use';
import type { List } from '../net/types';
import { valueAt } from '../lib/doc';
import { go } from '../lib/router';
import { whenText } from '../lib/time';
import { Act, Seg, capital } from '../ui/controls';
import { specOf } from '../ui/fields';
import { useShop } from '../ui/frame';
import { inBook, patchPiece, undo } from './change';
import type { Editing } from './change';
import { Later } from './later';

const STAGES = [
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
  done?: string;
  undoes?: number;
  undone_by?: number;
  changed?: (Member & { of: string })[];
}
/* A value of the document in words: yes and no, a list with commas, of a row its values. */
function valueText(v: string): string {
  const plain = v === 'true' ? 'yes' : v === 'false' ? 'no' : /^[[{]/.test(v) ? rowText(v) : v;
  return plain.length > 40 ? `${plain.slice(0, 38)}…` : plain || 'none';
}
function rowText(json: string): string {
  const words = (x: unknown): string =>
    x && typeof x === 'object'
      ? Object.values(x).map(words).filter(Boolean).join(', ')
      : String(x).replace(/_/g, ' ');
  try {
    return words(JSON.parse(json));
  } catch {
    return json;
  }
}
interface Member {
  member: string;
  before?: string;
  after?: string;
}
/* What came as a whole, the first test or the agreement, as the members it has. */
function members(x: Member): Member[] {
  if (x.before !== undefined || !x.after?.startsWith('{')) return [x];
  try {
    return Object.entries(JSON.parse(x.after) as Record<string, unknown>).flatMap(([k, v]) =>
      members({
        member: `${x.member}/${k}`,
        after: typeof v === 'string' ? v : JSON.stringify(v),
      }),
    );
  } catch {
    return [x];
  }
}
/* "Width 34 in, now 35 in": what of the piece itself was changed. */
function changeText(c: Change): string {
  const own = (c.changed ?? []).filter((x) => x.of === 'piece' && x.after !== undefined && !/_utc_min$/.test(x.member));
  if (!own.length) return c.what || (c.done ?? capital(c.operation));
  return own
    .flatMap(members)
    .slice(0, 3)
    .map((x) => {
      const label = x.member === 'stage' ? 'Stage' : specOf(x.member.replace(/\//g, '.')).label,
        say = (v: string) => (x.member === 'stage' ? stageText(v) : valueText(v));
      return `${capital(label)}: ${x.before === undefined ? '' : `${say(x.before)}, now `}${say(x.after as string)}`;
    })
    .join('; ');
}

export function Record({
  edit,
  number,
}: {
  edit: Editing;
  number: number;
}) {
  const at = `/api/pieces/${encodeURIComponent(edit.id)}`,
    history = useAnswer<List<Change>>(`${at}/history`).data?.rows ?? [];
  const { units } = useShop();
  const [closing, setClosing] = useState(false);
  const stage = edit.row.stage ?? 'looked_over';
  const remove = async () => {
    const o = await send({
      method: 'DELETE',
      path: at,
      revision: edit.revision,
      what: 'Take off the list',
    });
    if (inBook(o, 'Taken off the list.'))
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
          options={STAGES.filter(([v]) => v !== 'closed' || stage === 'closed')}
          set={(v) => void patchPiece(edit, { stage: v }, stageText(v))}
        />
        {stage === 'closed' ? (
          <Later
            quiet
            of={(r) => (
              <>
                <r.CameTo
                  id={edit.id}
                  units={units}
                  sold={valueAt(edit.document, ['agreement', 'purpose']) === 'sale'}
                />
                <r.WhereItWent id={edit.id} />
              </>
            )}
          />
        ) : (
          <details class="gap" onToggle={(e) => e.currentTarget.open && setClosing(true)}>
            <summary>Close the job with what it really took</summary>
            {closing && <Later of={(r) => <r.CloseForm edit={edit} />} />}
          </details>
        )}
        {history.length > 0 && (
          <ol class="rows gap">
            {history.slice(0, 30).map((c) => (
              <li class="when">
                <span class="k">{c.at_utc_min ? whenText(c.at_utc_min) : ''}</span>
                <span class={c.undone_by === undefined ? undefined : 'done'}>{changeText(c)}</span>
                {c.undone_by === undefined && (
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
