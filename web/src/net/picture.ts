/* Pictures: sent as they are, shown small by the server, read by the server. */
import { changed, failureOf, lost, newKey, reachable, type Outcome } from './api';

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
export type Kind = 'white' | 'gray' | 'chip' | 'target';
/* A square around something in the picture, in pixels of the upright picture. */
export interface Mark {
  kind: Kind;
  x: number;
  y: number;
  size: number;
  of?: string; /* a chip: "paint:ID" or "sample:ID" */
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
        return { kind: m.kind, name: m.name, rect: rect(m), ...(id ? { [from]: id } : {}) };
      }),
    targets: marks.filter((m) => m.kind === 'target').map((m) => ({ name: m.name, rect: rect(m) })),
  };
}
