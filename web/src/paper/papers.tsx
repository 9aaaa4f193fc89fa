/* Papers of a piece. Not seen on the screen; the browser prints the one that was asked for, on letter
 * or A4. */
import { useCell } from '../net/use';
import { paper } from './print';
import { StoryPaper } from './story';
import type { SheetProps } from './sheet_parts';
import { CarePaper } from './care_paper';
import { AgreementPaper, QuotePaper } from './client_paper';
import { JobPaper } from './job_paper';

export function Papers(p: SheetProps) {
  const kind = useCell(paper);
  if (!kind || kind === 'label') return null;
  return (
    <div class="paper">
      {kind === 'jobsheet' ? (
        <JobPaper {...p} />
      ) : kind === 'quote' ? (
        <QuotePaper {...p} />
      ) : kind === 'agreement' ? (
        <AgreementPaper {...p} />
      ) : kind === 'story' ? (
        <StoryPaper {...p} />
      ) : (
        <CarePaper {...p} />
      )}
    </div>
  );
}
