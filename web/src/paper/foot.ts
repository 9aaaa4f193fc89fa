/* What the foot of a printed page says beside its number, so that a sheet that lies alone on the bench is
 * known: the page or paper, whose it is, when it was printed (print.css sets it into the margin). */
import { nowMinutes, whenText } from '../lib/time';
import { paper, type PaperKind } from './print';

const PAPER_NAMES: Record<PaperKind, string> = {
  jobsheet: 'Job sheet',
  quote: 'Quote',
  agreement: 'Agreement',
  care: 'Care',
  story: 'Story',
  recipe: 'Steps',
  label: 'Labels',
};
const NAME_MOST = 90; /* letters beside the number, on one line */

const cssText = (text: string) => `"${text.replace(/["\\]/g, '\\$&')}"`;
function footOf(kind: string | undefined, title: string, at: string): string {
  const name = title.replace(/\s+/g, ' ').trim(),
    short = name.length > NAME_MOST ? `${name.slice(0, NAME_MOST - 1).trimEnd()}…` : name;
  return `${[kind, short].filter(Boolean).join(': ')}. Printed ${at}.`;
}
export function keepFoot() {
  const name = () => {
    const kind = paper.get();
    document.documentElement.style.setProperty(
      '--paper-foot',
      cssText(
        footOf(
          kind ? PAPER_NAMES[kind] : /^\/(today)?$/.test(location.pathname) ? 'Today' : undefined,
          document.querySelector('main h1')?.textContent ?? '',
          whenText(nowMinutes()),
        ),
      ),
    );
  };
  window.addEventListener('beforeprint', name);
  return () => window.removeEventListener('beforeprint', name);
}
