// Runs the examples of docs/API.md: every "$ command" of its console blocks must print what stands
// below it ([exit N] for a status other than 0), and the example document must plan.
//   node docs_api.mjs PROGRAM DOCS_FOLDER
import { spawnSync } from 'node:child_process';
import { mkdirSync, readFileSync, symlinkSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { check, done, must, same } from './tally.mjs';
import { folder, run } from './program.mjs';

const program = resolve(process.argv[2]), text = readFileSync(join(process.argv[3], 'API.md'), 'utf8');
const bin = join(folder(), 'bin');
mkdirSync(bin);
symlinkSync(program, join(bin, 'coatwright'));
const env = { ...process.env, PATH: `${bin}:${process.env.PATH}`, LC_ALL: 'C.UTF-8' };
const blocks = [...text.matchAll(/```console\n([\s\S]*?)```/g)].map((m) => m[1]);
for (const example of blocks.join('').split(/^(?=\$ )/m)) {
  const [first, ...rest] = example.split('\n'), command = first.slice(2);
  await check(command, () => {
    const r = spawnSync('sh', ['-c', `${command} 2>&1`], { encoding: 'utf8', env, timeout: 20000 });
    const got = r.stdout + (r.status ? `[exit ${r.status}]\n` : '');
    same(got, rest.join('\n'), 'output');
  });
}
const job = /```json\n([\s\S]*?)```/.exec(text)[1];
await check('the example document plans', () => {
  const r = run(program, ['plan', '-', '--json'], job);
  same(r.code, 0, r.err);
  must(JSON.parse(r.out).pieces.length === 1, 'no piece');
});
must(blocks.length > 0, 'no examples');
done();
