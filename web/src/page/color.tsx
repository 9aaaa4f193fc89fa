/* Color: target beside mix, recipes to compare, a slider a paint, how it is poured, what to learn
 * next. The browser asks the server for every color and computes none. */
import { useEffect, useMemo, useRef, useState } from 'preact/hooks';
import { useAnswer, useCell } from '../net/use';
import type { ColorPlan, List, PlanAnswer } from '../net/types';
import { quantity } from '../lib/quantity';
import { asked } from '../lib/router';
import { inUnits, surround, type Tone } from '../lib/settings';
import { Plane } from '../draw/plane';
import { Empty, Seg } from '../ui/controls';
import { useShop } from '../ui/frame';
import { failureText, membersOf } from '../ui/said';
import type { Paint } from './shelf';
import type { Measured } from './shelf_measured';
import { Again, useAgain } from './color/again';
import { begunWith, smallest } from './color/begun';
import { ASKED, Ask } from './color/ask';
import { Beside } from './color/beside';
import { Batches, Kept, Keep } from './color/kept';
import { choices, choose, measuredText, searchOf } from './color/choices';
import { Hiding } from './color/hiding';
import {
  LIGHTS,
  SURFACES,
  ask,
  itemsText,
  photoPath,
  type Light,
  type MixItem,
  type Surface,
} from './color/kinds';
import { useKnown } from './color/known';
import { Pair } from './color/pair';
import { RecipeRows } from './color/recipes';
import { LogSample, Next } from './color/sample';
import { Sliders } from './color/sliders';
import { MakeUp, StepsPaper, useSteps } from './color/steps';
import { useMix } from './color/use_mix';
import { useRecipes } from './color/use_recipes';

const TONES: readonly (readonly [Tone, string])[] = [
  ['light', 'Light'],
  ['mid', 'Middle'],
  ['dark', 'Dark'],
];

interface Reach {
  hue?: number;
  rows?: { l: number; low: number; high: number }[];
  inside?: boolean;
  text?: string;
}

const wantedOf = (c: ColorPlan | undefined) => c?.target?.text ?? c?.target?.hex ?? '';
export function ColorPage({ piece }: { piece?: string }) {
  const plan = useAnswer<PlanAnswer>(
      piece ? inUnits(`/api/pieces/${encodeURIComponent(piece)}/plan`) : null,
    ).data,
    planned = plan?.pieces?.find((p) => p.id === piece) ?? plan?.pieces?.[0],
    color = planned?.color;
  const { data: shelf, revision } = useAnswer<List<Paint>>('/api/paints?limit=200'),
    known = useKnown(),
    again = useAgain(),
    chosen = useCell(choices),
    tone = useCell(surround),
    { units } = useShop();
  const paints = useMemo(
    () =>
      new Map(
        (shelf?.rows ?? []).map((p) => [
          p.id,
          { ...p, mixable: known.rows.some((k) => k.id === p.id) },
        ]),
      ),
    [shelf, known.rows],
  );
  const name = (id: string) => paints.get(id)?.name ?? id;
  const [target, setTarget] = useState(asked('target') || (asked('again') ? '' : wantedOf(color))),
    [items, setItems] = useState<MixItem[]>([]),
    [light, setLight] = useState<Light>('d65'),
    [surface, setSurface] = useState<Surface>('satin'),
    [measured, setMeasured] = useState<Measured>(),
    [gain, setGain] = useState<number | undefined>(),
    begun = useRef(false),
    shares = useRef<MixItem[] | null>(null);

  /* a piece brings its color, its recipe and how much of it the plan mixes */
  useEffect(() => {
    if (begun.current || !color) return;
    begun.current = true;
    const lines = color.lines ?? [],
      ml = lines.reduce((n, l) => n + (l.volume_ml ?? 0), 0);
    if (!asked('again')) {
      setTarget(asked('target') || wantedOf(color));
      shares.current = lines.map((l) => ({ paint: l.paint ?? '', parts: l.parts ?? 0 }));
    }
    choose({
      ...(asked('amount')
        ? { amount: asked('amount') }
        : ml > 0
          ? { amount: quantity(ml, 'volume', units) }
          : {}),
      ...(lines.length > Number(choices.get().most) ? { most: String(lines.length) } : {}),
    });
  }, [color]);
  /* "mix again" brings a color that was mixed before, and what was in it */
  useEffect(() => {
    if (!again?.target) return;
    setTarget(again.target);
    shares.current = again.items ?? [];
  }, [again]);

  /* the kind of paint that the piece's color coats are of */
  const kind = planned?.coats?.rows?.find((c) => c.role === 'color')?.class;
  const body =
    target && known.rows.length
      ? {
          ...searchOf(target, chosen, units),
          ...(kind ? { class: kind } : {}),
          ...(again?.body && target === again.target ? again.body : {}),
          ...(target === measured?.notation ? { measured: measuredText(measured) } : {}),
        }
      : null;
  /* a proof that takes long is waited for only where it is asked for */
  const [patient, wait] = useState(''),
    asking = JSON.stringify(body),
    { answer, failure, busy } = useRecipes(
      body && patient === asking ? { ...body, seconds: 25 } : body,
      revision,
    );
  const grid = {
    parts: answer?.parts ?? 16,
    part_ml: answer?.part_ml,
    measure: chosen.measure && chosen.measure !== 'part' ? chosen.measure : undefined,
  };
  const before = useRef(grid.parts);
  useEffect(() => {
    if (!answer) return;
    const given = shares.current?.length ? shares.current : null,
      sum = given?.reduce((n, i) => n + i.parts, 0) ?? 0;
    if (given && sum)
      setItems(given.map((i) => ({ ...i, parts: Math.round((i.parts * grid.parts) / sum) })));
    else if (!items.length && answer.recipes?.[0])
      setItems(
        begunWith(answer, known.samples.length).items.map(({ paint, parts }) => ({ paint, parts })),
      );
    else if (before.current !== grid.parts)
      setItems(
        items.map((i) => ({ ...i, parts: Math.round((i.parts * grid.parts) / before.current) })),
      );
    shares.current = null;
    before.current = grid.parts;
  }, [answer]);

  const mix = useMix(items, target, grid, revision),
    reach = useAnswer<Reach>(target ? ask('/api/shelf/reach', { target }) : null).data;
  const steps = useSteps(items, target, revision);
  const title = planned?.title ?? plan?.pieces?.[0]?.title;
  const change = (v: string) => {
    setTarget(v);
    if (!v) setItems([]);
  };
  return (
    <>
      <div class="head">
        <div>
          <h1>{title ? `Color: ${title}` : 'Color'}</h1>
          <p>
            {piece ? (
              <a href={`/pieces/${encodeURIComponent(piece)}`}>Back to its sheet</a>
            ) : (
              'Target beside mix, edge to edge. The ground around them is neutral, so that the eye can judge.'
            )}
          </p>
        </div>
      </div>
      {(target || items.length > 0) && (
        <>
          <div class="taps no-print color-view">
            <Seg label="Seen under" value={light} options={LIGHTS} set={setLight} />
            <Seg label="Surface" value={surface} options={SURFACES} set={setSurface} />
            <Seg label="Surround" value={tone} options={TONES} set={(v) => surround.set(v)} />
          </div>
          <Pair
            target={target}
            mix={mix}
            light={light}
            surface={surface}
            again={again?.same && target === again.target}
          />
        </>
      )}
      {again && <Again again={again} />}
      <section class="stage gap" id="wanted">
        <header>
          <h2>Wanted</h2>
          <p>Remembered for the next time.</p>
        </header>
        <div class="stage-body">
          <Ask
            target={target}
            hex={answer?.target?.text === target ? answer.target.hex : undefined}
            setTarget={change}
            measured={target === measured?.notation ? measured : undefined}
            setMeasured={(m) => {
              setMeasured(m);
              if (m?.notation) change(m.notation);
            }}
            paints={paints}
            photo={photoPath(piece)}
            failure={failure}
          />
          {failure && !membersOf(failure).some((m) => ASKED.includes(m)) && (
            <p class="note gap" role="status">
              <b>{failureText(failure)}</b>
            </p>
          )}
        </div>
      </section>
      {shelf && !known.rows.length && known.read && (
        <Empty title="Nothing on the shelf to mix">
          <p>
            Recipes come from paints whose color is known, and from samples of them. Put three on
            the shelf: one light, one dark, one colored.
          </p>
          <div class="acts">
            <a class="btn" href="/shelf">
              To the shelf
            </a>
          </div>
        </Empty>
      )}
      {items.length > 0 || target ? (
        <div class="two gap">
          <section class="part-h">
            <h2>What goes into the batch</h2>
            <Sliders
              items={items}
              set={setItems}
              mix={mix}
              grid={grid}
              paints={paints}
              known={(id) => known.rows.find((k) => k.id === id)?.text}
            />
          </section>
          <section class="part-h">
            <h2>Where it lies, at the target’s hue</h2>
            <Plane
              target={answer?.target?.lab ?? color?.target?.lab}
              mix={mix?.lab}
              doubt={mix?.difference_90}
              later={
                gain !== undefined && mix?.difference_90 !== undefined
                  ? mix.difference_90 * gain
                  : undefined
              }
              hue={reach?.hue}
              reach={reach?.rows}
            />
            {reach?.text && reach.text !== answer?.advice && (
              <p class={reach.inside ? 'k gap-s' : 'note gap-s'}>
                {reach.inside ? reach.text : <b>{reach.text}</b>}
              </p>
            )}
          </section>
        </div>
      ) : null}
      {answer && (
        <section class="part-h" id="recipes">
          <h2>Recipes</h2>
          <RecipeRows
            answer={answer}
            busy={busy}
            items={items}
            paints={paints}
            target={target}
            mix={mix}
            take={setItems}
            longer={patient === asking ? undefined : () => wait(asking)}
          />
        </section>
      )}
      {itemsText(items) !== '' && (
        <div class="two gap">
          <section class="part-h" id="pours">
            <h2>Mix it</h2>
            <MakeUp now={steps} target={target} piece={piece} title={title ?? 'Batch'} />
            <Keep items={items} target={target} piece={piece} />
          </section>
          <section class="part-h no-print" id="hiding">
            <h2>Over the ground at hand</h2>
            <Hiding items={items} ground={planned?.piece.now_color?.hex} />
          </section>
        </div>
      )}
      {target && known.rows.length > 0 && (
        <div class="two gap no-print">
          <section class="part-h">
            <h2>The next sample worth making</h2>
            <Next
              target={target}
              items={items}
              name={name}
              take={setItems}
              gain={setGain}
            />
          </section>
          <section class="part-h">
            <h2>Log a sample</h2>
            <LogSample
              items={smallest(items, mix?.items)}
              name={name}
              mix={mix}
            />
            {known.doubted.map((s) => (
              <p class="note gap-s">{s.text}</p>
            ))}
          </section>
        </div>
      )}
      <Kept name={name} />
      <Batches piece={piece} />
      {!piece && <Beside target={target} />}
      <StepsPaper steps={steps.steps} target={target} title={title ?? 'Batch'} />
      <p class="k gap">
        Under 1: unseen. 1 to 3: seen side by side. Over 3: seen at a glance. A screen shows colors
        only as well as it is set; the dried card decides.
      </p>
    </>
  );
}
