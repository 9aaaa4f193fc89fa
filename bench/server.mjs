// The server on loopback: start to first answer, memory, reads and durable writes as ratios to a bare
// libmicrohttpd hello and to bare SQLite commits of the same run; then a large book.
//   node bench/server.mjs BUILD_FOLDER [JOBS PAINTS MOVEMENTS]
import { execFileSync, spawn, spawnSync } from 'node:child_process';
import { readFileSync, statSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { Server, folder } from '../test/e2e/program.mjs';

const build = resolve(process.argv[2] ?? 'build'), program = join(build, 'coatwright');
const [jobs, paints, movements] = [3, 4, 5].map((i, k) => Number(process.argv[i] ?? [5000, 500, 50000][k]));
const dir = folder(), book = join(dir, 'a.book');
const row = (name, value, note = '') => console.log(`${name.padEnd(46)}${value.padStart(14)}  ${note}`);
const ms = (t) => `${t.toFixed(1)} ms`;
// Processor time of the server so far, in ms: what a busy machine cannot distort.
const tick = 1000 / Number(execFileSync('getconf', ['CLK_TCK'], { encoding: 'utf8' }));
const cpu = (pid) => { const f = readFileSync(`/proc/${pid}/stat`, 'utf8').split(') ')[1].split(' '); return (Number(f[11]) + Number(f[12])) * tick; };
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

// a large book: entered through the API, records and movements by SQL into the same tables
begun = performance.now();
const templates = [['chest', { drawers: 5 }], ['desk', {}], ['side_table', {}]];
const work = [];
for (let i = 0; i < jobs; i++) {
  const [template, more] = templates[i % 3];
  work.push(['/api/pieces', { title: `Piece ${i}`, template, width: '34 in', depth: '20 in', height: '30 in', wood: 'oak', finish: 'bare',
    color: `lab(${30 + (i * 7) % 60} ${(i * 11) % 30 - 15} ${(i * 13) % 40 - 20})`, stage: i < 12 ? 'in_work' : i < 60 ? 'agreed' : 'closed', piece: { year: 2001, ...more } }]);
}
// 24 paints to mix from are more than most shops have; the others are primers, clears and ready-made colors of other classes
const classes = ['shellac_pigmented', 'wb_clear', 'oil_clear', 'chalk', 'wb_primer'];
for (let i = 0; i < paints; i++) work.push(['/api/paints', { paint: { id: `paint-${i}`, name: `Paint ${i}`, class: i < 24 ? 'wb_enamel' : classes[i % classes.length],
  color: `lab(${20 + (i * 17) % 75} ${(i * 23) % 90 - 45} ${(i * 31) % 110 - 55})`, stock: '1 qt', size: '1 qt', cost: '$24' } }]);
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
if (spawnSync('sqlite3', ['--version']).error) console.log('records skipped: no sqlite3');
else execFileSync('sqlite3', [book, `BEGIN;
  INSERT INTO stock_movement (revision, paint, kind, amount_ml, at_utc_min)
  WITH RECURSIVE n(i) AS (SELECT 0 UNION ALL SELECT i + 1 FROM n WHERE i < ${movements / 2 - 1})
  SELECT 1, 'paint-' || (i % ${paints}), 'used', -0.01, i FROM n;
  INSERT INTO record (revision, piece, kind, operation, planned, actual, at_utc_min)
  WITH RECURSIVE n(i) AS (SELECT 0 UNION ALL SELECT i + 1 FROM n WHERE i < ${movements / 2 - 1})
  SELECT 1, 'piece-' || (60 + i % ${Math.max(1, jobs - 60)}), 'hours', 'sand', 60, 50 + i % 25, i FROM n;
  COMMIT;`]);
begun = performance.now();
s = await Server.start(program, ['--book', book], dir);
await (await s.get('/api/pieces')).json();
row('start to first answer, large book', ms(performance.now() - begun), `${(statSync(book).size / 1e6).toFixed(0)} MB`);
// lists are to stay under 50 ms, plans under 150
console.log(`${''.padEnd(46)}${'median'.padStart(14)}  worst, processor time of one`);
for (const path of ['/api/pieces', '/api/pieces?stage=open', '/api/pieces?limit=1000', '/api/pieces?q=piece', '/api/paints?limit=500', '/api/clients', '/api/history', '/api/search?q=piece',
  '/api/paints/paint-1/stock', '/api/records', '/api/learned', '/api/money', '/api/money/pieces', '/api/samples', '/api/shop',
  '/api/pieces/piece-1/plan', '/api/pieces/piece-70/plan', '/api/days', '/api/today', '/api/shopping', '/', '/pieces/piece-1']) {
  const times = [], runs = 9;
  const first = performance.now();
  const probe = await s.get(path);
  await probe.arrayBuffer();
  const cold = performance.now() - first, before = cpu(s.child.pid);
  for (let i = 0; i < runs; i++) {
    const t = performance.now();
    await (await s.get(path)).arrayBuffer();
    times.push(performance.now() - t);
  }
  const spent = (cpu(s.child.pid) - before) / runs;
  times.sort((a, b) => a - b);
  row(`GET ${path}`, probe.status === 200 ? ms(times[runs >> 1]) : `(${probe.status})`, `${ms(times[runs - 1])}, ${ms(spent)}; the first ${ms(cold)}`);
}
{
  // a change that makes the plan new: what the page waits for after a tap
  const task = (await (await s.get('/api/days')).json()).tasks.find((t) => t.state === 'open');
  const before = cpu(s.child.pid), t = performance.now();
  if (task) {
    const r = await s.send('POST', `/api/tasks/${encodeURIComponent(task.id)}/done`, { took: '30 min' });
    await r.arrayBuffer();
    await (await s.get('/api/today')).arrayBuffer();
    row('a task done and today again', ms(performance.now() - t), `${ms(cpu(s.child.pid) - before)} of processor time`);
  }
}
row('memory after', `${memory(s.child.pid).toFixed(1)} MB`, `peak ${s.peakMegabytes().toFixed(1)} MB`);
await s.stop();
process.exit();
