/* One part of the piece, changed in place: what is done to it, its own color, how many; left out, or
 * as it was at first; another one added. */
import { useState } from 'preact/hooks';
import { changed, send, type Outcome, type Send } from '../net/api';
import { useChoices } from '../net/choices';
import { counted } from '../lib/doc';
import type { Doc, Surface } from '../net/types';
import { TREATMENTS } from '../draw/parts';
import { Act, Field, Seg, Select } from '../ui/controls';
import { useBack } from '../ui/back';
import { ColorField } from '../ui/edit';
import { PartForm, sizeName } from './part_form';
import { inBook, inTurn, newest, pieceAt, wrote, type Edited } from './change';

/* Classes of these roles; a can of the shelf that was named stays a choice. */
function own(
  classes: { id: string; name?: string; role?: string }[],
  said: string | undefined,
  roles: string[],
  none: string,
): (readonly [string, string])[] {
  const rows = classes
    .filter((c) => roles.includes(c.role ?? ''))
    .map((c) => [c.id, c.name ?? c.id] as const);
  const other =
    said && said !== 'none' && !rows.some(([id]) => id === said) ? [[said, said] as const] : [];
  return [['', none] as const, ...other, ...rows];
}

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
    classes = useChoices().classes ?? [],
    [count, setCount] = useState(String(part?.count ?? 1)),
    box = useBack();
  if (!part) return null;
  const name = part.name ?? part.id;
  const set = (value: Record<string, unknown>, what: string) =>
    sayPart(edit, part.id, value, `${name}: ${what}`);
  return (
    <div
      ref={box}
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
        {(part.treatment ?? 'paint').startsWith('paint') && (
          <Select
            label="Another paint than the piece’s"
            value={part.product ?? ''}
            options={own(classes, part.product, ['color'], 'As the piece')}
            set={(v) => void set({ product: v || null }, v ? 'own paint' : 'paint of the piece')}
          />
        )}
        {!['bare', 'mask', 'seal'].includes(part.treatment ?? 'paint') && (
          <Select
            label="Clear, wax or oil over it"
            value={part.clear ?? ''}
            options={[
              ...own(classes, part.clear, ['clear', 'wax'], 'As the piece'),
              ['none', 'None'] as const,
            ]}
            set={(v) => void set({ clear: v || null }, v ? 'own clear' : 'clear of the piece')}
          />
        )}
        <Field
          label="How many"
          inputMode="numeric"
          value={count}
          onInput={(e) => setCount(e.currentTarget.value)}
          onChange={() => {
            if (/^\d+$/.test(count.trim())) void set({ count: Number(count) }, `${count.trim()} of it`);
            else setCount(String(part.count ?? 1)); /* emptied is not left out */
          }}
        />
      </div>
      <PartForm
        part={part}
        said={saidOf(edit, part.id) ?? {}}
        say={set}
      />
      <div class="acts">
        <Act run={close}>Close</Act>
        <Act run={() => set({ count: 0 }, 'left out').then(close)}>Leave it out</Act>
        {saidOf(edit, part.id) && (
          <Act run={() => unsayPart(edit, part.id, name).then(close)}>As it was at first</Act>
        )}
      </div>
    </div>
  );
}

const at = (edit: Edited, part: string) =>
  `${pieceAt(edit.id)}/parts/${encodeURIComponent(part)}`;
const saidOf = (edit: Edited, part: string): Doc | undefined =>
  ((edit.document.parts as Doc[] | undefined) ?? []).find((p) => p.id === part);
/* Tells what came of it; the reason where it was refused. */
function heard(o: Outcome<unknown>, text: string): string | undefined {
  if (inBook(o, text) || 'unsent' in o)
    return undefined;
  if (!o.ok && o.failure.status === 412) changed();
  return o.ok ? undefined : o.failure.text;
}
const write = (edit: Edited, part: string, how: Pick<Send, 'method' | 'body'>, what: string) =>
  inTurn(edit.id, () =>
    send({
      ...how,
      path: at(edit, part),
      revision: newest(edit).revision,
      shows: pieceAt(edit.id),
      what,
    }).then((o) => {
      if (o.ok) wrote(edit.id, o.revision);
      return o;
    }),
  );
async function sayPart(edit: Edited, part: string, row: Doc, what: string) {
  const o = await write(edit, part, { method: 'PATCH', body: { row } }, what);
  return heard(o, `${what}. Everything that hangs on it was computed again.`);
}
async function unsayPart(edit: Edited, part: string, name: string) {
  const what = `${name}: as it was at first`;
  heard(await write(edit, part, { method: 'DELETE' }, what), `${what}.`);
}

/* A part that the template does not know: a gallery, a shelf, a carved crest. */
export function AddPart({ edit }: { edit: Edited }) {
  const shapes = useChoices().shapes ?? [],
    [shown, show] = useState(false),
    [v, put] = useState<Record<string, string>>({ shape: 'panel', count: '1' });
  const shape = shapes.find((s) => s.id === v.shape),
    sizes = shape?.sizes ?? [];
  const add = async () => {
    const id = (v.name ?? '')
      .toLowerCase()
      .replace(/[^a-z0-9]+/g, '-')
      .replace(/^-|-$/g, '');
    const row: Doc = { name: v.name, shape: v.shape, count: counted(v.count) ?? 1 };
    sizes.forEach((_, i) => {
      const k = 'abcdef'[i];
      if (v[k]) row[k] = v[k];
    });
    if (!(await sayPart(edit, id || 'part', row, `${v.name} added`))) show(false);
  };
  return (
    <details
      class="no-print gap"
      open={shown}
      onToggle={(e) => show(e.currentTarget.open)}
    >
      <summary>Another part</summary>
      {shown && (
        <div class="gap-b">
          <div class="form">
            <Field
              label="Name of the part"
              value={v.name ?? ''}
              onInput={(e) => put({ ...v, name: e.currentTarget.value })}
            />
            <Select
              label="Its shape"
              value={v.shape}
              options={shapes.map((s) => [s.id, s.name ?? s.id] as const)}
              set={(x) => put({ ...v, shape: x })}
            />
            {sizes.map((s, i) => (
              <Field
                key={s}
                label={sizeName(s)}
                value={v['abcdef'[i]] ?? ''}
                onInput={(e) => put({ ...v, ['abcdef'[i]]: e.currentTarget.value })}
                help={i >= (shape?.needed ?? 0) ? 'if it has one' : undefined}
                example={i ? undefined : '30 in'}
              />
            ))}
            <Field
              label="How many of them"
              inputMode="numeric"
              value={v.count}
              onInput={(e) => put({ ...v, count: e.currentTarget.value })}
            />
          </div>
          <div class="acts">
            <Act enter disabled={!v.name} run={add}>
              Add it
            </Act>
          </div>
        </div>
      )}
    </details>
  );
}
