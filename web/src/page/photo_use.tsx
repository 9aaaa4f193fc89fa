/* What was read, and what becomes of it: target, sample, paint, correction, comparison. */
import { useState } from 'preact/hooks';
import { send } from '../net/api';
import type { Reading } from '../net/picture';
import { named, useChoices } from '../net/choices';
import { askedPlace, go } from '../lib/router';
import { labCss } from '../draw/parts';
import { differenceWord } from '../draw/difference';
import { Act, Field, Select } from '../ui/controls';
import { SHEENS } from '../ui/fields';
import { inBook } from './change';
import { useRefused } from './refused';

const itemsOf = (text: string | null) =>
  (text ?? '')
    .split(',')
    .filter(Boolean)
    .map((x) => x.split('='))
    .map(([paint, parts]) => ({ paint, parts: Number(parts) }));

function Sample({ items, color }: { items: { paint: string; parts: number }[]; color: string }) {
  const [wet, setWet] = useState('no'),
    [sheen, setSheen] = useState('');
  const save = async () => {
    const o = await send({
      method: 'POST',
      path: '/api/samples',
      body: {
        sample: { items, color, read: 'photo', wet: wet === 'yes', ...(sheen ? { sheen } : {}) },
      },
      what: 'A sample',
    });
    inBook(o, 'Learned. Recipes are computed from it from now on.');
  };
  return (
    <>
      <p class="say">
        A card of {items.map((i) => `${i.parts} ${i.paint.replace(/[-_]/g, ' ')}`).join(', ')}.
      </p>
      <div class="form gap-s">
        <Select
          label="When it was read"
          value={wet}
          options={[
            ['no', 'Dry'],
            ['yes', 'Still wet'],
          ]}
          set={setWet}
        />
        <Select
          label="Sheen"
          value={sheen}
          options={[['', 'Not said'], ...SHEENS.split('|').map((s) => [s, s] as const)]}
          set={setSheen}
        />
      </div>
      <div class="acts">
        <Act enter kind="btn main" run={save}>
          Log it as a sample
        </Act>
      </div>
    </>
  );
}

function NewPaint({ color }: { color: string }) {
  const [name, setName] = useState(''),
    [kind, setKind] = useState(''),
    { took, at } = useRefused(),
    choices = useChoices();
  const save = async () => {
    const o = await send({
      method: 'POST',
      path: '/api/paints',
      body: { paint: { name, color, ...(kind ? { class: kind } : {}) } },
      what: `Paint ${name}`,
    });
    if (took(o, `${name} stands on the shelf.`)) setName('');
  };
  return (
    <>
      <div class="form gap-s">
        <Field label="Name" {...at('name', name, setName)} />
        <Select
          label="What it is"
          value={kind}
          options={[
            ['', 'Choose'],
            ...(choices.classes ?? []).map((c) => [c.id, named(c)] as const),
          ]}
          set={setKind}
        />
      </div>
      <div class="acts">
        <Act enter disabled={!name || !kind} run={save}>
          Put it on the shelf
        </Act>
      </div>
    </>
  );
}

export function PhotoUse({ reading, query }: { reading: Reading; query: URLSearchParams }) {
  const [first, second] = reading.targets,
    [which, setWhich] = useState('0');
  const t = reading.targets[Number(which)] ?? first;
  if (!t) return <p class="say">Nothing wanted was marked.</p>;
  const items = itemsOf(query.get('items')),
    batch = query.get('batch'),
    back = askedPlace('back') || '/color',
    d = reading.difference;
  const sides = second ? [first, second] : [t];
  return (
    <>
      <h2>Read</h2>
      <div class="surround small">
        <div class={sides.length > 1 ? 'pair' : 'pair one'}>
          {sides.map((x) => (
            <div style={{ background: labCss(x.lab) ?? x.hex }} />
          ))}
        </div>
      </div>
      <div class={sides.length > 1 ? 'pair-cap' : 'pair-cap one'}>
        {sides.map((x) => (
          <div>
            <b>{x.name}</b>
            <small class="num">{x.color}</small>
            <small>
              Expect {x.expected.toFixed(1)} off; nine of ten within {x.limit90.toFixed(1)}.
            </small>
          </div>
        ))}
      </div>
      {d && second && (
        <p class="note gap-s">
          <b>
            {second.name} is {d.ciede2000.toFixed(1)} from {first.name},{' '}
            {differenceWord(d.ciede2000)}.
          </b>{' '}
          {['lighter', 'redder', 'yellower']
            .map((w, i) => ({ w: d.lab[i] < 0 ? ['darker', 'greener', 'bluer'][i] : w, v: d.lab[i] }))
            .filter((x) => Math.abs(x.v) >= 0.5)
            .map((x) => `${Math.abs(x.v).toFixed(1)} ${x.w}`)
            .join(', ')}
          {'. '}
          That difference is known to {d.expected.toFixed(1)}
          {d.expected < Math.min(first.expected, second.expected)
            ? ', better than either color alone'
            : ''}
          .
        </p>
      )}
      {reading.targets.length > 1 && (
        <div class="gap-s">
          <Select
            label="Which of them to use"
            value={which}
            options={reading.targets.map((x, n) => [String(n), x.name] as const)}
            set={setWhich}
          />
        </div>
      )}
      {batch && (
        <div class="acts">
          <button
            type="button"
            class="btn main"
            onClick={() =>
              go(
                `/batches/${encodeURIComponent(batch)}?dried=${encodeURIComponent(t.color)}&read=photo`,
              )
            }
          >
            That is what the batch dried to
          </button>
        </div>
      )}
      {items.length > 0 && <Sample items={items} color={t.color} />}
      <div class="acts">
        <button
          type="button"
          class={batch || items.length ? 'btn' : 'btn main'}
          onClick={() =>
            go(`${back.startsWith('/color') ? back : '/color'}?target=${encodeURIComponent(t.color)}`)
          }
        >
          Use it as the target
        </button>
      </div>
      <details>
        <summary>Put it on the shelf as a paint</summary>
        <NewPaint color={t.color} />
      </details>
    </>
  );
}
