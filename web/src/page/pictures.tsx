/* Pictures of a piece: before, during, after. The files lie in the book's folder of pictures. */
import { useState } from 'preact/hooks';
import { send } from '../net/api';
import { lookOf, sendPicture } from '../net/picture';
import type { Picture } from '../net/picture';
import { useAnswer } from '../net/use';
import type { List } from '../net/types';
import { whenText } from '../lib/time';
import { Seg, capital } from '../ui/controls';
import { failureText, say } from '../ui/said';
import { Take } from '../ui/take';
import { inBook } from './change';

const KINDS = [
  ['before', 'Before'],
  ['during', 'During'],
  ['after', 'After'],
] as const;
type Kind = (typeof KINDS)[number][0];

export function Pictures({ piece, number }: { piece: string; number: number }) {
  const rows =
    useAnswer<List<Picture>>(`/api/pictures?piece=${encodeURIComponent(piece)}`).data?.rows ?? [];
  const [kind, setKind] = useState<Kind>(rows.length ? 'during' : 'before'),
    [busy, setBusy] = useState(false);
  const take = async (f: File) => {
    setBusy(true);
    const o = await sendPicture(f, { piece, kind });
    setBusy(false);
    if (!o.ok) say({ text: failureText(o.failure), stop: true });
  };
  const drop = async (id: string) => {
    const o = await send<{ revision?: number }>({
      method: 'DELETE',
      path: `/api/pictures/${encodeURIComponent(id)}`,
      what: 'A picture',
    });
    inBook(o, 'No longer shown.');
  };
  return (
    <section class="stage no-print" id="pictures" aria-labelledby="pictures-t">
      <header>
        <h2 id="pictures-t">
          <span class="n">{number}</span> Pictures
        </h2>
      </header>
      <div class="stage-body">
      {rows.length > 0 && (
        <div class="pictures">
          {rows.map((p) => (
            <figure key={p.id}>
              <a href={lookOf(p.id, 2400)} target="_blank" rel="noreferrer">
                <img src={lookOf(p.id, 480)} alt={`${capital(p.kind)}, opens large`} loading="lazy" />
              </a>
              <figcaption>
                <span>
                  {capital(p.kind)}
                  {p.at_utc_min !== undefined && <small>{whenText(p.at_utc_min)}</small>}
                </span>
                <button
                  type="button"
                  class="btn plain"
                  aria-label={`Take away the picture ${p.kind ?? ''}`}
                  onClick={() => void drop(p.id)}
                >
                  Take away
                </button>
              </figcaption>
            </figure>
          ))}
        </div>
      )}
      <div class="acts">
        <Seg label="The next one shows it" value={kind} options={KINDS} set={setKind} />
        <Take label="Take a picture" camera got={take} />
        <Take label="Choose one" got={take} />
      </div>
      {busy && (
        <p class="say" role="status">
          Sending the picture.
        </p>
      )}
      </div>
    </section>
  );
}
