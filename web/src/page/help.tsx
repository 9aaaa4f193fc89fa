/* Help at a step: what must be read before it, how it is done, and what to do when it goes wrong. */
import { useEffect, useRef, useState } from 'preact/hooks';
import { send } from '../net/api';
import { useAnswer } from '../net/use';
import type { Notice, Units } from '../net/types';
import { quantity } from '../lib/quantity';
import { whenText } from '../lib/time';
import { Act, capital } from '../ui/controls';
import { useShop } from '../ui/frame';
import { nice } from '../ui/sheet';
import { told } from '../ui/said';
import { Notices, Warn, firstStrong } from '../ui/warn';
import { SampleActs } from './outside';

interface Defect {
  id: string;
  name?: string;
  see?: string;
  cause?: string;
  cure?: string;
  prevent?: string;
}
interface Caution {
  id: string;
  text?: string;
  remedy?: string;
  read_utc_min?: number;
}
interface Help {
  piece: string;
  name?: string;
  how?: string;
  why?: string;
  tool?: string;
  grit?: number;
  grit_curves?: number;
  hands_min?: number;
  wait_min?: number;
  notes?: { topic: string; text: string }[];
  defects?: Defect[];
  cautions?: Caution[];
  blocked?: Notice[];
}
const helpPath = (task: string) => `/api/tasks/${encodeURIComponent(task)}/help`;

function Cautions({ help, then }: { help: Help; then?: () => Promise<void> }) {
  const open = (help.cautions ?? []).filter((c) => c.read_utc_min === undefined),
    read = (help.cautions ?? []).filter((c) => c.read_utc_min !== undefined);
  const accept = async () => {
    for (const c of open) {
      const o = await send({
        method: 'POST',
        path: `/api/pieces/${encodeURIComponent(help.piece)}/accepted`,
        body: { kind: 'caution', about: c.id },
        what: 'A caution was read',
      });
      if (!told(o, { text: 'Read, and kept with the date.' })) return;
    }
    await then?.();
  };
  return (
    <>
      {open.length > 0 && (
        <div class="warns">
          <p class="k">Read before the first such step</p>
          {open.map((c) => (
            <Warn rank="mind">
              <p>
                {firstStrong(c.text ?? '')} {c.remedy}
              </p>
            </Warn>
          ))}
          <div class="acts">
            <Act kind="btn main" run={accept}>
              {then ? 'I have read it: go on' : 'I have read it'}
            </Act>
          </div>
        </div>
      )}
      {read.length > 0 && (
        <p class="note">
          <b>
            {read.length === 1 ? 'A caution was' : `${read.length} cautions were`} read{' '}
            {whenText(read[0].read_utc_min as number)}.
          </b>{' '}
          {read.map((c) => c.text?.split('. ')[0]).join('. ')}.
        </p>
      )}
    </>
  );
}

function How({ h, units }: { h: Help; units: Units }) {
  const grit = [
    h.grit ? `${h.grit} grit` : '',
    h.grit_curves && h.grit_curves !== h.grit ? `${h.grit_curves} on curves` : '',
  ]
    .filter(Boolean)
    .join(', ');
  const lines: [string, string | undefined][] = [
    ['Why', h.why],
    ['How', h.how],
    ['With', [nice(h.tool), grit].filter(Boolean).join(', ')],
    ['Takes', h.hands_min ? quantity(h.hands_min, 'duration', units) : ''],
    ['Then waits', h.wait_min ? quantity(h.wait_min, 'duration', units) : ''],
    ...(h.notes ?? []).map((n): [string, string] => [capital(n.topic), n.text]),
  ];
  return (
    <dl class="help-lines">
      {lines
        .filter(([, v]) => v)
        .map(([k, v], i, all) => (
          <>
            <dt class={all[i - 1]?.[0] === k ? 'vh' : undefined}>{k}</dt>
            <dd>{v}</dd>
          </>
        ))}
    </dl>
  );
}

function Wrong({ defects }: { defects: Defect[] }) {
  const [id, choose] = useState<string | undefined>(),
    told = useRef<HTMLDivElement>(null),
    d = defects.find((x) => x.id === id);
  useEffect(() => told.current?.scrollIntoView({ block: 'nearest' }), [id]);
  return (
    <div class="gap-s">
      <p class="k" id="wrong-look">
        Something went wrong: what does it look like?
      </p>
      <div class="choices" role="group" aria-labelledby="wrong-look">
        {defects.map((x) => (
          <button
            type="button"
            key={x.id}
            aria-pressed={x.id === id}
            onClick={() => choose(x.id === id ? undefined : x.id)}
          >
            {x.see}
            <small>{x.name}</small>
          </button>
        ))}
      </div>
      {d && (
        <div class="help-defect gap-s" role="status" ref={told}>
          <h3>{d.name}</h3>
          <dl class="help-lines">
            <dt>Comes from</dt>
            <dd>{d.cause}</dd>
            <dt>Do now</dt>
            <dd>{d.cure}</dd>
            <dt>Next time</dt>
            <dd>{d.prevent}</dd>
          </dl>
        </div>
      )}
    </div>
  );
}

/* Folded below a step of the sheet. */
export function StepFold({ task }: { task: string }) {
  const [open, show] = useState(false);
  return (
    <details open={open} onToggle={(e) => show(e.currentTarget.open)}>
      <summary>How, or what went wrong</summary>
      {open && <StepHelp task={task} />}
    </details>
  );
}

/* `then` goes on with what was pressed, once everything was read. */
export function StepHelp({ task, then }: { task: string; then?: () => Promise<void> }) {
  const { data, failure } = useAnswer<Help>(helpPath(task)),
    { units } = useShop();
  if (!data)
    return failure ? <p class="note">{failure.text}</p> : <p class="say">Looking it up.</p>;
  return (
    <div class="step-help gap-s" role="group" aria-label={`Help: ${data.name ?? ''}`}>
      <Notices rows={data.blocked} />
      {data.blocked?.some((n) => n.topic === 'sample') && (
        <SampleActs
          w={{ piece: data.piece }}
          then={then && data.blocked.length === 1 ? then : undefined}
        />
      )}
      {!data.blocked?.length && <Cautions help={data} then={then} />}
      <How h={data} units={units} />
      {!!data.defects?.length && <Wrong defects={data.defects} />}
    </div>
  );
}
