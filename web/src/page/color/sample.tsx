/* A known mix on a card, dried, its color read: what the program learns from. And the one that would
 * teach it most now. */
import { useEffect, useState } from 'preact/hooks';
import { isKept, send } from '../../net/api';
import { Act, Seg, Select } from '../../ui/controls';
import { ColorField } from '../../ui/edit';
import { SHEENS } from '../../ui/fields';
import { told } from '../../ui/said';
import { DifferenceFall } from '../../draw/difference';
import { useRefused } from '../refused';
import { Dries } from './dries';
import { amountOf, listed, photoPath, type Mix, type MixItem, type NextSample, type Pour } from './kinds';
import { READ_HOW, useReadHow } from './read_how';

export function LogSample({
  items,
  name,
  mix,
  hex,
  done,
}: {
  items: Pour[];
  name: (id: string) => string;
  mix?: Mix;
  hex?: string;
  done?: () => void;
}) {
  const [color, set] = useState(''),
    [read, setRead] = useReadHow(),
    [sheen, setSheen] = useState(''),
    [wet, setWet] = useState<'dry' | 'wet'>('dry'),
    label = wet === 'wet' ? 'What it reads wet' : 'What it dried to',
    { took, error, typed } = useRefused({ color: label });
  const beside = mix?.hex ?? hex,
    there = items.some((i) => i.parts > 0);
  const save = async () => {
    const o = await send<{ text?: string }>({
      method: 'POST',
      path: '/api/samples',
      body: {
        sample: {
          items: items.filter((i) => i.parts > 0).map(({ paint, parts }) => ({ paint, parts })),
          color: color.trim(),
          read,
          ...(sheen ? { sheen } : {}),
          ...(wet === 'wet' ? { wet: true } : {}),
        },
      },
      what: 'A sample',
    });
    took(
      o,
      o.ok && o.body.text
        ? o.body.text
        : wet === 'wet'
        ? 'Kept. It is learned from once three mixes of its kind were read wet and dry; the shelf says so.'
        : 'Learned. Recipes are computed from it from now on.',
    );
    if (isKept(o)) {
      set(''); /* what waits to be sent is not logged a second time */
      done?.();
    }
  };
  return (
    <div>
      <p class="say">
        {there
          ? `Paint a card of this mix, let it dry, read its color: ${listed(items, name)}.`
          : 'Put paints on the sliders first: a sample is a known mix.'}
      </p>
      <div class="form gap-s">
        <ColorField
          live
          label={label}
          value={color}
          error={error('color')}
          set={(v) => {
            typed('color');
            set(v);
          }}
        />
        <Select label="How it was read" value={read} options={READ_HOW} set={setRead} />
        <Select
          label="Sheen of the card"
          value={sheen}
          options={[['', 'Not said'], ...SHEENS.split('|').map((s) => [s, s] as const)]}
          set={setSheen}
        />
        <Seg
          label="The card is"
          value={wet}
          options={[
            ['dry', 'Dry'],
            ['wet', 'Still wet'],
          ]}
          set={setWet}
        />
      </div>
      {color && beside && (
        <div class="surround small">
          <div class="pair">
            <div style={{ background: beside }} />
            <div style={{ background: color }} />
          </div>
        </div>
      )}
      {wet === 'wet' && <Dries color={color} items={items} />}
      <div class="acts">
        <Act enter disabled={!color || !there} run={save}>
          Log the sample
        </Act>
        {there && (
          <a class="btn" href={photoPath(undefined, items)}>
            Read it from a picture
          </a>
        )}
      </div>
    </div>
  );
}

export function Next({
  target,
  items,
  name,
  take,
  gain,
}: {
  target: string;
  items: MixItem[];
  name: (id: string) => string;
  take: (items: MixItem[]) => void;
  gain: (share: number | undefined) => void /* of the doubt that stays after it */;
}) {
  const [next, set] = useState<NextSample | null>(null),
    [at, setAt] = useState(0),
    [reading, read] = useState(false);
  const worth = async () => {
    const o = await send<NextSample>({
      method: 'POST',
      path: '/api/samples/next',
      body: {
        target,
        ...(items.some((i) => i.parts > 0) ? { items: items.filter((i) => i.parts > 0) } : {}),
      },
      what: 'The next sample',
      keep: false,
      quiet: true,
    });
    if (told(o) && o.ok) {
      set(o.body);
      setAt(0);
      read(false);
    }
  };
  const rows = next?.rows ?? [],
    row = rows[at],
    stays = row?.before && row.after !== undefined ? row.after / row.before : undefined;
  useEffect(() => gain(stays), [stays]);
  if (!next)
    return (
      <>
        <p class="say">The one small card that would make the recipe in hand surest.</p>
        <div class="acts">
          <Act disabled={!target} run={worth}>
            Say which
          </Act>
        </div>
      </>
    );
  if (!row) return <p class="say">{next.text ?? 'No small test mix would make this surer.'}</p>;
  return (
    <>
      <div class="next">
        <div class="surround">
          <div style={{ background: row.hex }} />
        </div>
        <div>
          <p class="lead">
            <b>
              {(row.items ?? []).map((i) => `${amountOf(i)} ${i.name ?? name(i.paint)}`).join(', ')}.
            </b>{' '}
            It should dry about like this.
          </p>
          <p class="say">{at ? row.text : next.text}</p>
        </div>
      </div>
      {row.before !== undefined && row.after !== undefined && (
        <DifferenceFall now={row.before} then={row.after} />
      )}
      <div class="acts">
        <button class="btn main" aria-expanded={reading} onClick={() => read(!reading)}>
          I made it, read the card
        </button>
        {rows.length > 1 && (
          <button class="btn" onClick={() => setAt((at + 1) % rows.length)}>
            Another one
          </button>
        )}
        <button class="btn" onClick={() => take(row.items ?? [])}>
          Put it on the sliders
        </button>
      </div>
      {reading && (
        <LogSample
          items={row.items ?? []}
          name={name}
          hex={row.hex}
          done={() => {
            set(null);
            read(false);
          }}
        />
      )}
    </>
  );
}
