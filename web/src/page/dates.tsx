/* When a piece comes, when it must be ready, and how much a day late counts beside the others. */
import { Field, Select } from '../ui/controls';
import { setValue } from './change';
import type { Editing } from './change';

const WEIGHTS = [
  ['', 'As usual'],
  ['3', 'More'],
  ['10', 'Most: rush job'],
] as const;

interface Dates {
  due?: string;
  arrives?: string;
  due_weight?: number;
}

export function PieceDates({ edit }: { edit: Editing }) {
  const said = (edit.document.agreement as Dates | undefined) ?? {};
  const set = (name: keyof Dates, value: string | number | null, what: string) =>
    void setValue(edit, ['agreement', name], value, what);
  const weight = String(said.due_weight ?? '');
  return (
    <div class="form gap no-print">
      <Field
        label="Comes into the shop"
        type="date"
        value={said.arrives ?? ''}
        onChange={(e) => set('arrives', e.currentTarget.value || null, 'When it comes')}
      />
      <Field
        label="Must be ready"
        type="date"
        value={said.due ?? ''}
        onChange={(e) => set('due', e.currentTarget.value || null, 'When it must be ready')}
      />
      <Select
        label="A day late counts"
        value={WEIGHTS.some(([v]) => v === weight) ? weight : ''}
        options={WEIGHTS}
        set={(v) => set('due_weight', v ? Number(v) : null, 'What a day late counts')}
      />
    </div>
  );
}
