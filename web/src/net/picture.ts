/* Pictures: sent as they are, shown small by the server, read by the server. */
import { changed, failureOf, lost, newKey, reachable, send, type Outcome } from './api';

export interface Picture {
  id: string;
  piece?: string;
  kind?: string;
  at_utc_min?: number;
  width?: number;
  height?: number;
  format?: string;
  profile?: string;
  odd?: string;
}
export type Kind = 'white' | 'gray' | 'chip' | 'patch' | 'target';
/* A square around something in the picture, in pixels of the upright picture. */
export interface Mark {
  kind: Kind;
  x: number;
  y: number;
  size: number;
  of?: string; /* a chip: "paint:ID" or "sample:ID" */
  lab?: number[]; /* a patch of a chart */
  color?: string; /* a gray whose color is known */
  name: string;
}
export interface Reading {
  targets: {
    name: string;
    lab: number[];
    hex: string;
    color: string;
    expected: number;
    limit90: number;
    warnings: string[];
  }[];
  difference: { lab: number[]; expected: number; ciede2000: number } | null;
  warnings: string[];
  advice: string[];
  references: {
    name: string;
    kind: string;
    difference: number;
    weight: number;
    assumed?: boolean;
    warnings: string[];
  }[];
  shots: number;
}

export const lookOf = (id: string, side: number) =>
  `/api/pictures/${encodeURIComponent(id)}/look?side=${side}`;

export async function sendPicture(
  file: File,
  about: Record<string, string>,
): Promise<Outcome<Picture>> {
  const mb = file.size / 1048576;
  if (mb > 30)
    return {
      ok: false,
      failure: {
        status: 413,
        code: 'too_large',
        text: `The picture has ${mb.toFixed(0)} MB. At most 30 MB are read; save it smaller.`,
      },
    };
  const query = new URLSearchParams({ ...about, name: file.name.slice(-200) });
  let r: Response;
  try {
    r = await fetch(`/api/pictures?${query}`, {
      method: 'POST',
      /* some phones do not say what a HEIC is; the server looks at its first bytes */
      headers: {
        'content-type': file.type.startsWith('image/') ? file.type : 'image/heic',
        'idempotency-key': newKey(),
      },
      body: file,
    });
  } catch {
    reachable.set(false);
    return { ok: false, failure: lost };
  }
  if (!r.ok) return { ok: false, failure: await failureOf(r) };
  const body = (await r.json()) as Picture;
  changed();
  return { ok: true, body };
}

const rect = (m: Mark) => [m.x - m.size / 2, m.y - m.size / 2, m.size, m.size];
export function shotOf(picture: string, marks: Mark[]) {
  return {
    picture,
    references: marks
      .filter((m) => m.kind !== 'target')
      .map((m) => {
        const [from, id] = (m.of ?? '').split(':');
        return {
          kind: m.kind,
          name: m.name,
          rect: rect(m),
          ...(id ? { [from]: id } : {}),
          ...(m.lab ? { lab: m.lab } : {}),
          ...(m.color ? { color: m.color } : {}),
        };
      }),
    targets: marks.filter((m) => m.kind === 'target').map((m) => ({ name: m.name, rect: rect(m) })),
  };
}

/* The same things in the next picture: where they lie now, or null when they are not found. */
export async function findAgain(from: string, to: string, marks: Mark[]): Promise<Mark[] | null> {
  const o = await send<{ places: { rect: number[] }[] }>({
    method: 'POST',
    path: `/api/pictures/${encodeURIComponent(to)}/find`,
    body: { from, things: marks.map((m) => ({ rect: rect(m) })) },
    what: 'A search',
    keep: false,
    quiet: true,
  });
  if (!o.ok || o.body.places.length !== marks.length) return null;
  return marks.map((m, n) => {
    const [x, y, w] = o.body.places[n].rect;
    return { ...m, x: x + w / 2, y: y + w / 2, size: w };
  });
}

/* ---- charts: the middles of four corner patches place all of them ---- */

export interface Chart {
  patches: { name: string; lab: number[] }[];
  in_row?: number;
}
export const CORNERS = ['upper left', 'upper right', 'lower right', 'lower left'] as const;
export interface Point {
  x: number;
  y: number;
}
/* Middles between four corners, as if the chart were flat; row by row as its file has them. */
export function chartMarks(chart: Chart, inRow: number, c: Point[]): Mark[] {
  const n = chart.patches.length,
    columns = Math.max(1, Math.min(n, inRow)),
    rows = Math.ceil(n / columns);
  const at = (u: number, v: number, k: 'x' | 'y') =>
    (1 - v) * ((1 - u) * c[0][k] + u * c[1][k]) + v * ((1 - u) * c[3][k] + u * c[2][k]);
  const far = (a: Point, b: Point) => Math.hypot(a.x - b.x, a.y - b.y),
    steps = [
      columns > 1 ? Math.min(far(c[0], c[1]), far(c[3], c[2])) / (columns - 1) : Infinity,
      rows > 1 ? Math.min(far(c[0], c[3]), far(c[1], c[2])) / (rows - 1) : Infinity,
    ],
    size = Math.max(4, 0.4 * Math.min(...steps));
  return chart.patches.map((p, i) => {
    const u = columns > 1 ? (i % columns) / (columns - 1) : 0.5,
      v = rows > 1 ? Math.floor(i / columns) / (rows - 1) : 0.5;
    return { kind: 'patch', name: p.name, lab: p.lab, x: at(u, v, 'x'), y: at(u, v, 'y'), size };
  });
}
