/* A sheet of the server as the page sets it: rows with the figure first, steps, warnings. */
import { createContext, type ComponentChildren } from 'preact';
import { useContext } from 'preact/hooks';
import type { SheetRow, SheetSection } from '../net/types';
import { useFigure } from './figure';
import { Warn, firstStrong } from './warn';
import { Swatch } from './controls';

/* Names of rows of tables and plain exponents as people write them. */
export function nice(s: string | undefined): string | undefined {
  return s
    ?.replace(/\b(ft|in|m)2\b/g, '$1²')
    .replace(/([a-z])_(?=[a-z])/g, '$1 ')
    .replace(/−\$/g, '−\u2060$'); /* a line does not break behind the sign */
}
/* A figure or the name of a row: it begins a line, and a date, an hour or a size in it is not torn
 * apart. */
export function headline(s: string | undefined): string {
  return (nice(s) ?? '')
    .replace(/^[a-z](?=[a-z ])/, (c) => c.toUpperCase())
    .replace(/\b([A-Z][a-z]{2}) (?=\d{1,2}\b)|(?<=\d) (?=([ap]m|in|mm)\b)/g, '$1\u00a0');
}
function Known({ row }: { row: SheetRow }) {
  const text = (nice(row.known) ?? '').replace(/^assumed\.?\s*/i, '');
  return (
    <div class="h">
      {row.assumed && (
        <>
          <span class="assumed-word">Assumed.</span>{' '}
        </>
      )}
      {text}
    </div>
  );
}
function Row({ row }: { row: SheetRow }) {
  const f = useFigure({ pointer: row.pointer, text: headline(row.figure), assumed: row.assumed });
  return (
    <>
      <div class={row.figure ? 'row' : 'row bare-row'} data-pointer={row.pointer}>
        <div class="f">{row.figure ? f.button : null}</div>
        <div class="w">
          {row.swatch && <Swatch hex={row.swatch} />}
          {headline(row.what)}
          {row.detail && <small>{nice(row.detail)}</small>}
        </div>
        <Known row={row} />
      </div>
      {f.panel}
    </>
  );
}
/* What a page adds below a step that stands for a task. */
export const StepMore = createContext<((task: string) => ComponentChildren) | undefined>(undefined);

function Step({ row }: { row: SheetRow }) {
  const more = useContext(StepMore);
  const f = useFigure({ pointer: row.pointer, text: nice(row.figure) ?? '', assumed: row.assumed });
  return (
    <>
      <div class="step" data-task={row.task}>
        <b>{row.number ?? ''}</b>
        <div class="f">{row.figure ? f.button : null}</div>
        <div class="w">
          <h3>
            {row.swatch && <Swatch hex={row.swatch} />}
            {nice(row.what)}
          </h3>
          {row.detail && <p>{nice(row.detail)}</p>}
        </div>
        <Known row={row} />
        {row.task && more && <div class="step-more no-print">{more(row.task)}</div>}
      </div>
      {f.panel}
    </>
  );
}
function SheetLine({ row }: { row: SheetRow }) {
  switch (row.kind) {
    case 'stop':
    case 'mind':
    case 'note':
      return (
        <Warn rank={row.kind}>
          <p>
            {row.what ? (
              <>
                <strong>{nice(row.what)}</strong> {row.detail}
              </>
            ) : (
              firstStrong(row.detail ?? '')
            )}
            {row.known && <small class="known">{row.known}</small>}
          </p>
        </Warn>
      );
    case 'text':
      return <p class="say para">{nice(row.detail ?? row.what)}</p>;
    case 'head':
      return <h3 class="in-head">{nice(row.what)}</h3>;
    case 'step':
      return <Step row={row} />;
    default:
      return <Row row={row} />;
  }
}
/* What is open under a row stays with it when rows are put in above: a pointer alone counts rows. */
const lineKey = (r: SheetRow) => r.task ?? `${r.kind} ${(r.pointer ?? '').replace(/\d+/g, '')} ${r.what} ${r.detail}`;
/* Rows one after another; neighbors of a kind stand in one ruled block. */
export function SheetRows({ rows }: { rows: SheetRow[] }) {
  const blocks: SheetRow[][] = [];
  const kindOf = (r: SheetRow) =>
    !r.kind || r.kind === 'row' || r.kind === 'step'
      ? 'rows'
      : r.kind === 'head'
        ? 'heads'
        : 'warns';
  for (const r of rows) {
    const last = blocks[blocks.length - 1];
    if (last && kindOf(r) === kindOf(last[0])) last.push(r);
    else blocks.push([r]);
  }
  return (
    <>
      {blocks.map((b) => (
        <div class={kindOf(b[0])}>
          {b.map((r) => (
            <SheetLine key={lineKey(r)} row={r} />
          ))}
        </div>
      ))}
    </>
  );
}
export function Stage({
  id,
  section,
  number,
  children,
  below,
}: {
  id: string; /* of this section on its page */
  section: SheetSection;
  number: number;
  children?: ComponentChildren;
  below?: ComponentChildren;
}) {
  return (
    <section class="stage" id={id} aria-labelledby={`${id}-t`}>
      <header>
        <h2 id={`${id}-t`}>
          <span class="n">{number}</span> {section.title}
        </h2>
        {section.intro && <p>{section.intro}</p>}
      </header>
      <div class="stage-body">
        {children}
        <SheetRows rows={section.rows ?? []} />
        {below}
      </div>
    </section>
  );
}
