/* Clients: who, what was agreed, what waits for them. */
import { useState } from 'preact/hooks';
import { isHalf, useHalf } from '../lib/half';
import { isKept, send } from '../net/api';
import { useAnswer } from '../net/use';
import type { List, PieceRow } from '../net/types';
import { changes, said } from '../lib/doc';
import { money } from '../lib/quantity';
import { go } from '../lib/router';
import { dueText } from '../lib/time';
import { Act, Empty, Field } from '../ui/controls';
import { inBook } from './change';
import { useRefused } from './refused';
import { stageText } from './record';

interface Client {
  id: string;
  name?: string;
  phone?: string;
  email?: string;
  address?: string;
  waits_for?: string;
  note?: string;
}
const FIELDS = [
  ['name', 'Name'],
  ['phone', 'Phone'],
  ['email', 'Mail'],
  ['address', 'Address'],
  ['waits_for', 'What waits for them'],
  ['note', 'Note'],
] as const;

const NEW = 'new client';
function Form({ client, done }: { client?: Client; done: (id: string) => void }) {
  const {
      value: typed,
      set,
      clear,
    } = useHalf<Record<string, string>>(client ? undefined : NEW, {}),
    { took, at } = useRefused(Object.fromEntries(FIELDS)),
    was = client ? Object.fromEntries(FIELDS.map(([k]) => [k, client[k]])) : {},
    name = typed.name ?? client?.name ?? '';
  const save = async () => {
    const o = await send<{ id?: string }>({
      method: client ? 'PATCH' : 'POST',
      path: client ? `/api/clients/${encodeURIComponent(client.id)}` : '/api/clients',
      body: client ? changes(typed, was, '') : said(typed),
      what: `Client ${name}`,
    });
    const id = took(o, 'Written down.') ? (o.body.id ?? client?.id ?? '') : '';
    if (!isKept(o)) return;
    clear();
    done(id);
  };
  return (
    <div>
      <div class="form">
        {FIELDS.map(([k, label]) => (
          <Field key={k} label={label} {...at(k, typed[k] ?? was[k] ?? '', (text) => set({ ...typed, [k]: text }))} />
        ))}
      </div>
      <div class="acts">
        <Act enter kind="btn main" disabled={!name.trim()} run={save}>
          {client ? 'Keep the changes' : 'Write them down'}
        </Act>
      </div>
    </div>
  );
}
/* A phone in the hand calls and writes by itself. */
function Reach({ c }: { c: Client }) {
  const number = c.phone?.replace(/[^\d+]/g, '');
  return (
    <p class="reach">
      {c.phone && (number ? <a href={`tel:${number}`}>{c.phone}</a> : c.phone)}
      {c.email && (/^\S+@\S+$/.test(c.email) ? <a href={`mailto:${c.email}`}>{c.email}</a> : c.email)}
    </p>
  );
}
function One({ id }: { id: string }) {
  const live = useAnswer<Client>(`/api/clients/${encodeURIComponent(id)}`),
    c = live.data,
    rows =
      useAnswer<List<PieceRow>>(`/api/pieces?client=${encodeURIComponent(id)}`).data?.rows ?? [];
  if (!c) return <p class="say">{live.failure?.text ?? 'Looking.'}</p>;
  const remove = async () => {
    const o = await send({
      method: 'DELETE',
      path: `/api/clients/${encodeURIComponent(id)}`,
      revision: live.revision,
      what: `Take ${c.name} off`,
    });
    if (inBook(o, 'Taken off the list.'))
      go('/clients');
  };
  return (
    <>
      <div class="head">
        <div>
          <h1>{c.name ?? id}</h1>
          <Reach c={c} />
        </div>
      </div>
      {c.waits_for && (
        <p class="note gap">
          <b>Waits for them:</b> {c.waits_for}
        </p>
      )}
      <section class="stage">
        <header>
          <h2>Pieces</h2>
        </header>
        <div class="stage-body">
          {rows.length ? (
            <div class="rows">
              {rows.map((r) => (
                <div class="row">
                  <div class="f num">{r.price_cent !== undefined ? money(r.price_cent) : ''}</div>
                  <div class="w">
                    <a href={`/pieces/${encodeURIComponent(r.id)}`}>{r.title ?? r.id}</a>
                    <small>
                      {stageText(r.stage)}
                      {r.next_step ? `. Next: ${r.next_step}` : ''}
                    </small>
                  </div>
                  <div class="h">{r.due_day !== undefined ? `Due ${dueText(r.due_day)}` : ''}</div>
                </div>
              ))}
            </div>
          ) : (
            <p class="say">No piece is theirs.</p>
          )}
          <div class="acts">
            <a class="btn" href={`/pieces/new?client=${encodeURIComponent(c.name ?? id)}`}>
              New piece for them
            </a>
          </div>
        </div>
      </section>
      <section class="stage">
        <header>
          <h2>Who</h2>
        </header>
        <div class="stage-body">
          <Form key={id} client={c} done={() => undefined} />
          <div class="acts">
            <Act run={remove}>Take them off the list</Act>
            <a class="btn" href="/clients">
              All clients
            </a>
          </div>
        </div>
      </section>
    </>
  );
}
export function Clients({ chosen }: { chosen?: string }) {
  const { data, failure } = useAnswer<List<Client>>(chosen ? null : '/api/clients'),
    open =
      useAnswer<List<PieceRow>>(chosen ? null : '/api/pieces?stage=open').data?.rows ?? [],
    [adding, add] = useState(isHalf(NEW));
  if (chosen) return <One id={chosen} />;
  const rows = data?.rows;
  return (
    <>
      <div class="head">
        <div>
          <h1>Clients</h1>
          <p>Who, what was agreed, what waits for them.</p>
        </div>
        <div class="acts">
          <button class="btn main" aria-expanded={adding} onClick={() => add(!adding)}>
            New client
          </button>
        </div>
      </div>
      {failure && !rows && <p class="note gap">{failure.text}</p>}
      {adding && (
        <section class="stage">
          <header>
            <h2>New client</h2>
          </header>
          <div class="stage-body">
            <Form
              done={(id) => {
                add(false);
                if (id) go(`/clients/${encodeURIComponent(id)}`);
              }}
            />
          </div>
        </section>
      )}
      {rows && !rows.length && !adding && (
        <Empty title="Nobody yet">
          <p>
            A name is enough. What was agreed stands with the piece; here stands who it is for and
            what they still have to say.
          </p>
        </Empty>
      )}
      {!!rows?.length && (
        <div class="things gap">
          {rows.map((c) => (
            <div class="thing person" key={c.id}>
              <div>
                <a href={`/clients/${encodeURIComponent(c.id)}`}>{c.name ?? c.id}</a>
                <small>{c.waits_for ? `Waits for them: ${c.waits_for}` : c.note}</small>
                {open
                  .filter((r) => r.client === c.id)
                  .map((r) => (
                    <small>
                      {r.title ?? r.id}: {stageText(r.stage).toLowerCase()}
                      {r.due_day !== undefined ? `, due ${dueText(r.due_day)}` : ''}
                    </small>
                  ))}
              </div>
              <Reach c={c} />
            </div>
          ))}
        </div>
      )}
    </>
  );
}
