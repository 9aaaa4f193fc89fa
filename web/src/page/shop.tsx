/* The shop: hours, rates, climate, measures; backup and restore, import and export. */
import { useEffect, useRef, useState } from 'preact/hooks';
import { get, send } from '../net/api';
import { useChoices } from '../net/choices';
import { useAnswer } from '../net/use';
import type { Doc, List, Shop } from '../net/types';
import { go } from '../lib/router';
import type { HourDoc } from '../lib/hours';
import { clockOfMinutes, whenText } from '../lib/time';
import { Checks } from '../ui/checks';
import { Act, Empty, Field } from '../ui/controls';
import { EditField } from '../ui/edit';
import type { FieldSpec } from '../ui/fields';
import { failureText, say, told, type Said } from '../ui/said';
import { undoAct } from './change';
import { Changes } from './changes';
import { Crew, type MemberDoc } from './crew';
import { OneGo } from './one_go';
import { OddDays } from './odd_days';

interface ShopAnswer {
  document?: Doc;
  shop?: Shop;
}
interface Copied {
  pictures_missing?: string[];
}
/* The book is sound, but files of pictures are not where they were. */
function missing(c: Copied): Said | undefined {
  const n = c.pictures_missing?.length ?? 0;
  return n
    ? {
        text: `The book itself is sound, but ${n === 1 ? 'the file of a picture is' : `the files of ${n} pictures are`} gone or damaged. Bring the folder of pictures back from where it was copied to.`,
        stop: true,
      }
    : undefined;
}
interface Backup {
  name?: string;
  id?: string;
  file?: string;
  at_utc_min?: number;
  bytes?: number;
  ok?: boolean;
}
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
      f('zone', 'Time zone', 'text', { help: 'as in the IANA list: America/New_York' }),
      f('people', 'People who work', 'int'),
      f('units', 'Units', 'word', { words: ['us', 'metric'] }),
    ],
  ],
  [
    'Rates',
    'What an hour costs and what is added.',
    [
      f('rate', 'An hour of work', 'text', { help: '$45/h' }),
      f('overhead', 'Overhead', 'text', { help: '15 %' }),
      f('margin', 'Margin'),
      f('sale_fee', 'Fee of a market'),
      f('deposit', 'Deposit'),
      f('minimum', 'Least for a job'),
    ],
  ],
  [
    'Climate',
    'Drying is computed from it.',
    [
      f('day_temperature', 'By day', 'text', { help: '66 °F' }),
      f('night_temperature', 'By night'),
      f('humidity', 'Humidity', 'text', { help: '54 %' }),
      f('drying_area', 'Floor to dry on', 'text', { help: '60 sq ft' }),
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
      f('smallest', 'Smallest amount', 'text', { help: '1/2 fl oz' }),
    ],
  ],
];
const DAYS = [
  ['mon', 'Monday'],
  ['tue', 'Tuesday'],
  ['wed', 'Wednesday'],
  ['thu', 'Thursday'],
  ['fri', 'Friday'],
  ['sat', 'Saturday'],
  ['sun', 'Sunday'],
] as const;

/* One after the other, each on what the last one left: two quick taps are no quarrel. */
function useShopPatch(revision: number | undefined) {
  const last = useRef<Promise<unknown>>(Promise.resolve()),
    known = useRef(revision);
  useEffect(() => {
    known.current = revision;
  }, [revision]);
  return (patch: Doc, what: string, refused?: (text?: string) => void): Promise<boolean> => {
    const turn = last.current.then(async () => {
      const o = await send({
        method: 'PATCH',
        path: '/api/shop',
        body: { shop: patch },
        revision: known.current,
        what,
      });
      if (o.ok && o.revision !== undefined) known.current = o.revision;
      refused?.(o.ok || 'unsent' in o || o.failure.status === 412 ? undefined : o.failure.text);
      const member = Object.keys(patch)[0];
      return told(
        o,
        { text: `${what}. Plans follow.`, act: undoAct(o.ok ? o.revision : undefined) },
        { [member]: what },
      );
    });
    last.current = turn.catch(() => undefined);
    return turn;
  };
}
function Hours({
  answer,
  patch,
}: {
  answer: ShopAnswer;
  patch: (p: Doc, what: string) => Promise<boolean>;
}) {
  const doc =
    (answer.document?.hours as HourDoc[] | undefined) ??
    (answer.shop?.hours ?? []).map((h) => ({
      day: h.day ?? 'daily',
      open: clockOfMinutes(h.open_min ?? 480),
      close: clockOfMinutes(h.close_min ?? 1020),
    }));
  const of = (day: string) =>
    doc.filter(
      (h) =>
        h.day === day ||
        h.day === 'daily' ||
        (h.day === 'weekdays' && !['sat', 'sun'].includes(day)),
    );
  const [v, set] = useState<Record<string, string>>(
    Object.fromEntries(
      DAYS.map(([d]) => [
        d,
        of(d)
          .map((h) => `${h.open} - ${h.close}`.replace(/:00/g, ''))
          .join(', '),
      ]),
    ),
  );
  const save = () => {
    const hours = DAYS.flatMap(([day]) =>
      v[day]
        .split(',')
        .map((s) => s.trim())
        .filter(Boolean)
        .map((s) => {
          const [open, close] = s.split(/\s*(?:-|–|to)\s*/);
          return { day, open, close: close ?? '' };
        }),
    );
    return patch({ hours }, 'Hours');
  };
  return (
    <div>
      <div class="form wide">
        {DAYS.map(([d, name]) => (
          <Field
            label={name}
            value={v[d]}
            placeholder="closed"
            onInput={(e) => set({ ...v, [d]: e.currentTarget.value })}
          />
        ))}
      </div>
      <p class="k gap-s">8 am - 12 pm, 1 pm - 5:30 pm. Empty: closed.</p>
      <div class="acts">
        <Act run={save}>Keep the hours</Act>
      </div>
    </div>
  );
}
function Tools({
  answer,
  patch,
}: {
  answer: ShopAnswer;
  patch: (p: Doc, what: string) => Promise<boolean>;
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
function Book() {
  const rows = useAnswer<List<Backup>>('/api/backups').data?.rows ?? [],
    file = useRef<HTMLInputElement>(null);
  const back = async () => {
    const o = await send<Backup>({
      method: 'POST',
      path: '/api/backup',
      body: {},
      what: 'A copy of the book',
      keep: false,
    });
    told(o, { text: 'A copy is put aside and checked.' });
  };
  const look = async () => {
    const o = await get<Copied>('/api/check');
    if (!o.ok) say({ text: failureText(o.failure), stop: true });
    else
      say(
        missing(o.body) ?? {
          text: 'The file is sound, everything in it refers to something, and every picture is there.',
        },
      );
  };
  const restore = async (b: Backup) => {
    const name = b.name ?? b.id ?? b.file;
    if (
      !window.confirm(
        `Take the book back to the copy of ${b.at_utc_min ? whenText(b.at_utc_min) : name}? The book as it is now is copied first.`,
      )
    )
      return;
    const o = await send<Copied>({
      method: 'POST',
      path: '/api/restore',
      body: { name },
      what: 'Restore',
      keep: false,
    });
    told(o, (o.ok && missing(o.body)) || { text: 'The book is as it was in that copy.' });
  };
  const bring = async () => {
    const chosen = file.current?.files?.[0];
    if (!chosen) return;
    let job: unknown;
    try {
      job = JSON.parse(await chosen.text());
    } catch {
      say({ text: `${chosen.name} is not a job document: it is not JSON.`, stop: true });
      return;
    }
    const o = await send<{ pieces?: string[]; rows?: { id: string }[]; id?: string }>({
      method: 'POST',
      path: '/api/import',
      body: { job },
      what: `Import ${chosen.name}`,
      keep: false,
    });
    if (o.ok) {
      say({ text: `${chosen.name} is in the book.`, act: undoAct(o.revision) });
      go('/pieces');
    } else say({ text: failureText(o.failure), stop: true });
  };
  return (
    <>
      <section class="stage">
        <header>
          <h2>Book</h2>
          <p>One file holds everything. It is copied by itself once a day.</p>
        </header>
        <div class="stage-body">
          <div class="acts">
            <Act kind="btn main" run={back}>
              Copy the book now
            </Act>
            <a class="btn" href="/api/export.json" download="book.json">
              Everything as JSON
            </a>
            <Act run={look}>Is it sound?</Act>
          </div>
          {rows.length ? (
            <ul class="rows gap">
              {rows.map((b) => (
                <li class="when">
                  <b>{b.at_utc_min ? whenText(b.at_utc_min) : ''}</b>
                  <span>
                    {b.name ?? b.file}
                    <small>
                      {b.bytes ? `${(b.bytes / 1e6).toFixed(1)} MB` : ''}
                      {b.ok === false ? ', damaged' : ''}
                    </small>
                  </span>
                  <Act kind="btn small" run={() => restore(b)}>
                    Restore
                  </Act>
                </li>
              ))}
            </ul>
          ) : (
            <Empty title="No copy yet">
              <p>
                Copies stand here with their time. Restoring one copies the book as it is first, so
                that nothing is lost.
              </p>
            </Empty>
          )}
          <p class="gap k">Tables as CSV</p>
          <p class="csv">
            {[
              'piece',
              'client',
              'paint',
              'stock_movement',
              'sample',
              'supply',
              'batch',
              'task',
              'record',
              'money',
              'closing',
              'closing_product',
            ].map((t) => (
              <a class="btn small" href={`/api/export/${t}.csv`} download={`${t}.csv`}>
                {t.replace(/_/g, ' ')}
              </a>
            ))}
          </p>
        </div>
      </section>
      <section class="stage">
        <header>
          <h2>Import</h2>
          <p>A job document, as it is printed by “Save the job document”.</p>
        </header>
        <div class="stage-body">
          <label class="btn">
            Choose a file
            <input
              class="vh"
              type="file"
              accept=".json,application/json"
              ref={file}
              onChange={() => void bring()}
            />
          </label>
        </div>
      </section>
    </>
  );
}
export function ShopPage() {
  const live = useAnswer<ShopAnswer>('/api/shop'),
    answer = live.data,
    patch = useShopPatch(live.revision),
    [errors, setErrors] = useState<Record<string, string | undefined>>({});
  if (!answer) return <p class="say">{live.failure?.text ?? 'Opening the shop.'}</p>;
  const doc = answer.document ?? {};
  return (
    <>
      <div class="head">
        <div>
          <h1>{answer.shop?.name ?? 'Shop'}</h1>
          <p>What is not said here is assumed, and every sheet says so.</p>
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
                key={`${s.path}-${String(doc[s.path])}`}
                spec={s}
                value={doc[s.path]}
                error={errors[s.path]}
                set={(v) =>
                  void patch({ [s.path]: v }, s.label, (text) =>
                    setErrors((e) => ({ ...e, [s.path]: text })),
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
          <Hours key={JSON.stringify(doc.hours)} answer={answer} patch={patch} />
          <OddDays
            key={JSON.stringify([doc.days_off, doc.nights])}
            doc={doc}
            patch={patch}
          />
          <OneGo ids={(doc.in_one_go as string[] | undefined) ?? []} patch={patch} />
        </div>
      </section>
      <Crew crew={(doc.crew as MemberDoc[] | undefined) ?? []} patch={patch} />
      <Tools answer={answer} patch={patch} />
      <Book />
      <Changes />
      <section class="stage">
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
