/* Forms about a can or a supply: fields by member, what of them was refused, and how they are sent. */
import { isKept, send, type Failure, type Send } from '../net/api';
import { Act, Field, Select } from '../ui/controls';
import { ColorField } from '../ui/edit';
import { SHEENS } from '../ui/fields';
import type { Names } from '../ui/said';
import { inBook } from './change';
import { useRefused } from './refused';

export type Values = Record<string, string>;
const LABELS: Names = {
  name: 'Name',
  class: 'What it is',
  kind: 'Kind',
  color: 'What it dries to',
  sheen: 'Sheen',
  stock: 'How much is left',
  size: 'One can holds',
  cost: 'One can costs',
  opened: 'Opened',
  note: 'Note',
  hides_in: 'Coats to hide black',
  can_of: 'Another can of',
};
type Options = readonly (readonly [string, string])[];
type FieldMore = Omit<Partial<Parameters<typeof Field>[0]>, 'label'>;
export const sheens: Options = [['', 'Not said'], ...SHEENS.split('|').map((s) => [s, s] as const)];

async function write(s: Send, text: string, names?: Names, done?: () => void, refused?: (f: Failure) => void) {
  const o = await send(s);
  inBook(o, text, names);
  if (isKept(o)) done?.();
  else if (!o.ok) refused?.(o.failure);
}

/* own: what this form calls members of its own, or otherwise */
export function useForm(v: Values, put: (member: string, text: string) => void, own: Names = {}) {
  const names = { ...LABELS, ...own },
    { refused, error, typed, at } = useRefused(names);
  const shown = (member: string) => ({
    label: names[member],
    value: v[member] ?? '',
    error: error(member),
    set: (text: string) => {
      typed(member);
      put(member, text);
    },
  });
  return {
    field: (member: string, more: FieldMore = {}) => (
      <Field
        label={names[member]}
        {...at(member, v[member] ?? '', (text) => put(member, text))}
        {...more}
      />
    ),
    select: (member: string, options: Options) => <Select {...shown(member)} options={options} />,
    color: () => <ColorField {...shown('color')} />,
    keep: (s: Send, text: string, done?: () => void) => write(s, text, names, done, refused),
  };
}

export function TakeOff({ path, name, of }: { path: string; name: string; of: 'shelf' | 'list' }) {
  return (
    <div class="acts">
      <Act
        run={() =>
          write({ method: 'DELETE', path, what: `${name} off the ${of}` }, `${name} is off the ${of}.`)
        }
      >
        Take it off the {of}
      </Act>
    </div>
  );
}
