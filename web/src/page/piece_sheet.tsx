/* The sheet of one piece: its title block, then its sections in the order of the work. */
import type { ComponentChildren, VNode } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import type { PiecePlan, PlanAnswer, SheetPiece, SheetRow, SheetSection, Units } from '../net/types';
import { useFigure } from '../ui/figure';
import { SheetRows, Stage, headline } from '../ui/sheet';
import { Agreed } from './agreed';
import type { Editing } from './change';
import { PieceDates } from './dates';
import { Handing } from './handing';
import { Later, type Rest } from './later';
import { LookOver } from './lookover';
import { Above } from './piece_above';
import { Record } from './record';
import type { Listed } from './said_list';
import { Waits } from './waits';

interface SheetProps {
  plan: PlanAnswer;
  piece: PiecePlan | undefined;
  sheet: SheetPiece;
  units: Units;
  edit?: Editing;
  children?: ComponentChildren; /* what stands at its end */
  among?: boolean; /* the sheet of another piece stands on the same page */
}

/* The cells stand side by side; what a figure opens to has no room in its own and hangs under all of
 * them. Each figure is a hook, so a block is made anew (key) when their number changes. */
function TitleBlock({ rows }: { rows: SheetRow[] }) {
  const figures = rows.map((r) =>
    useFigure({ pointer: r.pointer, text: headline(r.figure ?? r.detail), assumed: r.assumed }),
  );
  return (
    <>
      <dl class="block title">
        {rows.map((r, i) => (
          <div>
            <dt>{r.what}</dt>
            <dd>
              {figures[i].button}
              {r.figure && r.detail && <small>{r.detail}</small>}
            </dd>
          </div>
        ))}
      </dl>
      {figures.map((f) => f.panel)}
    </>
  );
}

/* The title block is what one looks for first: the long sheet follows one frame later. */
function useWhole(): boolean {
  const [whole, set] = useState(false);
  useEffect(() => {
    const show = () => set(true);
    requestAnimationFrame(() => setTimeout(show));
    const t = setTimeout(show, 300); /* a window in the background draws no frames */
    return () => clearTimeout(t);
  }, []);
  useEffect(() => {
    if (whole && location.hash) document.getElementById(location.hash.slice(1))?.scrollIntoView();
  }, [whole]);
  return whole;
}
/* Where the guided inspection stands below, its tests are not listed twice. */
const withoutTests = (s: SheetSection): SheetSection => ({
  ...s,
  rows: s.rows?.filter((r) => r.kind !== 'head' && r.kind !== 'step'),
});

function Lists({
  edit,
  plan,
  of,
}: {
  edit: Editing;
  plan?: PiecePlan;
  of: (r: Rest) => Listed[];
}) {
  return (
    <Later
      quiet
      of={(r) => (
        <>
          {of(r).map((l) => (
            <r.SaidList
              key={`${edit.id} ${l.path.join()}`}
              edit={edit}
              of={l}
              surfaces={plan?.surfaces?.rows ?? []}
            />
          ))}
        </>
      )}
    />
  );
}

function Pictures(p: { piece: string; number: number }) {
  return <Later quiet key={p.piece} of={(r) => <r.Pictures {...p} />} />;
}

function OneMore(p: { edit: Editing; number: number }) {
  return <Later quiet key={p.edit.id} of={(r) => <r.Another {...p} />} />;
}

/* What can be done about a section stands below its rows. */
const BELOW: { [section: string]: (p: SheetProps, edit: Editing) => VNode | null } = {
  agreement: (p, edit) => (
    <Agreed id={edit.id} revision={edit.revision} client={p.piece?.piece?.agreement?.client} />
  ),
  inspection: (_, edit) => <LookOver edit={edit} />,
  takedown: (p, edit) => <Lists edit={edit} plan={p.piece} of={(r) => [r.REPAIRS]} />,
  coats: (_, edit) => <Later quiet of={(r) => <r.Effects edit={edit} />} />,
  color: ({ piece }, edit) =>
    piece ? <Later quiet of={(r) => <r.ColorOfPiece id={edit.id} plan={piece} />} /> : null,
  days: (p, edit) => (
    <>
      <PieceDates edit={edit} />
      <Waits edit={edit} plan={p.plan} />
    </>
  ),
  fittings: (p, edit) => <Lists edit={edit} plan={p.piece} of={(r) => [r.PANELS, r.SLIDES]} />,
  care: (p, edit) => <Handing id={edit.id} units={p.units} />,
};

function StopCount({ rows }: { rows: SheetRow[] }) {
  const stops = rows.filter((r) => r.kind === 'stop').length,
    assumed = rows.filter((r) => r.assumed).length;
  const text = [stops ? `${stops} open` : '', assumed ? `${assumed} assumed` : '']
    .filter(Boolean)
    .join(', ');
  return text ? <span>{text}</span> : null;
}

export function PieceSheet(p: SheetProps) {
  const whole = useWhole(),
    at = (id: string) => (p.among ? `${p.sheet.id}-${id}` : id);
  const sections = (p.sheet.sections ?? []).filter((s) => s.rows?.length);
  const lines = p.sheet.summary ?? [];
  const cells = lines.filter((r) => !r.kind || r.kind === 'row'),
    others = lines.filter((r) => r.kind && r.kind !== 'row');
  return (
    <>
      {cells.length > 0 && <TitleBlock key={cells.length} rows={cells} />}
      {others.length > 0 && (
        <div class="gap">
          <SheetRows rows={others} />
        </div>
      )}
      <nav class="jump gap" aria-label="In this sheet">
        {sections.map((s) => (
          <a href={`#${at(s.id)}`}>
            {s.title}
            <StopCount rows={s.rows ?? []} />
          </a>
        ))}
        {p.edit && <a href="#record">Record</a>}
        {p.edit && <a href="#another">Another like this</a>}
      </nav>
      {(whole ? sections : []).map((s, i) => (
        <Stage
          key={s.id}
          id={at(s.id)}
          section={s.id === 'inspection' && p.edit ? withoutTests(s) : s}
          number={i + 1}
          below={p.edit && BELOW[s.id]?.(p, p.edit)}
        >
          <Above id={s.id} rows={s.rows ?? []} plan={p.plan} piece={p.piece} units={p.units} edit={p.edit} />
        </Stage>
      ))}
      {whole && p.edit && <Record edit={p.edit} number={sections.length + 1} />}
      {whole && p.edit && <Pictures piece={p.edit.id} number={sections.length + 2} />}
      {whole && p.edit && <OneMore edit={p.edit} number={sections.length + 3} />}
      {whole && p.children}
    </>
  );
}
