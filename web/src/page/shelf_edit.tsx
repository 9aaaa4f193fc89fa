/* A can or a supply: entered, put right, taken off; and how its stock came about. */
import { useEffect, useState } from 'preact/hooks';
import { get, send, type Failure, type Send } from '../net/api';
import { named, useChoices } from '../net/choices';
import { useAnswer } from '../net/use';
import type { List } from '../net/types';
import { inUnit } from '../lib/bare';
import { said } from '../lib/doc';
import { useHalf } from '../lib/half';
import { money, quantity } from '../lib/quantity';
import { whenText } from '../lib/time';
import { Act, Field, Select, capital } from '../ui/controls';
import { ColorField } from '../ui/edit';
import { SHEENS } from '../ui/fields';
import { useShop } from '../ui/frame';
import { failureText, say } from '../ui/said';
import { inBook } from './change';
import { useRefused } from './refused';
import type { Paint, Supply } from './shelf';
import { MeasuredColor, type Measured } from './shelf_measured';

/* What the forms below call the members of a can and of a supply. */
const NAMES: Record<string, string> = {
  class: 'What it is',
  color: 'What it dries to',
  stock: 'How much is left',
  size: 'One can holds',
  cost: 'One can costs',
  hides_in: 'Coats to hide black',
  can_of: 'Another can of',
};
type Values = Record<string, string>;
type Typed = { currentTarget: { value: string } };

async function write(s: Send, text: string, done?: () => void, refused?: (f: Failure) => void) {
  const o = await send(s);
  if (inBook(o, text, NAMES) || 'unsent' in o) done?.();
  else refused?.(o.failure);
}
function TakeOff({ path, name, of }: { path: string; name: string; of: 'shelf' | 'list' }) {
  return (
    <div class="acts">
      <Act
        run={() =>
          write({ method: 'DELETE', path, what: `${name} off the ${of}` }, `${name} is off the ${of}.`)
        }
      >
        Take it off the {of}
      </Act>
    </div>
  );
}
/* Only what differs from what stood there is sent; what was emptied is taken out. */
function changes(v: Values, was: Values): Record<string, string | null> {
  const out: Record<string, string | null> = {};
  for (const [k, x] of Object.entries(v)) if (x !== (was[k] ?? '')) out[k] = x.trim() || null;
  return out;
}

/* A number of coats is sent as a number; what is none is refused with its field. */
function counted<T extends Record<string, string | null>>(v: T) {
  const n = v.hides_in ? Number(v.hides_in) : NaN;
  return Number.isNaN(n) ? v : { ...v, hides_in: n };
}

/* What the can says of itself beats what is usual for its kind. */
const LABEL = [
  ['label_spread', 'Spread', '400 ft2/gal'],
  ['label_solids', 'Solids by volume', '38 %'],
  ['label_touch', 'Dry to touch', '30 min'],
  ['label_recoat', 'Next coat after', '4 h'],
  ['label_recoat_until', 'Next coat unscuffed before', '24 h'],
  ['label_handle', 'May be handled after', '12 h'],
  ['label_cure', 'Cured after', '21 d'],
  ['label_pot_life', 'Once mixed, good for', '4 h'],
  ['label_lowest', 'Not below', '50 F'],
] as const;
const isLabel = (k: string) => k.startsWith('label_');
const only = (v: Values, keep: (k: string) => boolean) =>
  Object.fromEntries(Object.entries(v).filter(([k, x]) => keep(k) && x.trim()));

/* Only what may differ from can to can: the rest is as the one that is known has it. */
function CanForm({ of, done }: { of: Paint; done: () => void }) {
  const [v, set] = useState<Values>({}),
    { refused, error, typed } = useRefused(NAMES),
    put = (k: string) => (e: Typed) => {
      typed(k);
      set({ ...v, [k]: e.currentTarget.value });
    },
    name = of.name ?? of.id,
    { units } = useShop(),
    full = of.size_ml ? quantity(of.size_ml, 'volume', units) : '';
  const save = () =>
    write(
      {
        method: 'POST',
        path: '/api/paints',
        body: {
          ...said({ ...v, stock: v.stock?.trim() || full, cost: inUnit(v.cost, 'money', units) }),
          can_of: of.id,
        },
        what: `Another can of ${name}`,
      },
      `Another can of ${name} stands on the shelf.`,
      done,
      refused,
    );
  return (
    <div>
      <p class="say">
        It begins with what was learned of {name}. Another lot may differ a little: that is in its
        doubt until a card of it is logged. More of the same lot is stock of that can: Bought.
      </p>
      <div class="form gap-s">
        <Field
          label="How much is left"
          value={v.stock ?? ''}
          placeholder={full || '1 qt'}
          error={error('stock')}
          onInput={put('stock')}
        />
        <Field
          label="One can costs"
          value={v.cost ?? ''}
          placeholder={of.cost_cent !== undefined ? money(of.cost_cent) : '$24'}
          error={error('cost')}
          onInput={put('cost')}
        />
        <Field
          label="Opened"
          type="date"
          value={v.opened ?? ''}
          error={error('opened')}
          onInput={put('opened')}
        />
        <Field
          label="Name"
          value={v.name ?? ''}
          placeholder={`${name} 2`}
          error={error('name')}
          onInput={put('name')}
        />
        <Field
          label="Note"
          value={v.note ?? ''}
          placeholder="lot number"
          error={error('note')}
          onInput={put('note')}
        />
      </div>
      {of.color_hex && (
        <details>
          <summary>Its color was read anew</summary>
          <ColorField
            label="What it dries to"
            value={v.color ?? ''}
            error={error('color')}
            set={(color) => {
              typed('color');
              set({ ...v, color });
            }}
          />
        </details>
      )}
      <div class="acts">
        <Act kind="btn main" run={save}>
          Put this can on the shelf
        </Act>
      </div>
    </div>
  );
}

export const NEW_CAN = 'new can';
/* A can that is new to the shelf: of a paint that is new here, or another one of a paint that is known. */
export function NewCan({ paints, done }: { paints: Paint[]; done: () => void }) {
  const [id, of] = useState(''),
    known = paints.find((p) => p.id === id);
  return (
    <>
      {paints.length > 0 && (
        <div class="form gap-b">
          <Select
            label="It is"
            value={id}
            options={[
              ['', 'A paint that is new here'],
              ...paints.map((p) => [p.id, `Another can of ${p.name ?? p.id}`] as const),
            ]}
            set={of}
          />
        </div>
      )}
      {known ? <CanForm key={id} of={known} done={done} /> : <PaintForm done={done} />}
    </>
  );
}

function PaintForm({
  p,
  others = [],
  done,
}: {
  p?: Paint;
  others?: Paint[];
  done: () => void;
}) {
  const choices = useChoices(),
    was: Values = {};
  for (const k of [
    ...['name', 'class', 'color', 'sheen', 'size', 'cost', 'opened', 'hides_in', 'can_of', 'note'],
    ...LABEL.map(([k]) => k),
  ])
    if (p?.document?.[k] !== undefined) was[k] = `${p.document[k]}`;
  const { value: v, set, clear } = useHalf<Values>(p ? undefined : NEW_CAN, was),
    [measured, measure] = useState<Measured>(),
    { refused, error, typed } = useRefused(NAMES),
    { units } = useShop(),
    cost = inUnit(v.cost, 'money', units) as string;
  const over = () => {
    clear();
    done?.();
  };
  const spectrum = measured?.spectrum && { spectrum: measured.spectrum };
  const put = (k: string) => (e: Typed) => {
    typed(k);
    set({ ...v, [k]: e.currentTarget.value });
  };
  const save = () =>
    p
      ? write(
          {
            method: 'PATCH',
            path: `/api/paints/${encodeURIComponent(p.id)}`,
            body: { paint: { ...counted(changes({ ...v, ...(v.cost ? { cost } : {}) }, was)), ...spectrum } },
            what: `Paint ${v.name}`,
          },
          `${v.name} is put right.`,
          over,
          refused,
        )
      : write(
          {
            method: 'POST',
            path: '/api/paints',
            body: {
              ...said(counted(only({ ...v, ...(v.cost ? { cost } : {}) }, (k) => !isLabel(k)))),
              paint: { ...only(v, isLabel), ...spectrum },
            },
            what: `Paint ${v.name}`,
          },
          `${v.name} stands on the shelf.`,
          over,
          refused,
        );
  return (
    <div>
      <div class="form">
        <Field label="Name" value={v.name ?? ''} error={error('name')} onInput={put('name')} />
        {choices.classes?.length ? (
          <Select
            label="What it is"
            value={v.class ?? ''}
            options={[['', 'Choose'], ...choices.classes.map((c) => [c.id, named(c)] as const)]}
            error={error('class')}
            set={(x) => {
              typed('class');
              set({ ...v, class: x });
            }}
          />
        ) : (
          <Field
            label="What it is"
            value={v.class ?? ''}
            error={error('class')}
            onInput={put('class')}
          />
        )}
        <ColorField
          label="What it dries to"
          value={v.color ?? ''}
          error={error('color')}
          set={(color) => {
            typed('color');
            set({ ...v, color });
          }}
        />
        <MeasuredColor
          value={measured}
          set={(m) => {
            measure(m);
            set({
              ...v,
              name: v.name || (m?.name ?? ''),
              ...(m ? { color: m.spectrum ? '' : (m.notation ?? '') } : {}),
            });
          }}
        />
        <Select
          label="Sheen"
          value={v.sheen ?? ''}
          options={[['', 'Not said'], ...SHEENS.split('|').map((s) => [s, s] as const)]}
          set={(sheen) => set({ ...v, sheen })}
        />
        {!p && (
          <Field
            label="How much is left"
            value={v.stock ?? ''}
            placeholder="13 fl oz"
            error={error('stock')}
            onInput={put('stock')}
          />
        )}
        <Field
          label="One can holds"
          value={v.size ?? ''}
          placeholder="1 qt"
          error={error('size')}
          onInput={put('size')}
        />
        <Field
          label="One can costs"
          value={v.cost ?? ''}
          placeholder="$24"
          error={error('cost')}
          onInput={put('cost')}
        />
        <Field
          label="Opened"
          type="date"
          value={v.opened ?? ''}
          error={error('opened')}
          onInput={put('opened')}
        />
        <Field label="Note" value={v.note ?? ''} error={error('note')} onInput={put('note')} />
        <Field
          label="Coats to hide black"
          inputMode="numeric"
          value={v.hides_in ?? ''}
          error={error('hides_in')}
          onInput={put('hides_in')}
          help="beside white, tried on a card"
        />
        {others.length > 0 && (
          <Select
            label="Another can of"
            value={v.can_of ?? ''}
            options={[['', 'None other'], ...others.map((q) => [q.id, q.name ?? q.id] as const)]}
            set={(can_of) => set({ ...v, can_of })}
          />
        )}
      </div>
      <details>
        <summary>
          What its label says
          {LABEL.some(([k]) => v[k]) ? `: ${LABEL.filter(([k]) => v[k]).length} figures` : ''}
        </summary>
        <div class="form">
          {LABEL.map(([k, label, example]) => (
            <Field
              label={label}
              value={v[k] ?? ''}
              placeholder={example}
              error={error(k)}
              onInput={put(k)}
            />
          ))}
        </div>
      </details>
      <div class="acts">
        <Act kind={p ? 'btn' : 'btn main'} disabled={!v.name} run={save}>
          {p ? 'Put it right' : 'Put it on the shelf'}
        </Act>
      </div>
    </div>
  );
}

interface Movement {
  number: number;
  kind?: string;
  amount_ml?: number;
  cost_cent?: number;
  piece?: string;
  batch?: string;
  at_utc_min?: number;
  note?: string;
}
function Movements({ id }: { id: string }) {
  const rows =
      useAnswer<List<Movement>>(`/api/paints/${encodeURIComponent(id)}/stock?limit=50`).data?.rows ??
      [],
    { units } = useShop();
  if (!rows.length) return <p class="say">Nothing was entered yet.</p>;
  return (
    <ol class="rows gap-s">
      {rows.map((m) => (
        <li class="when" key={m.number}>
          <span class="k">{m.at_utc_min !== undefined ? whenText(m.at_utc_min) : ''}</span>
          <span>
            {capital(m.kind)}{' '}
            <b class="num">
              {(m.amount_ml ?? 0) < 0 ? '−' : '+'}
              {quantity(Math.abs(m.amount_ml ?? 0), 'volume', units)}
            </b>
            <small>
              {[
                m.piece && `for ${m.piece}`,
                m.batch && `batch ${m.batch}`,
                m.cost_cent !== undefined && money(m.cost_cent),
                m.note,
              ]
                .filter(Boolean)
                .join(', ')}
            </small>
          </span>
        </li>
      ))}
    </ol>
  );
}
/* As it stands in the book now, asked for when somebody wants to put it right. */
function Right({ id, others, done }: { id: string; others: Paint[]; done: () => void }) {
  const [full, set] = useState<Paint | null>(null);
  useEffect(() => {
    void get<Paint>(`/api/paints/${encodeURIComponent(id)}`).then((o) => {
      if (o.ok) set(o.body);
      else say({ text: failureText(o.failure), stop: true });
    });
  }, [id]);
  return full ? (
    <PaintForm p={full} others={others} done={done} />
  ) : (
    <p class="say">Opening.</p>
  );
}
export function PaintMore({
  p,
  samples,
  lots,
  heir,
  others,
}: {
  p: Paint;
  others: Paint[] /* of which it may be another can */;
  samples?: number;
  lots?: string;
  heir?: string /* another can of it on the shelf */;
}) {
  const [shown, show] = useState('');
  const part = (name: string, title: string, body: () => preact.VNode) => (
    <details
      open={shown === name}
      onToggle={(e) => {
        if (e.currentTarget.open) show(name);
        else if (shown === name) show('');
      }}
    >
      <summary>{title}</summary>
      {shown === name && body()}
    </details>
  );
  return (
    <div class="gap-b">
      {lots && <p class="say">{lots}</p>}
      {!p.leftover &&
        part('can', 'Another can of it', () => <CanForm of={p} done={() => show('')} />)}
      {part('right', 'Put it right', () => (
        <Right id={p.id} others={p.leftover ? [] : others} done={() => show('')} />
      ))}
      {part('stock', 'How its stock came about', () => (
        <Movements id={p.id} />
      ))}
      {!!samples && heir && (
        <p class="say">
          What {samples === 1 ? 'its sample' : `its ${samples} samples`} taught stays when it leaves
          the shelf: {heir} is another can of it.
        </p>
      )}
      {!!samples && !heir && (
        <p class="say">
          {samples === 1 ? 'One sample was' : `${samples} samples were`} painted with it. Off the shelf it
          takes what {samples === 1 ? 'that' : 'they'} taught along, also of the other paints in{' '}
          {samples === 1 ? 'it' : 'them'}. If it is only used up, count it as 0.
        </p>
      )}
      <TakeOff path={`/api/paints/${encodeURIComponent(p.id)}`} name={p.name ?? p.id} of="shelf" />
    </div>
  );
}

const KINDS = 'tape abrasive roller brush rag filler glue cane hardware other'.split(' ');
export function SupplyForm({ s, done }: { s?: Supply; done?: () => void }) {
  const was: Values = {
    name: s?.name ?? '',
    kind: s?.kind ?? '',
    cost: s?.cost_cent !== undefined ? money(s.cost_cent) : '',
    note: s?.note ?? '',
  };
  const [v, set] = useState<Values>(was),
    { refused, at } = useRefused(NAMES),
    { units } = useShop();
  const put = (k: string) => at(k, v[k] ?? '', (text) => set({ ...v, [k]: text }));
  const cost = inUnit(v.cost, 'money', units) as string;
  const save = () =>
    write(
      s
        ? {
            method: 'PATCH',
            path: `/api/supplies/${encodeURIComponent(s.id)}`,
            body: said(
              Object.fromEntries(Object.entries({ ...v, cost }).filter(([k, x]) => x !== was[k])),
            ),
            what: `Supply ${v.name}`,
          }
        : {
            method: 'POST',
            path: '/api/supplies',
            body: said({ ...v, cost }),
            what: `Supply ${v.name}`,
          },
      s ? `${v.name} is put right.` : `${v.name} is kept from now on.`,
      () => {
        if (!s) set({});
        done?.();
      },
      refused,
    );
  return (
    <div>
      <div class="form">
        <Field label="Name of the supply" {...put('name')} />
        <Select
          label="Kind"
          value={v.kind ?? ''}
          options={[['', 'Not said'], ...KINDS.map((k) => [k, k] as const)]}
          set={(kind) => set({ ...v, kind })}
        />
        <Field label="One costs" placeholder="$4" {...put('cost')} />
        <Field label="Note" {...put('note')} />
      </div>
      <div class="acts">
        <Act disabled={!v.name} run={save}>
          {s ? 'Put it right' : 'Keep it'}
        </Act>
      </div>
    </div>
  );
}
export function SupplyMore({ s }: { s: Supply }) {
  const [shown, show] = useState(false);
  return (
    <div class="gap-b">
      <details open={shown} onToggle={(e) => show(e.currentTarget.open)}>
        <summary>Put it right</summary>
        {shown && <SupplyForm s={s} done={() => show(false)} />}
      </details>
      <TakeOff path={`/api/supplies/${encodeURIComponent(s.id)}`} name={s.name ?? s.id} of="list" />
    </div>
  );
}
