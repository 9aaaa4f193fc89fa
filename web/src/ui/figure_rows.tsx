/* Rows of lists whose figure opens below them, as the rows of a sheet do. */
import type { ComponentChildren } from 'preact';
import { useFigure } from './figure';

interface RowProps {
  pointer?: string;
  figure: ComponentChildren;
  assumed?: boolean;
  children: ComponentChildren;
}
/* Figure first, what it is, and how it is known or whose it is. */
export function FigureRow({
  pointer,
  figure,
  assumed,
  known,
  children,
}: RowProps & { known?: ComponentChildren }) {
  const f = useFigure({ pointer, text: figure, assumed });
  return (
    <>
      <div class="row">
        <div class="f num">{f.button}</div>
        <div class="w">{children}</div>
        <div class="h">{known}</div>
      </div>
      {f.panel}
    </>
  );
}
/* A line of a list that begins with its hour or amount; `end` stands at its right. */
export function FigureLine({
  pointer,
  figure,
  end,
  endPointer,
  children,
}: RowProps & { end?: ComponentChildren; endPointer?: string }) {
  const f = useFigure({ pointer, text: figure }),
    e = useFigure({ pointer: endPointer, text: end });
  return (
    <li>
      <div class="when">
        <b>{f.button}</b>
        <span>{children}</span>
        {end !== undefined && <span class="num">{endPointer ? e.button : end}</span>}
      </div>
      {f.panel}
      {e.panel}
    </li>
  );
}
/* Cells of a table row, some of which open: below the row, over its whole width. */
export interface Cell {
  text: ComponentChildren;
  pointer?: string;
  words?: boolean; /* no number */
}
export function FigureCells({ cells }: { cells: Cell[] }) {
  return <Cells key={cells.length} cells={cells} />;
}
function Cells({ cells }: { cells: Cell[] }) {
  const figures = cells.map((c) => useFigure({ pointer: c.pointer, text: c.text })),
    open = figures.filter((f) => f.panel);
  return (
    <>
      <tr>
        {cells.map((c, i) => (
          <td class={c.words ? undefined : 'n'}>{c.pointer ? figures[i].button : c.text}</td>
        ))}
      </tr>
      {open.length > 0 && (
        <tr class="opened">
          <td colSpan={cells.length}>{open.map((f) => f.panel)}</td>
        </tr>
      )}
    </>
  );
}
/* Figures within a sentence; what they open to hangs below it. */
export function FigureSentence({
  parts,
}: {
  parts: (string | { text: string; pointer: string })[];
}) {
  const figures = parts.map((p) =>
    useFigure(typeof p === 'string' ? { text: p } : { text: p.text, pointer: p.pointer }),
  );
  return (
    <>
      <p class="say gap-s">{parts.map((p, i) => (typeof p === 'string' ? p : figures[i].button))}</p>
      {figures.map((f) => f.panel)}
    </>
  );
}
