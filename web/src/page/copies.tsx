/* The book: copies of it, whether it is sound, all of it as JSON and CSV. */
import { get, send } from '../net/api';
import { useAnswer } from '../net/use';
import type { List } from '../net/types';
import { whenText } from '../lib/time';
import { Act, Empty } from '../ui/controls';
import { failureText, say, told, type Said } from '../ui/said';
import { BringIn } from './bring_in';

export interface Copied {
  pictures_missing?: string[];
}
/* The book is sound, but files of pictures are not where they were. */
export function missing(c: Copied): Said | undefined {
  const n = c.pictures_missing?.length ?? 0;
  return n
    ? {
        text: `The book itself is sound, but ${n === 1 ? 'the file of a picture is' : `the files of ${n} pictures are`} gone or damaged. Bring the folder of pictures back from where it was copied to.`,
        stop: true,
      }
    : undefined;
}
interface Backup {
  name: string;
  at_utc_min?: number;
  bytes?: number;
}

export function Book() {
  const rows = useAnswer<List<Backup>>('/api/backups').data?.rows ?? [];
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
    if (
      !window.confirm(
        `Take the book back to the copy of ${b.at_utc_min ? whenText(b.at_utc_min) : b.name}? The book as it is now is copied first.`,
      )
    )
      return;
    const o = await send<Copied>({
      method: 'POST',
      path: '/api/restore',
      body: { name: b.name },
      what: 'Restore',
      keep: false,
    });
    told(o, (o.ok && missing(o.body)) || { text: 'The book is as it was in that copy.' });
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
                <li class="when" key={b.name}>
                  <b>{b.at_utc_min ? whenText(b.at_utc_min) : ''}</b>
                  <span>
                    {b.name}
                    <small>{b.bytes ? `${(b.bytes / 1e6).toFixed(1)} MB` : ''}</small>
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
          <p class="gap k no-print">Tables as CSV</p>
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
      <BringIn />
    </>
  );
}
