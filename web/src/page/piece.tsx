/* A piece: its head, its sheet, what was assumed for it, its papers. */
import { heldAnswer } from '../net/api';
import { useAnswer } from '../net/use';
import type { Doc, PieceRow, PlanAnswer } from '../net/types';
import { inUnits } from '../lib/settings';
import { describe } from '../draw/parts';
import { printPaper } from '../paper/print';
import { Bases } from '../ui/figure';
import { useShop } from '../ui/frame';
import { failureText } from '../ui/said';
import { StepMore } from '../ui/sheet';
import { Warn } from '../ui/warn';
import { Assumed } from './assumed';
import { useBases } from './bases';
import type { Editing } from './change';
import { StepFold } from './help';
import { Later } from './later';
import { LookOver } from './lookover';
import { PieceSheet } from './piece_sheet';

/* Of a piece that is taken on. */
const PAPERS = [
  ['quote', 'Quote'],
  ['agreement', 'Agreement'],
  ['care', 'Care card'],
] as const;
const stepFold = (task: string) => <StepFold task={task} />;

export function PiecePage({ id }: { id: string }) {
  const at = `/api/pieces/${encodeURIComponent(id)}`;
  const planPath = inUnits(`${at}/plan`),
    { data: plan, failure } = useAnswer<PlanAnswer>(planPath);
  const own = useAnswer<PieceRow & { document?: Doc }>(at),
    { units } = useShop();
  const bases = useBases(plan ?? {}, inUnits(`${at}/plan?why=1`), units);
  const edit = own.data?.document
    ? { id, document: own.data.document, revision: own.revision, row: own.data }
    : undefined;
  if (!plan)
    return failure ? (
      <Missing
        title={failure.status === 404 ? 'No such piece' : 'This piece cannot be planned yet'}
        text={failureText(failure)}
        edit={edit}
      />
    ) : (
      <p class="say">Planning.</p>
    );
  const n = Math.max(0, plan.sheet?.pieces?.findIndex((s) => s.id === id) ?? 0),
    sheet = plan.sheet?.pieces?.[n],
    piece = plan.pieces?.find((x) => x.id === id) ?? plan.pieces?.[n];
  if (!sheet) return <Missing title="No sheet" text="The plan has no sheet of this piece." />;
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
          {piece &&
            !piece.hazards?.refused &&
            PAPERS.map(([paper, word]) => (
              <button key={paper} class="btn" onClick={() => printPaper(paper)}>
                {word}
              </button>
            ))}
        </div>
      </div>
      {stale && (
        <div class="gap">
          <Warn rank="mind">
            <p>{failureText(failure)}</p>
          </Warn>
        </div>
      )}
      <StepMore.Provider value={edit && stepFold}>
        <PieceSheet plan={plan} piece={piece} sheet={sheet} units={units} edit={edit}>
          {edit && <Assumed rows={assumed} edit={edit} units={units} index={n} />}
        </PieceSheet>
      </StepMore.Provider>
      <Later
        quiet
        of={(r) => <r.Papers plan={plan} piece={piece} sheet={sheet} units={units} />}
      />
    </Bases.Provider>
  );
}
function Missing({ title, text, edit }: { title: string; text: string; edit?: Editing }) {
  return (
    <>
      <div class="head">
        <div>
          <h1>{edit?.row.title ?? title}</h1>
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
