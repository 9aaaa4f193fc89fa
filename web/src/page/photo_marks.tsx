/* What is marked in a picture, and a row for each mark: its name, its known color, its size. */
import type { Kind, Mark, Picture } from '../net/picture';
import { Field, Select } from '../ui/controls';

export const longerOf = (p: Picture) => Math.max(p.width ?? 1, p.height ?? 1);
/* No mark reaches over the picture's edge. */
export function within(p: Picture | undefined, m: Mark): Mark {
  const w = p?.width ?? 1,
    h = p?.height ?? 1,
    size = Math.max(4, Math.min(m.size, w, h)),
    half = size / 2;
  return {
    ...m,
    size,
    x: Math.max(half, Math.min(w - half, m.x)),
    y: Math.max(half, Math.min(h - half, m.y)),
  };
}
export const KINDS: readonly (readonly [Kind, string, string])[] = [
  ['target', 'Wanted', 'the thing whose color you want'],
  ['white', 'White paper', 'plain white paper'],
  ['gray', 'Gray', 'a gray card or a gray strip'],
  ['chip', 'Known chip', 'a dried chip of a paint or sample of yours'],
  ['patch', 'Chart', 'the middle of a corner patch'],
];
export const CALLED: Record<Kind, string> = {
  target: 'Wanted',
  white: 'White paper',
  gray: 'Gray',
  chip: 'Chip',
  patch: 'Patch',
};

export function MarkRow({
  m,
  n,
  here,
  known,
  change,
  drop,
  choose,
}: {
  m: Mark;
  n: number;
  here: boolean;
  known: readonly (readonly [string, string])[];
  change: (m: Partial<Mark>) => void;
  drop: () => void;
  choose: () => void;
}) {
  return (
    <li class={here ? 'mark-row here' : 'mark-row'}>
      <div class="mark-who">
        <button type="button" class="mark-name" aria-pressed={here} onClick={choose}>
          <b>{n + 1}</b> {m.kind === 'chip' ? <span class="vh">{m.name}</span> : m.name}
        </button>
        {(m.kind === 'gray' || m.kind === 'white') && (
          <Field
            label={`Color of ${m.name}, if known`}
            value={m.color ?? ''}
            placeholder="lab(50 0 0), if known"
            onChange={(e) => change({ color: e.currentTarget.value.trim() || undefined })}
          />
        )}
        {m.kind === 'chip' && (
          <Select
            label="Chip of"
            value={m.of ?? ''}
            options={[['', 'Which paint or sample?'], ...known]}
            set={(of) => change({ of, name: known.find(([v]) => v === of)?.[1] ?? 'Chip' })}
          />
        )}
      </div>
      <span class="steps">
        <button
          type="button"
          aria-label={`Smaller ${n + 1}`}
          onClick={() => change({ size: m.size * 0.8 })}
        >
          −
        </button>
        <button
          type="button"
          aria-label={`Larger ${n + 1}`}
          onClick={() => change({ size: m.size * 1.25 })}
        >
          +
        </button>
        <button type="button" aria-label={`Take ${n + 1} away`} onClick={drop}>
          ×
        </button>
      </span>
    </li>
  );
}
