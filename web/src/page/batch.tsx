/* A batch that was mixed: what is in it, what it dried to and how to correct it, its label, what is
 * left of it. */
import { useState } from 'preact/hooks';
import { send } from '../net/api';
import { useAnswer, useCell } from '../net/use';
import { money, quantity } from '../lib/quantity';
import { whenText } from '../lib/time';
import { asked, go } from '../lib/router';
import { Act, Field, Select, Swatch } from '../ui/controls';
import { ColorField } from '../ui/edit';
import { useShop } from '../ui/frame';
import { told } from '../ui/said';
import { Label, printPaper } from '../paper/papers';
import { DifferenceLine, differenceWord } from '../draw/difference';
import { choices } from './color/choices';
import type { BatchRow } from './color/kept';
import type { Pour } from './color/kinds';
import { READ_HOW } from './color/sample';
import { undoAct } from './change';

interface Correction {
  advice?: 'leave' | 'add' | 'restart' | 'neither';
  text?: string;
  difference_now?: number;
  add?: Pour[];
  add_cost_cent?: number;
  after_ml?: number;
  more_ml?: number;
  hex?: string;
  difference?: number;
  expected_difference?: number;
  difference_90?: number;
  fresh?: Pour[];
  fresh_amount_ml?: number;
  fresh_cost_cent?: number;
  fresh_expected_difference?: number;
  fresh_hex?: string;
}

function Way({
  title,
  pours,
  hex,
  target,
  expected,
  most,
  at,
  words,
  children,
}: {
  title: string;
  pours: Pour[];
  hex?: string;
  target?: string;
  expected?: number;
  most?: number;
  at?: number;
  words: string;
  children?: preact.ComponentChildren;
}) {
  return (
    <div class="way">
      <h3>{title}</h3>
      <div class="two-sw" aria-hidden="true">
        <i style={{ background: target }} />
        <i style={{ background: hex }} />
      </div>
      <ul class="pours">
        {pours.map((p) => (
          <li class="pour-short">
            <span class="pour-what">
              <b class="num">{p.text}</b> {p.name ?? p.paint}
            </span>
          </li>
        ))}
      </ul>
      {expected !== undefined && (
        <>
          <DifferenceLine at={at} expected={expected} most={most} />
          <p class="k">
            Expect {expected.toFixed(1)} off, {differenceWord(expected)}. {words}
          </p>
        </>
      )}
      {children}
    </div>
  );
}

function Correct({ b }: { b: BatchRow }) {
  const { units } = useShop(),
    chosen = useCell(choices),
    [dried, setDried] = useState(asked('dried')),
    [read, setRead] = useState<string>(asked('dried') ? 'photo' : 'instrument'),
    [holds, setHolds] = useState(''),
    [need, setNeed] = useState(''),
    [fix, setFix] = useState<Correction | null>(null);
  const q = (v?: number) => (v === undefined ? '' : quantity(v, 'volume', units));
  const correct = async () => {
    const o = await send<Correction>({
      method: 'POST',
      path: `/api/batches/${encodeURIComponent(b.id)}/correct`,
      body: {
        dried,
        read,
        ...(holds ? { holds } : {}),
        ...(need ? { need } : {}),
        ...(chosen.measure && chosen.measure !== 'part' ? { measure: chosen.measure } : {}),
        ...(chosen.step && chosen.measure !== 'part' ? { step: chosen.step } : {}),
      },
      what: `Correct ${b.name ?? b.id}`,
      keep: false,
    });
    if (told(o, { text: 'Learned from it.', act: undoAct(o.ok ? o.revision : undefined) }) && o.ok)
      setFix(o.body);
  };
  const poured = async () => {
    const o = await send({
      method: 'POST',
      path: `/api/batches/${encodeURIComponent(b.id)}/pour`,
      body: { items: (fix?.add ?? []).map((i) => ({ paint: i.paint, amount: `${i.amount_ml} ml` })) },
      what: `Poured into ${b.name ?? b.id}`,
    });
    if (
      told(o, {
        text: 'It is in the batch. Paint a card, let it dry, read it.',
        act: undoAct(o.ok ? o.revision : undefined),
      })
    ) {
      setFix(null);
      setDried('');
    }
  };
  const again = async () => {
    const o = await send<{ id?: string }>({
      method: 'POST',
      path: '/api/batches',
      body: {
        name: b.name,
        target: b.target,
        items: (fix?.fresh ?? []).map((i) => ({ paint: i.paint, parts: i.amount_ml })),
        amount: `${fix?.fresh_amount_ml} ml`,
        ...(b.piece ? { piece: b.piece } : {}),
      },
      what: 'A fresh batch',
    });
    if (told(o, { text: 'A fresh batch is mixed.', act: undoAct(o.ok ? o.revision : undefined) }) && o.ok && o.body.id)
      go(`/batches/${encodeURIComponent(o.body.id)}`);
  };
  return (
    <>
      <div class="form">
        <ColorField
          label="What it dried to"
          value={dried}
          set={(v) => {
            setDried(v);
            setFix(null);
          }}
        />
        <Select label="How it was read" value={read} options={READ_HOW} set={setRead} />
        <Field
          label="In it now"
          value={holds}
          placeholder={q(b.amount_ml)}
          onInput={(e) => setHolds(e.currentTarget.value)}
        />
        <Field
          label="Needed in the end"
          value={need}
          placeholder="as much"
          onInput={(e) => setNeed(e.currentTarget.value)}
        />
      </div>
      <div class="acts">
        <Act kind="btn main" disabled={!dried || !b.target} run={correct}>
          How to correct it
        </Act>
        <a
          class="btn"
          href={`/photo?batch=${encodeURIComponent(b.id)}&back=${encodeURIComponent(`/batches/${b.id}`)}`}
        >
          Read it from a picture
        </a>
      </div>
      {!b.target && <p class="k">No color was aimed at, so there is nothing to correct to.</p>}
      {fix && (
        <div class="gap">
          <p class="lead">
            It dried {fix.difference_now?.toFixed(1)} off, {differenceWord(fix.difference_now ?? 0)}.{' '}
            <b>{fix.text}</b>
          </p>
          <div class="two gap">
            {(fix.add?.length ?? 0) > 0 && (
              <Way
                title={fix.advice === 'restart' ? 'Or add, to what is there' : 'Add to it'}
                pours={fix.add ?? []}
                hex={fix.hex}
                target={b.target}
                at={fix.difference}
                expected={fix.expected_difference}
                most={fix.difference_90}
                words={[
                  `It becomes ${q(fix.after_ml)}`,
                  (fix.more_ml ?? 0) > 1 ? `, ${q(fix.more_ml)} more than needed` : '',
                  fix.add_cost_cent !== undefined ? `; ${money(fix.add_cost_cent)} of paint.` : '.',
                ].join('')}
              >
                <div class="acts">
                  <Act kind={fix.advice === 'restart' ? 'btn' : 'btn main'} run={poured}>
                    I poured it in
                  </Act>
                </div>
              </Way>
            )}
            {fix.advice !== 'leave' && (fix.fresh?.length ?? 0) > 0 && (
              <Way
                title={fix.advice === 'restart' ? 'Start again with' : 'Or start again with'}
                pours={fix.fresh ?? []}
                hex={fix.fresh_hex}
                target={b.target}
                expected={fix.fresh_expected_difference}
                most={fix.fresh_expected_difference}
                at={0}
                words={`${q(fix.fresh_amount_ml)}${fix.fresh_cost_cent !== undefined ? `; ${money(fix.fresh_cost_cent)} of paint` : ''}. The old batch stays as a leftover.`}
              >
                <div class="acts">
                  <Act kind={fix.advice === 'restart' ? 'btn main' : 'btn'} run={again}>
                    I mixed a fresh one
                  </Act>
                </div>
              </Way>
            )}
          </div>
        </div>
      )}
    </>
  );
}

function Left({ b }: { b: BatchRow }) {
  const { units } = useShop(),
    [amount, set] = useState('');
  const save = async () => {
    const o = await send({
      method: 'POST',
      path: `/api/batches/${encodeURIComponent(b.id)}/left`,
      body: { amount },
      what: `What is left of ${b.name ?? b.id}`,
    });
    if (
      told(o, {
        text: 'It stands on the shelf as a paint of its own; recipes use it up.',
        act: undoAct(o.ok ? o.revision : undefined),
      })
    )
      set('');
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
          value={amount}
          placeholder={units === 'metric' ? '120 ml' : '4 fl oz'}
          onInput={(e) => set(e.currentTarget.value)}
        />
        <div class="acts">
          <Act disabled={!amount} run={save}>
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
          <a class="btn" href={`/color?again=${encodeURIComponent(`batches/${id}`)}`}>
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
                <b class="num">{q(i.amount_ml)}</b> {i.name ?? i.paint}
              </span>
              <small class="num">{((100 * i.parts) / (sum || 1)).toFixed(1)} %</small>
            </li>
          ))}
        </ul>
      </section>
      <section class="stage">
        <header>
          <h2>{b.dried ? 'Read again' : 'Dried?'}</h2>
          <p>Paint a card, let it dry, read it. What is in the batch stays; a correction only adds.</p>
        </header>
        <div class="stage-body">
          <Correct b={b} key={b.amount_ml} />
        </div>
      </section>
      <section class="stage">
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
