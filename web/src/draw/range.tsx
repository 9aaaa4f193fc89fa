/* Two ends and what lies between: the dimension line, drawn as on a shop drawing. */

/* A line from low to high with both ends said. */
export function RangeLine({
  low,
  high,
  text,
}: {
  low: number;
  high: number;
  text: (v: number) => string;
}) {
  return (
    <svg
      class="range-line"
      viewBox="0 0 430 52"
      width="430"
      role="img"
      aria-label={`From ${text(low)} to ${text(high)}`}
    >
      <path d="M50 18H330M50 8v20M330 8v20" stroke="var(--ink)" stroke-width="1" fill="none" />
      <path d="M46 22l8-8M326 22l8-8" stroke="var(--ink)" stroke-width="2.5" />
      <text x="50" y="46" text-anchor="middle">
        {text(low)}
      </text>
      <text x="330" y="46" text-anchor="middle">
        {text(high)}
      </text>
    </svg>
  );
}

interface AmountRange {
  low?: number;
  need?: number;
  high?: number;
  mix?: number;
  stock?: number;
  most: number;
}

/* Where an amount lies on a line of this width. */
export const along = (v: number, most: number, width: number) =>
  2 + (Math.min(v, most) / (most || 1)) * (width - 12);

/* Amount needed as a range over the stock bar: what sticks out of the bar is what to buy. */
export function AmountLine({
  range: r,
  marks,
  label,
  width,
  cls,
}: {
  range: AmountRange;
  marks: number[];
  label: string;
  width: number;
  cls: string;
}) {
  const x = (v: number) => along(v, r.most, width),
    y = 20;
  return (
    <svg
      class={`amount-line ${cls}`}
      viewBox={`0 0 ${width} 48`}
      width={width}
      role="img"
      aria-label={label}
    >
      <path d={marks.map((v) => `M${x(v)} 0v48`).join('')} stroke="var(--hair)" />
      {r.stock !== undefined && r.stock > 0 && (
        <rect
          x={x(0)}
          y="14"
          width={Math.max(2, x(r.stock) - x(0))}
          height="13"
          fill="var(--line)"
          fill-opacity=".45"
        />
      )}
      {r.low !== undefined && r.high !== undefined && (
        <>
          <path
            d={`M${x(r.low)} ${y}H${x(r.high)}M${x(r.low)} ${y - 8}v16M${x(r.high)} ${y - 8}v16`}
            stroke="var(--ink)"
            fill="none"
          />
          <path
            d={`M${x(r.low) - 4} ${y + 4}l8-8M${x(r.high) - 4} ${y + 4}l8-8`}
            stroke="var(--ink)"
            stroke-width="2.5"
          />
        </>
      )}
      {r.need !== undefined && (
        <path
          d={`M${x(r.need)} ${y - 6}l6 6-6 6-6-6z`}
          fill="var(--ground)"
          stroke="var(--ink)"
          stroke-width="2"
        />
      )}
      {r.mix !== undefined && (
        <path d={`M${x(r.mix)} ${y - 14}v28`} stroke="var(--ink)" stroke-width="6" />
      )}
    </svg>
  );
}
