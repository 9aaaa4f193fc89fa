// A job document of one piece, planned by the program: its sheet as printed, the same in one line
// (text), and its data.
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { must } from './tally.mjs';
import { run } from './program.mjs';

export const planner = (program, dir, now) => (piece, name = 'one') => {
  const file = join(dir, `${name}.json`);
  writeFileSync(file, JSON.stringify({ format: 'coatwright-job', version: 1, pieces: [{ id: name, ...piece }] }));
  const sheet = run(program, ['plan', file, '--now', now]), data = run(program, ['plan', file, '--now', now, '--json']);
  must(sheet.code === 0 && data.code === 0, sheet.err);
  return { printed: sheet.out, text: sheet.out.replace(/\s+/g, ' '), ...JSON.parse(data.out) };
};
