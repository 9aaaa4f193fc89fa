// The days of real shops: six of the example jobs at a time in one book, as every page plans them and
// laid out anew, which is looked for longer. When the last piece is ready, when pieces are in the mean,
// how far the answer may be from the best, and processor time of the whole command.
//   node bench/days.mjs BUILD_FOLDER [SHOPS]
import { execFileSync, spawnSync } from 'node:child_process';
import { readdirSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { folder } from '../test/e2e/program.mjs';

const program = join(resolve(process.argv[2] ?? 'build'), 'coatwright'), shops = Number(process.argv[3] ?? 20), PIECES = 6;
const root = resolve(import.meta.dirname, '../examples'), dir = folder();
const jobs = readdirSync(root).filter((f) => f.endsWith('.job.json')).sort();
let state = 5;
const random = (n) => { state = (Math.imul(state, 1664525) + 1013904223) >>> 0; return Math.floor((state / 2 ** 32) * n); };
const some = () => { const all = [...jobs]; return Array.from({ length: PIECES }, () => all.splice(random(all.length), 1)[0]); };

function days(book, args) {
  const r = spawnSync('bash', ['-c', 'TIMEFORMAT=%U; time "$@"', 'bash', program, 'days', '--json', '--book', book, ...args],
    { encoding: 'utf8', maxBuffer: 1 << 26 });
  if (r.status !== 0) throw new Error(r.stderr);
  const a = JSON.parse(r.stdout), ready = a.pieces.map((p) => p.deliver_utc_min).filter((t) => t !== undefined);
  return { last: Math.max(...ready) / 1440, mean: ready.reduce((x, y) => x + y, 0) / ready.length / 1440, gap: a.days.proven ? 0 : a.days.gap_frac ?? 0,
    late: Boolean(a.days.gap_is_late), seconds: Number(r.stderr.trim()), tasks: a.tasks.length };
}

const rows = [];
console.log('tasks  ready sooner: last, mean  from the best at most       processor time');
for (let k = 0; k < shops; k++) {
  const book = join(dir, `${k}.book`);
  some().forEach((job, i) => execFileSync(program, ['import', join(root, job), ...(i ? [] : ['--shop']), '--book', book], { stdio: 'ignore' }));
  const usual = days(book, []), anew = days(book, ['--anew']);
  rows.push({ usual, anew });
  const percent = (d) => `${(100 * d.gap).toFixed(1)} %`;
  console.log(`${String(anew.tasks).padStart(5)}  ${(usual.last - anew.last).toFixed(2).padStart(12)} d ${(usual.mean - anew.mean).toFixed(2).padStart(6)} d` +
    `  ${percent(usual).padStart(7)} -> ${percent(anew).padStart(6)}${anew.late ? ' of what is late' : ''.padEnd(16)}  ${usual.seconds.toFixed(2)} -> ${anew.seconds.toFixed(2)} s`);
}
const mean = (f) => rows.reduce((x, r) => x + f(r), 0) / rows.length;
const near = (which) => rows.filter((r) => r[which].gap <= 0.02).length;
console.log(`${rows.length} shops of ${PIECES} pieces: the last piece ready ${mean((r) => r.usual.last - r.anew.last).toFixed(2)} d sooner, ` +
  `the mean ${mean((r) => r.usual.mean - r.anew.mean).toFixed(2)} d; within 2 %: ${near('usual')} -> ${near('anew')}; ` +
  `${mean((r) => r.usual.seconds).toFixed(2)} -> ${mean((r) => r.anew.seconds).toFixed(2)} s`);
