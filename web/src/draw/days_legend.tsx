/* The marks of a chart of days, and what they mean. */
import { useId } from 'preact/hooks';

export function Hatch({ id }: { id: string }) {
  return (
    <defs>
      <pattern
        id={id}
        width="6"
        height="6"
        patternUnits="userSpaceOnUse"
        patternTransform="rotate(45)"
      >
        <rect width="6" height="6" fill="var(--raised)" />
        <path d="M0 0v6" stroke="var(--ink)" stroke-width="2" />
      </pattern>
    </defs>
  );
}
export function Ghost({ x, y, w, h, to }: { x: number; y: number; w: number; h: number; to: number }) {
  const from = to > x ? x + w : x,
    head = to > from ? -5 : 5,
    at = y + h / 2;
  return (
    <g class="ghost" fill="none" stroke="var(--ink)">
      <rect x={x} y={y} width={w} height={h} stroke-dasharray="3 2" />
      {Math.abs(to - from) > 8 && (
        <>
          <path d={`M${from} ${at}H${to}`} stroke-dasharray="1 3" />
          <path d={`M${to + head} ${at - 4}L${to} ${at}l${head} 4`} />
        </>
      )}
    </g>
  );
}
export function DaysLegend({ moved, ready }: { moved?: boolean; ready?: boolean }) {
  const id = useId().replace(/:/g, '');
  return (
    <div class="legend">
      <span>
        <svg width="36" height="16" aria-hidden="true">
          <rect y="1" width="36" height="14" fill="var(--ink)" />
        </svg>
        your hands
      </span>
      {ready && (
        <span class="lg">
          <svg width="36" height="16" aria-hidden="true">
            <path d="M0 13.5h9M27 13.5h9" stroke="var(--ink)" stroke-width="3" />
            <rect x="9" y="1" width="18" height="14" fill="var(--ink)" />
          </svg>
          with getting ready and cleaning up
        </span>
      )}
      <span>
        <svg width="36" height="16" aria-hidden="true">
          <Hatch id={id} />
          <rect x=".5" y="1.5" width="35" height="13" fill={`url(#${id})`} stroke="var(--ink)" />
        </svg>
        drying
      </span>
      <span>
        <svg width="44" height="16" aria-hidden="true">
          <path d="M4 8h36M4 2v12M40 2v12" stroke="var(--ink)" />
          <path d="M1 11l6-6M37 11l6-6" stroke="var(--ink)" stroke-width="2" />
        </svg>
        next coat takes, from and until
      </span>
      <span>
        <svg width="36" height="16" aria-hidden="true">
          <rect width="36" height="16" fill="var(--raised)" stroke="var(--hair)" />
        </svg>
        shop open
      </span>
      <span>
        <svg width="36" height="16" aria-hidden="true">
          <rect width="36" height="16" fill="var(--sunk)" stroke="var(--hair)" />
        </svg>
        closed; nights drawn at a fifth
      </span>
      {moved && (
        <span>
          <svg width="44" height="16" aria-hidden="true">
            <Ghost x={1} y={1} w={16} h={14} to={38} />
          </svg>
          accepted there, moved
        </span>
      )}
    </div>
  );
}
