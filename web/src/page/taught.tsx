/* What the shop's records teach: what is usual, what it is here, from how many; and the records that
 * look wrong and wait for a word. Plans reckon with the right column. */
import { send } from '../net/api';
import { named, useChoices } from '../net/choices';
import type { List, Units } from '../net/types';
import { useAnswer } from '../net/use';
import { quantity } from '../lib/quantity';
import { Act, Empty, capital } from '../ui/controls';
import { FigureCells } from '../ui/figure_rows';
import { useShop } from '../ui/frame';
import { inBook } from './change';
import { Records, UNIT, type Logged } from './records';

interface Learned {
  kind?: string;
  class?: string;
  method?: string;
  operation?: string;
  usual?: number;
  shop?: number;
  factor?: number;
  used?: number;
  questioned?: number;
}
const WHAT: Record<string, string> = {
  spread: 'Spread',
  loss: 'Loss',
  hours: 'Hands-on time',
  drying: 'Time to the next coat',
};

function useSubject() {
  const c = useChoices();
  const name = (list: { id: string; name?: string }[] | undefined, id: string | undefined) => {
    const found = id && list?.find((x) => x.id === id);
    return found ? named(found) : id?.replace(/_/g, ' ');
  };
  return (r: { kind?: string; class?: string; method?: string; operation?: string }) =>
    [
      WHAT[r.kind ?? ''] ?? capital(r.kind),
      [name(c.classes, r.class), name(c.methods, r.method), name(c.operations, r.operation)]
        .filter(Boolean)
        .join(', '),
    ]
      .filter(Boolean)
      .join(r.operation ? ': ' : ' of ');
}

function Doubted({ units }: { units: Units }) {
  const subject = useSubject(),
    rows = useAnswer<List<Logged>>('/api/records').data?.rows ?? [],
    settled = new Set(rows.map((r) => r.corrects)),
    open = rows.filter((r) => r.doubted && r.corrects === undefined && !settled.has(r.number));
  const right = async (r: Logged) => {
    const o = await send({
      method: 'POST',
      path: '/api/records/confirm',
      body: { number: r.number },
      what: `Confirm ${subject(r)}`,
    });
    inBook(o, 'Learned from now on.');
  };
  if (!open.length) return null;
  return (
    <div class="rows">
      {open.map((r) => (
        <div class="row" key={r.number}>
          <div class="f num">{quantity(r.actual ?? 0, UNIT[r.kind ?? ''], units)}</div>
          <div class="w">
            {subject(r)}
            <small>
              Far from the usual {quantity(r.planned ?? 0, UNIT[r.kind ?? ''], units)}. Not learned
              from unless it is right.
            </small>
          </div>
          <div class="h">
            <Act run={() => right(r)}>It is right</Act>
          </div>
        </div>
      ))}
    </div>
  );
}

export function Taught() {
  const units = useShop().units,
    subject = useSubject(),
    rows = useAnswer<List<Learned>>('/api/learned').data?.rows ?? [];
  const value = (r: Learned, v: number | undefined) =>
    v === undefined ? '' : quantity(v, UNIT[r.kind ?? ''], units);
  return (
    <section class="stage">
      <header>
        <h2>What your records teach</h2>
        <p>Usual, and in your shop.</p>
      </header>
      <div class="stage-body">
        {rows.length ? (
          <div class="scroll" tabIndex={0} role="region" aria-label="What your records teach">
            <table class="table">
              <thead>
                <tr>
                  <th>What</th>
                  <th class="n">Usual</th>
                  <th class="n">Your shop</th>
                  <th class="n">Factor</th>
                  <th class="n">Records</th>
                </tr>
              </thead>
              <tbody>
                {rows.map((r, i) => (
                  <FigureCells
                    key={subject(r)}
                    cells={[
                      { text: subject(r), words: true },
                      { text: value(r, r.usual) },
                      {
                        text: <b>{value(r, r.shop)}</b>,
                        pointer: r.shop === undefined ? undefined : `/api/learned#/rows/${i}/shop`,
                      },
                      { text: r.factor?.toFixed(2), pointer: `/api/learned#/rows/${i}/factor` },
                      {
                        text: (
                          <>
                            {r.used ?? 0}
                            {r.questioned ? <small> and {r.questioned} in doubt</small> : ''}
                          </>
                        ),
                      },
                    ]}
                  />
                ))}
              </tbody>
            </table>
          </div>
        ) : (
          <Empty title="Nothing is on record yet">
            <p>
              Tick tasks off with the time they took, and log what a can really covered. From then
              on plans reckon with your hand, not with everybody’s.
            </p>
          </Empty>
        )}
        <Doubted units={units} />
        <Records units={units} subject={subject} />
      </div>
    </section>
  );
}
