/* The shop: rates, climate, measures, hours, people, tools; its book. */
import { useEffect, useRef, useState } from 'preact/hooks';
import { isKept, send } from '../net/api';
import { useChoices } from '../net/choices';
import { useAnswer } from '../net/use';
import { quantity } from '../lib/quantity';
import type { Assumption, Doc, Shop, Units } from '../net/types';
import { Checks } from '../ui/checks';
import { Coming } from '../ui/coming';
import { EditField } from '../ui/edit';
import type { FieldSpec } from '../ui/fields';
import { useShop } from '../ui/frame';
import { Book } from './copies';
import { inBook } from './change';
import { Changes } from './changes';
import { Crew, type MemberDoc } from './crew';
import { Hours, hoursOfShop } from './hours';
import type { Keep } from './keep';
import { OneGo } from './one_go';
import { ColdNights, DaysOff } from './odd_days';

interface ShopAnswer {
  text?: string;
  document?: Doc;
  shop?: Shop;
  assumed?: Assumption[];
}
/* What the plans take for a member that nobody has said. */
function assumedText(answer: ShopAnswer, member: string, units: Units): string | undefined {
  const a = answer.assumed?.find((x) => x.pointer === `/shop/${member}`);
  return a && (a.text ?? quantity(a.value ?? 0, a.unit, units));
}
const OWN_ZONE = new Intl.DateTimeFormat().resolvedOptions().timeZone;
const f = (
  path: string,
  label: string,
  kind: FieldSpec['kind'] = 'text',
  more: Partial<FieldSpec> = {},
): FieldSpec => ({ path, label, kind, ...more });
const GROUPS: [string, string, FieldSpec[]][] = [
  [
    'Shop',
    '',
    [
      f('name', 'Name'),
      f('zone', 'Time zone', 'text', {
        example: `America/New_York; not said: this machine’s, ${OWN_ZONE}`,
      }),
      f('people', 'People who work', 'int'),
      f('units', 'Units', 'word', { words: ['us', 'metric'] }),
    ],
  ],
  [
    'Rates',
    'What an hour costs and what is added.',
    [
      f('rate', 'An hour of work', 'text', { example: '$45/h', in: 'rate' }),
      f('overhead', 'Overhead', 'text', { example: '15 %', in: 'share' }),
      f('margin', 'Margin', 'text', { in: 'share' }),
      f('sale_fee', 'Fee of a market', 'text', { in: 'share' }),
      f('deposit', 'Deposit', 'text', { example: '50 %', in: 'share' }),
      f('minimum', 'Least for a job', 'text', { in: 'money' }),
    ],
  ],
  [
    'Climate',
    'Drying is computed from it.',
    [
      f('day_temperature', 'By day', 'text', { example: '66 °F', in: 'temperature' }),
      f('night_temperature', 'By night', 'text', { in: 'temperature' }),
      f('humidity', 'Humidity', 'text', { example: '54 %', in: 'share' }),
      f('drying_area', 'Floor to dry on', 'text', { example: '60 ft2', in: 'area' }),
      f('booth', 'A booth for sprayed coats', 'yes'),
      f('sand_apart', 'Another room to sand in', 'yes'),
      f('within_windows', 'Rather wait than scuff', 'yes'),
    ],
  ],
  [
    'Measures',
    'Recipes come in what can be measured.',
    [
      f('measure', 'Measured with', 'word', { words: ['fl oz', 'tsp', 'ml', 'gram', 'drop', 'part'] }),
      f('smallest', 'Smallest amount', 'text', { example: '1/2 fl oz' }),
    ],
  ],
];
/* One after the other, each on what the last one left: two quick taps are no quarrel. */
function useShopPatch(revision: number | undefined): Keep {
  const last = useRef<Promise<unknown>>(Promise.resolve()),
    known = useRef(revision);
  useEffect(() => {
    known.current = revision;
  }, [revision]);
  return (patch, what, refused) => {
    const turn = last.current.then(async () => {
      const o = await send({
        method: 'PATCH',
        path: '/api/shop',
        body: { shop: patch },
        revision: known.current,
        what,
      });
      if (o.ok && o.revision !== undefined) known.current = o.revision;
      const no = o.ok || 'unsent' in o || o.failure.status === 412 ? undefined : o.failure,
        called = refused?.(no) ?? what;
      inBook(o, `${what}. Plans follow.`, { [Object.keys(patch)[0]]: called });
      return isKept(o);
    });
    last.current = turn.catch(() => undefined);
    return turn;
  };
}
function Tools({
  answer,
  patch,
}: {
  answer: ShopAnswer;
  patch: Keep;
}) {
  const choices = useChoices(),
    own = (answer.document?.tools as string[]) ?? answer.shop?.tools ?? [];
  if (!choices.methods?.length) return null;
  return (
    <section class="stage">
      <header>
        <h2>Tools</h2>
        <p>Ways of coating the shop is set up for.</p>
      </header>
      <div class="stage-body">
        <Checks
          rows={choices.methods.map((m) => ({ id: m.id, name: m.name ?? m.id }))}
          chosen={own}
          put={(tools) => patch({ tools }, 'Tools')}
        />
      </div>
    </section>
  );
}
export function ShopPage() {
  const live = useAnswer<ShopAnswer>('/api/shop'),
    answer = live.data,
    patch = useShopPatch(live.revision),
    [errors, setErrors] = useState<Record<string, string | undefined>>({}),
    { units } = useShop();
  if (!answer) return <Coming title="Shop" says="Opening the shop." failure={live.failure} />;
  const doc = answer.document ?? {},
    usual = (s: FieldSpec): FieldSpec => {
      const text = assumedText(answer, s.path, units);
      return text ? { ...s, example: `Not said: ${text} is assumed.` } : s;
    };
  return (
    <>
      <div class="head">
        <div>
          <h1>{answer.shop?.name ?? 'Shop'}</h1>
          <p>What is not said here is assumed, and every sheet says so.</p>
          {answer.text && <p class="say">{answer.text}</p>}
        </div>
      </div>
      {GROUPS.map(([title, say_, specs]) => (
        <section class="stage">
          <header>
            <h2>{title}</h2>
            {say_ && <p>{say_}</p>}
          </header>
          <div class="stage-body form">
            {specs.map((s) => (
              <EditField
                key={s.path}
                spec={usual(s)}
                value={doc[s.path]}
                error={errors[s.path]}
                set={(v) =>
                  void patch({ [s.path]: v }, s.label, (f) =>
                    setErrors((e) => ({ ...e, [s.path]: f?.text })),
                  )
                }
              />
            ))}
          </div>
        </section>
      ))}
      <section class="stage">
        <header>
          <h2>Hours</h2>
          <p>Work is laid only into them; paint dries on by itself.</p>
        </header>
        <div class="stage-body">
          <Hours
            hours={hoursOfShop(answer)}
            assumed={assumedText(answer, 'hours', units)}
            keep={(hours, refused) => patch({ hours }, 'Hours', refused)}
          />
          <DaysOff
            days={answer.shop?.days_off ?? []}
            keep={(days, refused) =>
              patch({ days_off: days.length ? days : null }, 'Days off', (f) => refused(f?.text))
            }
          />
          <ColdNights doc={doc} patch={patch} />
          <OneGo ids={(doc.in_one_go as string[] | undefined) ?? []} patch={patch} />
        </div>
      </section>
      <Crew crew={(doc.crew as MemberDoc[] | undefined) ?? []} patch={patch} />
      <Tools answer={answer} patch={patch} />
      <Book />
      <Changes />
      <section class="stage no-print">
        <header>
          <h2>On the phone</h2>
        </header>
        <div class="stage-body">
          <p class="say">
            The page keeps the screen awake only where the browser allows it; on plain http in the
            shop’s network it does not. Set the phone’s own screen time to never while it lies on
            the bench.
          </p>
        </div>
      </section>
    </>
  );
}
