/* Recipes to compare as rows, each with its doubt drawn. */
import { useState } from 'preact/hooks';
import { money } from '../../lib/quantity';
import { DifferenceHead, DifferenceLine, differenceWord } from '../../draw/difference';
import type { Paint } from '../shelf';
import { useCell } from '../../net/use';
import { choices } from './choices';
import { amountOf, css, itemsText, type Mix, type MixItem, type Recipe, type Recipes } from './kinds';

const SHOWN = 5;
const expected = (r: Recipe) => r.expected_difference ?? r.difference ?? 0;

/* What a row is the best of; a row may be the best of several. */
function praise(rows: Recipe[], answer: Recipes, sure: boolean): Map<Recipe, string[]> {
  const said = new Map<Recipe, string[]>(),
    first = rows.find((r) => keyOf(r) === keyOf(answer.recipes?.[0])),
    proven = answer.proof?.kind === 'optimal' ? ', proven' : '';
  if (first) said.set(first, [`${sure ? 'surest' : 'nearest on paper'}${proven}`]);
  const best = (word: string, value: (r: Recipe) => number | undefined) => {
    const all = rows.filter((r) => value(r) !== undefined);
    if (all.length < 2) return;
    const r = all.reduce((b, x) => ((value(x) as number) < (value(b) as number) ? x : b));
    said.set(r, [...(said.get(r) ?? []), word]);
  };
  if (sure) best('nearest on paper', (r) => r.difference);
  else best('least doubt', expected);
  best('fewest paints', (r) => r.items.length + expected(r) / 1000);
  best('cheapest', (r) => r.cost_cent);
  best('changes least under lamp and LED', (r) => r.metamerism);
  if (rows.some((r) => r.leftover_parts))
    best('uses up most leftovers', (r) => -(r.leftover_parts ?? 0));
  return said;
}
const keyOf = (r?: { items: MixItem[] }) =>
  itemsText([...(r?.items ?? [])].sort((x, y) => (x.paint < y.paint ? -1 : 1)));
function merged(a: Recipes): Recipe[] {
  const seen = new Map<string, Recipe>();
  for (const r of [...(a.tradeoff ?? []), ...(a.recipes ?? [])]) {
    const k = keyOf(r);
    if (!seen.has(k)) seen.set(k, r);
  }
  return [...seen.values()].sort((x, y) => expected(x) - expected(y));
}

/* Why the first row is of another color than wanted though one of the rows is not. */
function apart(a: Recipes, sure: boolean): string {
  const first = a.recipes?.[0]?.difference ?? 0,
    near = Math.min(...(a.recipes ?? []).map((r) => r.difference ?? Infinity));
  return sure && first > 2 && near <= 2
    ? `The surest recipe stays ${first.toFixed(1)} from the color, because little is known of the paints that come nearer. Paint a card of the nearest on paper and log it: then the two come together.`
    : '';
}

function Row({
  r,
  words,
  paints,
  here,
  target,
  leftover,
  take,
}: {
  r: Recipe;
  words: string[];
  paints: Map<string, Paint>;
  here: boolean;
  target?: string;
  leftover?: string;
  take: () => void;
}) {
  const sum = r.items.reduce((n, i) => n + i.parts, 0);
  return (
    <li class={here ? 'thing rc here' : 'thing rc'}>
      <div class="two-sw" aria-hidden="true">
        <i style={{ background: target }} />
        <i style={{ background: css(r) }} />
      </div>
      <div class="rc-what">
        <p>
          {r.items.map((i) => (
            <span>
              <b class="num">{amountOf(i)}</b> {i.name ?? paints.get(i.paint)?.name ?? i.paint}
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
        <small>
          {[
            ...words,
            r.items.length === 1 && !words.length ? 'straight from the can' : '',
            leftover ? `uses ${leftover} of leftovers` : '',
          ]
            .filter(Boolean)
            .join('; ')}
        </small>
      </div>
      <div class="rc-line">
        <DifferenceLine
          at={r.difference}
          expected={r.expected_difference}
          most={r.difference_90}
        />
      </div>
      <div>
        <b class="num">{expected(r).toFixed(1)}</b>
        <small>{differenceWord(expected(r))}</small>
      </div>
      <div>
        {r.metamerism !== undefined && (
          <>
            <b class="num">{r.metamerism.toFixed(1)}</b>
            <small>lamp, LED</small>
          </>
        )}
      </div>
      <div>
        {r.cost_cent !== undefined && r.items.some((i) => i.amount_ml !== undefined) && (
          <>
            <b class="num">{money(r.cost_cent)}</b>
            <small>
              {r.pour_error !== undefined && r.pour_error >= 0.05 ? (
                `pours ±${r.pour_error.toFixed(1)}`
              ) : (
                <span class="narrow">cost</span>
              )}
            </small>
          </>
        )}
      </div>
      <div class="r">
        {here ? (
          <b>In hand</b>
        ) : (
          <button class="btn" onClick={take}>
            Take it<span class="vh">: {r.items.map((i) => `${amountOf(i)} ${i.name}`).join(', ')}</span>
          </button>
        )}
      </div>
    </li>
  );
}

export function RecipeRows({
  answer,
  busy,
  items,
  mix,
  paints,
  target,
  take,
  longer,
}: {
  answer: Recipes;
  busy: boolean;
  items: MixItem[];
  mix?: Mix;
  paints: Map<string, Paint>;
  target: string;
  take: (items: MixItem[]) => void;
  longer?: () => void /* search again with more time; not once that was done */;
}) {
  const [all, showAll] = useState(false),
    rows = merged(answer),
    { sure } = useCell(choices),
    words = praise(rows, answer, sure),
    hand = keyOf({ items });
  /* of recipes with the same paints the best stands for all, until all are wanted */
  const kinds = new Set<string>(),
    first = rows.filter((r) => {
      const kind = r.items
        .map((i) => i.paint)
        .sort()
        .join();
      const fresh = !kinds.has(kind) && kinds.size < SHOWN;
      if (fresh) kinds.add(kind);
      return fresh || words.has(r) || keyOf(r) === hand;
    }),
    shown = all ? rows : first;
  const left = (r: Recipe) => {
    const ml = r.items
      .filter((i) => paints.get(i.paint)?.leftover)
      .map((i) => amountOf(i));
    return ml.length ? ml.join(' and ') : undefined;
  };
  /* what is on the sliders stands first, where it is none of them */
  const own: Recipe | undefined =
    hand && mix?.items?.length && !rows.some((r) => keyOf(r) === hand)
      ? {
          ...mix,
          items: mix.items.filter((i) => i.parts > 0),
          metamerism: mix.lights?.reduce(
            (m: number | undefined, l) =>
              l.light === 'd65' || l.difference === undefined
                ? m
                : Math.max(m ?? 0, l.difference),
            undefined,
          ),
        }
      : undefined;
  if (!rows.length) return <p class="say">No mix of the shelf comes near it.</p>;
  const proof = answer.proof,
    points = proof?.grid_points ?? 0;
  return (
    <>
      <ul class="things" aria-busy={busy}>
        <li class="thing rc rc-head" aria-hidden="true">
          <span class="k">target, mix</span>
          <span class="k">what goes in</span>
          <DifferenceHead />
          <span class="k">expect</span>
          <span class="k">other light</span>
          <span class="k">cost</span>
          <span />
        </li>
        {own && (
          <Row
            r={own}
            words={['as the sliders stand']}
            paints={paints}
            target={target}
            here
            leftover={left(own)}
            take={() => undefined}
          />
        )}
        {shown.map((r) => (
          <Row
            r={r}
            words={words.get(r) ?? []}
            paints={paints}
            target={target}
            here={keyOf(r) === hand}
            leftover={left(r)}
            take={() => take(r.items.map(({ paint, parts }) => ({ paint, parts })))}
          />
        ))}
      </ul>
      {rows.length > first.length && (
        <div class="acts">
          <button class="btn" onClick={() => showAll(!all)}>
            {all ? 'Only the best' : `All ${rows.length} that are best in something`}
          </button>
        </div>
      )}
      {[apart(answer, sure), answer.advice, answer.coarse, answer.left_out].map(
        (text) =>
          text && (
            <p class="mind gap">
              <b>Mind</b>
              <span>{text}</span>
            </p>
          ),
      )}
      {proof && (
        <p class="note gap">
          <b>
            {proof.kind === 'optimal'
              ? `Proven: of ${points >= 1e6 ? `${(points / 1e6).toFixed(1)} million` : Math.round(points).toLocaleString('en-US')} recipes that can be measured, none is better than the one said to be proven.`
              : 'The best that was found in the time; not proven.'}
          </b>{' '}
          {proof.kind !== 'optimal' && (proof.bound ?? 0) >= 0.005
            ? `None can be better than ${(proof.bound ?? 0).toFixed(2)}.`
            : 'The diamond is what to expect, the line from what paper says to what nine of ten stay under.'}
        </p>
      )}
      {proof && proof.kind !== 'optimal' && longer && (
        <div class="acts">
          <button class="btn" disabled={busy} onClick={longer}>
            Search on, half a minute at most
          </button>
        </div>
      )}
      {busy && !longer && (
        <p class="say" role="status">
          Searching on. What was found stands here until then.
        </p>
      )}
    </>
  );
}
