/* A picture with squares on it. A finger down shows what lies under it, enlarged and above it; up
 * puts the mark there. The arrow keys and Enter do the same. */
import { useRef, useState } from 'preact/hooks';
import type { Mark, Picture } from '../net/picture';
import { lookOf } from '../net/picture';

const LOUPE = 144,
  ZOOM = 3,
  AWAY = 48;

export function Marks({
  picture,
  marks,
  chosen,
  size,
  put,
  choose,
  word,
}: {
  picture: Picture;
  marks: Mark[];
  chosen: number;
  size: number;
  put: (x: number, y: number) => void;
  choose: (n: number) => void;
  word: string; /* what a tap puts there */
}) {
  const w = picture.width ?? 1,
    h = picture.height ?? 1,
    box = useRef<HTMLDivElement>(null);
  const [at, move] = useState<{ x: number; y: number; keys?: boolean } | null>(null);
  const place = (e: PointerEvent) => {
    const b = box.current?.getBoundingClientRect();
    if (!b) return null;
    const x = ((e.clientX - b.left) / b.width) * w,
      y = ((e.clientY - b.top) / b.height) * h;
    return { x: Math.max(0, Math.min(w, x)), y: Math.max(0, Math.min(h, y)) };
  };
  const inside = (p: { x: number; y: number }) => ({
    x: Math.max(size / 2, Math.min(w - size / 2, p.x)),
    y: Math.max(size / 2, Math.min(h - size / 2, p.y)),
  });
  const keys = (e: KeyboardEvent) => {
    const d = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[
      e.key
    ];
    const now = at ?? { x: w / 2, y: h / 2 },
      by = Math.max(w, h) * (e.shiftKey ? 0.002 : 0.02);
    if (d) move({ ...inside({ x: now.x + d[0] * by, y: now.y + d[1] * by }), keys: true });
    else if (e.key === 'Enter' || e.key === ' ') put(inside(now).x, inside(now).y);
    else if (e.key === 'Escape') move(null);
    else return;
    e.preventDefault();
  };
  const width = box.current?.clientWidth ?? 0,
    scale = width ? width / w : 0,
    seen = at && scale ? { x: inside(at).x * scale, y: inside(at).y * scale } : null;
  /* above the finger; at the upper edge beside it, where the hand is not */
  const left = (p: { x: number; y: number }) =>
    p.y > LOUPE + AWAY
      ? p.x - LOUPE / 2
      : p.x > width / 2
        ? p.x - LOUPE - AWAY
        : p.x + AWAY;
  return (
    <div
      ref={box}
      class="marks"
      role="application"
      tabIndex={0}
      aria-label={`The picture. Arrow keys move, Enter marks ${word}.`}
      style={{ aspectRatio: `${w} / ${h}` }}
      onPointerDown={(e) => {
        if ((e.target as Element).closest('button')) return;
        box.current?.setPointerCapture(e.pointerId);
        move(place(e));
      }}
      onPointerMove={(e) => at && !at.keys && move(place(e))}
      onPointerUp={(e) => {
        const p = at && !at.keys ? place(e) : null;
        if (p) put(inside(p).x, inside(p).y);
        move(null);
      }}
      onPointerCancel={() => move(null)}
      onKeyDown={keys}
    >
      <img src={lookOf(picture.id, 1280)} alt="" draggable={false} />
      {marks.map((m, n) => (
        <button
          type="button"
          class={n === chosen ? 'mark here' : 'mark'}
          aria-label={`${n + 1} ${m.name}`}
          aria-pressed={n === chosen}
          style={{
            left: `${(100 * (m.x - m.size / 2)) / w}%`,
            top: `${(100 * (m.y - m.size / 2)) / h}%`,
            width: `${(100 * m.size) / w}%`,
            height: `${(100 * m.size) / h}%`,
          }}
          onClick={() => choose(n)}
        >
          <span>{n + 1}</span>
        </button>
      ))}
      {seen && (
        <div
          class="loupe"
          aria-hidden="true"
          style={{
            left: `${Math.max(0, Math.min(width - LOUPE, left(seen)))}px`,
            top: `${Math.max(0, seen.y - LOUPE - AWAY)}px`,
            backgroundImage: `url("${lookOf(picture.id, 2400)}")`,
            backgroundSize: `${width * ZOOM}px auto`,
            backgroundPosition: `${LOUPE / 2 - seen.x * ZOOM}px ${LOUPE / 2 - seen.y * ZOOM}px`,
          }}
        >
          <i
            style={{ width: `${size * scale * ZOOM}px`, height: `${size * scale * ZOOM}px` }}
          />
        </div>
      )}
    </div>
  );
}
