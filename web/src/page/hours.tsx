/* The shop's hours, a line a day. */
import { useState } from 'preact/hooks';
import type { Doc, Shop } from '../net/types';
import type { HourDoc } from '../lib/hours';
import { clockOfMinutes } from '../lib/time';
import { Act, Field } from '../ui/controls';

const DAYS = [
  ['mon', 'Monday'],
  ['tue', 'Tuesday'],
  ['wed', 'Wednesday'],
  ['thu', 'Thursday'],
  ['fri', 'Friday'],
  ['sat', 'Saturday'],
  ['sun', 'Sunday'],
] as const;

type Answer = { document?: Doc; shop?: Shop };

/* The hours of each day as the fields show them. */
export function hoursShown(answer: Answer): Record<string, string> {
  const doc =
    (answer.document?.hours as HourDoc[] | undefined) ??
    (answer.shop?.hours ?? []).map((h) => ({
      day: h.day ?? 'daily',
      open: clockOfMinutes(h.open_min ?? 480),
      close: clockOfMinutes(h.close_min ?? 1020),
    }));
  const of = (day: string) =>
    doc.filter(
      (h) =>
        h.day === day ||
        h.day === 'daily' ||
        (h.day === 'weekdays' && !['sat', 'sun'].includes(day)),
    );
  return Object.fromEntries(
    DAYS.map(([d]) => [
      d,
      of(d)
        .map((h) => `${h.open} - ${h.close}`.replace(/:00(?= ?[ap]m)/gi, ''))
        .join(', '),
    ]),
  );
}

export function Hours({
  answer,
  patch,
}: {
  answer: Answer;
  patch: (
    p: Doc,
    what: string,
    refused?: (text?: string, field?: string) => void,
  ) => Promise<boolean>;
}) {
  const [v, set] = useState(hoursShown(answer));
  const [wrong, setWrong] = useState<Record<string, string>>({});
  const save = () => {
    const hours = DAYS.flatMap(([day]) =>
      v[day]
        .split(',')
        .map((s) => s.trim())
        .filter(Boolean)
        .map((s) => {
          const [open, close] = s.split(/\s*(?:-|–|to)\s*/);
          return { day, open, close: close ?? '' };
        }),
    );
    return patch({ hours }, 'Hours', (text, field) => {
      const at = /^\/shop\/hours\/(\d+)/.exec(field ?? '');
      setWrong(text && at ? { [hours[Number(at[1])].day]: text } : {});
    });
  };
  return (
    <div>
      <div class="form wide">
        {DAYS.map(([d, name]) => (
          <Field
            label={name}
            value={v[d]}
            error={wrong[d]}
            placeholder="closed"
            onInput={(e) => set({ ...v, [d]: e.currentTarget.value })}
          />
        ))}
      </div>
      <p class="k gap-s">8 am - 12 pm, 1 pm - 5:30 pm. Empty: closed.</p>
      <div class="acts">
        <Act run={save}>Keep the hours</Act>
      </div>
    </div>
  );
}
