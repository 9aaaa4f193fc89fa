/* Working hours, a line a day: of the shop, or of one of its people. */
import { useState } from 'preact/hooks';
import type { Failure } from '../net/api';
import type { Doc, Shop } from '../net/types';
import { clockOfMinutes } from '../lib/time';
import { Act, Field } from '../ui/controls';

export interface HourDoc {
  day: string;
  open: string;
  close: string;
}
const DAYS = [
  ['mon', 'Monday'],
  ['tue', 'Tuesday'],
  ['wed', 'Wednesday'],
  ['thu', 'Thursday'],
  ['fri', 'Friday'],
  ['sat', 'Saturday'],
  ['sun', 'Sunday'],
] as const;

/* The hours of each day as the fields show them. */
function shown(hours: HourDoc[]): Record<string, string> {
  const of = (day: string) =>
    hours.filter(
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
/* The shop's own; where it said none, those that are assumed. */
export const hoursOfShop = (answer: { document?: Doc; shop?: Shop }): HourDoc[] =>
  (answer.document?.hours as HourDoc[] | undefined) ??
  (answer.shop?.hours ?? []).map((h) => ({
    day: h.day ?? 'daily',
    open: clockOfMinutes(h.open_min ?? 480),
    close: clockOfMinutes(h.close_min ?? 1020),
  }));
/* "8 am - noon, 1 pm - 5 pm"; what does not read so is sent as it is, and the server says what is
 * wrong with it. */
const read = (day: string, text: string): HourDoc[] =>
  text
    .split(/[,;]/)
    .map((s) => s.trim())
    .filter((s) => s && !/^(closed|off|none|-|–)$/i.test(s))
    .map((s) => {
      const [open, close] = s.split(/\s*(?:-|–|\bto\b|\buntil\b)\s*/);
      return { day, open, close: close ?? '' };
    });

export function Hours({
  hours,
  keep,
  empty = 'closed',
  assumed,
}: {
  hours: HourDoc[];
  keep: (hours: HourDoc[], refused: (f?: Failure) => string | void) => Promise<boolean>;
  empty?: string /* what a day without hours is */;
  assumed?: string /* in place of all of them, where none was said */;
}) {
  const [typed, set] = useState<Record<string, string>>({}),
    v = { ...shown(hours), ...typed },
    [wrong, setWrong] = useState<Record<string, string>>({});
  const save = () => {
    const list = DAYS.flatMap(([day]) => read(day, v[day]));
    return keep(list, (f) => {
      const at = /\/hours\/(\d+)/.exec(f?.field ?? ''),
        day = at ? list[Number(at[1])]?.day : undefined;
      setWrong(f && day ? { [day]: f.text } : {});
      return DAYS.find(([d]) => d === day)?.[1];
    }).then((kept) => kept && set({}));
  };
  return (
    <div>
      <div class="form wide">
        {DAYS.map(([d, name]) => (
          <Field
            key={d}
            label={name}
            value={v[d]}
            error={wrong[d]}
            placeholder={assumed ? ' ' : empty}
            onInput={(e) => {
              setWrong({});
              set({ ...typed, [d]: e.currentTarget.value });
            }}
          />
        ))}
      </div>
      <p class="k gap-s">
        {assumed && `Not said: ${assumed} are assumed. `}8 am - 12 pm, 1 pm - 5:30 pm. Empty: {empty}.
      </p>
      <div class="acts">
        <Act enter run={save}>Keep the hours</Act>
      </div>
    </div>
  );
}
