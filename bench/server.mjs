// The server on loopback: start to first answer, memory, reads and durable writes as ratios to a bare
// libmicrohttpd hello and to bare SQLite commits of the same run; then a large book.
//   node bench/server.mjs BUILD_FOLDER [JOBS PAINTS MOVEMENTS]
import { execFileSync, spawn, spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { Server, folder } from '../test/e2e/program.mjs';

const build = resolve(process.argv[2] ?? 'build'), program = join(build, 'coatwright');
const [jobs, paints, movements] = [3, 4, 5].map((i, k) => Number(process.argv[i] ?? [5000, 500, 50000][k]));
const dir = folder(), book = join(dir, 'a.book');
const row = (name, value, note = '') => console.log(`${name.padEnd(46)}${value.padStart(14)}  ${note}`);
const ms = (t) => `${t.toFixed(1)} ms`;
const memory = (pid) => Number(/VmRSS:\s*(\d+)/.exec(readFileSync(`/proc/${pid}/status`, 'utf8'))[1]) / 1024;

let begun = performance.now();
let s = await Server.start(program, ['--book', book], dir);
await (await s.get('/api/pieces')).json();
row('start to first answer, new book', ms(performance.now() - begun));
row('idle memory', `${memory(s.child.pid).toFixed(1)} MB`);

function rate(url, connections = 16) {
  const r = spawnSync('wrk', ['-t1', `-c${connections}`, '-d3', url], { encoding: 'utf8' });
  if (r.error) return NaN;
  return Number(/Requests\/sec:\s*([\d.]+)/.exec(r.stdout)?.[1] ?? NaN);
}
await s.send('POST', '/api/pieces', { title: 'A chest', template: 'chest', width: '34 in', depth: '20 in', height: '41 in' });
const hello = spawn(join(build, 'bench/hello'), [], { stdio: ['pipe', 'pipe', 'inherit'] });
const port = await new Promise((r) => hello.stdout.once('data', (d) => r(Number(d))));
const bare = rate(`http://127.0.0.1:${port}/`), read = rate(`${s.url}/api/pieces/a-chest`);
row('bare hello', `${bare.toFixed(0)} /s`);
row('one piece read', `${read.toFixed(0)} /s`, `${(read / bare).toFixed(2)} x hello`);
const file = /href="(\/files\/[^"]+\.css)"/.exec(await (await s.get('/')).text())?.[1];
if (file) {
  const files = rate(`${s.url}${file}`);
  row('a file of the page', `${files.toFixed(0)} /s`, `${(files / bare).toFixed(2)} x hello`);
}
hello.stdin.end();

const commits = Number(execFileSync(join(build, 'bench/commits'), [join(dir, 'bare.db'), '3'], { encoding: 'utf8' }));
let writes = 0;
const until = performance.now() + 3000;
await Promise.all(Array.from({ length: 16 }, async (_, k) => {
  for (let i = 0; performance.now() < until; i++, writes++) {
    const r = await s.send('POST', '/api/clients', { name: `Client ${k} ${i}` }, { 'idempotency-key': `bench-${k}-${i}` });
    if (r.status !== 200) throw new Error(await r.text());
  }
}));
row('bare SQLite commits', `${commits.toFixed(0)} /s`);
row('durable creates, 16 clients', `${(writes / 3).toFixed(0)} /s`, `${(writes / 3 / commits).toFixed(2)} x bare commits`);

// a large book: entered through the API, movements by SQL into the same table
begun = performance.now();
const work = [];
for (let i = 0; i < jobs; i++) work.push(['/api/pieces', { title: `Piece ${i}`, template: ['chest', 'desk', 'chair'][i % 3], width: '34 in', depth: '20 in', height: '41 in', stage: i < 12 ? 'in_work' : 'closed' }]);
for (let i = 0; i < paints; i++) work.push(['/api/paints', { paint: { id: `paint-${i}`, name: `Paint ${i}`, color: `lab(${20 + (i % 70)} ${(i % 40) - 20} ${(i % 60) - 30})`, stock: '1 qt' } }]);
let next = 0, failed = 0;
await Promise.all(Array.from({ length: 16 }, async () => {
  while (next < work.length) {
    const [path, body] = work[next++];
    const r = await s.send('POST', path, body);
    if (r.status !== 200 && !failed++) console.log(path, await r.text());
  }
}));
row(`${jobs} pieces and ${paints} paints entered`, `${((performance.now() - begun) / 1000).toFixed(1)} s`, failed ? `${failed} FAILED` : '');
await s.stop();
if (spawnSync('sqlite3', ['--version']).error) console.log('movements skipped: no sqlite3');
else execFileSync('sqlite3', [book, `INSERT INTO stock_movement (revision, paint, kind, amount_ml, at_utc_min)
  WITH RECURSIVE n(i) AS (SELECT 0 UNION ALL SELECT i + 1 FROM n WHERE i < ${movements - 1})
  SELECT 1, 'paint-' || (i % ${paints}), 'used', -1, i FROM n`]);
begun = performance.now();
s = await Server.start(program, ['--book', book], dir);
await (await s.get('/api/pieces')).json();
row('start to first answer, large book', ms(performance.now() - begun));
for (const path of ['/api/pieces', '/api/pieces?stage=open', '/api/pieces?limit=1000', '/api/paints?limit=500', '/api/clients', '/api/history', '/api/search?q=piece',
  '/api/paints/paint-1/stock', '/api/today', '/api/days', '/api/money', '/api/shopping', '/api/pieces/piece-1/plan', '/api/shop', '/']) {
  const times = [];
  let status;
  for (let i = 0; i < 7; i++) {
    const t = performance.now(), r = await s.get(path);
    await r.arrayBuffer();
    status = r.status;
    times.push(performance.now() - t);
  }
  times.sort((a, b) => a - b);
  row(`GET ${path}`, status === 200 ? ms(times[3]) : `(${status})`, status === 200 ? `worst ${ms(times[6])}` : '');
}
row('memory after', `${memory(s.child.pid).toFixed(1)} MB`, `peak ${s.peakMegabytes().toFixed(1)} MB`);
await s.stop();
process.exit();
