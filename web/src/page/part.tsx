/* One part of the piece, changed in place: what is done to it, its own color, how many. */
import { useState } from 'preact/hooks';
import type { Surface } from '../net/types';
import { patchAt } from '../lib/doc';
import { TREATMENTS } from '../draw/parts';
import { Act, Field, Seg } from '../ui/controls';
import { ColorField } from '../ui/edit';
import { patchPiece, type Edited } from './change';

export function PartEdit({
  edit,
  surface,
  close,
}: {
  edit: Edited;
  surface: Surface | undefined;
  close: () => void;
}) {
  const part = surface?.part,
    [count, setCount] = useState(String(part?.count ?? 1));
  if (!part) return null;
  const name = part.name ?? part.id;
  const set = (value: Record<string, unknown>, what: string) => {
    const list = { ...edit.document, parts: (edit.document.parts as unknown[]) ?? [] };
    return patchPiece(
      edit,
      { piece: patchAt(list, ['parts', part.id], value) },
      `${name}: ${what}`,
    );
  };
  return (
    <div
      class="basis part-edit"
      role="group"
      aria-label={`Change ${name}`}
      onKeyDown={(e) => {
        if (e.key === 'Escape') close();
      }}
    >
      <h3>{name}</h3>
      <Seg
        label="What is done to it"
        value={part.treatment ?? 'paint'}
        options={TREATMENTS}
        set={(v) => void set({ treatment: v }, v)}
      />
      <div class="form gap">
        <ColorField
          label="Another color than the piece’s"
          value={part.color?.text ?? ''}
          set={(v) => void set({ color: v || null }, v ? 'own color' : 'color of the piece')}
        />
        <Field
          label="How many"
          inputMode="numeric"
          value={count}
          onInput={(e) => setCount(e.currentTarget.value)}
          onChange={() => {
            const n = Number(count);
            if (Number.isInteger(n) && n >= 0) void set({ count: n }, `${n} of it`);
          }}
        />
      </div>
      <div class="acts">
        <Act run={close}>Close</Act>
      </div>
    </div>
  );
}
