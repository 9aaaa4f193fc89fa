/* A batch that was mixed: what is in it, what it dried to, its label, what is left of it. */
import { useState } from 'preact/hooks';
import { isKept, send } from '../net/api';
import { useAnswer } from '../net/use';
import { quantity } from '../lib/quantity';
import { whenText } from '../lib/time';
import { Act, Field, Swatch } from '../ui/controls';
import { useShop } from '../ui/frame';
import { Label } from '../paper/label';
import { printPaper } from '../paper/print';
import { differenceWord } from '../draw/difference';
import { Correct } from './batch_correct';
import { PourMore } from './batch_more';
import { againPath } from './color/again';
import type { BatchRow } from './color/kept';
import { useRefused } from './refused';

function Left({ b }: { b: BatchRow }) {
  const { units } = useShop(),
    [amount, set] = useState(''),
    { took, at } = useRefused({ amount: 'How much is left' });
  const save = async () => {
    const o = await send({
      method: 'POST',
      path: `/api/batches/${encodeURIComponent(b.id)}/left`,
      body: { amount },
      what: `What is left of ${b.name ?? b.id}`,
    });
    took(o, 'It stands on the shelf as a paint of its own; recipes use it up.');
    if (isKept(o)) set('');
  };
  return (
    <>
      <p class="say">
        {b.left_ml !== undefined
          ? `${quantity(b.left_ml, 'volume', units)} of it on the shelf.`
          : 'Nothing of it is on the shelf yet.'}
      </p>
      <div class="form keep">
        <Field
          label="How much is left"
          placeholder={units === 'metric' ? '120 ml' : '4 fl oz'}
          {...at('amount', amount, set)}
        />
        <div class="acts">
          <Act enter disabled={!amount} run={save}>
            Put it on the shelf
          </Act>
        </div>
      </div>
    </>
  );
}

export function BatchPage({ id }: { id: string }) {
  const live = useAnswer<BatchRow>(`/api/batches/${encodeURIComponent(id)}`),
    b = live.data,
    { units } = useShop(),
    [copies, setCopies] = useState('1');
  if (!b)
    return (
      <div class="head">
        <div>
          <h1>{live.failure ? 'No such batch' : 'A batch'}</h1>
          <p>{live.failure?.text ?? 'Looking for the jar.'}</p>
        </div>
      </div>
    );
  const q = (v?: number) => (v === undefined ? '' : quantity(v, 'volume', units)),
    sum = (b.items ?? []).reduce((n, i) => n + i.parts, 0);
  return (
    <>
      <div class="head">
        <div>
          <h1>{b.name ?? id}</h1>
          <p>
            Batch of {q(b.amount_ml)}
            {b.made_utc_min ? `, mixed ${whenText(b.made_utc_min)}` : ''}.{' '}
            {b.piece && <a href={`/pieces/${encodeURIComponent(b.piece)}`}>Its piece</a>}
            {b.piece ? ', ' : ''}
            <a href="/color">{b.piece ? 'all batches' : 'All batches'}</a>
          </p>
        </div>
        <div class="acts no-print label-acts">
          <a class="btn" href={againPath(`batches/${id}`, b.piece, q(b.amount_ml))}>
            Mix again
          </a>
          <Field
            label="Labels"
            inputMode="numeric"
            value={copies}
            onInput={(e) => setCopies(e.currentTarget.value)}
          />
          <button class="btn" onClick={() => printPaper('label')}>
            Print the label
          </button>
        </div>
      </div>
      <div class="surround seam">
        <div class="pair">
          <div style={{ background: b.target }} class={b.target ? '' : 'none'} />
          <div
            style={{ background: b.dried || b.predicted_hex }}
            class={b.dried || b.predicted_hex ? '' : 'none'}
          />
        </div>
      </div>
      <div class="pair-cap">
        <div>
          <b>Target</b>
          <small>{b.target ?? 'none was named'}</small>
        </div>
        <div>
          <b>{b.dried ? 'As it dried' : 'As predicted'}</b>{' '}
          {b.difference !== undefined && (
            <span class="num">
              {b.difference.toFixed(1)} off, {differenceWord(b.difference)}
            </span>
          )}
          <small>{b.dried ?? b.predicted_hex}</small>
        </div>
      </div>
      <section class="stage gap">
        <header>
          <h2>In it</h2>
        </header>
        <ul class="pours">
          {(b.items ?? []).map((i) => (
            <li class="pour-in">
              <Swatch hex={i.hex} />
              <span class="pour-what">
                <b class="num">{i.text ?? q(i.amount_ml)}</b> {i.name ?? i.paint}
              </span>
              <small class="num">{((100 * i.parts) / (sum || 1)).toFixed(1)} %</small>
            </li>
          ))}
        </ul>
      </section>
      <section class="stage no-print">
        <header>
          <h2>More of it</h2>
          <p>When it runs short, or wants two drops of black: what is poured into this jar.</p>
        </header>
        <div class="stage-body">
          <PourMore b={b} />
        </div>
      </section>
      <section class="stage">
        <header>
          <h2>{b.dried ? 'Read again' : 'Dried?'}</h2>
          <p>Paint a card, let it dry, read it. What is in the batch stays; a correction only adds.</p>
        </header>
        <div class="stage-body">
          <Correct b={b} />
        </div>
      </section>
      <section class="stage no-print">
        <header>
          <h2>Left over</h2>
        </header>
        <div class="stage-body">
          <Left b={b} />
        </div>
      </section>
      <Label id={id} copies={Math.min(6, Math.max(1, Number(copies) || 1))} />
    </>
  );
}
