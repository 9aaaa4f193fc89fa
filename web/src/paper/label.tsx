/* The label of a batch: six a sheet, the recipe, a swatch, a frame for a dab, the code. */
import { useAnswer, useCell } from '../net/use';
import { inUnits } from '../lib/settings';
import { paper } from './print';

interface LabelAnswer {
  title?: string;
  lines?: string[];
  qr?: string;
  hex?: string;
}
export function Label({ id, copies = 1 }: { id: string; copies?: number }) {
  const kind = useCell(paper),
    { data } = useAnswer<LabelAnswer>(
      kind === 'label'
        ? inUnits(
            `/api/batches/${encodeURIComponent(id)}/label?base=${encodeURIComponent(location.origin)}`,
          )
        : null,
    );
  if (kind !== 'label' || !data) return null;
  const code = data.qr;
  return (
    <div class="paper">
      <div class="p-labels">
        {Array.from({ length: copies }, () => (
          <section class="p-label">
            <div>
              <h2>{data.title ?? id}</h2>
              {(data.lines ?? []).map((l) => (
                <p>{l}</p>
              ))}
            </div>
            <div class="p-label-side">
              {code && (
                <img
                  alt={`Code of batch ${id}`}
                  src={`data:image/svg+xml;charset=utf-8,${encodeURIComponent(code)}`}
                />
              )}
              <div class="p-swatch">
                <b style={{ background: data.hex ?? '#fff' }} />
                <i />
              </div>
            </div>
          </section>
        ))}
      </div>
    </div>
  );
}
