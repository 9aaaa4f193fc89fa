/* The section through the coats, from the wood outward: the picture of a coating system. */
import { useId } from 'preact/hooks';
import type { Coat, PiecePlan } from '../net/types';
import { useRoom, wideOf } from '../lib/room';
import { looksOf } from './parts';
import { Words, wrapped } from './words';

interface Layer {
  name: string;
  note: string;
  kind: 'wood' | 'old' | 'ground' | 'color' | 'clear';
}
const KIND: Record<string, Layer['kind']> = {
  spot_seal: 'ground',
  barrier: 'ground',
  primer: 'ground',
  stain: 'old',
  color: 'color',
  effect: 'color',
  clear: 'clear',
  wax: 'clear',
};
const NAME: Record<string, string> = {
  spot_seal: 'Spot seal',
  barrier: 'Barrier',
  primer: 'Primer',
  stain: 'Stain',
  color: 'Color',
  effect: 'Effect',
  clear: 'Clear',
  wax: 'Wax',
};

/* Layers so narrow carry their numbers. */
const wordless = (w: number) => w < 76;
/* What all coats lie on, as one calls it. */
const groundOf = (p: PiecePlan) =>
  p.piece.template === 'wicker_chair'
    ? 'weave'
    : (p.piece.wood ?? 'wood').replace(/[-_]/g, ' ');
const BOARDS = ['metal', 'mdf', 'plywood', 'particleboard', 'hardboard', 'melamine', 'laminate'];
function layersOf(p: PiecePlan): Layer[] {
  const rows = p.coats?.rows ?? [],
    coating = (c: Coat) => c.role !== undefined && c.role in KIND && c.verdict !== 'never';
  const groups = [...new Set(rows.map((c) => c.group ?? ''))];
  const count = (g: string) => rows.filter((c) => (c.group ?? '') === g && coating(c)).length;
  const most = groups.sort((a, b) => count(b) - count(a))[0];
  const layers: Layer[] = [
    {
      name: groundOf(p),
      note: p.piece.wood && !BOARDS.includes(p.piece.wood) ? 'the wood' : '',
      kind: 'wood',
    },
  ];
  const stripped = rows.some(
    (c) => c.role === 'strip' || (p.piece.finish === 'wax' && c.operation === 'dewax'),
  );
  if (p.piece.finish && p.piece.finish !== 'none' && p.piece.finish !== 'bare' && !stripped)
    layers.push({
      name: `old ${p.piece.finish.replace(/[-_]/g, ' ')}`,
      note: 'stays',
      kind: 'old',
    });
  for (const c of rows)
    if (((c.group ?? '') === most || !c.group) && coating(c)) {
      const n = Math.min(c.coats ?? 1, 6);
      for (let i = 0; i < n; i++)
        layers.push({
          name: NAME[c.role as string],
          note: n > 1 ? `coat ${i + 1}` : (c.text?.split(': ')[1] ?? c.class ?? '').replace(/[-_]/g, ' '),
          kind: KIND[c.role as string],
        });
    }
  return layers.slice(0, 14);
}
const cap = (s: string) => s.charAt(0).toUpperCase() + s.slice(1);

function Strip({
  layers,
  width,
  cls,
  id,
  p,
}: {
  layers: Layer[];
  width: number;
  cls: string;
  id: string;
  p: PiecePlan;
}) {
  const looks = looksOf(p.piece, p.color),
    w = width / layers.length,
    h = 70,
    narrow = wordless(w);
  const fill = (k: Layer['kind']) =>
    k === 'wood'
      ? `url(#${id}-g)`
      : k === 'old'
        ? (looks.wood ?? '#9a9a9a')
        : k === 'color'
          ? (looks.color ?? '#cfcfcf')
          : k === 'ground'
            ? `url(#${id}-p)`
            : '#fafafa';
  return (
    <svg
      class={`film ${cls}`}
      viewBox={`0 0 ${width} ${h + (narrow ? 26 : 78)}`}
      width={width}
      role="img"
      aria-label={`From the wood outward: ${layers.map((l) => `${l.name}${l.note ? `, ${l.note}` : ''}`).join('; ')}`}
    >
      <defs>
        <pattern id={`${id}-g`} width="60" height="14" patternUnits="userSpaceOnUse">
          <rect width="60" height="14" fill={looks.wood ?? '#b9b9b9'} />
          <path
            d="M0 4c15-4 30 4 60 0M0 11c20 4 40-4 60 0"
            stroke="#000"
            stroke-opacity=".4"
            fill="none"
          />
        </pattern>
        <pattern id={`${id}-p`} width="10" height="10" patternUnits="userSpaceOnUse">
          <rect width="10" height="10" fill="#f4f4f4" />
          <circle cx="3" cy="3" r="1.1" fill="#555" />
          <circle cx="8" cy="8" r="1.1" fill="#555" />
        </pattern>
      </defs>
      {layers.map((l, i) => (
        <g>
          <rect
            x={i * w + 1}
            y="1"
            width={w}
            height={h}
            fill={fill(l.kind)}
            stroke="#111"
            stroke-width="2"
          />
          {l.kind === 'clear' && (
            <path
              d={`M${i * w + w / 2 - 12} ${h / 2 + 10}l20-20M${i * w + w / 2 - 2} ${h / 2 + 12}l16-16`}
              stroke="#111"
              stroke-width="1.2"
            />
          )}
          {narrow ? (
            <text x={i * w + w / 2} y={h + 19} text-anchor="middle">
              {i + 1}
            </text>
          ) : (
            <>
              <path d={`M${i * w + w / 2} ${h - 8}v18`} stroke="var(--ink)" stroke-width="1" />
              <circle
                cx={i * w + w / 2}
                cy={h - 9}
                r="3"
                fill="var(--ground)"
                stroke="#111"
                stroke-width="1.5"
              />
              <Words
                x={i * w + w / 2}
                y={h + 26}
                lines={wrapped(cap(l.name), w - 4, 1, true)}
                bold
                anchor="middle"
              />
              <g class="s2">
                <Words x={i * w + w / 2} y={h + 43} lines={wrapped(l.note, w - 4, 3)} anchor="middle" />
              </g>
            </>
          )}
        </g>
      ))}
      <path d={`M${width - 2} 0v${h + 2}`} stroke="var(--ink)" stroke-width="4" />
    </svg>
  );
}
export function Film({ plan }: { plan: PiecePlan }) {
  const id = useId().replace(/:/g, ''),
    layers = layersOf(plan);
  const { ref, room } = useRoom(),
    width = wideOf(room);
  if (layers.length < 2) return null;
  return (
    <figure ref={ref}>
      <Strip layers={layers} width={width} cls="wide" id={`${id}w`} p={plan} />
      <Strip layers={layers} width={358} cls="narrow" id={`${id}n`} p={plan} />
      <ol class={wordless(width / layers.length) ? 'film-key' : 'narrow film-key'}>
        {layers.map((l, i) => (
          <li>
            <b>{i + 1}</b> {cap(l.name)}
            {l.note ? `, ${l.note}` : ''}
          </li>
        ))}
      </ol>
    </figure>
  );
}
