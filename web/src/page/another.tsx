/* Another piece like this one, or more of its set: a name, how many, whose. */
import { useState } from 'preact/hooks';
import { send } from '../net/api';
import type { PieceRow } from '../net/types';
import { go } from '../lib/router';
import { Field } from '../ui/controls';
import { More } from '../ui/more';
import { failureText } from '../ui/said';
import { inBook, type Editing } from './change';

const MEMBERS = { '/title': 'Title', '/count': 'How many', '/client': 'Client' };

export function Another({ edit, number }: { edit: Editing; number: number }) {
  const [title, setTitle] = useState(''),
    [count, setCount] = useState('1'),
    [client, setClient] = useState(edit.row.client_name ?? ''),
    [wrong, setWrong] = useState('');
  const enter = async () => {
    const o = await send<PieceRow>({
      method: 'POST',
      path: `/api/pieces/${encodeURIComponent(edit.id)}/again`,
      body: { title, count: Number(count), client: client.trim() || undefined },
      what: `${title}, like ${edit.row.title ?? 'this one'}`,
    });
    if (inBook(o, `${title} is in the book.`, MEMBERS))
      go(`/pieces/${encodeURIComponent(o.body.id)}`);
    if (o.ok || 'unsent' in o) return undefined;
    if (o.failure.field === '/title') setWrong(o.failure.text);
    return failureText(o.failure, MEMBERS);
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
            help="Two more chairs"
            value={title}
            error={wrong || undefined}
            onInput={(e) => (setTitle(e.currentTarget.value), setWrong(''))}
          />
          <Field
            label="How many"
            inputMode="numeric"
            value={count}
            onInput={(e) => setCount(e.currentTarget.value)}
          />
          <Field
            label="Client"
            value={client}
            onInput={(e) => setClient(e.currentTarget.value)}
          />
        </More>
      </div>
    </section>
  );
}
