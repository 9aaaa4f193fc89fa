/* Another piece like this one, or more of its set: a name, how many, whose. */
import { useState } from 'preact/hooks';
import { send } from '../net/api';
import type { PieceRow } from '../net/types';
import { Field } from '../ui/controls';
import { More } from '../ui/more';
import { counted } from '../lib/doc';
import { entered, type Editing } from './change';
import { useRefused } from './refused';

const NAMES = { title: 'Title', count: 'How many', client: 'Client' };

export function Another({ edit, number }: { edit: Editing; number: number }) {
  const [title, setTitle] = useState(''),
    [count, setCount] = useState('1'),
    [client, setClient] = useState(edit.row.client_name ?? ''),
    { took, at } = useRefused(NAMES);
  const enter = async () => {
    const o = await send<PieceRow>({
      method: 'POST',
      path: `/api/pieces/${encodeURIComponent(edit.id)}/again`,
      body: { title, count: counted(count), client: client.trim() || undefined },
      what: `${title}, like ${edit.row.title ?? 'this one'}`,
    });
    const text = `${title} is in the book.`;
    if (o.ok) entered(o, text);
    else took(o, text);
    return o.ok || 'unsent' in o ? undefined : o.failure.text;
  };
  return (
    <section class="stage no-print" id="another" aria-labelledby="another-t">
      <header>
        <h2 id="another-t">
          <span class="n">{number}</span> Another like this
        </h2>
      </header>
      <div class="stage-body">
        <p class="say">
          Its build, its coats and its color go along. Its age, its tests and what is broken are
          looked at anew: another piece may be older, or have lead in its paint.
        </p>
        <More ask="Another like this" keep="Put it in the book" run={enter}>
          <Field
            label="Title"
            example="Two more chairs"
            {...at('title', title, setTitle)}
          />
          <Field
            label="How many"
            inputMode="numeric"
            {...at('count', count, setCount)}
          />
          <Field label="Client" {...at('client', client, setClient)} />
        </More>
      </div>
    </section>
  );
}
