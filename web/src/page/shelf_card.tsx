/* A card of any known mix, whatever it was made for: what is on it in parts, and what it dried to. */
import { useState } from 'preact/hooks';
import { Field, Select } from '../ui/controls';
import type { KnownPaint } from './color/known';
import { LogSample } from './color/sample';

interface Line {
  paint: string;
  parts: string;
}
const NONE: Line = { paint: '', parts: '1' };

export function CardForm({
  known,
  name,
  done,
}: {
  known: KnownPaint[];
  name: (id: string) => string;
  done: () => void;
}) {
  const [lines, set] = useState<Line[]>([NONE, NONE]),
    put = (n: number, l: Partial<Line>) =>
      set(lines.map((x, i) => (i === n ? { ...x, ...l } : x))),
    items = lines
      .filter((l) => l.paint && Number(l.parts) > 0)
      .map((l) => ({ paint: l.paint, parts: Number(l.parts) }));
  return (
    <div class="gap-b">
      {lines.map((l, n) => (
        <div class="form gap-s">
          <Select
            label={n ? 'And' : 'Paint on the card'}
            value={l.paint}
            options={[
              ['', 'Choose'],
              ...known
                .filter((k) => k.id === l.paint || !lines.some((x) => x.paint === k.id))
                .map((k) => [k.id, name(k.id)] as const),
            ]}
            set={(paint) => put(n, { paint })}
          />
          <Field
            label="Parts"
            inputMode="decimal"
            value={l.parts}
            onInput={(e) => put(n, { parts: e.currentTarget.value })}
          />
        </div>
      ))}
      {lines.length < 6 && lines.every((l) => l.paint) && known.length > lines.length && (
        <div class="acts">
          <button type="button" class="btn" onClick={() => set([...lines, NONE])}>
            One paint more
          </button>
        </div>
      )}
      {items.length > 0 && <LogSample items={items} name={name} done={done} />}
    </div>
  );
}
