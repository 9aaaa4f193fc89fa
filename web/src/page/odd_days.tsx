/* Days and nights of the shop that are not as usual: days off, cold nights. What does not read is sent
 * as it is, and the server says what is wrong with it. */
import type { Doc } from '../net/types';
import { Field } from '../ui/controls';

interface NightDoc {
  night: string;
  temperature: string;
}
const words = (text: string) =>
  text
    .split(',')
    .map((s) => s.trim())
    .filter(Boolean);
const nightOf = (text: string): NightDoc => {
  const [night, ...temperature] = text.split(/\s+/);
  return { night, temperature: temperature.join(' ') };
};

export function OddDays({
  doc,
  patch,
}: {
  doc: Doc;
  patch: (p: Doc, what: string) => Promise<boolean>;
}) {
  const off = (doc.days_off as string[] | undefined) ?? [],
    nights = (doc.nights as NightDoc[] | undefined) ?? [];
  const keep = (name: string, list: unknown[], what: string) =>
    void patch({ [name]: list.length ? list : null }, what);
  return (
    <div class="form gap">
      <Field
        label="Days off"
        value={off.join(', ')}
        help="2026-12-24, 2026-12-31"
        onChange={(e) => keep('days_off', words(e.currentTarget.value), 'Days off')}
      />
      <Field
        label="Cold nights, in the shop"
        value={nights.map((n) => `${n.night} ${n.temperature}`).join(', ')}
        help="2026-12-24 45 °F: the night after that day"
        onChange={(e) => keep('nights', words(e.currentTarget.value).map(nightOf), 'Cold nights')}
      />
    </div>
  );
}
