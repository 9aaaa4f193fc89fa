/* What work waits for from outside: with its day, and in one tap that it has come. */
import { useState } from 'preact/hooks';
import { send } from '../net/api';
import type { Outside } from '../net/types';
import { isoDay, shortDay } from '../lib/time';
import { Act, Field } from '../ui/controls';
import { inBook, patchPiece } from './change';

/* Kept as it was given: by the client, when, on the card. */
async function signed(piece: string): Promise<boolean> {
  const o = await send({
    method: 'POST',
    path: `/api/pieces/${encodeURIComponent(piece)}/accepted`,
    body: { kind: 'sample' },
    what: 'The sample is signed',
  });
  return inBook(o, 'The sample is signed: the color may go on.');
}

export function SampleActs({
  w,
  then,
}: {
  w: Pick<Outside, 'piece' | 'expected_day'>;
  then?: () => Promise<void>; /* what was pressed and waited for it */
}) {
  const [asks, setAsks] = useState(false);
  return (
    <>
      <span class="acts">
        <Act kind="btn small" run={async () => {
            if (await signed(w.piece)) await then?.();
          }}
        >
          {then ? 'It is signed: go on' : 'It is signed'}
        </Act>
        <button
          type="button"
          class="btn small"
          aria-expanded={asks}
          onClick={() => setAsks(!asks)}
        >
          {w.expected_day === undefined ? 'Say when' : 'Another day'}
        </button>
      </span>
      {asks && (
        <Field
          label="It will be signed"
          type="date"
          value={w.expected_day === undefined ? '' : isoDay(w.expected_day)}
          onChange={(e) => {
            const day = e.currentTarget.value || null;
            setAsks(false);
            void patchPiece(
              { id: w.piece, document: {} },
              { piece: { agreement: { sample_expected: day } } },
              'When the sample is signed',
            );
          }}
        />
      )}
    </>
  );
}

export function OutsideRows({ rows }: { rows: Outside[] }) {
  return (
    <ul>
      {rows.map((w) => (
        <li class="when" key={`${w.piece} ${w.kind}`}>
          <b>{w.until_utc_min === undefined ? '' : shortDay(w.until_utc_min)}</b>
          <span>
            <a href={`/pieces/${encodeURIComponent(w.piece)}#days`}>{w.title ?? w.piece}</a>
            <small>{w.text}</small>
            {w.kind === 'sample' && <SampleActs w={w} />}
          </span>
          <span />
        </li>
      ))}
    </ul>
  );
}
