/* Days and nights that are not as usual: days off, of the shop or of one of its people; cold nights.
 * A day is picked, as a phone offers it; days in a row stand as one line. */
import { useState } from 'preact/hooks';
import type { Doc } from '../net/types';
import { inUnit } from '../lib/bare';
import { dueText } from '../lib/time';
import { Act, Field } from '../ui/controls';
import { useShop } from '../ui/frame';
import type { Keep } from './keep';

const DAY_MS = 86400000;
const dayOfIso = (iso: string) => Math.floor(Date.parse(iso) / DAY_MS);
const isoOfDay = (day: number) => new Date(day * DAY_MS).toISOString().slice(0, 10);
const TOO_LONG = 366;

/* [first, last] of each run of days. */
function runs(days: string[]): [number, number][] {
  const out: [number, number][] = [];
  for (const d of [...new Set(days.map(dayOfIso))].sort((a, b) => a - b)) {
    const last = out[out.length - 1];
    if (last && d === last[1] + 1) last[1] = d;
    else out.push([d, d]);
  }
  return out;
}
const runText = ([a, b]: [number, number]) =>
  a === b ? dueText(a) : `${dueText(a)} to ${dueText(b)}`;

function Odd({ when, what, out }: { when: string; what: string; out: () => Promise<boolean> }) {
  return (
    <li class="when">
      <b>{when}</b>
      <span>{what}</span>
      <Act kind="btn small" run={() => out().then(() => undefined)}>
        Take out<span class="vh">: {when}</span>
      </Act>
    </li>
  );
}

export function DaysOff({
  days,
  keep,
  of,
}: {
  days: string[];
  keep: (days: string[], refused: (text?: string) => void) => Promise<boolean>;
  of?: string; /* whose, where it is not the shop's */
}) {
  const [first, setFirst] = useState(''),
    [last, setLast] = useState(''),
    [no, refused] = useState<string>();
  const add = async () => {
    const a = dayOfIso(first),
      b = last ? dayOfIso(last) : a;
    if (b < a || b - a > TOO_LONG) {
      refused(b < a ? `It ends before ${dueText(a)}.` : 'That is more than a year.');
      return;
    }
    const more = Array.from({ length: b - a + 1 }, (_, i) => isoOfDay(a + i));
    if (await keep([...new Set([...days, ...more])].sort(), refused)) {
      setFirst('');
      setLast('');
    }
  };
  return (
    <div class="gap" role="group" aria-label={of ? `Days off of ${of}` : 'Days off'}>
      <h3>Days off</h3>
      {days.length > 0 && (
        <ul class="rows">
          {runs(days).map((r) => (
            <Odd
              key={r.join()}
              when={runText(r)}
              what={r[0] === r[1] ? '1 day' : `${r[1] - r[0] + 1} days`}
              out={() =>
                keep(
                  days.filter((d) => dayOfIso(d) < r[0] || dayOfIso(d) > r[1]),
                  refused,
                )
              }
            />
          ))}
        </ul>
      )}
      <div class="form keep">
        <Field
          label="Off on"
          type="date"
          value={first}
          onInput={(e) => setFirst(e.currentTarget.value)}
        />
        <Field
          label="Until, if longer"
          type="date"
          error={no}
          value={last}
          onInput={(e) => {
            refused(undefined);
            setLast(e.currentTarget.value);
          }}
        />
        <div class="acts">
          <Act enter disabled={!first} run={add}>
            Keep the days off
          </Act>
        </div>
      </div>
    </div>
  );
}

interface NightDoc {
  night: string;
  temperature: string;
}
export function ColdNights({ doc, patch }: { doc: Doc; patch: Keep }) {
  const nights = (doc.nights as NightDoc[] | undefined) ?? [],
    [night, setNight] = useState(''),
    [temperature, setTemperature] = useState(''),
    [no, refused] = useState<string>(),
    { units } = useShop();
  const keep = (list: NightDoc[]) =>
    patch({ nights: list.length ? list : null }, 'Cold nights', (f) => refused(f?.text));
  const add = async () => {
    const one = { night, temperature: inUnit(temperature, 'temperature', units) as string };
    if (await keep([...nights.filter((n) => n.night !== night), one])) {
      setNight('');
      setTemperature('');
    }
  };
  return (
    <div class="gap" role="group" aria-label="Cold nights">
      <h3>Cold nights, in the shop</h3>
      {nights.length > 0 && (
        <ul class="rows">
          {nights.map((n, i) => (
            <Odd
              key={n.night}
              when={Number.isNaN(dayOfIso(n.night)) ? n.night : dueText(dayOfIso(n.night))}
              what={n.temperature}
              out={() => keep(nights.filter((_, k) => k !== i))}
            />
          ))}
        </ul>
      )}
      <div class="form keep">
        <Field
          label="The night after"
          type="date"
          value={night}
          onInput={(e) => setNight(e.currentTarget.value)}
        />
        <Field
          label="As cold as"
          value={temperature}
          placeholder={units === 'metric' ? '7 °C' : '45 °F'}
          error={no}
          onInput={(e) => {
            refused(undefined);
            setTemperature(e.currentTarget.value);
          }}
        />
        <div class="acts">
          <Act enter disabled={!night || !temperature.trim()} run={add}>
            Keep the night
          </Act>
        </div>
      </div>
    </div>
  );
}
