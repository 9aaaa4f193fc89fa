/* The recipe in hand as pours that the measure can show; printed, and logged when it was mixed. */
import { useEffect, useState } from 'preact/hooks';
import { get, send, type Failure } from '../../net/api';
import { go } from '../../lib/router';
import { money, quantity } from '../../lib/quantity';
import { useCell } from '../../net/use';
import { Act, Swatch } from '../../ui/controls';
import { useShop } from '../../ui/frame';
import { paper, printPaper } from '../../paper/print';
import { differenceWord } from '../../draw/difference';
import { inBook } from '../change';
import { shelfText } from './kept';
import { ask, itemsText, type MixItem, type Steps } from './kinds';
import { wantedAmount, choices } from './choices';

interface StepsNow {
  steps?: Steps;
  failure?: Failure;
}
/* Asked a moment after the last move; what was there stays until then. */
export function useSteps(items: MixItem[], target: string, revision?: number) {
  const c = useCell(choices),
    { units } = useShop(),
    amount = wantedAmount(c, units),
    text = itemsText(items);
  const [state, set] = useState<StepsNow>({});
  const path = text
    ? ask('/api/steps', {
        items: text,
        amount,
        target,
        measure: c.measure === 'part' ? undefined : c.measure || undefined,
        step: c.measure === 'part' ? undefined : c.step || undefined,
        smallest: c.measure === 'part' ? undefined : c.smallest || undefined,
      })
    : '';
  useEffect(() => {
    if (!path) {
      set({});
      return;
    }
    const stop = new AbortController();
    const t = setTimeout(() => {
      get<Steps>(path, stop.signal).then(
        (o) => set(o.ok ? { steps: o.body } : { failure: o.failure }),
        () => undefined,
      );
    }, 200);
    return () => {
      clearTimeout(t);
      stop.abort();
    };
  }, [path, revision]);
  return state;
}

function sureText(steps: Steps): string {
  return [
    steps.difference !== undefined &&
      `Poured like this: ${steps.difference.toFixed(1)} off on paper; expect ${(steps.expected_difference ?? 0).toFixed(1)} (${differenceWord(steps.expected_difference ?? 0)}).`,
    steps.error_frac !== undefined &&
      steps.error_frac > 0.005 &&
      `The measure rounds shares by up to ${(steps.error_frac * 100).toFixed(0)} %.`,
  ]
    .filter(Boolean)
    .join(' ');
}
function List({ steps }: { steps: Steps }) {
  return (
    <ol class="pours">
      {(steps.steps ?? []).map((s, n) => (
        <li>
          <b class="k">{n + 1}</b>
          <Swatch hex={s.hex} />
          <span class="pour-what">
            <b class="num">{s.text}</b> {s.name ?? s.paint}
            {s.check && <small>stir, look at it beside the target, then go on</small>}
          </span>
          <span class="pour-mark">
            <small>{/drops?$/.test(s.mark ?? '') ? 'in all' : 'shows'}</small> <span class="num">{s.mark}</span>
          </span>
        </li>
      ))}
    </ol>
  );
}

export function MakeUp({
  now: { steps, failure },
  target,
  piece,
  title,
}: {
  now: StepsNow;
  target: string;
  piece?: string;
  title: string;
}) {
  const { units } = useShop();
  if (failure) return <p class="note gap-s">{failure.text}</p>;
  if (!steps) return <p class="say">Take a recipe in hand, and its pours stand here.</p>;
  const makes = quantity(steps.amount_ml ?? 0, 'volume', units);
  const mixed = async () => {
    const o = await send<{ id?: string; ticked?: string; past?: string }>({
      method: 'POST',
      path: '/api/batches',
      body: {
        name: title,
        target,
        items: (steps.items ?? []).map((i) => ({ paint: i.paint, parts: i.amount_ml })),
        amount: `${steps.amount_ml} ml`,
        ...(piece ? { piece } : {}),
      },
      what: 'A batch',
    });
    const ticked = o.ok && o.body.ticked ? ` Done: ${o.body.ticked}.` : '';
    if (inBook(o, `Mixed. ${shelfText(o)}${ticked}`) && o.body.id)
      go(`/batches/${encodeURIComponent(o.body.id)}`);
  };
  const sure = sureText(steps);
  return (
    <>
      <p class="say">
        Makes {makes}
        {steps.cost_cent !== undefined ? `, ${money(steps.cost_cent)} of paint` : ''}. Weakest first;
        the strongest last and by halves, because no drop comes out again.
      </p>
      <List steps={steps} />
      {[
        steps.apart,
        steps.larger,
        steps.short_of?.length ? `Too little on the shelf: ${steps.short_of.join(', ')}.` : '',
      ].map(
        (text) =>
          text && (
            <p class="mind gap-s">
              <b>Mind</b>
              <span>{text}</span>
            </p>
          ),
      )}
      <p class="k gap-s">{sure}</p>
      <div class="acts">
        <Act kind="btn main" run={mixed}>
          I mixed it
        </Act>
        <button class="btn" onClick={() => printPaper('recipe')}>
          Print the steps
        </button>
      </div>
    </>
  );
}

/* For the bench: the pours, target and prediction as swatches, room for a dab. A paper stands beside
 * the page's sections, not in one of them. */
export function StepsPaper({
  steps,
  target,
  title,
}: {
  steps?: Steps;
  target: string;
  title: string;
}) {
  const { units } = useShop();
  if (useCell(paper) !== 'recipe' || !steps) return null;
  return (
    <div class="paper">
      <section class="paper-sheet recipe-paper">
        <h1>{title}</h1>
        <p>
          Makes {quantity(steps.amount_ml ?? 0, 'volume', units)} for {target}. Weakest first; the
          strongest last and by halves. {sureText(steps)}
        </p>
        <List steps={steps} />
        <div class="p-swatch recipe-swatch">
          <b style={{ background: target }} />
          <b style={{ background: steps.hex }} />
          <i />
        </div>
        <p>Target, the mix as predicted, and room for a dab of it, dry.</p>
      </section>
    </div>
  );
}
