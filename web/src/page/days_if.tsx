/* What if: a day off, a cold night. What would move is told before it is kept. */
import { useState } from 'preact/hooks';
import type { Shop } from '../net/types';
import { Act, Field, Seg, Select } from '../ui/controls';
import { Warn } from '../ui/warn';

export interface IfSo {
  anew?: boolean;
  off?: string;
  person?: string;
  cold?: string;
  night?: string;
}
export interface Replan {
  count?: string; /* none: nothing was accepted yet */
  ready?: string[]; /* pieces that are ready on another day */
  promises?: string[];
  changes?: string[];
}
export function asQuery(ask: IfSo | undefined): string {
  const q = new URLSearchParams();
  for (const [k, v] of Object.entries(ask ?? {})) if (v) q.set(k, String(v));
  const text = q.toString();
  return text ? `?${text}` : '';
}

export function WhatIf({ shop, look }: { shop: Shop; look: (ask: IfSo) => Promise<void> }) {
  const [kind, setKind] = useState<'off' | 'cold'>('off'),
    [day, setDay] = useState(''),
    [person, setPerson] = useState(''),
    [night, setNight] = useState('');
  const crew = shop.crew ?? [],
    ready = day !== '' && (kind === 'off' || night.trim() !== '');
  const ask: IfSo =
    kind === 'off' ? { off: day, ...(person ? { person } : {}) } : { cold: day, night: night.trim() };
  return (
    <section class="gap no-print" aria-label="What if">
      <Seg
        label="What if"
        value={kind}
        set={setKind}
        options={[
          ['off', 'A day off'],
          ['cold', 'A cold night'],
        ]}
      />
      <div class="form gap-s">
        <Field
          label={kind === 'off' ? 'Day' : 'The night after'}
          type="date"
          value={day}
          onInput={(e) => setDay(e.currentTarget.value)}
        />
        {kind === 'off' && crew.length > 1 && (
          <Select
            label="Who"
            value={person}
            set={setPerson}
            options={[['', 'everybody'], ...crew.map((m) => [m.id, m.name ?? m.id] as const)]}
          />
        )}
        {kind === 'cold' && (
          <Field
            label="How cold in the shop"
            value={night}
            placeholder={shop.units === 'metric' ? '8 \u00b0C' : '46 \u00b0F'}
            onInput={(e) => setNight(e.currentTarget.value)}
          />
        )}
      </div>
      <div class="acts">
        <Act enter kind="btn main" disabled={!ready} run={() => look(ask)}>
          See what would move
        </Act>
      </div>
    </section>
  );
}

/* Lines of one piece under its title. */
function byTitle(lines: string[], titles: string[]): [string, string[]][] {
  const all = new Map<string, string[]>();
  for (const line of lines) {
    const title = titles.find((t) => line.startsWith(`${t}, `)) ?? '';
    all.set(title, [...(all.get(title) ?? []), title ? line.slice(title.length + 2) : line]);
  }
  return [...all];
}

export function Moves({
  answer,
  anew,
  titles,
  keep,
  leave,
}: {
  answer: Replan;
  anew: boolean;
  titles: string[];
  keep: () => Promise<void>;
  leave: () => void;
}) {
  const lines = answer.changes ?? [];
  const head = !lines.length
    ? anew && !answer.count
      ? answer.ready?.length
        ? 'A better order was found.'
        : 'No better order was found.'
      : 'Nothing moves.'
    : `${answer.count ?? ''} ${anew ? 'This is the order laid out anew.' : 'The rest stays where it was accepted.'}`;
  return (
    <div class="gap">
      <Warn rank="mind">
        <p>
          <strong>{head}</strong>
        </p>
        {!!answer.ready?.length && (
          <ul class="moves">
            {answer.ready.map((m) => (
              <li>{m}</li>
            ))}
          </ul>
        )}
        {(answer.promises ?? []).map((m) => (
          <p class="gap-s">{m}</p>
        ))}
        {byTitle(lines, titles).map(([title, own]) => (
          <>
            {title && <p class="gap-s"><b>{title}</b></p>}
            <ul class="moves">
              {own.map((m) => (
                <li>{m}</li>
              ))}
            </ul>
          </>
        ))}
        <div class="acts">
          <Act kind="btn main" run={keep}>
            Keep it
          </Act>
          <Act run={leave}>Leave it as it was</Act>
        </div>
      </Warn>
    </div>
  );
}
