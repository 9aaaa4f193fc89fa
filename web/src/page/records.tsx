/* What is on record, newest first: what was used and how long it took, of everybody or of one. */
import { useState } from 'preact/hooks';
import type { List, Units } from '../net/types';
import { useAnswer } from '../net/use';
import { quantity } from '../lib/quantity';
import { shortDay } from '../lib/time';
import { Select } from '../ui/controls';
import { useShop } from '../ui/frame';

export interface Logged {
  number: number;
  kind?: string;
  class?: string;
  method?: string;
  operation?: string;
  piece?: string;
  person?: string;
  planned?: number;
  actual?: number;
  at_utc_min?: number;
  doubted?: boolean;
  corrects?: number;
  weight?: number;
}
export const UNIT: Record<string, string> = {
  spread: 'spread',
  loss: 'fraction',
  hours: 'duration',
  drying: 'duration',
};

export function Records({ units, subject }: { units: Units; subject: (r: Logged) => string }) {
  const [person, setPerson] = useState(''),
    crew = useShop().shop.crew ?? [],
    name = (id?: string) => crew.find((m) => m.id === id)?.name ?? id;
  const data = useAnswer<List<Logged>>(
    `/api/records?limit=50${person && `&person=${encodeURIComponent(person)}`}`,
  ).data;
  const all = data?.rows ?? [],
    back = new Set(all.map((r) => r.corrects)),
    rows = all.filter((r) => r.weight !== -1 && !back.has(r.number));
  return (
    <details class="gap">
      <summary>Every record</summary>
      {crew.length > 0 && (
        <div class="form gap-b">
          <Select
            label="Whose work"
            value={person}
            options={[['', 'Everybody’s'], ...crew.map((m) => [m.id, m.name ?? m.id] as const)]}
            set={setPerson}
          />
        </div>
      )}
      {rows.length ? (
        <ul class="rows" aria-label="Records">
          {rows.map((r) => (
            <li class="row" key={r.number}>
              <div class="f num">{r.actual === undefined ? '' : quantity(r.actual, UNIT[r.kind ?? ''], units)}</div>
              <div class="w">
                {subject(r)}
                <small>{[r.piece, name(r.person)].filter(Boolean).join(', ')}</small>
              </div>
              <div class="h">{r.at_utc_min === undefined ? '' : shortDay(r.at_utc_min)}</div>
            </li>
          ))}
        </ul>
      ) : (
        <p class="say">
          {person ? `Nothing of ${name(person)}’s yet.` : 'Nothing yet.'} A task that is done with
          the time it took stands here.
        </p>
      )}
    </details>
  );
}
