/* People of the shop who are told apart: own hours, own days off, and what each one does. */
import { useState } from 'preact/hooks';
import type { Failure } from '../net/api';
import { named, useChoices } from '../net/choices';
import { useAhead } from '../ui/ahead';
import { Checks } from '../ui/checks';
import { Act, Field } from '../ui/controls';
import { Hours, type HourDoc } from './hours';
import type { Keep } from './keep';
import { DaysOff } from './odd_days';

export interface MemberDoc {
  id: string;
  name?: string;
  hours?: HourDoc[];
  days_off?: string[];
  only?: string[];
}

const word = (name: string, taken: Set<string>) => {
  const base = name.toLowerCase().replace(/[^a-z0-9]+/g, '-').replace(/^-|-$/g, '') || 'person';
  let id = base;
  for (let n = 2; taken.has(id); n++) id = `${base}-${n}`;
  return id;
};

type Refused = (f?: Failure) => string | void;
/* What is empty is not said. */
function changed(m: MemberDoc, patch: Partial<MemberDoc>): MemberDoc {
  const next: MemberDoc = { ...m, ...patch };
  for (const k of ['name', 'hours', 'days_off', 'only'] as const)
    if (!next[k]?.length) delete next[k];
  return next;
}

function Member({
  member,
  change,
  remove,
}: {
  member: MemberDoc;
  change: (patch: Partial<MemberDoc>, refused?: Refused) => Promise<boolean>;
  remove: () => Promise<boolean>;
}) {
  const choices = useChoices(),
    only = new Set(member.only ?? []);
  return (
    <fieldset class="member">
      <legend class="name">{member.name ?? member.id}</legend>
      <div class="form">
        <Field
          label="Name"
          value={member.name ?? ''}
          onChange={(e) => void change({ name: e.currentTarget.value.trim() })}
        />
      </div>
      <DaysOff
        of={member.name ?? member.id}
        days={member.days_off ?? []}
        keep={(days_off, refused) => change({ days_off }, (f) => refused(f?.text))}
      />
      <details class="gap-s">
        <summary>{member.hours?.length ? 'Own hours' : 'Hours: the shop’s'}</summary>
        <Hours
          hours={member.hours ?? []}
          empty={member.hours?.length ? 'not here' : 'as the shop’s'}
          keep={(hours, refused) => change({ hours }, refused)}
        />
      </details>
      <details class="gap-s">
        <summary>
          {only.size
            ? `Does only: ${(choices.operations ?? [])
                .filter((o) => only.has(o.id))
                .map(named)
                .join(', ')}`
            : 'Does everything'}
        </summary>
        <Checks
          rows={(choices.operations ?? []).map((o) => ({ id: o.id, name: named(o) }))}
          chosen={member.only ?? []}
          put={(ids) => change({ only: ids })}
        />
      </details>
      <div class="acts">
        <Act kind="btn small" run={remove}>
          Take out<span class="vh">: {member.name ?? member.id}</span>
        </Act>
      </div>
    </fieldset>
  );
}

export function Crew({
  crew,
  patch,
}: {
  crew: MemberDoc[];
  patch: Keep;
}) {
  const [name, setName] = useState(''),
    { say } = useAhead(crew, (next: MemberDoc[], what: string, refused?: Refused) =>
      patch({ crew: next.length ? next : null }, what, refused),
    );
  const add = async () => {
    const called = name.trim(),
      fresh = (was: MemberDoc[]) => ({ id: word(called, new Set(was.map((m) => m.id))), name: called });
    if (await say((was) => [...was, fresh(was)], `${called} works here`)) setName('');
  };
  return (
    <section class="stage">
      <header>
        <h2>People</h2>
        <p>Named only where hours or tasks differ; the days then say who does what.</p>
      </header>
      <div class="stage-body">
        {crew.map((m) => (
          <Member
            key={m.id}
            member={m}
            change={(p, refused) =>
              say(
                (was) => was.map((x) => (x.id === m.id ? changed(x, p) : x)),
                p.name || m.name || m.id,
                refused,
              )
            }
            remove={() =>
              say((was) => was.filter((x) => x.id !== m.id), `${m.name ?? m.id} taken out`)
            }
          />
        ))}
        <div class="form">
          <Field label="Name" value={name} onInput={(e) => setName(e.currentTarget.value)} />
        </div>
        <div class="acts">
          <Act enter run={add} disabled={!name.trim()}>
            Add a person
          </Act>
        </div>
      </div>
    </section>
  );
}
