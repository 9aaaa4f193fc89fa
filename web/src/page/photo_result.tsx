/* How a reading stands to the references it was made by. */
import type { Reading } from '../net/picture';
import { Warn } from '../ui/warn';

export function Result({ reading }: { reading: Reading }) {
  return (
    <>
      {reading.advice.length > 0 && (
        <div class="warns">
          {reading.advice.map((t) => (
            <Warn rank="mind">
              <p>{t}</p>
            </Warn>
          ))}
        </div>
      )}
      <h3 class="in-head">The references, as the result sees them</h3>
      <ul class="things">
        {reading.references.map((r) => (
          <li class="thing ref">
            <b>{r.name}</b>
            <span class="num">
              {r.difference.toFixed(1)} off its {r.assumed ? 'usual' : 'stated'} color
              {r.weight < 0.3 ? ', hardly counted' : ''}
            </span>
          </li>
        ))}
      </ul>
    </>
  );
}
