/* A slider a paint on the measuring grid; its track shows what the batch would be at each mark. */
import { quantity } from '../../lib/quantity';
import { Select } from '../../ui/controls';
import { useShop } from '../../ui/frame';
import type { Paint } from '../shelf';
import { amountOf, type Mix, type MixItem } from './kinds';
import type { Grid } from './use_mix';

function Slider({
  item,
  name,
  known,
  text,
  most,
  ramp,
  set,
  drop,
}: {
  item: MixItem;
  name: string;
  known?: string;
  text: string;
  most: number;
  ramp?: string[];
  set: (parts: number) => void;
  drop: () => void;
}) {
  const v = item.parts,
    step = (d: number) => set(Math.max(0, Math.min(most, v + d)));
  return (
    <div class="slider">
      <div class="slider-top">
        <span>
          <b>{name}</b> {known && <small class="k">{known}</small>}
        </span>
        <span class="steps">
          <button type="button" aria-label={`Less ${name}`} onClick={() => step(-1)}>
            −
          </button>
          <output>{text}</output>
          <button type="button" aria-label={`More ${name}`} onClick={() => step(1)}>
            +
          </button>
        </span>
      </div>
      <div class="track">
        <div class="ramp" aria-hidden="true">
          {(ramp ?? []).map((c) => (
            <i style={{ background: c || 'transparent' }} />
          ))}
        </div>
        <input
          type="range"
          min="0"
          max={most}
          step="1"
          value={v}
          aria-label={`Parts of ${name}`}
          aria-valuetext={text}
          onInput={(e) => set(Number(e.currentTarget.value))}
        />
      </div>
      {v === 0 && (
        <button type="button" class="btn small" onClick={drop}>
          Leave {name} out
        </button>
      )}
    </div>
  );
}

export function Sliders({
  items,
  set,
  mix,
  grid,
  paints,
  known,
}: {
  items: MixItem[];
  set: (items: MixItem[]) => void;
  mix?: Mix;
  grid: Grid;
  paints: Map<string, Paint>;
  known: (id: string) => string | undefined;
}) {
  const { units } = useShop(),
    sum = items.reduce((n, i) => n + i.parts, 0),
    spare = [...paints.values()].filter(
      (p) => p.mixable && !items.some((i) => i.paint === p.id),
    );
  const said = (i: MixItem) => {
    const m = mix?.items?.find((x) => x.paint === i.paint && x.parts === i.parts);
    return i.parts === 0 ? 'none' : amountOf(m ?? i);
  };
  /* all by the same factor, the largest taking what rounding leaves */
  const fill = () => {
    if (!sum) return;
    const next = items.map((i) => ({ ...i, parts: Math.round((i.parts * grid.parts) / sum) })),
      left = grid.parts - next.reduce((n, i) => n + i.parts, 0),
      at = next.reduce((b, i, n) => (i.parts > next[b].parts ? n : b), 0);
    next[at] = { ...next[at], parts: Math.max(0, next[at].parts + left) };
    set(next);
  };
  return (
    <>
      {items.map((i, n) => (
        <Slider
          key={i.paint}
          item={i}
          name={paints.get(i.paint)?.name ?? i.paint}
          known={known(i.paint)}
          text={said(i)}
          most={Math.max(grid.parts, i.parts)}
          ramp={mix?.ramps?.find((r) => r.paint === i.paint)?.hex}
          set={(v) => set(items.map((x, m) => (m === n ? { ...x, parts: v } : x)))}
          drop={() => set(items.filter((_, m) => m !== n))}
        />
      ))}
      <div class="slider-end">
        {spare.length > 0 && (
          <Select
            label="Add a paint"
            value=""
            options={[['', 'Choose'], ...spare.map((p) => [p.id, p.name ?? p.id] as const)]}
            set={(v) => v && set([...items, { paint: v, parts: 1 }])}
          />
        )}
        {items.length > 0 && sum !== grid.parts && (
          <button type="button" class="btn" onClick={fill}>
            Fill to{' '}
            {grid.part_ml
              ? quantity(grid.parts * grid.part_ml, 'volume', units)
              : `${grid.parts} parts`}
          </button>
        )}
      </div>
      {items.length > 0 && (
        <p class="note gap">
          <b>Each track shows the color the batch would have at that mark.</b>
          {grid.part_ml ? ' One step is what your measure shows.' : ''}
        </p>
      )}
    </>
  );
}
