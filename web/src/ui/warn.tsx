/* Warnings: word, weight and shape, never a hue. */
import type { ComponentChildren } from 'preact';
import type { Notice } from '../net/types';

/* The first sentence says what to do, the second why: the first is set in weight. */
export function firstStrong(text: string): ComponentChildren {
  const m = /^(.+?[.!?:])(\s+)(.+)$/s.exec(text);
  if (!m || m[1].length > 160) return <strong>{text}</strong>;
  return (
    <>
      <strong>{m[1]}</strong> {m[3]}
    </>
  );
}
export function Warn({
  rank,
  children,
}: {
  rank: 'stop' | 'mind' | 'note';
  children: ComponentChildren;
}) {
  if (rank === 'note') return <div class="note">{children}</div>;
  return (
    <div class={rank}>
      <b>{rank === 'stop' ? 'Stop' : 'Mind'}</b>
      <div>{children}</div>
    </div>
  );
}
export function Notices({ rows }: { rows?: Notice[] }) {
  if (!rows?.length) return null;
  const order = { stop: 0, mind: 1, note: 2 };
  return (
    <div class="warns">
      {[...rows]
        .sort((a, b) => order[a.rank ?? 'note'] - order[b.rank ?? 'note'])
        .map((n) => (
          <Warn rank={n.rank ?? 'note'}>
            <p>
              {firstStrong(n.text ?? '')}
              {n.remedy ? ` ${n.remedy}` : ''}
            </p>
          </Warn>
        ))}
    </div>
  );
}
