/* Color: target beside mix, edge to edge on a neutral ground; recipes to compare; a slider a paint;
 * samples. The browser asks the server for every color and computes none. */
import { useEffect, useMemo, useRef, useState } from 'preact/hooks';
import { get, send } from '../net/api';
import { askMix, askRecipes, useServes } from '../net/palette';
import { useAnswer, useCell } from '../net/use';
import type { ColorSaid, List, Notice, PlanAnswer } from '../net/types';
import { money } from '../lib/quantity';
import { asked, go } from '../lib/router';
import { inUnits, surround, type Tone } from '../lib/settings';
import { labCss } from '../draw/parts';
import { DifferenceLine, Plane, differenceWord } from '../draw/plane';
import { Act, Empty, Field, Seg, Select } from '../ui/controls';
import { ColorField } from '../ui/edit';
import { useShop } from '../ui/frame';
import { failureText, say, told } from '../ui/said';
import { Notices, Warn } from '../ui/warn';
import { undoAct } from './change';
import type { Paint } from './shelf';

export interface MixItem {
  paint: string;
  parts: number;
}
export interface Recipe {
  items: MixItem[];
  lab?: number[];
  hex?: string;
  difference?: number;
  expected_difference?: number;
  difference_90?: number;
  cost_cent?: number;
  differences?: Record<string, number>;
  lights?: { light?: string; difference?: number; hex?: string }[];
}
interface Recipes {
  recipes?: Recipe[];
  target?: ColorSaid;
  proof?: { kind?: string; bound?: number };
  notices?: Notice[];
}
interface Mix {
  lab?: number[];
  hex?: string;
  difference?: number;
  expected_difference?: number;
  difference_90?: number;
  lights?: { light?: string; hex?: string; lab?: number[]; difference?: number }[];
}
interface Next {
  items?: MixItem[];
  lab?: number[];
  hex?: string;
  text?: string;
  why?: string;
  before?: number;
  after?: number;
}
const LIGHTS = [
  ['d65', 'Daylight'],
  ['a', 'Evening lamp'],
  ['led', 'LED'],
] as const;
type Light = (typeof LIGHTS)[number][0];
const TONES: readonly (readonly [Tone, string])[] = [
  ['light', 'Light'],
  ['mid', 'Middle'],
  ['dark', 'Dark'],
];
const itemsText = (items: MixItem[]) =>
  items
    .filter((i) => i.parts > 0)
    .map((i) => `${i.paint}=${i.parts}`)
    .join(',');
const photoPath = (piece?: string, items?: MixItem[]) =>
  `/photo?for=${items ? 'sample' : 'target'}&back=${encodeURIComponent(piece ? `/color/${piece}` : '/color')}${items ? `&items=${encodeURIComponent(itemsText(items))}` : ''}`;
const css = (m?: { hex?: string; lab?: number[] }) => labCss(m?.lab) ?? m?.hex;

/* The mix as it stands, asked for a moment after the last move; the last answer stays until then. */
function useMix(items: MixItem[], target: string, revision: number | undefined): Mix | undefined {
  const [mix, set] = useState<Mix | undefined>(),
    text = itemsText(items);
  useEffect(() => {
    if (!text) {
      set(undefined);
      return;
    }
    let gone = false;
    const t = setTimeout(async () => {
      const o = await askMix<Mix>(revision, text);
      if (gone || !o.ok) return;
      set(o.body);
      const of = labCss(o.body.lab);
      if (!target || !of) return;
      const d = await get<{ difference?: number }>(
        `/api/colors/difference?a=${encodeURIComponent(target)}&b=${encodeURIComponent(of)}`,
      );
      if (!gone && d.ok) set({ ...o.body, difference: d.body.difference });
    }, 25);
    return () => {
      gone = true;
      clearTimeout(t);
    };
  }, [text, target, revision]);
  return mix;
}
/* Colors along one slider, mark by mark: what the batch would be there. */
function useRamp(
  items: MixItem[],
  which: number,
  most: number,
  revision: number | undefined,
): (string | undefined)[] {
  const [ramp, set] = useState<(string | undefined)[]>([]),
    others = itemsText(items.map((i, n) => (n === which ? { ...i, parts: 0 } : i)));
  useEffect(() => {
    let gone = false;
    const marks = 6;
    const t = setTimeout(async () => {
      const all: (string | undefined)[] = [];
      for (let m = 0; m < marks && !gone; m++) {
        const parts = Math.round((most * m) / (marks - 1)),
          text = itemsText(items.map((i, n) => (n === which ? { ...i, parts } : i)));
        const o = text ? await askMix<Mix>(revision, text) : undefined;
        all.push(o?.ok ? css(o.body) : undefined);
      }
      if (!gone) set(all);
    }, 200);
    return () => {
      gone = true;
      clearTimeout(t);
    };
  }, [others, most, items[which]?.paint, revision]);
  return ramp;
}
function Slider({
  revision,
  items,
  which,
  most,
  paint,
  set,
  drop,
}: {
  revision?: number;
  items: MixItem[];
  which: number;
  most: number;
  paint?: Paint;
  set: (parts: number) => void;
  drop: () => void;
}) {
  const ramp = useRamp(items, which, most, revision),
    v = items[which].parts,
    name = paint?.name ?? items[which].paint;
  const step = (d: number) => set(Math.max(0, Math.min(most, v + d)));
  return (
    <div class="slider">
      <div class="slider-top">
        <span>
          <b>{name}</b> {paint?.known && <small class="k">{paint.known}</small>}
        </span>
        <span class="steps">
          <button type="button" aria-label={`Less ${name}`} onClick={() => step(-1)}>
            −
          </button>
          <output>
            {v} {v === 1 ? 'part' : 'parts'}
          </output>
          <button type="button" aria-label={`More ${name}`} onClick={() => step(1)}>
            +
          </button>
        </span>
      </div>
      <div class="track">
        <div class="ramp" aria-hidden="true">
          {ramp.map((c) => (
            <i style={{ background: c ?? 'transparent' }} />
          ))}
        </div>
        <input
          type="range"
          min="0"
          max={most}
          step="1"
          value={v}
          aria-label={`Parts of ${name}`}
          onInput={(e) => set(Number(e.currentTarget.value))}
        />
      </div>
      {v === 0 && (
        <button type="button" class="btn small" onClick={drop}>
          Leave {name} out
        </button>
      )}
    </div>
  );
}
function RecipeRow({
  r,
  paints,
  here,
  target,
  take,
}: {
  r: Recipe;
  paints: Map<string, Paint>;
  here: boolean;
  target?: string;
  take: () => void;
}) {
  const sum = r.items.reduce((n, i) => n + i.parts, 0),
    lamp =
      r.differences?.a ??
      r.lights?.find((l) => /^a$|lamp|incandescent/i.test(l.light ?? ''))?.difference;
  return (
    <li class={here ? 'thing rc here' : 'thing rc'}>
      <div class="two-sw">
        <i style={{ background: target }} />
        <i style={{ background: css(r) }} />
      </div>
      <div>
        <p>
          {r.items.map((i) => (
            <span class="num">
              <b>{i.parts}</b> {paints.get(i.paint)?.name ?? i.paint}
              {'  '}
            </span>
          ))}
        </p>
        <div class="bar" aria-hidden="true">
          {r.items.map((i) => (
            <i
              style={{ flex: i.parts / sum, background: paints.get(i.paint)?.color_hex ?? '#999' }}
            />
          ))}
        </div>
        <small>{r.items.length === 1 ? 'straight from the can' : `${sum} parts`}</small>
      </div>
      <DifferenceLine at={r.difference} expected={r.expected_difference} most={r.difference_90} />
      <div>
        <b class="num">{(r.expected_difference ?? r.difference ?? 0).toFixed(1)}</b>
        <small>{differenceWord(r.expected_difference ?? r.difference ?? 0)}</small>
      </div>
      <div>
        {lamp !== undefined ? (
          <>
            <b class="num">{lamp.toFixed(1)}</b>
            <small>by lamp</small>
          </>
        ) : r.cost_cent !== undefined ? (
          <>
            <b class="num">{money(r.cost_cent)}</b>
            <small>cost</small>
          </>
        ) : null}
      </div>
      <div>
        {here ? (
          <b>In hand</b>
        ) : (
          <button class="btn" onClick={take}>
            Take it
          </button>
        )}
      </div>
    </li>
  );
}
function LogSample({
  items,
  paints,
  mix,
}: {
  items: MixItem[];
  paints: Map<string, Paint>;
  mix?: Mix;
}) {
  const [color, set] = useState(''),
    [read, setRead] = useState('instrument');
  const save = async () => {
    const o = await send({
      method: 'POST',
      path: '/api/samples',
      body: { sample: { items: items.filter((i) => i.parts > 0), color, read } },
      what: 'A sample',
    });
    if (
      told(o, {
        text: 'Learned. Recipes are computed from it from now on.',
        act: undoAct(o.ok ? o.revision : undefined),
      })
    )
      set('');
  };
  return (
    <div>
      <p class="say">
        Paint the mix in hand on a card, let it dry, read its color.{' '}
        {items
          .filter((i) => i.parts > 0)
          .map((i) => `${i.parts} ${paints.get(i.paint)?.name ?? i.paint}`)
          .join(', ')}
        .
      </p>
      <div class="form gap-s">
        <ColorField
          key={color === '' ? 'e' : 'f'}
          label="What it dried to"
          value={color}
          set={set}
        />
        <Select
          label="How it was read"
          value={read}
          options={[
            ['instrument', 'With an instrument'],
            ['chart', 'By a color chart'],
            ['photo', 'From a photo'],
            ['eye', 'By eye'],
          ]}
          set={setRead}
        />
      </div>
      {color && (
        <div class="surround small">
          <div class="pair">
            <div style={{ background: css(mix) }} />
            <div style={{ background: color }} />
          </div>
        </div>
      )}
      <div class="acts">
        <Act disabled={!color || !items.some((i) => i.parts > 0)} run={save}>
          Log the sample
        </Act>
        {items.some((i) => i.parts > 0) && (
          <a class="btn" href={photoPath(undefined, items)}>
            Read it from a picture
          </a>
        )}
      </div>
    </div>
  );
}

export function ColorPage({ piece }: { piece?: string }) {
  const plan = useAnswer<PlanAnswer>(
      piece ? inUnits(`/api/pieces/${encodeURIComponent(piece)}/plan`) : null,
    ).data,
    color = plan?.pieces?.find((p) => p.id === piece)?.color ?? plan?.pieces?.[0]?.color;
  const { data: shelf, revision } = useAnswer<List<Paint>>('/api/paints?limit=200'),
    batches = useServes('/api/batches'),
    samplesNext = useServes('/api/samples/next'),
    { units } = useShop(),
    tone = useCell(surround);
  const paints = useMemo(() => new Map((shelf?.rows ?? []).map((p) => [p.id, p])), [shelf]);
  const [target, setTarget] = useState(asked('target')),
    [items, setItems] = useState<MixItem[]>([]),
    [answer, setAnswer] = useState<Recipes | null>(null),
    [light, setLight] = useState<Light>('d65');
  const [grid, setGrid] = useState('16'),
    [paintsMax, setMax] = useState('3'),
    [next, setNext] = useState<Next | null>(null),
    [amount, setAmount] = useState('');
  const parts = Math.max(2, Number(grid) || 16),
    begun = useRef(false);
  useEffect(() => {
    if (begun.current || !color) return;
    begun.current = true;
    setTarget(asked('target') || (color.target?.text ?? color.target?.hex ?? ''));
    setItems((color.lines ?? []).map((l) => ({ paint: l.paint ?? '', parts: l.parts ?? 0 })));
  }, [color]);
  const mix = useMix(items, target, revision),
    seen = mix?.lights?.find((l) => (l.light ?? '').toLowerCase().startsWith(light));
  const search = async () => {
    const o = await askRecipes<Recipes>(revision, {
      target,
      paints: Number(paintsMax) || 3,
      parts,
    });
    if (!o.ok) {
      say({ text: failureText(o.failure), stop: true });
      return;
    }
    setAnswer(o.body);
    if (o.body.recipes?.[0] && !items.length) setItems(o.body.recipes[0].items);
  };
  useEffect(() => {
    if (target && !answer && shelf?.rows?.length) void search();
  }, [target, shelf]);
  const worth = async () => {
    const o = await send<Next>({
      method: 'POST',
      path: '/api/samples/next',
      body: { target, ...(items.length ? { items } : {}) },
      what: 'The next sample',
      keep: false,
    });
    if (told(o) && o.ok) setNext(o.body);
  };
  const batch = async () => {
    const o = await send<{ id?: string }>({
      method: 'POST',
      path: '/api/batches',
      body: {
        name: plan?.pieces?.[0]?.title ?? 'Batch',
        target,
        items: items.filter((i) => i.parts > 0),
        amount,
        ...(piece ? { piece } : {}),
      },
      what: 'A batch',
    });
    if (
      told(o, {
        text: 'Mixed; the shelf is less by it.',
        act: undoAct(o.ok ? o.revision : undefined),
      }) &&
      o.ok &&
      o.body.id
    )
      go(`/batches/${encodeURIComponent(o.body.id)}`);
  };
  const spare = (shelf?.rows ?? []).filter(
    (p) => p.color_hex && !items.some((i) => i.paint === p.id),
  );
  const title = plan?.pieces?.[0]?.title;
  return (
    <>
      <div class="head">
        <div>
          <h1>{title ? `Color of ${title.toLowerCase()}` : 'Color'}</h1>
          <p>
            {piece ? (
              <a href={`/pieces/${encodeURIComponent(piece)}`}>Back to its sheet</a>
            ) : (
              'Target beside mix, edge to edge. The ground around them is neutral, so that the eye can judge.'
            )}
          </p>
        </div>
        <div class="taps no-print">
          <Seg label="Seen under" value={light} options={LIGHTS} set={setLight} />
          <Seg label="Surround" value={tone} options={TONES} set={(v) => surround.set(v)} />
        </div>
      </div>
      <div class="surround seam">
        <div class="pair">
          <div style={{ background: target || 'transparent' }} class={target ? '' : 'none'} />
          <div
            style={{ background: css(light === 'd65' ? mix : (seen ?? mix)) ?? 'transparent' }}
            class={mix ? '' : 'none'}
          />
        </div>
      </div>
      <div class="pair-cap">
        <div>
          <b>Target</b>
          <small>{target || 'none yet'}</small>
        </div>
        <div>
          <b>The mix</b>{' '}
          {mix?.difference !== undefined && (
            <span class="num">
              {mix.difference.toFixed(1)} off, {differenceWord(mix.difference)}
            </span>
          )}
          <small>
            {mix
              ? `${mix.expected_difference !== undefined ? `expect ${mix.expected_difference.toFixed(1)}, nine of ten within ${(mix.difference_90 ?? mix.expected_difference).toFixed(1)}. ` : ''}${light !== 'd65' ? (seen ? `As it looks under ${LIGHTS.find(([l]) => l === light)?.[1].toLowerCase()}.` : 'The server says nothing of this light for this mix.') : ''}`
              : 'nothing mixed yet'}
          </small>
        </div>
      </div>
      <section class="stage gap">
        <header>
          <h2>Target</h2>
        </header>
        <div class="stage-body">
          <div class="form">
            <ColorField
              key={target}
              label="Color wanted"
              value={target}
              set={(v) => {
                setTarget(v);
                setAnswer(null);
              }}
            />
            <Field
              label="Parts in all"
              inputMode="numeric"
              value={grid}
              onInput={(e) => setGrid(e.currentTarget.value)}
              help="The measuring grid: a recipe is so many parts"
            />
            <Field
              label="Paints at most"
              inputMode="numeric"
              value={paintsMax}
              onInput={(e) => setMax(e.currentTarget.value)}
            />
          </div>
          <div class="acts">
            <Act kind="btn main" disabled={!target} run={search}>
              Find recipes
            </Act>
            <a class="btn" href={photoPath(piece)}>
              Read it from a picture
            </a>
          </div>
        </div>
      </section>
      {!shelf?.rows?.length && (
        <Empty title="The shelf is empty">
          <p>
            Recipes come from the paints that are on the shelf, and from samples of them. Put three
            in: one light, one dark, one colored.
          </p>
          <div class="acts">
            <a class="btn" href="/shelf">
              To the shelf
            </a>
          </div>
        </Empty>
      )}
      <div class="two gap">
        <section class="part-h">
          <h2>What goes into the batch</h2>
          {items.map((i, n) => (
            <Slider
              revision={revision}
              key={i.paint}
              items={items}
              which={n}
              most={parts}
              paint={paints.get(i.paint)}
              set={(v) => setItems((all) => all.map((x, m) => (m === n ? { ...x, parts: v } : x)))}
              drop={() => setItems((all) => all.filter((_, m) => m !== n))}
            />
          ))}
          {spare.length > 0 && (
            <div class="gap-s">
              <Select
                label="Add a paint"
                value=""
                options={[['', 'Choose'], ...spare.map((p) => [p.id, p.name ?? p.id] as const)]}
                set={(v) => v && setItems((all) => [...all, { paint: v, parts: 1 }])}
              />
            </div>
          )}
          {batches && items.length > 0 && (
            <div class="form gap">
              <Field
                label="How much to mix"
                value={amount}
                placeholder={units === 'metric' ? '500 ml' : '16 fl oz'}
                onInput={(e) => setAmount(e.currentTarget.value)}
              />
              <div class="acts">
                <Act disabled={!amount} run={batch}>
                  Mixed it
                </Act>
              </div>
            </div>
          )}
        </section>
        <section class="part-h">
          <h2>Where it lies</h2>
          <Plane
            target={color?.target?.lab ?? answer?.target?.lab}
            mix={mix?.lab}
            doubt={mix?.difference_90}
          />
          <div class="legend">
            <span>□ target</span>
            <span>● mix</span>
            <span>ellipse: nine of ten dry inside</span>
          </div>
        </section>
      </div>
      {answer && (
        <section class="part-h">
          <h2>Recipes</h2>
          <Notices rows={answer.notices} />
          {answer.recipes?.length ? (
            <ul class="things">
              {
                <li class="thing rc rc-head">
                  <span />
                  <span class="k">parts</span>
                  <DifferenceLine head />
                  <span class="k">expect</span>
                  <span class="k" />
                  <span />
                </li>
              }
              {answer.recipes.map((r) => (
                <RecipeRow
                  r={r}
                  paints={paints}
                  target={target}
                  here={itemsText(r.items) === itemsText(items)}
                  take={() => setItems(r.items)}
                />
              ))}
            </ul>
          ) : (
            <p class="say">No mix of the shelf comes near it.</p>
          )}
          {answer.proof && (
            <p class="note gap">
              <b>
                {answer.proof.kind === 'optimal'
                  ? 'Proven: nothing on this grid comes nearer.'
                  : 'The search ended at its limit.'}
              </b>
              {answer.proof.bound !== undefined
                ? ` Nothing can be nearer than ${answer.proof.bound.toFixed(2)}.`
                : ''}
            </p>
          )}
        </section>
      )}
      <div class="two">
        <section class="part-h">
          <h2>Log a sample</h2>
          <LogSample items={items} paints={paints} mix={mix} />
        </section>
        {samplesNext && (
          <section class="part-h">
            <h2>The next sample worth making</h2>
            {next ? (
              <>
                <div class="surround small">
                  <div style={{ background: css(next), height: '96px' }} />
                </div>
                <p class="gap-s">
                  <b>
                    {(next.items ?? [])
                      .map((i) => `${i.parts} ${paints.get(i.paint)?.name ?? i.paint}`)
                      .join(', ')}
                    .
                  </b>{' '}
                  {next.text ?? next.why}
                </p>
                {next.before !== undefined && next.after !== undefined && (
                  <Warn rank="note">
                    <p>
                      Expected difference now {next.before.toFixed(1)}, after it{' '}
                      {next.after.toFixed(1)}.
                    </p>
                  </Warn>
                )}
                <div class="acts">
                  <button class="btn" onClick={() => setItems(next.items ?? [])}>
                    Take it in hand
                  </button>
                </div>
              </>
            ) : (
              <>
                <p class="say">Which card would make the next recipes surest.</p>
                <div class="acts">
                  <Act disabled={!target} run={worth}>
                    Say which
                  </Act>
                </div>
              </>
            )}
          </section>
        )}
      </div>
      <p class="k gap">
        Under 1: unseen. 1 to 3: seen side by side. Over 3: seen at a glance. A screen shows colors
        only as well as it is set; the dried card decides.
      </p>
    </>
  );
}
