// Whatever is written to the book can be taken back: lists, sums, plans and days show what they
// showed before. An operation that writes and is not tried here fails the test.
//   node undo.mjs PROGRAM EXAMPLES_FOLDER
import { join, resolve } from 'node:path';
import { picture } from './bench_picture.mjs';
import { check, done, must, same } from './tally.mjs';
import { folder, run, Server } from './program.mjs';

const program = resolve(process.argv[2]), examples = resolve(process.argv[3]), dir = folder();
const book = join(dir, 'undo.book');
for (const [name, ...more] of [['chest', '--shop'], ['desk']])
  same(run(program, ['import', join(examples, `${name}.job.json`), ...more, '--book', book]).code, 0, name);
const server = await Server.start(program, ['--book', book], dir);
const json = async (path) => (await server.get(path)).json();

// What a person would look at. A revision says only how often something was written; a line that was
// corrected stays to be seen beside its correction (movements, money); what a list of pieces says of
// plans is computed behind it and may still be on its way.
const VIEWS = ['/api/shop', '/api/clients', '/api/paints', '/api/supplies', '/api/samples', '/api/pieces', '/api/batches',
  '/api/recipes/kept', '/api/pictures', '/api/learned', '/api/callbacks', '/api/books', '/api/money/pieces', '/api/days',
  '/api/pieces/chest', '/api/pieces/desk', '/api/pieces/desk/accepted', '/api/pieces/desk/inspection', '/api/shelf/known'];
const BESIDE = ['revision', 'outlook_revision', 'next_step', 'next_task', 'ready_utc_min', 'blocked_by', 'shown_hex', 'price_cent', 'cost_cent', 'hours'];
const took_back = (r) => r?.withdrawn || r?.corrects !== undefined || (r?.entries && !r.in_cent && !r.out_cent && !r.distance_m);
const quiet = (v) => {
  if (Array.isArray(v)) return v.map(quiet).filter((r) => !took_back(r));
  if (v && typeof v === 'object')
    return Object.fromEntries(Object.entries(v).filter(([k]) => !BESIDE.includes(k)).map(([k, x]) => [k, quiet(x)]));
  return typeof v === 'number' && !Number.isInteger(v) ? Number(v.toPrecision(12)) : v;
};
const seen = async () => Object.fromEntries(await Promise.all(VIEWS.map(async (p) => [p, JSON.stringify(quiet(await json(p)))])));
const minute = (t) => /"now_utc_min":(\d+)/.exec(t)?.[1]; /* days begin with the minute in which they are asked */

const tried = new Set();
const spectrum = ['SAMPLE_ID,', ...[...Array(31)].map((_, i) => `${400 + 10 * i},`)];
async function write(name, method, path, body) {
  const picture = Buffer.isBuffer(body);
  const r = picture ? await fetch(server.url + path, { method, headers: { 'content-type': 'image/png' }, body }) : await server.send(method, path, body);
  const text = await r.text();
  must(r.ok, `${name} is refused: ${text.slice(0, 300)}`);
  tried.add(name);
  return text ? JSON.parse(text) : {};
}
const differs = (got, want) => {
  for (const v of VIEWS) {
    if (got[v] === want[v] || minute(got[v]) !== minute(want[v])) continue;
    let i = 0;
    while (got[v][i] === want[v][i]) i++;
    const near = (t) => `…${t.slice(Math.max(0, i - 60), i + 80)}…`;
    throw new Error(`${v} was ${near(want[v])} and is ${near(got[v])}`);
  }
};
// Written, it is seen; taken back, all is as it was. What follows needs it: that is taken back too.
async function undone(name, method, path, body, keep = false) {
  let left;
  await check(`${name} is taken back`, async () => {
    const before = await seen();
    left = await write(name, method, path, body);
    const after = await seen();
    must(VIEWS.some((v) => after[v] !== before[v]), 'nothing that is shown has changed');
    const { revision } = await write('undo', 'POST', '/api/undo', {});
    differs(await seen(), before);
    if (!keep) return;
    await write('undo', 'POST', '/api/undo', { revision });
    differs(await seen(), after);
  });
  return left;
}
const kept = (name, method, path, body) => undone(name, method, path, body, true);

await undone('shop_change', 'PATCH', '/api/shop', { shop: { rate: '$52/h' } });
await kept('client_add', 'POST', '/api/clients', { name: 'a bakery' });
await undone('client_change', 'PATCH', '/api/clients/a-bakery', { note: 'rings twice' });
await undone('client_remove', 'DELETE', '/api/clients/a-bakery');
await kept('paint_add', 'POST', '/api/paints', { name: 'Teal', paint: { id: 'teal', class: 'wb_enamel', color: '#1c6a70', stock: '1 qt' } });
await undone('paint_change', 'PATCH', '/api/paints/white', { paint: { stock: '2 qt', note: 'new can' } });
await undone('paint_stock', 'POST', '/api/paints/white/stock', { kind: 'bought', amount: '1 qt', cost: '$31' });
await undone('paint_remove', 'DELETE', '/api/paints/teal');
await undone('paint_measured', 'POST', '/api/paints/measured', { file: `${spectrum.map((l, i) => (i ? `${l}0.${20 + i}` : `${l}Gray`)).join('\n')}\n`, name: 'Measured gray', class: 'wb_enamel' });
await kept('supply_add', 'POST', '/api/supplies', { id: 'tack', name: 'Tack cloth', kind: 'rag', count: 4 });
await undone('supply_change', 'PATCH', '/api/supplies/tack', { name: 'Tack cloth, thin' });
await undone('supply_stock', 'POST', '/api/supplies/tack/stock', { kind: 'used', count: 1 });
await undone('supply_remove', 'DELETE', '/api/supplies/tack');
await kept('sample_add', 'POST', '/api/samples', { sample: { id: 'mine', items: [{ paint: 'white', parts: 3 }, { paint: 'teal', parts: 1 }], color: '#7fb0b4', read: 'photo' } });
await undone('sample_remove', 'DELETE', '/api/samples/mine');
await kept('piece_add', 'POST', '/api/pieces', { title: 'Stool', piece: { id: 'stool', template: 'stool', width: '14 in', depth: '14 in', height: '18 in', year: 2001, finish: 'lacquer', wanted: { color: '#efe3d0' } } });
await undone('piece_change', 'PATCH', '/api/pieces/desk', { piece: { note: 'one leg is short' } });
await undone('piece_remove', 'DELETE', '/api/pieces/stool');
await undone('piece_again', 'POST', '/api/pieces/desk/again', { title: 'Another desk' });
await kept('piece_part', 'PATCH', '/api/pieces/desk/parts/top', { row: { treatment: 'paint' } });
await undone('piece_part_remove', 'DELETE', '/api/pieces/desk/parts/top');
await undone('piece_test', 'POST', '/api/pieces/desk/tests', { test: 'smell', answer: 'smell_smoke' });
await undone('piece_accept', 'POST', '/api/pieces/desk/accepted', { kind: 'quote', amount: '$640', who: 'the librarian' });
const shot = await kept('picture_add', 'POST', '/api/pictures?piece=desk&kind=before&name=before.png', picture(['#f1efec', '#2f6f74'], [0.9, 0.8, 0.7]).buffer);
await undone('picture_remove', 'DELETE', `/api/pictures/${shot?.id}`);
await undone('import', 'POST', '/api/import', { format: 'coatwright-job', version: 1, pieces: [{ id: 'frame', template: 'mirror_frame', width: '20 in', height: '30 in', year: 2001, finish: 'bare', wanted: { color: '#efe3d0' } }] });
const recipe = await kept('recipe_keep', 'POST', '/api/recipes/kept', { name: 'Quiet blue', items: [{ paint: 'white', parts: 3 }, { paint: 'teal', parts: 1 }] });
await undone('recipe_remove', 'DELETE', `/api/recipes/kept/${recipe?.id}`);
const batch = await kept('batch_add', 'POST', '/api/batches', { name: 'For the desk', piece: 'desk', target: '#4a5d73', items: [{ paint: 'white', parts: 3 }, { paint: 'sea-blue', parts: 1 }], amount: '8 fl oz' });
await undone('batch_pour', 'POST', `/api/batches/${batch?.id}/pour`, { items: [{ paint: 'white', amount: '1 fl oz' }] });
await undone('batch_correct', 'POST', `/api/batches/${batch?.id}/correct`, { dried: '#506070', read: 'photo' });
await undone('batch_left', 'POST', `/api/batches/${batch?.id}/left`, { amount: '2 fl oz' });
await undone('batch_remove', 'DELETE', `/api/batches/${batch?.id}`);
await undone('days_accept', 'POST', '/api/days/accept', {});
await undone('task_start', 'POST', '/api/tasks/desk-photo_before/start', {});
await kept('task_done', 'POST', '/api/tasks/desk-photo_before/done', { took: '9 min' });
await undone('task_undone', 'POST', '/api/tasks/desk-photo_before/undone', {});
await undone('task_slip', 'POST', '/api/tasks/desk-inspect/slip', { until: `${new Date(Date.now() + 3 * 86400e3).toISOString().slice(0, 10)} 08:00` });
await undone('record_add', 'POST', '/api/records', { kind: 'spread', piece: 'desk', class: 'wb_enamel', method: 'brush', spread: '330 ft2/gal' });
const odd = await kept('record_add', 'POST', '/api/records', { kind: 'spread', piece: 'desk', class: 'wb_enamel', method: 'brush', spread: '4000 ft2/gal' });
await undone('record_confirm', 'POST', '/api/records/confirm', { number: odd?.number });
await undone('money_add', 'POST', '/api/money', { kind: 'material', amount: '$24.50', piece: 'desk' });
await undone('piece_close', 'POST', '/api/pieces/desk/close', { hours: '9 h', price: '$640' });

await check('no operation that writes was forgotten', async () => {
  const { paths } = await json('/api/openapi.json');
  const reads = ['next_sample', 'correct', 'recipe', 'mix', 'drill', 'inspection', 'chart_read', 'recipes', 'picture_read', 'picture_find', 'plan', 'piece_preview',
    'days_replan', 'sample_next', 'spectrum_read', 'backup', 'restore', 'restore_export']; /* a copy comes or goes beside the log: test/e2e/web_book */
  const all = Object.values(paths).flatMap((p) => Object.entries(p)).filter(([method]) => method !== 'get').map(([, op]) => op.operationId);
  same(all.filter((id) => !reads.includes(id) && !tried.has(id)), [], 'not tried');
});
await server.stop();
done();
