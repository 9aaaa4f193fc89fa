/* What a figure opens to. Always the same parts in the same order: comes from, rule, source, how sure. */
import { useContext } from 'preact/hooks';
import type { Basis, BasisInput, Units } from '../net/types';
import { quantity } from '../lib/quantity';
import { Bases } from './figure';
import { RangeLine } from '../draw/range';

const SURE: Record<string, string> = {
  exact: 'Arithmetic on what was said.',
  measured: 'From this shop’s own tests and records.',
  label: 'From the label of the can.',
  published: 'Published: a standard, a handbook or a law.',
  'one trade source': 'One trade source; not confirmed by a second.',
  'common practice': 'Common practice in the trade.',
  'from memory': 'From memory; check it before you lean on it.',
  'as said': 'As you said; nobody has measured it.',
  assumed: 'Assumed: nobody has said it. Put it right and everything that hangs on it moves.',
};

function inputText(i: BasisInput, u: Units): string {
  return i.text ?? (i.value === undefined ? '' : quantity(i.value, i.unit, u));
}

export function BasisPanel({
  id,
  basis,
  close,
}: {
  id: string;
  basis: Basis | null | undefined;
  close: () => void;
}) {
  const { units } = useContext(Bases);
  const onKey = (e: KeyboardEvent) => {
    if (e.key === 'Escape') {
      e.stopPropagation();
      close();
    }
  };
  if (!basis)
    return (
      <div id={id} class="basis" onKeyDown={onKey}>
        <p class="say">
          {basis === null ? 'No basis was kept for this figure.' : 'Looking it up.'}
        </p>
      </div>
    );
  const ranged = basis.low !== undefined && basis.high !== undefined;
  return (
    <div
      id={id}
      class="basis"
      onKeyDown={onKey}
      role="group"
      aria-label="Where this figure comes from"
    >
      <dl>
        {!!basis.inputs?.length && (
          <>
            <dt>Comes from</dt>
            <dd>
              <ul class="sum">
                {basis.inputs.map((i) => (
                  <li>
                    <b>{inputText(i, units)}</b>
                    <span>{i.name}</span>
                  </li>
                ))}
              </ul>
            </dd>
          </>
        )}
        {basis.rule && (
          <>
            <dt>Rule</dt>
            <dd>{basis.rule}</dd>
          </>
        )}
        {(basis.cited || basis.source) && (
          <>
            <dt>Source</dt>
            <dd>{basis.cited ?? basis.source}</dd>
          </>
        )}
        <dt>How sure</dt>
        <dd>
          {ranged && (
            <RangeLine
              low={basis.low as number}
              high={basis.high as number}
              text={(v) => quantity(v, basis.unit, units)}
            />
          )}
          {SURE[basis.certainty ?? ''] ?? basis.certainty ?? 'Not said.'}
          {ranged && ' Nine of ten lie between the two marks.'}
        </dd>
      </dl>
    </div>
  );
}
