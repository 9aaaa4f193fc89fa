/* Which paper is to be printed. The papers themselves are drawn in papers.tsx. */
import { Cell } from '../lib/cell';

export type PaperKind = 'jobsheet' | 'quote' | 'agreement' | 'care' | 'label' | 'recipe' | 'story';
export const paper = new Cell<PaperKind | null>(null);
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
  requestAnimationFrame(() => requestAnimationFrame(() => window.print()));
}
