// The page's source under the type checker, strictly.
//   node web_types.mjs PROGRAM WEB_DIR
import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { check, done, must, skip } from './tally.mjs';

const web = process.argv[3], tsc = join(web, 'node_modules/typescript/bin/tsc');
if (!existsSync(tsc)) skip('types', 'web/node_modules is missing (npm ci in web/)');
else await check('types', async () => {
  const r = spawnSync(process.execPath, [tsc, '--noEmit', '-p', web], { encoding: 'utf8' });
  must(r.status === 0, r.stdout.slice(0, 2000));
});
done();
