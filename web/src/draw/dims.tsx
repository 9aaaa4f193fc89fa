/* Sizes of a piece at its drawing. */
import type { Units } from '../net/types';
import { quantity } from '../lib/quantity';
import type { Views } from './form/body';

/* A dimension line with its oblique ticks. */
function Dim({
  x1,
  y1,
  x2,
  y2,
  text,
}: {
  x1: number;
  y1: number;
  x2: number;
  y2: number;
  text: string;
}) {
  const level = y1 === y2,
    mx = (x1 + x2) / 2,
    my = (y1 + y2) / 2;
  return (
    <g>
      <path
        class="thin"
        d={`M${x1} ${y1}L${x2} ${y2}${level ? `M${x1} ${y1 - 6}v12M${x2} ${y2 - 6}v12` : `M${x1 - 6} ${y1}h12M${x2 - 6} ${y2}h12`}`}
      />
      <path
        d={`M${x1 - 4} ${y1 + 4}l8-8M${x2 - 4} ${y2 + 4}l8-8`}
        stroke="var(--ink)"
        stroke-width="2.5"
      />
      {level ? (
        <text x={mx} y={my + 20} text-anchor="middle">
          {text}
        </text>
      ) : (
        <>
          <rect
            x={mx - 4}
            y={my - 11}
            width={text.length * 7.4 + 8}
            height="22"
            fill="var(--ground)"
            transform={`translate(${-text.length * 3.7} 0)`}
          />
          <text x={mx} y={my + 5} text-anchor="middle">
            {text}
          </text>
        </>
      )}
    </g>
  );
}

/* Width and depth below, height in the gap between front and side. */
export function Dims({
  v,
  units,
  k,
  top,
  fx,
  sx,
  between,
}: {
  v: Views;
  units: Units;
  k: number;
  top: number;
  fx: number;
  sx: number;
  between: number;
}) {
  const bottom = top + v.h * k;
  return (
    <>
      <Dim
        x1={fx}
        y1={bottom + 16}
        x2={fx + v.w * k}
        y2={bottom + 16}
        text={quantity(v.w, 'length', units)}
      />
      <Dim
        x1={sx}
        y1={bottom + 16}
        x2={sx + v.d * k}
        y2={bottom + 16}
        text={quantity(v.d, 'length', units)}
      />
      <Dim x1={between} y1={top} x2={between} y2={bottom} text={quantity(v.h, 'length', units)} />
    </>
  );
}
