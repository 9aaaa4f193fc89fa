// Figures of a plan by their pointer, and tables of what they must be: jobs.tsv, examples.tsv.
import { readFileSync } from 'node:fs';

// "row:color" is the row of a list whose role, part id or id is that.
export const at = (value, pointer) =>
  pointer.split('/').slice(1).reduce((v, step) => {
    const role = /^row:(.*)$/.exec(step)?.[1];
    return role ? v?.find((x) => x.role === role || x.part?.id === role || x.id === role) : v?.[step];
  }, value);

export const rows_of = (url) =>
  readFileSync(url, 'utf8').split('\n').filter((l) => l && !l.startsWith('#')).slice(1).map((l) => l.split('\t'));
