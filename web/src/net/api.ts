/* Talking to the server: reads with revisions, writes with idempotency keys, and the answers that
 * came inside the page. Writes that find no network wait in the queue (queue.ts). */
import { Cell } from '../lib/cell';
import { enqueue, flush, waits } from './queue';

export interface Changed {
  pointer: string;
  before?: string;
  after?: string;
  operation?: string;
}
export interface Failure {
  code: string;
  field?: string;
  text: string;
  status: number;
  changed?: Changed[]; /* of 412: what somebody else did meanwhile */
}
export interface Answer<T> {
  body: T;
  revision?: number;
}
export type Outcome<T> =
  | { ok: true; body: T; revision?: number }
  | { ok: false; failure: Failure }
  | { ok: false; unsent: true; failure: Failure };

interface First {
  answers?: Record<string, { revision?: number; body: unknown }>;
  job?: unknown;
}

const first: First = (() => {
  const text = document.getElementById('first')?.textContent;
  return (text && (JSON.parse(text) as First)) || {};
})();
export const embeddedJob = first.job;

const held = new Map<string, Answer<unknown>>();
for (const [path, a] of Object.entries(first.answers ?? {})) held.set(path, a);

/* What is known now without asking; the embedded answers, or the last one read. */
export function heldAnswer<T>(path: string): Answer<T> | undefined {
  return held.get(path) as Answer<T> | undefined;
}

/* Not from crypto.randomUUID: that is absent on plain http in a shop's network. */
export function newKey(): string {
  const b = crypto.getRandomValues(new Uint8Array(16));
  return Array.from(b, (x) => x.toString(16).padStart(2, '0')).join('');
}

function revisionOf(r: Response): number | undefined {
  const tag = r.headers.get('etag');
  const n = tag ? Number(tag.replace(/^W\//, '').replace(/"/g, '')) : NaN;
  return Number.isFinite(n) ? n : undefined;
}

export async function failureOf(r: Response): Promise<Failure> {
  try {
    const body = await r.json();
    return {
      status: r.status,
      code: 'error',
      text: r.statusText,
      ...body.error,
      changed: body.changed,
    };
  } catch {
    return { status: r.status, code: 'error', text: `The server answered ${r.status}.` };
  }
}

export const lost: Failure = {
  status: 0,
  code: 'lost',
  text: 'The server does not answer. What is shown is the last that was read.',
};

export async function get<T>(path: string, signal?: AbortSignal): Promise<Outcome<T>> {
  const asked = tick.get();
  let r: Response, body: T;
  try {
    r = await fetch(path, { headers: { accept: 'application/json' }, signal });
    if (!r.ok) {
      reachable.set(true);
      return { ok: false, failure: await failureOf(r) };
    }
    body = (await r.json()) as T; /* it may break off in the middle */
  } catch (e) {
    if ((e as Error).name === 'AbortError') throw e;
    reachable.set(false);
    return { ok: false, failure: lost };
  }
  reachable.set(true);
  const revision = revisionOf(r),
    now = held.get(path) as Answer<T> | undefined;
  /* asked before a write of ours was answered: what that one brought is newer */
  if (now && asked !== tick.get() && (now.revision ?? 0) > (revision ?? 0)) return { ok: true, ...now };
  held.set(path, { body, revision });
  if (held.size > 60) held.delete(held.keys().next().value as string);
  return { ok: true, body, revision };
}

export interface Send {
  method: 'POST' | 'PATCH' | 'PUT' | 'DELETE';
  path: string;
  body?: unknown;
  revision?: number;
  what: string;
  key?: string;
  keep?: boolean;
  quiet?: boolean; /* asks only: nothing in the book changes */
  shows?: string; /* the path that would answer the same from now on */
}

/* One write. `keep` lets it wait in the queue when the network is gone or its answer breaks off; it
 * is sent again with the same key, so that it is done once. What waits already goes first: an older
 * word that came last would win. `signal` is for what only asks. */
export async function send<T = unknown>(s: Send, signal?: AbortSignal): Promise<Outcome<T>> {
  const key = s.key ?? newKey();
  if (s.keep !== false && waits()) {
    await flush();
    if (waits()) return waiting({ ...s, key });
  }
  const headers: Record<string, string> = { accept: 'application/json', 'idempotency-key': key };
  if (s.body !== undefined) headers['content-type'] = 'application/json';
  if (s.revision !== undefined) headers['if-match'] = `"${s.revision}"`;
  try {
    const r = await fetch(s.path, {
      method: s.method,
      headers,
      body: s.body === undefined ? undefined : JSON.stringify(s.body),
      signal,
    });
    reachable.set(true);
    if (!r.ok) return { ok: false, failure: await failureOf(r) };
    const text = await r.text(),
      body = (text ? JSON.parse(text) : {}) as T;
    const revision = revisionOf(r);
    if (s.shows) held.set(s.shows, { body, revision });
    if (!s.quiet) changed();
    return { ok: true, body, revision };
  } catch (e) {
    if ((e as Error).name === 'AbortError') throw e;
    reachable.set(false);
    return s.keep === false ? { ok: false, failure: lost } : waiting({ ...s, key });
  }
}
async function waiting<T>(u: Send & { key: string }): Promise<Outcome<T>> {
  try {
    await enqueue(u);
    return { ok: false, unsent: true, failure: lost };
  } catch {
    return { ok: false, failure: lost }; /* this browser keeps nothing: it is not said to wait */
  }
}
/* In the book, or on its way there: the form it came from is done with. */
export const isKept = (o: Outcome<unknown>) => o.ok || 'unsent' in o;

/* ---- who wants to know that something changed ---- */

export const reachable = new Cell(true);
export const tick = new Cell(0); /* goes up when the book changed: live answers are read again */
export function changed() {
  tick.set(tick.get() + 1);
}

/* The server says when the book changed elsewhere: another window, the command line. A browser has
 * six connections to a server for all its windows together, so one that nobody sees gives its own
 * back; seen again, or when the line was broken, it reads anew what it may have missed. */
export function listen() {
  if (embeddedJob || !('EventSource' in window)) return;
  let events: EventSource | undefined,
    last = 0,
    missed = false;
  const open = () => {
    const own = (events = new EventSource('/api/events'));
    own.addEventListener('change', (e) => {
      const n = Number(JSON.parse((e as MessageEvent).data || '{}').revision ?? ++last);
      if (n !== last) {
        last = n;
        changed();
      }
    });
    own.onopen = () => {
      reachable.set(true);
      if (missed) changed();
      missed = true;
    };
    own.onerror = () => {
      if (own.readyState !== EventSource.OPEN) reachable.set(navigator.onLine && reachable.get());
    };
  };
  const close = () => {
    events?.close();
    events = undefined;
  };
  const seen = () => (document.hidden ? close() : events ?? open());
  seen();
  document.addEventListener('visibilitychange', seen);
  window.addEventListener('pagehide', close);
  window.addEventListener('pageshow', seen);
}
