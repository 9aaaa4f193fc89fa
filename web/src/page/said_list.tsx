/* What a piece says several of: repairs, fillings of openings, parts that slide. One form for all:
 * what is said stands as a line with its own way out, the next one is added below. */
import { useState } from 'preact/hooks';
import { pairs, useChoices, type Choices } from '../net/choices';
import type { Doc, PieceRow, Surface } from '../net/types';
import { Checks } from '../ui/checks';
import { Act, Field, Select } from '../ui/controls';
import { More } from '../ui/more';
import { setValue, type Edited } from './change';
import { useRefused } from './refused';
import { counted, listOf, without } from '../lib/doc';

type Options = [string, string][];
interface Said {
  choices: Choices;
  parts: Options;
}
interface Member {
  key: string;
  label: string;
  options?: (s: Said) => Options;
  whole?: boolean; /* a number that counts */
  example?: string;
}
export interface Listed {
  path: string[];
  one: string; /* what is written down: "Repair" */
  add: string; /* the button that opens the form */
  keep: string;
  key?: string; /* rows need an id of their own, made of this word */
  start: Doc;
  members: Member[];
}
const words = (list: string) => (): Options =>
  list.split('|').map((w) => [w, w.charAt(0).toUpperCase() + w.slice(1)]);
const unsaid = (o: Options, none: string): Options => [['', none], ...o];

export const REPAIRS: Listed = {
  path: ['repairs'],
  one: 'Repair',
  add: 'Something must be repaired',
  keep: 'Plan the repair',
  start: { kind: 'loose_joint' },
  members: [
    { key: 'kind', label: 'What', options: (s) => pairs(s.choices.repairs) },
    { key: 'part', label: 'Where', options: (s) => unsaid(s.parts, 'The whole piece') },
    { key: 'count', label: 'How many', whole: true },
    { key: 'cost', label: 'What others ask for it, in all', example: '$120' },
    { key: 'note', label: 'Note' },
  ],
};
export const PANELS: Listed = {
  path: ['fittings', 'panels'],
  one: 'Opening',
  add: 'An opening is filled: cane, fabric, glass',
  keep: 'Plan the filling',
  key: 'opening',
  start: { kind: 'cane' },
  members: [
    { key: 'kind', label: 'With', options: words('cane|fabric|panel|glass|mirror') },
    { key: 'width', label: 'Width of the opening' },
    { key: 'height', label: 'Height of the opening' },
    { key: 'count', label: 'How many', whole: true },
    { key: 'hold', label: 'Held by', options: () => unsaid(words('staple|spline|bead')(), 'Not said') },
    { key: 'depth', label: 'Wood free behind it' },
    { key: 'groove', label: 'Width of the groove' },
    { key: 'rebate', label: 'Ledge below the frame by' },
    { key: 'reach', label: 'Stapler reaches down' },
    { key: 'thickness', label: 'Thickness' },
  ],
};
export const SLIDES: Listed = {
  path: ['fittings', 'slides'],
  one: 'Gap',
  add: 'A gap was measured',
  keep: 'Keep the gap',
  start: { part: '' },
  members: [
    { key: 'part', label: 'Beside which part', options: (s) => unsaid(s.parts, 'Choose') },
    { key: 'gap', label: 'Gap on a side', example: '1/16 in' },
    { key: 'height', label: 'Height across the grain' },
    { key: 'grain', label: 'Sawn', options: () => unsaid(words('flat|quarter')(), 'Not said') },
  ],
};

const listAt = (doc: Doc, path: string[]) =>
  (path.reduce<unknown>((o, k) => (o as Doc | undefined)?.[k], doc) as Doc[] | undefined) ?? [];

function lineOf(row: Doc, l: Listed, said: Said): string {
  return l.members
    .map(({ key, options, label, whole }) => {
      const v = row[key];
      if (v === undefined || v === '') return '';
      if (whole) return v === 1 ? '' : `${v} of them`;
      if (options) return (options(said).find(([id]) => id === v)?.[1] ?? String(v)).toLowerCase();
      return key === 'note' ? String(v) : `${label.toLowerCase()} ${v}`;
    })
    .filter(Boolean)
    .join(', ');
}

export function SaidList({
  edit,
  of,
  surfaces,
}: {
  edit: Edited & { row: PieceRow };
  of: Listed;
  surfaces: Surface[];
}) {
  const said: Said = {
    choices: useChoices(),
    parts: surfaces.map((s) => [s.part.id ?? '', s.part.name ?? s.part.id ?? '']),
  };
  const rows = listAt(edit.document, of.path),
    [fresh, set] = useState<Doc>(of.start),
    { refused, at } = useRefused();
  const keep = (next: (were: Doc[]) => Doc[], what: string) =>
    setValue(edit, of.path, listOf(next), what, refused);
  const free = (were: Doc[]) => {
    let n = were.length + 1;
    while (were.some((r) => r.id === `${of.key}-${n}`)) n++;
    return `${of.key}-${n}`;
  };
  const add = async () => {
    const row = Object.fromEntries(Object.entries(fresh).filter(([, v]) => v !== '')) as Doc;
    for (const { key, whole } of of.members)
      if (whole && row[key] !== undefined) row[key] = counted(String(row[key]));
    const no = await keep(
      (were) => [...were, of.key ? { ...row, id: free(were) } : row],
      `${of.one} written down`,
    );
    if (no === undefined) set(of.start);
    return no;
  };
  return (
    <div class="gap no-print">
      {rows.length > 0 && (
        <ul class="rows">
          {rows.map((r) => (
            <li class="when" key={lineOf(r, of, said)}>
              <b>{of.one}</b>
              <span>{lineOf(r, of, said)}</span>
              <Act
                kind="btn small"
                run={() => keep((were) => without(were, r), `${of.one} taken out`)}
              >
                Take out
              </Act>
            </li>
          ))}
        </ul>
      )}
      <More ask={of.add} keep={of.keep} run={add}>
        {of.members.map(({ key, label, options, example, whole }) =>
          options ? (
            <Select
              label={label}
              value={String(fresh[key] ?? '')}
              options={options(said)}
              set={(v) => set({ ...fresh, [key]: v })}
            />
          ) : (
            <Field
              label={label}
              example={example}
              inputMode={whole ? 'numeric' : undefined}
              {...at(key, String(fresh[key] ?? ''), (text) => set({ ...fresh, [key]: text }))}
            />
          ),
        )}
      </More>
    </div>
  );
}

/* Stencil, glaze, distressing: what comes between color and clear. */
export function Effects({ edit }: { edit: Edited }) {
  const all = pairs(useChoices().effects).map(([id, name]) => ({ id, name })),
    chosen = (edit.document.wanted as { effects?: string[] } | undefined)?.effects ?? [];
  return (
    <details class="gap no-print">
      <summary>
        {chosen.length
          ? `Effects: ${all
              .filter((e) => chosen.includes(e.id))
              .map((e) => e.name)
              .join(', ')}`
          : 'Effects: none'}
      </summary>
      <Checks
        rows={all}
        chosen={chosen}
        put={async (ids) =>
          (await setValue(edit, ['wanted', 'effects'], ids.length ? ids : null, 'Effects')) ===
          undefined
        }
      />
    </details>
  );
}
