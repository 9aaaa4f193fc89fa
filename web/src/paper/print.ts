/* Which paper is to be printed. The papers themselves are drawn in papers.tsx. */
import { Cell } from '../lib/cell';

export type PaperKind = 'jobsheet' | 'quote' | 'agreement' | 'care' | 'label' | 'recipe' | 'story';
export const paper = new Cell<PaperKind | null>(null);
const FRAMES_MOST = 600; /* ten seconds for what the paper still waits for */
/* The paper is drawn first, then printed; afterwards the page is as it was. */
export function printPaper(kind: PaperKind) {
  paper.set(kind);
  document.body.dataset.paper = kind;
  const done = () => {
    delete document.body.dataset.paper;
    paper.set(null);
    window.removeEventListener('afterprint', done);
  };
  window.addEventListener('afterprint', done);
  let frames = 0;
  const go = () => {
    const busy = document.querySelector('.paper-sheet[aria-busy="true"]');
    if (frames++ < 2 || (busy && frames < FRAMES_MOST)) requestAnimationFrame(go);
    else window.print();
  };
  requestAnimationFrame(go);
}
