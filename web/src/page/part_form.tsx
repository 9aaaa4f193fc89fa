/* What a part is, put right: its sizes in the words of its shape, the faces that are coated, its
 * relief, what it is made of, whether it comes off. What the template has stands below as an
 * example. */
import { useState } from 'preact/hooks';
import { pairs, useChoices } from '../net/choices';
import type { Doc, Part } from '../net/types';
import { quantity } from '../lib/quantity';
import { inUnit } from '../lib/bare';
import { Field, Seg, Select, capital } from '../ui/controls';
import { useShop } from '../ui/frame';

const FACES = [
  ['f', 'Front'],
  ['k', 'Back'],
  ['l', 'Left'],
  ['r', 'Right'],
  ['t', 'Top'],
  ['b', 'Bottom'],
] as const;
const SIZES = ['a', 'b', 'c', 'd', 'e', 'f'] as const;
/* Why it was refused, or nothing. */
export type Say = (value: Doc, what: string) => Promise<string | undefined>;

export const sizeName = (s: string) => capital(s);

/* A letter in, a letter out, always in the same order. */
export function turned(faces: string, letter: string): string {
  return FACES.map(([f]) => f)
    .filter((f) => faces.includes(f) !== (f === letter))
    .join('');
}

function Faces({ faces, set }: { faces: string; set: (v: string) => void }) {
  return (
    <div class="seg-field">
      <span class="k">Faces that are coated</span>
      <div class="seg" role="group" aria-label="Faces that are coated">
        {FACES.map(([f, name]) => (
          <button
            key={f}
            type="button"
            aria-pressed={faces.includes(f)}
            onClick={() => set(turned(faces, f))}
          >
            {name}
          </button>
        ))}
      </div>
    </div>
  );
}

export function PartForm({ part, said, say }: { part: Part; said: Doc; say: Say }) {
  const { shapes, profiles, finishes } = useChoices(),
    { units } = useShop(),
    [refused, refuse] = useState<Doc>({}),
    shape = shapes?.find((s) => s.id === part.shape);
  const put = async (k: string, value: unknown, what: string) =>
    refuse({ ...refused, [k]: await say({ [k]: value }, what) });
  return (
    <details class="gap">
      <summary>Its sizes and what it is made of</summary>
      <div class="form gap">
        {(shape?.sizes ?? []).map((size, i) => {
          const k = SIZES[i],
            now = part[`${k}_mm`];
          return (
            <Field
              key={k}
              label={sizeName(size)}
              value={String(said[k] ?? '')}
              example={now !== undefined ? quantity(now, 'length', units) : undefined}
              error={refused[k] as string | undefined}
              onChange={(e) => {
                const v = e.currentTarget.value.trim();
                void put(k, v ? inUnit(v, 'length', units) : null, sizeName(size).toLowerCase());
              }}
            />
          );
        })}
        <Select
          label="Its surface"
          value={part.profile ?? ''}
          options={pairs(profiles, 'As its shape says')}
          set={(v) => void put('profile', v || null, 'surface')}
        />
        <Select
          label="What it is made of"
          value={part.material ?? ''}
          options={pairs(finishes, 'As the piece')}
          set={(v) => void put('material', v || null, 'material')}
        />
      </div>
      <div class="taps gap">
        {shape?.faces && (
          <Faces
            faces={part.faces ?? shape.faces}
            set={(v) => void put('faces', v || null, 'coated faces')}
          />
        )}
        <Seg
          label="Does it come off"
          value={part.removable ? 'yes' : 'no'}
          options={[
            ['yes', 'Yes'],
            ['no', 'No'],
          ]}
          set={(v) => void put('removable', v === 'yes', 'comes off')}
        />
      </div>
    </details>
  );
}
