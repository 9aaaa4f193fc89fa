/* What comes from another book: a job document beside what is here, or a whole book in its place. */
import { useState } from 'preact/hooks';
import { send, type Failure } from '../net/api';
import { go } from '../lib/router';
import { say } from '../ui/said';
import { Take } from '../ui/take';
import { undoAct } from './change';
import { missing, type Copied } from './copies';

const MOST_MB = 30;
interface Document {
  format?: string;
  shop?: object;
}
/* /export/tables/piece/3/document/width as one finds it in the file: rows are counted from one. */
function placeOf(f: Failure): string {
  const way = (f.field ?? '').split('/').filter((p) => p && !/^(export|job|tables)$/.test(p));
  return way.map((p) => (/^\d+$/.test(p) ? `row ${Number(p) + 1}` : p.replace(/_/g, ' '))).join(', ');
}
const refused = (name: string, f: Failure) =>
  say({
    text: `${name} was not taken; the book is as it was. ${[placeOf(f), f.text].filter(Boolean).join(': ')}`,
    stop: true,
  });
async function readDocument(file: File): Promise<Document | undefined> {
  const no = (text: string) => (say({ text: `${file.name} ${text}`, stop: true }), undefined);
  if (file.size > MOST_MB * 1048576)
    return no(
      `has ${(file.size / 1048576).toFixed(0)} MB. At most ${MOST_MB} MB are read here; on the machine itself: coatwright restore export FILE.`,
    );
  try {
    const read = JSON.parse(await file.text()) as Document | null;
    if (/^coatwright-(job|book)$/.test(read?.format ?? '')) return read as Document;
  } catch {
    return no('is not a job document: it is not JSON.');
  }
  return no(
    'is neither a job document nor a whole book: its "format" would be "coatwright-job" or "coatwright-book".',
  );
}
async function bringBook(name: string, book: Document) {
  if (
    !window.confirm(
      `${name} is a whole book. Put it in the place of this one? The book as it is now is copied first and stands among the copies.`,
    )
  )
    return;
  const o = await send<Copied>({
    method: 'POST',
    path: '/api/restore/export',
    body: book,
    what: `The book of ${name}`,
    keep: false,
  });
  if (o.ok)
    say(
      missing(o.body) ?? { text: `This is the book of ${name} now. The one before is among the copies.` },
    );
  else refused(name, o.failure);
}
async function bringJob(name: string, job: Document, shop: boolean) {
  const o = await send({
    method: 'POST',
    path: '/api/import',
    body: { job, shop },
    what: `Import ${name}`,
    keep: false,
  });
  if (!o.ok) return refused(name, o.failure);
  say({ text: `${name} is in the book.`, act: undoAct(o.revision) });
  go('/pieces');
}
export function BringIn() {
  const [shop, takeShop] = useState(false);
  const bring = async (file: File) => {
    const read = await readDocument(file);
    if (read?.format === 'coatwright-book') await bringBook(file.name, read);
    else if (read) await bringJob(file.name, read, shop && !!read.shop);
  };
  return (
    <section class="stage no-print">
      <header>
        <h2>Import</h2>
        <p>
          A job document comes beside what is here. A whole book, as “Everything as JSON” writes it,
          takes the place of this one, which is copied first.
        </p>
      </header>
      <div class="stage-body">
        <div class="checks">
          <label>
            <input
              type="checkbox"
              checked={shop}
              onChange={(e) => takeShop(e.currentTarget.checked)}
            />{' '}
            Of a job document its shop too: hours, rates, climate
          </label>
        </div>
        <Take label="Choose a file" accept=".json,application/json" got={(f) => void bring(f)} />
      </div>
    </section>
  );
}
