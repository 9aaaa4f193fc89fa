// The drawing of every usual piece, from the plan of its usual sizes: what is drawn stands inside the
// piece, is one of its parts, and looks like what it is called.
//   node web_drawings.mjs PROGRAM WEB_DIR
import { existsSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { check, done, must, same, skip } from './tally.mjs';
import { Server, folder } from './program.mjs';

const program = resolve(process.argv[2]), web = resolve(process.argv[3]);
if (!existsSync(join(web, 'node_modules/esbuild'))) {
  skip('drawings', 'web/node_modules is missing (npm ci in web/)');
  done();
  process.exit();
}
const dir = folder(), need = createRequire(join(web, 'package.json'));
async function built(name) {
  const out = join(dir, `${name}.mjs`);
  need('esbuild').buildSync({ entryPoints: [join(web, `src/draw/${name}.ts`)], bundle: true, format: 'esm', outfile: out });
  return import(pathToFileURL(out));
}
const { viewsOf } = await built('views'), { isDark } = await built('parts');
const server = await Server.start(program, ['--book', join(dir, 'a.book')], dir);
const { templates } = await (await server.get('/api/choices')).json();
const drawn = {};
for (const { id, usual } of templates) {
  const r = await server.send('POST', '/api/plan', { job: { format: 'coatwright-job', version: 1, pieces: [{ id: 'x', template: id, ...usual, wanted: { color: '#7d2f2b' } }] } });
  const plan = await r.json();
  must(r.ok, `${id}: ${plan.error?.text}`);
  const { piece, surfaces } = plan.pieces[0];
  drawn[id] = { piece, parts: new Map(surfaces.rows.map((s) => [s.part.id, s.part])), full: viewsOf(piece, surfaces.rows), thumb: viewsOf(piece, []) };
}
await server.stop();

const within = (r, w, h) => r.x >= -0.11 * w && r.x + r.w <= 1.11 * w && r.y >= -0.03 * h && r.y + r.h <= 1.001 * h && r.w > 0 && r.h > 0;
await check('every template is drawn inside its size, to its full width and height, with its parts known or not', () => {
  for (const [id, { full, thumb }] of Object.entries(drawn))
    for (const v of [full, thumb]) for (const [side, width] of [[v.front, v.w], [v.side, v.d]]) {
      const stray = side.find((r) => !within(r, width, v.h));
      must(side.length && !stray, `${id}: ${JSON.stringify(stray)} in ${width} x ${v.h}`);
      must(Math.max(...side.map((r) => r.y + r.h)) > 0.99 * v.h && Math.min(...side.map((r) => r.y)) < 0.01 * v.h, `${id} is not as high as it is`);
      must(Math.max(...side.map((r) => r.x + r.w)) - Math.min(...side.map((r) => r.x)) > 0.93 * width, `${id} is not as wide as it is`);
    }
});
await check('drawers and doors are as many as the piece has, each of a part it has', () => {
  for (const [id, { piece, parts, full }] of Object.entries(drawn)) {
    const of = (role) => full.front.filter((r) => r.role === role);
    if (piece.drawers && id !== 'kitchen_doors') same(of('drawer').length, piece.drawers, `drawers of ${id}`);
    if (piece.doors && !['kitchen_doors', 'louvered_doors'].includes(id)) same(of('door').length, piece.doors, `doors of ${id}`);
    for (const r of [...of('drawer'), ...of('door')]) must(parts.has(r.part), `${id} has no part ${r.part}`);
  }
});
// L* of a general color library (culori, MIT)
await check('lines turn light on paint darker than L* 30, in whichever notation', () => {
  const lightness = need('culori').converter('lab65');
  for (let i = 0; i < 4096; i++) {
    const hex = `#${[i >> 8, (i >> 4) & 15, i & 15].map((n) => (17 * n).toString(16).padStart(2, '0')).join('')}`, { l } = lightness(hex);
    if (Math.abs(l - 30) > 0.05) same(isDark(hex), l < 30, `${hex}, L* ${l.toFixed(1)}`);
  }
  same([isDark('lab(12.00% 3.00 -4.00)'), isDark('lab(64.00% 3.00 -4.00)'), isDark('url(#x-wood)')], [true, false, false], 'as lab() and as wood');
});
// common practice: what a table, a chair and a bed are
await check('one sees through under a table and a chair; a back stands over the seat; a bed is low at its foot', () => {
  const at = (regions, x, y) => regions.filter((r) => x >= r.x && x <= r.x + r.w && y >= r.y && y <= r.y + r.h);
  for (const id of ['dining_table', 'turned_table', 'writing_table', 'side_table', 'coffee_table', 'school_desk', 'stool', 'bench', 'side_chair', 'turned_chair', 'rocking_chair'])
    for (const v of [drawn[id].full, drawn[id].thumb])
      for (const [side, w] of [[v.front, v.w], [v.side, v.d]]) same(at(side, w / 2, 0.64 * v.h).map((r) => r.role), [], `under ${id}`);
  for (const id of ['side_chair', 'turned_chair', 'rocking_chair', 'outdoor_chair', 'outdoor_bench', 'back_bench']) {
    const { piece, full } = drawn[id], seat = full.front.find((r) => r.role === 'seat');
    must(Math.abs(full.h - seat.y - piece.opening_mm) < 1, `the seat of ${id} lies at ${full.h - seat.y}`);
    must(full.front.some((r) => r.role === 'slat' && r.y < seat.y), `${id} has no back`);
    must(at(full.side, 0.3 * full.d, 0.1 * full.h).length === 0, `the back of ${id} is at its front`);
  }
  const { full, piece } = drawn.bed;
  must(Math.abs(full.h - full.front.find((r) => r.part === 'foot_posts').y - piece.opening_mm) < 1, 'the foot of the bed');
});
done();
