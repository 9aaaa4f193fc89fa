/* The look-over: what was seen and tested, put in by taps; everything unsaid stays assumed. */
import { useState } from 'preact/hooks';
import { valueAt } from '../lib/doc';
import type { List } from '../net/types';
import { useAnswer } from '../net/use';
import { EditField } from '../ui/edit';
import { AGREED, ON_IT, PULLS, TESTS, WANTED, WHAT, type FieldSpec } from '../ui/fields';
import { STALE, setValue, type Edited } from './change';
import { Guide } from './guide';

const GROUPS: [string, FieldSpec[]][] = [
  ['What is on it', ON_IT],
  ['What it is', WHAT],
  ['What is wanted', WANTED],
  ['Agreement', AGREED],
  ['Fittings', PULLS],
  ['Test results, as written', TESTS],
];

function Group({
  title,
  specs,
  edit,
  open,
}: {
  title: string;
  specs: FieldSpec[];
  edit: Edited;
  open?: boolean;
}) {
  const [shown, show] = useState(!!open),
    [errors, setErrors] = useState<Record<string, string | undefined>>({}),
    [again, setAgain] = useState<Record<string, number>>({}); /* a field drawn anew shows the book's value */
  const saidCount = specs.filter(
    (s) => valueAt(edit.document, s.path.split('.')) !== undefined,
  ).length;
  return (
    <details open={shown} onToggle={(e) => show(e.currentTarget.open)}>
      <summary>
        {title} <small class="k">{saidCount} said</small>
      </summary>
      {shown && (
        <div class="form gap-b">
          {specs.map((s) => (
            <EditField
              key={`${s.path} ${again[s.path] ?? 0}`}
              spec={s}
              value={valueAt(edit.document, s.path.split('.'))}
              error={errors[s.path]}
              set={async (v) => {
                const error = await setValue(edit, s.path.split('.'), v, s.label);
                setErrors((e) => ({ ...e, [s.path]: error || undefined }));
                if (error === STALE) setAgain((n) => ({ ...n, [s.path]: (n[s.path] ?? 0) + 1 }));
              }}
            />
          ))}
        </div>
      )}
    </details>
  );
}
/* One client under two spellings is two clients: those that are known are offered. */
export function ClientNames() {
  const clients = useAnswer<List<{ name?: string }>>('/api/clients').data?.rows ?? [];
  return (
    <datalist id="clients">
      {clients.map((c) => (
        <option value={c.name} />
      ))}
    </datalist>
  );
}
export function LookOver({ edit, open }: { edit: Edited; open?: boolean }) {
  return (
    <>
    <ClientNames />
    <Guide edit={edit} />
    <div class="lookover no-print gap" aria-label="Look it over" role="group">
      {GROUPS.map(([t, s], i) => (
        <Group key={t} title={t} specs={s} edit={edit} open={open && i < 3} />
      ))}
    </div>
    </>
  );
}
