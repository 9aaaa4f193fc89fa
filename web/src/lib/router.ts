/* Places in the app: plain paths, the browser's own history. */
import { Cell } from './cell';

export const place = new Cell(location.pathname + location.search);
export function go(path: string, replace = false) {
  history[replace ? 'replaceState' : 'pushState'](null, '', path);
  place.set(path.split('#')[0]);
  window.scrollTo({ top: 0, behavior: 'instant' }); /* a new page is not the old one scrolled up */
  document.getElementById('main')?.focus({ preventScroll: true });
}
/* A word of the address behind its question mark; '' when it is not there. */
export function asked(name: string): string {
  return new URLSearchParams(place.get().split('?')[1] ?? '').get(name) ?? '';
}
/* A place of this app that the address names ("back=/color"); '' when it names none: a link that
 * somebody sends must not lead elsewhere, or run a script, under our word for it. */
export function askedPlace(name: string): string {
  const path = asked(name);
  return /^\/(?![/\\])/.test(path) ? path : '';
}
export function startRouter() {
  window.addEventListener('popstate', () => place.set(location.pathname + location.search));
  document.addEventListener('click', (e) => {
    const a = (e.target as Element).closest?.('a');
    if (
      !a ||
      e.defaultPrevented ||
      e.button ||
      e.metaKey ||
      e.ctrlKey ||
      e.shiftKey ||
      a.target ||
      a.hasAttribute('download')
    )
      return;
    const url = new URL(a.href, location.href);
    if (url.origin !== location.origin || url.pathname.startsWith('/api/')) return;
    if (url.pathname + url.search === location.pathname + location.search && url.hash) return;
    e.preventDefault();
    go(url.pathname + url.search + url.hash);
  });
}
