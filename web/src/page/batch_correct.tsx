/* A batch that dried to another color: what to add to it, or what to start again with. */
import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';
import { send } from '../net/api';
import { useCell } from '../net/use';
import { money, quantity } from '../lib/quantity';
import { asked, go } from '../lib/router';
import { Act, Field, Select } from '../ui/controls';
import { ColorField } from '../ui/edit';
import { useShop } from '../ui/frame';
import { DifferenceLine, differenceWord } from '../draw/difference';
import { choices } from './color/choices';
import { shelfText, type BatchRow } from './color/kept';
import type { Pour } from './color/kinds';
import { READ_HOW, useReadHow } from './color/read_how';
import { inBook } from './change';
import { useRefused } from './refused';

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
  children?: ComponentChildren;
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

export function Correct({ b }: { b: BatchRow }) {
  const { units } = useShop(),
    chosen = useCell(choices),
    [dried, setDried] = useState(asked('dried')),
    [read, setRead] = useReadHow(asked('dried') ? 'photo' : undefined),
    [holds, setHolds] = useState(''),
    [need, setNeed] = useState(''),
    [made, setFix] = useState<{ of?: number; fix: Correction } | null>(null),
    fix = made && made.of === b.amount_ml ? made.fix : null, /* poured since: it is another batch now */
    { took, at, error, typed } = useRefused({
      dried: 'What it dried to',
      holds: 'In it now',
      need: 'Needed in the end',
    });
  const q = (v?: number) => (v === undefined ? '' : quantity(v, 'volume', units));
  const correct = async () => {
    const o = await send<Correction>({
      method: 'POST',
      path: `/api/batches/${encodeURIComponent(b.id)}/correct`,
      body: {
        dried: dried.trim(),
        read,
        ...(holds ? { holds } : {}),
        ...(need ? { need } : {}),
        ...(chosen.measure && chosen.measure !== 'part' ? { measure: chosen.measure } : {}),
        ...(chosen.step && chosen.measure !== 'part' ? { step: chosen.step } : {}),
      },
      what: `Correct ${b.name ?? b.id}`,
      keep: false,
    });
    if (took(o, 'Learned from it.')) setFix({ of: b.amount_ml, fix: o.body });
  };
  const poured = async () => {
    const o = await send<BatchRow>({
      method: 'POST',
      path: `/api/batches/${encodeURIComponent(b.id)}/pour`,
      body: { items: (fix?.add ?? []).map((i) => ({ paint: i.paint, amount: `${i.amount_ml} ml` })) },
      what: `Poured into ${b.name ?? b.id}`,
    });
    if (inBook(o, `It is in the batch. ${o.ok && o.body.past ? shelfText(o) : 'Paint a card, let it dry, read it.'}`)) {
      setFix(null);
      setDried((now) => (now === dried ? '' : now)); /* not the next card's, read meanwhile */
      setHolds((now) => (now === holds ? '' : now));
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
    if (inBook(o, 'A fresh batch is mixed.') && o.body.id)
      go(`/batches/${encodeURIComponent(o.body.id)}`);
  };
  return (
    <>
      <div class="form">
        <ColorField
          live
          label="What it dried to"
          value={dried}
          error={error('dried')}
          set={(v) => {
            typed('dried');
            setDried(v);
            setFix(null);
          }}
        />
        <Select label="How it was read" value={read} options={READ_HOW} set={setRead} />
        <Field
          label="In it now"
          placeholder={q(b.amount_ml)}
          {...at('holds', holds, setHolds)}
        />
        <Field
          label="Needed in the end"
          placeholder="as much"
          {...at('need', need, setNeed)}
        />
      </div>
      <div class="acts">
        <Act enter kind="btn main" disabled={!dried || !b.target} run={correct}>
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
