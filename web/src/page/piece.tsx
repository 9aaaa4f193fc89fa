/* A piece: its title block, then one long sheet in the order of the work. */
import { useEffect, useMemo, useState } from 'preact/hooks';
import type { ComponentChildren } from 'preact';
import { get, heldAnswer } from '../net/api';
import { useAnswer } from '../net/use';
import type {
  Basis,
  Doc,
  PiecePlan,
  PieceRow,
  PlanAnswer,
  SheetPiece,
  SheetRow,
  SheetSection,
  Units,
} from '../net/types';
import { inUnits } from '../lib/settings';
import { useShop } from '../ui/frame';
import { Bases, useFigure } from '../ui/figure';
import { SheetRows, Stage, StepMore, nice } from '../ui/sheet';
import { Warn } from '../ui/warn';
import { DaysLegend, DaysNarrow, DaysPaper, DaysWide } from '../draw/days';
import { DaysList } from '../draw/days_list';
import { Film } from '../draw/film';
import { treatmentText } from '../draw/parts';
import { PieceDrawing } from '../draw/piece';
import { AmountsChart } from '../draw/amounts';
import { Assumed } from './assumed';
import { AddPart, PartEdit } from './part';
import { Agreed } from './agreed';
import { Handing } from './handing';
import { StepFold } from './help';
import { LookOver } from './lookover';
import { Record } from './record';
import { printPaper } from '../paper/print';
import { Later, type Rest } from './later';
import { PieceDates } from './dates';
import type { Listed } from './said_list';
import { Waits } from './waits';

function TitleCell({ row }: { row: SheetRow }) {
  const f = useFigure({
    pointer: row.pointer,
    text: nice(row.figure ?? row.detail) ?? '',
    assumed: row.assumed,
  });
  return (
    <div>
      <dt>{row.what}</dt>
      <dd>
        {f.button}
        {row.figure && row.detail && <small>{row.detail}</small>}
      </dd>
      {f.panel}
    </div>
  );
}

interface SheetProps {
  plan: PlanAnswer;
  piece: PiecePlan | undefined;
  sheet: SheetPiece;
  units: Units;
  edit?: Editing;
}
interface Editing {
  id: string;
  document: Doc;
  revision?: number;
  row: PieceRow;
}

/* What the drawings add to a section of the sheet. */
function Above({
  id,
  p,
  edit,
}: {
  id: string;
  p: SheetProps;
  edit?: Editing;
}): preact.VNode | null {
  const [part, choose] = useState<string | undefined>();
  const { plan, piece, units } = p;
  if (!piece) return null;
  const surfaces = piece.surfaces?.rows ?? [];
  if (id === 'coats') return <Film plan={piece} />;
  if (id === 'surfaces')
    return (
      <>
        <PieceDrawing
          piece={piece.piece}
          surfaces={surfaces}
          color={piece.color}
          units={units}
          chosen={part}
          choose={(x) => choose(x === part ? undefined : x)}
        />
        {part && edit && (
          <PartEdit
            key={part}
            edit={edit}
            surface={surfaces.find((s) => s.part.id === part)}
            close={() => choose(undefined)}
          />
        )}
        {edit && (
          <details class="no-print gap">
            <summary>All parts</summary>
            <ul class="csv gap-b">
              {surfaces.map((s) => (
                <li key={s.part.id}>
                  <button
                    type="button"
                    class="btn small"
                    aria-pressed={part === s.part.id}
                    onClick={() => choose(part === s.part.id ? undefined : s.part.id)}
                  >
                    {nice(s.part.name ?? s.part.id)}
                    <span class="vh">: {treatmentText(s.part.treatment)}. Change it</span>
                  </button>
                </li>
              ))}
            </ul>
          </details>
        )}
        {edit && <AddPart edit={edit} />}
      </>
    );
  if (id === 'fittings' && edit && piece.piece?.fittings?.pulls?.new_spacing_mm)
    return (
      <p class="say no-print">
        <a
          class="btn"
          href={`/api/pieces/${encodeURIComponent(edit.id)}/drill?units=${units}`}
          target="_blank"
          rel="noopener"
        >
          Drilling template, true size
        </a>
      </p>
    );
  if (id === 'amounts') return <AmountsChart amounts={piece.amounts ?? []} units={units} />;
  if (id === 'days' && plan.days?.rows?.length) {
    const tasks = plan.days.rows.filter((t) => t.piece === piece.id),
      titles = new Map([[piece.id, piece.title ?? piece.id]]);
    const chart = { tasks, titles, shop: plan.shop ?? {}, now: plan.now_utc_min };
    return (
      <>
        <DaysLegend ready={tasks.some((t) => t.setup_min || t.cleanup_min)} />
        <DaysWide {...chart} />
        <DaysPaper {...chart} />
        <DaysNarrow {...chart} />
      </>
    );
  }
  return null;
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

function SheetOf(p: SheetProps) {
  const whole = useWhole();
  const sections = (p.sheet.sections ?? []).filter((s) => s.rows?.length);
  const lines = p.sheet.summary ?? [];
  const cells = lines.filter((r) => !r.kind || r.kind === 'row'),
    others = lines.filter((r) => r.kind && r.kind !== 'row');
  return (
    <>
      {cells.length > 0 && (
        <dl class="block title">
          {cells.map((r) => (
            <TitleCell row={r} />
          ))}
        </dl>
      )}
      {others.length > 0 && (
        <div class="gap">
          <SheetRows rows={others} />
        </div>
      )}
      <nav class="jump gap" aria-label="In this sheet">
        {sections.map((s) => (
          <a href={`#${s.id}`}>
            {s.title}
            <StopCount rows={s.rows ?? []} />
          </a>
        ))}
        {p.edit && <a href="#record">Record</a>}
      </nav>
      {(whole ? sections : []).map((s, i) => (
        <Stage
          section={s.id === 'inspection' && p.edit ? withoutTests(s) : s}
          number={i + 1}
          below={
            s.id === 'inspection' && p.edit ? (
              <LookOver edit={p.edit} />
            ) : s.id === 'agreement' && p.edit ? (
              <Agreed
                id={p.edit.id}
                revision={p.edit.revision}
                client={p.piece?.piece?.agreement?.client}
              />
            ) : s.id === 'care' && p.edit ? (
              <Handing id={p.edit.id} units={p.units} />
            ) : s.id === 'color' && p.edit ? (
              <ColorPart id={p.edit.id} plan={p.piece} />
            ) : s.id === 'takedown' && p.edit ? (
              <Lists edit={p.edit} plan={p.piece} of={(r) => [r.REPAIRS]} />
            ) : s.id === 'fittings' && p.edit ? (
              <Lists edit={p.edit} plan={p.piece} of={(r) => [r.PANELS, r.SLIDES]} />
            ) : s.id === 'coats' && p.edit ? (
              <EffectsOf edit={p.edit} />
            ) : s.id === 'days' && p.edit ? (
              <>
                <PieceDates edit={p.edit} />
                <Waits edit={p.edit} plan={p.plan} />
              </>
            ) : undefined
          }
        >
          <Above id={s.id} p={p} edit={p.edit} />
        </Stage>
      ))}
      {whole && p.edit && <Record edit={p.edit} plan={p.piece} number={sections.length + 1} />}
      {whole && p.edit && <PicturesOf piece={p.edit.id} number={sections.length + 2} />}
    </>
  );
}
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
function EffectsOf({ edit }: { edit: Editing }) {
  return <Later quiet of={(r) => <r.Effects edit={edit} />} />;
}
function ColorPart({ id, plan }: { id: string; plan?: PiecePlan }) {
  return plan ? <Later quiet of={(r) => <r.ColorOfPiece id={id} plan={plan} />} /> : null;
}
function PicturesOf(p: { piece: string; number: number }) {
  return <Later quiet key={p.piece} of={(r) => <r.Pictures {...p} />} />;
}
function StopCount({ rows }: { rows: SheetRow[] }) {
  const stops = rows.filter((r) => r.kind === 'stop').length,
    assumed = rows.filter((r) => r.assumed).length;
  const text = [stops ? `${stops} open` : '', assumed ? `${assumed} assumed` : '']
    .filter(Boolean)
    .join(', ');
  return text ? <span>{text}</span> : null;
}

/* A finding of the inspection is a word with its own reason and source. */
function findingAt(plan: PlanAnswer, pointer: string): Basis | undefined {
  const m = /^\/pieces\/(\d+)\/inspection\/findings\/(\d+)\/verdict$/.exec(pointer),
    f = m && plan.pieces?.[Number(m[1])]?.inspection?.findings?.[Number(m[2])];
  if (!f) return undefined;
  const sure: Record<string, string> = { tested: 'measured', seen: 'measured', assumed: 'assumed' };
  return {
    inputs: [{ name: f.name, text: f.verdict }],
    rule: f.detail,
    source: f.source,
    certainty: sure[f.state ?? ''] ?? f.state,
  };
}
/* Bases are asked for once, when the first figure opens. */
function useBases(
  plan: PlanAnswer,
  path: string | null,
  units: Units,
  right?: (p: string) => ComponentChildren,
) {
  return useMemo(() => {
    let all: Promise<Record<string, Basis>> | undefined;
    const find = async (pointer: string) => {
      if (plan.basis && pointer in plan.basis) return plan.basis[pointer];
      const finding = findingAt(plan, pointer);
      if (finding) return finding;
      all ??= path
        ? get<PlanAnswer>(path).then((o) => (o.ok ? (o.body.basis ?? {}) : {}))
        : Promise.resolve({});
      return (await all)[pointer];
    };
    return { units, find, right };
  }, [plan, path, units]);
}

const stepFold = (task: string) => <StepFold task={task} />;

export function PiecePage({ id }: { id: string }) {
  const at = `/api/pieces/${encodeURIComponent(id)}`;
  const planPath = inUnits(`${at}/plan`),
    { data: plan, failure } = useAnswer<PlanAnswer>(planPath);
  const own = useAnswer<PieceRow & { document?: Doc }>(at),
    { units } = useShop();
  const bases = useBases(plan ?? {}, inUnits(`${at}/plan?why=1`), units);
  if (!plan)
    return failure ? (
      <Missing
        text={failure.text}
        edit={
          own.data?.document && {
            id,
            document: own.data.document,
            revision: own.revision,
            row: own.data,
          }
        }
      />
    ) : (
      <p class="say">Planning.</p>
    );
  const n = Math.max(0, plan.sheet?.pieces?.findIndex((s) => s.id === id) ?? 0),
    sheet = plan.sheet?.pieces?.[n],
    piece = plan.pieces?.find((x) => x.id === id) ?? plan.pieces?.[n];
  if (!sheet) return <Missing text="The plan has no sheet of this piece." />;
  const edit = own.data?.document
    ? { id, document: own.data.document, revision: own.revision, row: own.data }
    : undefined;
  const assumed = (plan.assumed ?? []).filter(
    (a) => a.pointer.startsWith(`/pieces/${n}/`) || a.pointer.startsWith('/shop/'),
  );
  const stale = failure && heldAnswer(planPath);
  return (
    <Bases.Provider value={bases}>
      <div class="head">
        <div>
          <h1>{sheet.title ?? plan.title ?? id}</h1>
          <p>{describe(piece)}</p>
        </div>
        <div class="acts no-print">
          <button class="btn" onClick={() => printPaper('jobsheet')}>
            Print the sheet
          </button>
          {piece && !piece.hazards?.refused && (
            <button class="btn" onClick={() => printPaper('quote')}>
              Quote
            </button>
          )}
          {piece && !piece.hazards?.refused && (
            <button class="btn" onClick={() => printPaper('agreement')}>
              Agreement
            </button>
          )}
          {piece && !piece.hazards?.refused && (
            <button class="btn" onClick={() => printPaper('care')}>
              Care card
            </button>
          )}
        </div>
      </div>
      {stale && (
        <div class="gap">
          <Warn rank="mind">
            <p>{failure.text}</p>
          </Warn>
        </div>
      )}
      <StepMore.Provider value={edit && stepFold}>
        <SheetOf plan={plan} piece={piece} sheet={sheet} units={units} edit={edit} />
      </StepMore.Provider>
      {edit && <Assumed rows={assumed} edit={edit} units={units} index={n} />}
      <Later
        quiet
        of={(r) => <r.Papers plan={plan} piece={piece} sheet={sheet} units={units} />}
      />
    </Bases.Provider>
  );
}
function describe(p: PiecePlan | undefined): string {
  const q = p?.piece;
  if (!q) return '';
  const word = (s?: string) => (s ?? '').replace(/[-_]/g, ' ');
  return [
    q.wood && `${word(q.wood)}`,
    q.finish && `under old ${word(q.finish)}`,
    q.year && String(q.year),
  ]
    .filter(Boolean)
    .join(', ')
    .replace(/^./, (c) => c.toUpperCase())
    .replace(/under old (bare|none|raw.*)/, 'unfinished');
}
function Missing({ text, edit }: { text: string; edit?: Editing }) {
  return (
    <>
      <div class="head">
        <div>
          <h1>{edit?.row.title ?? 'This piece cannot be planned yet'}</h1>
        </div>
      </div>
      <div class="gap">
        <Warn rank="mind">
          <p>{text}</p>
        </Warn>
      </div>
      {edit ? (
        <div class="gap">
          <LookOver edit={edit} open />
        </div>
      ) : (
        <p class="gap">
          <a href="/pieces">All pieces</a>
        </p>
      )}
    </>
  );
}

/* A job document served by itself: its pieces one after another, nothing to write to. */
export function JobSheet({ plan }: { plan: PlanAnswer }) {
  const { units } = useShop(),
    bases = useBases(plan, null, plan.sheet?.units ?? units);
  const many = (plan.sheet?.pieces?.length ?? 0) > 1;
  return (
    <Bases.Provider value={bases}>
      <div class="head">
        <div>
          <h1>
            {plan.sheet?.title ?? plan.title ?? plan.sheet?.pieces?.[0]?.title ?? 'Job sheet'}
          </h1>
        </div>
        <div class="acts no-print">
          <button class="btn" onClick={() => window.print()}>
            Print the sheet
          </button>
        </div>
      </div>
      {(plan.sheet?.summary ?? []).length > 0 && (
        <div class="gap">
          <SheetRows rows={plan.sheet?.summary ?? []} />
        </div>
      )}
      {(plan.sheet?.pieces ?? []).map((s, i) => (
        <article>
          {many && <h2 class="gap-l">{s.title}</h2>}
          <SheetOf
            plan={plan}
            piece={plan.pieces?.[i]}
            sheet={s}
            units={plan.sheet?.units ?? units}
          />
        </article>
      ))}
      {many && plan.days?.rows && (
        <DaysList
          tasks={plan.days.rows}
          titles={new Map((plan.pieces ?? []).map((x) => [x.id, x.title ?? x.id]))}
          many
        />
      )}
    </Bases.Provider>
  );
}
export type { Editing };
