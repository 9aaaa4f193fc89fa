/* Writes that could not be sent. They wait in IndexedDB with their key, in order, and are shown as
 * unsent until the server has them; a repeated key is done once. */
import { Cell } from '../lib/cell';
import { changed, reachable, type Failure, type Send } from './api';

export interface Unsent extends Send {
  key: string;
  number?: number;
  at?: number;
  refused?: Failure;
}
export const unsent = new Cell<Unsent[]>([]);

let opened: Promise<IDBDatabase> | undefined;
function open(): Promise<IDBDatabase> {
  return (opened ??= new Promise((resolve, reject) => {
    const q = indexedDB.open('coatwright', 1);
    q.onupgradeneeded = () =>
      q.result.createObjectStore('unsent', { keyPath: 'number', autoIncrement: true });
    q.onsuccess = () => resolve(q.result);
    q.onerror = () => reject(q.error);
  }));
}
async function store<T>(
  mode: IDBTransactionMode,
  ask: (s: IDBObjectStore) => IDBRequest<T>,
): Promise<T> {
  const db = await open();
  return new Promise((resolve, reject) => {
    const t = db.transaction('unsent', mode),
      q = ask(t.objectStore('unsent'));
    t.oncomplete = () => resolve(q.result);
    t.onerror = t.onabort = () => reject(t.error);
  });
}
async function show() {
  unsent.set(await store('readonly', (s) => s.getAll()));
}

export async function enqueue(u: Unsent) {
  await store('readwrite', (s) => s.add({ ...u, at: Date.now() }));
  await show();
}
export async function forget(u: Unsent) {
  await store('readwrite', (s) => s.delete(u.number as number));
  await show();
}

/* Whether something is still to be sent. */
export const waits = () => unsent.get().some((u) => !u.refused);

let running: Promise<void> | undefined;
/* Sends what waits, oldest first; stops at the first that finds no server, or one that is busy. One
 * that the server refuses stays, with the reason, until the person has seen it. */
export function flush(): Promise<void> {
  return (running ??= sendAll().finally(() => (running = undefined)));
}
async function sendAll() {
  try {
    for (const u of await store<Unsent[]>('readonly', (s) => s.getAll())) {
      if (u.refused) continue;
      const headers: Record<string, string> = {
        'idempotency-key': u.key,
        'content-type': 'application/json',
      };
      if (u.revision !== undefined) headers['if-match'] = `"${u.revision}"`;
      const r = await fetch(u.path, {
        method: u.method,
        headers,
        body: u.body === undefined ? undefined : JSON.stringify(u.body),
      });
      reachable.set(true);
      if (r.status === 503) break;
      if (r.ok) {
        await store('readwrite', (s) => s.delete(u.number as number));
        changed();
      } else {
        const body = await r.json().catch(() => ({}));
        const refused = {
          status: r.status,
          code: 'refused',
          text: `The server answered ${r.status}.`,
          ...body.error,
          changed: body.changed,
        };
        await store('readwrite', (s) => s.put({ ...u, refused }));
      }
    }
  } catch {
    reachable.set(false);
  }
  await show();
}

export function startQueue() {
  void show().then(() => (unsent.get().length ? flush() : undefined));
  window.addEventListener('online', () => void flush());
  setInterval(() => {
    if (waits()) void flush();
  }, 4000);
}
