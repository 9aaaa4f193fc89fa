/* Everything nobody has said, in one list, to be put right one by one. */
import { useState } from 'preact/hooks';
import { named, useChoices } from '../net/choices';
import type { Assumption, Units } from '../net/types';
import { valueAt } from '../lib/doc';
import { quantity } from '../lib/quantity';
import { capital } from '../ui/controls';
import { EditField } from '../ui/edit';
import { specOf } from '../ui/fields';
import { STALE, setValue, type Edited } from './change';

function One({
  a,
  edit,
  units,
  index,
}: {
  a: Assumption;
  edit: Edited;
  units: Units;
  index: number;
}) {
  const [open, setOpen] = useState(false),
    [error, setError] = useState<string | undefined>();
  const own = a.pointer.startsWith(`/pieces/${index}/`),
    shelf = a.pointer.startsWith('/shelf/');
  const path = a.pointer
      .replace(/^\/pieces\/\d+\//, '')
      .replace(/^\//, '')
      .split('/'),
    spec = specOf(path.filter((k) => !/^\d+$/.test(k)).join('.'));
  const said = a.text ?? (a.value === undefined ? '' : quantity(a.value, a.unit, units)),
    chosen = useChoices()[spec.from ?? 'classes']?.find((c) => c.id === said),
    text = chosen ? named(chosen) : said;
  return (
    <li class="row" id={`assumed-${path.join('-')}`}>
      <div class="f">
        <span class="figure-still assumed">
          {text}
          <span class="vh">, assumed</span>
        </span>
      </div>
      <div class="w">
        {capital(spec.label)}
        {a.why && <small>{a.why}</small>}
        {open && (
          <div class="gap-s">
            {
              <EditField
                spec={spec}
                value={valueAt(edit.document, path)}
                error={error}
                set={async (v) => {
                  const wrong = await setValue(edit, path, v, `${spec.label} said`);
                  setError(wrong);
                  if (wrong === STALE) setOpen(false); /* opened again, it shows the book's value */
                }}
              />
            }
          </div>
        )}
      </div>
      <div class="h no-print">
        {own ? (
          <button class="btn small" aria-expanded={open} onClick={() => setOpen(!open)}>
            Put it right
          </button>
        ) : (
          <a href={shelf ? '/shelf' : '/shop'}>{shelf ? 'On the shelf' : 'In the shop'}</a>
        )}
      </div>
    </li>
  );
}
export function Assumed({
  rows,
  edit,
  units,
  index,
}: {
  rows: Assumption[];
  edit: Edited;
  units: Units;
  index: number;
}) {
  if (!rows.length) return null;
  return (
    <section class="stage" id="assumed" aria-labelledby="assumed-t">
      <header>
        <h2 id="assumed-t">Still assumed</h2>
        <p>
          {rows.length} {rows.length === 1 ? 'figure' : 'figures'} nobody has said. Each can be put
          right by itself.
        </p>
      </header>
      <ol class="rows">
        {rows.map((a) => (
          <One key={a.pointer} a={a} edit={edit} units={units} index={index} />
        ))}
      </ol>
    </section>
  );
}
