/* A batch that was mixed: what is in it, its label, what it dried to, and how to correct it. */
import { useState } from 'preact/hooks';
import { send } from '../net/api';
import { useAnswer } from '../net/use';
import { asked } from '../lib/router';
import { quantity } from '../lib/quantity';
import { whenText } from '../lib/time';
import { Act, Field } from '../ui/controls';
import { ColorField } from '../ui/edit';
import { useShop } from '../ui/frame';
import { told } from '../ui/said';
import { Label, printPaper } from '../paper/papers';
import { differenceWord } from '../draw/plane';
import { undoAct } from './change';
import type { MixItem } from './color';

interface Batch {
  id: string;
  name?: string;
  target?: string;
  predicted_hex?: string;
  dried?: string;
  amount_ml?: number;
  made_utc_min?: number;
  piece?: string;
  note?: string;
  items?: (MixItem & { amount_ml?: number; name?: string })[];
}
interface Correction {
  items?: (MixItem & { name?: string; add_ml?: number; amount_ml?: number; text?: string })[];
  add?: { paint: string; name?: string; amount_ml?: number; text?: string }[];
  difference?: number;
  hex?: string;
  text?: string;
  amount_ml?: number;
}

export function BatchPage({ id }: { id: string }) {
  const live = useAnswer<Batch>(`/api/batches/${encodeURIComponent(id)}`),
    b = live.data,
    { units } = useShop();
  const [dried, setDried] = useState(asked('dried')),
    [fix, setFix] = useState<Correction | null>(null),
    [copies, setCopies] = useState('1');
  if (!b) return <p class="say">{live.failure?.text ?? 'Looking for the jar.'}</p>;
  const q = (v?: number) => (v === undefined ? '' : quantity(v, 'volume', units));
  const correct = async () => {
    const o = await send<Correction>({
      method: 'POST',
      path: `/api/batches/${encodeURIComponent(id)}/correct`,
      body: { dried, ...(asked('dried') === dried ? { read: 'photo' } : {}) },
      what: `Correct ${b.name ?? id}`,
      keep: false,
    });
    if (told(o, { text: 'Learned from it.', act: undoAct(o.ok ? o.revision : undefined) }) && o.ok)
      setFix(o.body);
  };
  const adds = fix?.add ?? fix?.items ?? [];
  return (
    <>
      <div class="head">
        <div>
          <h1>{b.name ?? id}</h1>
          <p>
            {q(b.amount_ml)}
            {b.made_utc_min ? `, mixed ${whenText(b.made_utc_min)}` : ''}.{' '}
            {b.piece && <a href={`/pieces/${encodeURIComponent(b.piece)}`}>Its piece</a>}
          </p>
        </div>
        <div class="acts no-print">
          <Field
            label="Labels"
            inputMode="numeric"
            value={copies}
            onInput={(e) => setCopies(e.currentTarget.value)}
          />
          <button class="btn main" onClick={() => printPaper('label')}>
            Print the label
          </button>
        </div>
      </div>
      <div class="surround seam">
        <div class="pair">
          <div style={{ background: b.target }} />
          <div style={{ background: dried || b.dried || b.predicted_hex }} />
        </div>
      </div>
      <div class="pair-cap">
        <div>
          <b>Target</b>
          <small>{b.target}</small>
        </div>
        <div>
          <b>{dried || b.dried ? 'As it dried' : 'As predicted'}</b>
          <small>{dried || b.dried || b.predicted_hex}</small>
        </div>
      </div>
      <section class="stage gap">
        <header>
          <h2>In it</h2>
        </header>
        <div class="rows">
          {(b.items ?? []).map((i) => (
            <div class="row">
              <div class="f num">{q(i.amount_ml) || i.parts}</div>
              <div class="w">{i.name ?? i.paint}</div>
              <div class="h">{i.parts} parts</div>
            </div>
          ))}
        </div>
      </section>
      <section class="stage">
        <header>
          <h2>It dried to another color</h2>
          <p>Read the dried card; the correction only adds.</p>
        </header>
        <div class="stage-body">
          <div class="form">
            <ColorField label="What it dried to" value={dried} set={setDried} />
          </div>
          <div class="acts">
            <a
              class="btn"
              href={`/photo?for=batch&batch=${encodeURIComponent(id)}&back=${encodeURIComponent(`/batches/${id}`)}`}
            >
              Read it from a picture
            </a>
            <Act disabled={!dried} run={correct}>
              How to correct it
            </Act>
          </div>
          {fix && (
            <div class="rows gap">
              {adds.map((i) => (
                <div class="row">
                  <div class="f num">
                    {(i as { text?: string }).text ??
                      q((i as { add_ml?: number }).add_ml ?? i.amount_ml)}
                  </div>
                  <div class="w">
                    {i.name ?? i.paint}
                    <small>pour in, stir, make a new card</small>
                  </div>
                  <div class="h" />
                </div>
              ))}
            </div>
          )}
          {fix?.difference !== undefined && (
            <p class="note gap">
              <b>
                Then {fix.difference.toFixed(1)} off, {differenceWord(fix.difference)}.
              </b>{' '}
              {fix.text ?? ''}
            </p>
          )}
        </div>
      </section>
      <Label id={id} copies={Math.min(6, Math.max(1, Number(copies) || 1))} />
    </>
  );
}
