/* A new piece in two minutes: what it is, four dimensions, what is on it, the color wanted. The rest
 * is assumed; the result stands on the same page before anything is saved. */
import { useEffect } from 'preact/hooks';
import { send } from '../net/api';
import { named, useChoices } from '../net/choices';
import { useAnswer } from '../net/use';
import type { Doc, List, PieceRow } from '../net/types';
import { merged, said, valueAt } from '../lib/doc';
import { useHalf } from '../lib/half';
import { asked } from '../lib/router';
import { PieceThumb } from '../draw/piece';
import { Act, Empty, Seg } from '../ui/controls';
import { ColorField, EditField } from '../ui/edit';
import { specOf } from '../ui/fields';
import { Bases } from '../ui/figure';
import { useShop } from '../ui/frame';
import { SheetRows } from '../ui/sheet';
import { entered } from './change';
import { ClientNames } from './lookover';
import { lacking, usePreview } from './new_preview';
import { useRefused } from './refused';

const MAIN = ['width', 'depth', 'height'],
  COUNTS = ['drawers', 'doors', 'shelves', 'slats', 'legs', 'seat'];
const LOOK = [
  'finish',
  'condition',
  'wood',
  'knots',
  'year',
  'tests.lead',
  'child',
  'agreement.purpose',
];

function nest(path: string, value: unknown): Doc {
  const [k, ...rest] = path.split('.');
  return { [k]: rest.length ? nest(rest.join('.'), value) : value };
}
export function NewPiece() {
  const choices = useChoices(),
    { units } = useShop();
  const whose = asked('client');
  const {
      value: doc,
      set,
      clear,
      begun,
    } = useHalf<Doc>(
      `new piece ${whose ?? ''}`,
      whose ? { agreement: { purpose: 'client', client: whose } } : {},
    ),
    earlier = useAnswer<List<PieceRow>>('/api/pieces').data?.rows ?? [];
  const template = choices.templates?.find((t) => t.id === doc.template);
  const put = (path: string, v: unknown) => set((d) => merged(d, nest(path, v)));
  const uses = template?.uses ?? [...MAIN, ...COUNTS.slice(0, -1)],
    ask = [...MAIN.filter((m) => uses.includes(m)), ...COUNTS.filter((m) => uses.includes(m))];
  const clean = said(doc),
    color = (valueAt(doc, ['wanted', 'color']) as string) ?? '',
    top = valueAt(doc, ['wanted', 'top']);
  /* What no plan is made without is not asked for: color, or a top that is to show its wood. */
  const ready = !!(doc.template && doc.width && doc.height && (color || top));
  const preview = usePreview(clean, ready),
    plan = preview.plan,
    piece = plan?.pieces?.[0],
    sheet = plan?.sheet?.pieces?.[0];
  const { no, refused } = useRefused();
  const wrong = (path: string): string | undefined => {
    const at = `/piece/${path.replace(/\./g, '/')}`;
    return no?.field === at ? no.text : preview.field === at ? preview.text : undefined;
  };
  useEffect(() => refused(undefined), [JSON.stringify(clean)]); /* it is another piece now */
  const save = async () => {
    const o = await send<{ id: string }>({
      method: 'POST',
      path: '/api/pieces',
      body: { piece: clean },
      what: `New piece: ${doc.title ?? template?.name ?? doc.template ?? ''}`,
    });
    if (o.ok || 'unsent' in o) clear();
    else refused(o.failure);
    entered(o, 'In the book.');
  };
  const colors = earlier.filter((r) => r.shown_hex).slice(0, 8);
  return (
    <>
      <div class="head">
        <div>
          <h1>{(doc.title as string) || 'New piece'}</h1>
          <p>What it is, how big, what is on it, the color. Leave out what you do not know.</p>
        </div>
        {begun && (
          <div class="acts">
            <button type="button" class="btn" onClick={clear}>
              Begin anew
            </button>
          </div>
        )}
      </div>
      <section class="stage">
        <header>
          <h2>What it is</h2>
        </header>
        <div class="stage-body">
          {choices.templates?.length ? (
            <div class="choices" role="group" aria-label="What it is">
              {choices.templates.map((t) => (
                <button
                  type="button"
                  aria-pressed={t.id === doc.template}
                  onClick={() =>
                    set((d) => ({
                      ...(t.usual ?? {}),
                      ...Object.fromEntries(
                        Object.entries(d).filter(([k]) => !MAIN.includes(k) && !COUNTS.includes(k)),
                      ),
                      template: t.id,
                    }))
                  }
                >
                  {named(t)}
                </button>
              ))}
            </div>
          ) : (
            <EditField
              spec={specOf('template')}
              value={doc.template}
              set={(v) => put('template', v)}
            />
          )}
          <div class="form gap">
            {['title', 'count'].map((m) => (
              <EditField
                key={m}
                spec={specOf(m)}
                value={doc[m]}
                error={wrong(m)}
                set={(v) => put(m, v)}
              />
            ))}
          </div>
        </div>
      </section>
      <section class="stage">
        <header>
          <h2>Size</h2>
          <p>Inches or metric, as you measure: 32 3/4 in, 2' 6-1/2", 830 mm.</p>
        </header>
        <div class="stage-body">
          <div class="form tight">
            {ask.map((m) => (
              <EditField
                key={`${doc.template}-${m}`}
                spec={specOf(m)}
                value={doc[m]}
                error={wrong(m)}
                set={(v) => put(m, v)}
              />
            ))}
          </div>
        </div>
      </section>
      <section class="stage">
        <header>
          <h2>What is on it</h2>
          <p>A few taps; the tests can follow.</p>
        </header>
        <div class="stage-body">
          <div class="form">
            {LOOK.map((m) => (
              <EditField
                key={m}
                spec={specOf(m)}
                value={valueAt(doc, m.split('.'))}
                error={wrong(m)}
                set={(v) => put(m, v)}
              />
            ))}
            {valueAt(doc, ['agreement', 'purpose']) === 'client' && (
              <EditField
                spec={specOf('agreement.client')}
                value={valueAt(doc, ['agreement', 'client'])}
                error={wrong('agreement.client')}
                set={(v) => put('agreement.client', v)}
              />
            )}
            <ClientNames />
          </div>
        </div>
      </section>
      <section class="stage">
        <header>
          <h2>Color</h2>
        </header>
        <div class="stage-body">
          <ColorField
            label="Color wanted"
            value={color}
            error={wrong('wanted.color')}
            set={(v) => put('wanted.color', v || null)}
          />
          {colors.length > 0 && (
            <div class="gap">
              <p class="k">As on an earlier job</p>
              <div class="earlier">
                {colors.map((r) => {
                  const hex = r.shown_hex as string;
                  return (
                    <button
                      type="button"
                      class="btn small"
                      aria-pressed={hex === color}
                      onClick={() => put('wanted.color', hex)}
                    >
                      <i class="sw" style={{ background: hex }} />
                      {r.title}
                    </button>
                  );
                })}
              </div>
            </div>
          )}
          <div class="gap">
            <Seg
              label="Top"
              value={(valueAt(doc, ['wanted', 'top']) as string) ?? ''}
              options={
                [
                  ['', 'As the rest'],
                  ['painted', 'Painted'],
                  ['natural', 'Natural'],
                  ['stained', 'Stained'],
                  ['waxed', 'Waxed'],
                  ['oiled', 'Oiled'],
                ] as const
              }
              set={(v) => put('wanted.top', v || null)}
            />
          </div>
        </div>
      </section>
      <section class="stage" aria-live="polite">
        <header>
          <h2>The result</h2>
          <p>At once; nothing is saved yet.</p>
        </header>
        <div class="stage-body">
          {!ready && (
            <Empty title="The plan appears here">
              <p>As soon as it is said what it is, its width and height, and the color.</p>
            </Empty>
          )}
          {ready && !plan && (
            <p class="say">
              {preview.text ? lacking(preview.field, preview.text) : 'Planning.'}
            </p>
          )}
          {piece && (
            <figure class="thumb">
              <PieceThumb
                piece={piece.piece}
                surfaces={piece.surfaces?.rows ?? []}
                color={piece.color}
                label="The piece as it will look"
              />
            </figure>
          )}
          {sheet && (
            <Bases.Provider value={{ units, find: preview.why ?? (async () => undefined) }}>
              <SheetRows rows={sheet.summary ?? []} />
            </Bases.Provider>
          )}
          {plan?.assumed && (
            <p class="note gap">
              <b>{plan.assumed.length} figures are assumed.</b> Each can be put right on the piece’s
              sheet.
            </p>
          )}
          <div class="acts">
            <Act kind="btn main" disabled={!doc.template} run={save}>
              Put it in the book
            </Act>
          </div>
        </div>
      </section>
    </>
  );
}
