/* One member of a document, written as its kind wants it; the change is told when it is complete. */
import { pairs, useChoices } from '../net/choices';
import { inUnit } from '../lib/bare';
import { isoDay } from '../lib/time';
import { Field, Seg, Select, capital } from './controls';
import { useDraft } from './draft';
import type { FieldSpec } from './fields';
import { useShop } from './frame';

function hexOf(v: unknown): string {
  return typeof v === 'string' && /^#[0-9a-f]{6}$/i.test(v) ? v : '#808080';
}

export function ColorField({
  label,
  value,
  hex,
  live,
  error,
  set,
}: {
  label: string;
  value: string;
  hex?: string; /* how a screen shows it, where that is known */
  live?: boolean; /* told letter by letter: what hangs on it is ready before the field is left */
  error?: string;
  set: (v: string) => void;
}) {
  const { text, type, tell } = useDraft(value);
  const told = (v: string) => {
    tell(v);
    set(v);
  };
  return (
    <div class="color-field">
      <Field
        label={label}
        error={error}
        value={text}
        onInput={(e) => (live ? told : type)(e.currentTarget.value)}
        onChange={(e) => told(e.currentTarget.value.trim())}
        example="#1d585f, lab(34% -18 -9) or a notation of the Munsell book"
        spellcheck={false}
      />
      <label class="pick">
        <span class="vh">{label}: pick</span>
        <input
          type="color"
          value={hexOf(text === value && hex ? hex : text)}
          onChange={(e) => told(e.currentTarget.value)}
        />
      </label>
    </div>
  );
}
/* A word of the document as a person says it. */
const WORDS: Record<string, string> = {
  us: 'Inches',
  client: 'A client',
  sale: 'Sale',
  own: 'Own use',
  'fl oz': 'Fluid ounces',
  tsp: 'Spoons and cups',
  ml: 'Milliliters',
  gram: 'A scale, grams',
  drop: 'Drops',
  part: 'Parts',
  'xrf negative': 'X-ray negative',
  'xrf positive': 'X-ray positive',
};
const wordName = (x: string) => WORDS[x] ?? capital(x);

export function EditField({
  spec,
  value,
  set,
  error,
}: {
  spec: FieldSpec;
  value: unknown;
  set: (v: unknown) => void;
  error?: string;
}) {
  const choices = useChoices(),
    { units } = useShop();
  const text =
    value === undefined || value === null
      ? ''
      : Array.isArray(value)
        ? value.join('\n')
        : String(value);
  const typed = (
    <Field
      label={spec.label}
      value={text}
      error={error}
      help={spec.help}
      example={spec.example}
      list={spec.list}
      onChange={(e) => set(inUnit(e.currentTarget.value.trim() || null, spec.in, units))}
    />
  );
  switch (spec.kind) {
    case 'yes':
      return (
        <Seg
          label={spec.label}
          value={value === true ? 'yes' : value === false ? 'no' : ''}
          options={
            [
              ['', 'Not said'],
              ['yes', 'Yes'],
              ['no', 'No'],
            ] as const
          }
          set={(v) => set(v === '' ? null : v === 'yes')}
        />
      );
    case 'word':
      if ((spec.words?.length ?? 0) <= 3)
        return (
          <Seg
            label={spec.label}
            value={text}
            options={[['', 'Not said'], ...(spec.words ?? []).map((x) => [x, wordName(x)] as const)]}
            set={(v) => set(v || null)}
          />
        );
      return (
        <Select
          label={spec.label}
          value={text}
          options={[['', 'Not said'], ...(spec.words ?? []).map((x) => [x, wordName(x)] as const)]}
          set={(v) => set(v || null)}
          help={spec.help}
        />
      );
    case 'choice': {
      const rows = (spec.from ? choices[spec.from] : undefined)?.filter(
          (c) => !spec.roles || spec.roles.includes((c as { role?: string }).role ?? ''),
        ),
        list = pairs(rows, 'Not said');
      if (rows?.length) list.push(...(spec.more ?? []));
      if (list.length > 1) {
        if (text && !list.some(([v]) => v === text)) list.push([text, text]);
        return (
          <Select
            label={spec.label}
            value={text}
            options={list}
            set={(v) => set(v || null)}
            help={spec.help}
          />
        );
      }
      return typed;
    }
    case 'color':
      return (
        <ColorField label={spec.label} value={text} error={error} set={(v) => set(v || null)} />
      );
    case 'int':
      return (
        <Field
          label={spec.label}
          value={text}
          inputMode="numeric"
          error={error}
          help={spec.help}
          example={spec.example}
          onChange={(e) => {
            const v = e.currentTarget.value.trim();
            set(v === '' ? null : /^-?\d+$/.test(v) ? Number(v) : v);
          }}
        />
      );
    case 'day':
      return (
        <Field
          label={spec.label}
          type="date"
          value={typeof value === 'number' ? isoDay(value) : text}
          error={error}
          onChange={(e) => set(e.currentTarget.value || null)}
        />
      );
    case 'long':
      return (
        <Field
          label={spec.label}
          rows={3}
          value={text}
          onChange={(e) => set(e.currentTarget.value.trim() || null)}
        />
      );
    case 'lines':
      return (
        <Field
          label={spec.label}
          rows={3}
          value={text}
          onChange={(e) => {
            const l = e.currentTarget.value
              .split('\n')
              .map((x) => x.trim())
              .filter(Boolean);
            set(l.length ? l : null);
          }}
        />
      );
    default:
      return typed;
  }
}
