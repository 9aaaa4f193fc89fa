/* What can be done to a task: start, done, took longer, cannot go on yet, how. */
import { useState } from 'preact/hooks';
import { send } from '../net/api';
import type { DayTask } from '../net/types';
import { clockText, dayOf, isoDay, nowMinutes } from '../lib/time';
import { Act, Field, Select } from '../ui/controls';
import { useShop } from '../ui/frame';
import { inBook } from './change';
import { StepHelp } from './help';
import { useRefused } from './refused';

const SAID: Record<string, string> = {
  done: 'Done',
  start: 'Begun',
  slip: 'Cannot go on yet',
};
const NAMES = { took: 'How long it took', until: 'Not before' };
/* Each can be taken back. */
async function taskAct(
  t: { id: string; name?: string },
  what: 'start' | 'done' | 'slip',
  body: Record<string, unknown> = {},
  took: ReturnType<typeof useRefused>['took'] = inBook,
) {
  const o = await send({
    method: 'POST',
    path: `/api/tasks/${t.id.split('/').map(encodeURIComponent).join('/')}/${what}`,
    body,
    what: `${SAID[what]}: ${t.name ?? t.id}`,
  });
  /* what must be read first, or keeps the step from being begun, is shown at the step */
  if (!o.ok && !('unsent' in o) && /^\/(cautions|gate)/.test(o.failure.field ?? '')) return false;
  took(o, `${SAID[what]}: ${t.name ?? t.id}.`);
  return true;
}
/* A coat that is not dry yet is looked at again in two hours, on the full hour. */
function soon(): { day: string; clock: string } {
  const at = Math.ceil((nowMinutes() + 120) / 60) * 60;
  return { day: isoDay(dayOf(at)), clock: clockText(at) };
}
export function TaskButtons({ task, big }: { task: DayTask; big?: boolean }) {
  const [longer, setLonger] = useState(false),
    [took, setTook] = useState(''),
    [slips, setSlips] = useState(false),
    [until, setUntil] = useState(soon),
    [help, setHelp] = useState(false),
    [pending, setPending] = useState<(() => Promise<void>) | undefined>();
  const no = useRefused(NAMES),
    crew = useShop().shop.crew ?? [],
    [by, setBy] = useState(task.who ?? '');
  const act = async (what: 'start' | 'done' | 'slip', body: Record<string, unknown> = {}) => {
    const who = crew.length > 1 && by && what !== 'slip' ? { person: by } : {};
    const went = await taskAct(task, what, { ...who, ...body }, no.took);
    setPending(went ? undefined : () => () => act(what, body));
    setHelp(!went);
  };
  const slip = () => {
    setUntil(soon());
    setSlips(!slips);
  };
  const begun = task.begun_utc_min !== undefined || task.state === 'begun';
  return (
    <div class="task-acts">
      {crew.length > 1 && (
        <div class="task-by">
          <Select
            label="By"
            value={by}
            set={setBy}
            options={[
              ...(task.who ? [] : [['', 'not said'] as const]),
              ...crew.map((m) => [m.id, m.name ?? m.id] as const),
            ]}
          />
        </div>
      )}
      <div class="acts">
        <Act kind={big ? 'btn main' : 'btn'} run={() => act('done')}>
          Done
        </Act>
        {!begun && <Act run={() => act('start')}>Start</Act>}
        <button type="button" class="btn" aria-expanded={longer} onClick={() => setLonger(!longer)}>
          Took longer or shorter
        </button>
        <button type="button" class="btn" aria-expanded={slips} onClick={slip}>
          Cannot go on yet
        </button>
        <button type="button" class="btn" aria-expanded={help} onClick={() => setHelp(!help)}>
          How, or what went wrong
        </button>
      </div>
      {help && <StepHelp task={task.id} then={pending} />}
      {slips && (
        <div class="acts took">
          <Field
            label="Not before"
            type="date"
            value={until.day}
            onChange={(e) => setUntil({ day: e.currentTarget.value, clock: '' })}
          />
          <Field
            label="at"
            placeholder="8:00 am"
            {...no.at('until', until.clock, (clock) => setUntil({ ...until, clock }))}
          />
          <Act
            enter
            disabled={!until.day}
            run={() => act('slip', { until: `${until.day} ${until.clock || '8:00 am'}` })}
          >
            It waits until then
          </Act>
        </div>
      )}
      {longer && (
        <div class="acts took">
          <Field
            label="How long it took"
            placeholder={`${Math.round((task.hands_min ?? 30) * 1.5)} min`}
            {...no.at('took', took, setTook)}
          />
          <Act
            enter
            run={() =>
              act(
                'done',
                took
                  ? { took: /^\d+$/.test(took.trim()) ? `${took.trim()} min` : took.trim() }
                  : {},
              )
            }
          >
            Done
          </Act>
        </div>
      )}
    </div>
  );
}
