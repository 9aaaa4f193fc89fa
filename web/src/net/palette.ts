/* Recipes and mixes from the book's shelf. The shelf is read once as a document and sent along; the
 * server computes every color. */
import { get, send, type Outcome } from './api';
import { useAnswer } from './use';
import type { Doc, List } from './types';

let shelf: { revision: number | undefined; document: Promise<Doc | undefined> } | undefined;

/* The shelf as a document of its own: from the job document of a piece, or, where no piece is in the
 * book, can by can. */
async function readShelf(): Promise<Doc | undefined> {
  const head = { format: 'coatwright-shelf', version: 1 };
  const pieces = await get<List<{ id: string }>>('/api/pieces');
  if (pieces.ok && pieces.body.rows?.[0]) {
    const job = await get<{ shelf?: Doc }>(`/api/pieces/${pieces.body.rows[0].id}/document`);
    if (job.ok && job.body.shelf) return { ...head, ...job.body.shelf };
  }
  const rows = await get<List<{ id: string }>>('/api/paints?limit=200');
  if (!rows.ok) return undefined;
  const cans = await Promise.all(
    (rows.body.rows ?? []).map((p) => get<{ document?: Doc }>(`/api/paints/${p.id}`)),
  );
  const paints = cans.flatMap((c, i) =>
    c.ok ? [{ ...c.body.document, id: (rows.body.rows ?? [])[i].id }] : [],
  );
  return { ...head, paints };
}
function shelfNow(revision: number | undefined): Promise<Doc | undefined> {
  if (!shelf || shelf.revision !== revision) shelf = { revision, document: readShelf() };
  return shelf.document;
}
export async function askRecipes<T>(
  revision: number | undefined,
  ask: { target: string; paints: number; parts: number },
): Promise<Outcome<T>> {
  const document = await shelfNow(revision);
  return send<T>({
    method: 'POST',
    path: '/api/documents/recipe',
    body: { shelf: document, ...ask },
    what: 'Search recipes',
    keep: false,
    quiet: true,
  });
}
export async function askMix<T>(revision: number | undefined, items: string): Promise<Outcome<T>> {
  const document = await shelfNow(revision);
  return send<T>({
    method: 'POST',
    path: '/api/documents/mix',
    body: { shelf: document, items },
    what: 'Mix',
    keep: false,
    quiet: true,
  });
}
/* Whether the server has an operation at this path: parts of a page that need it are left out. */
export function useServes(path: string): boolean {
  const api = useAnswer<{ paths?: Record<string, unknown> }>('/api/openapi.json').data;
  return !!api?.paths && path in api.paths;
}
