/* The app begins here: settings, router, queue, events, then the page that the address names. */
import { render } from 'preact';
import { embeddedJob, listen } from './net/api';
import { startQueue } from './net/queue';
import { startRouter } from './lib/router';
import { startSettings } from './lib/settings';
import { startEnter } from './ui/enter';
import { App } from './page/app';
import { fetchRest } from './page/later';

startSettings();
startRouter();
startEnter();
if (!embeddedJob) {
  startQueue();
  listen();
}
const root = document.getElementById('app') as HTMLElement;
root.textContent = '';
render(<App />, root);
(window.requestIdleCallback ?? ((f: () => void) => setTimeout(f, 1000)))(fetchRest);
