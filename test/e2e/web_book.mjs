// The book in the browser: two windows on one job, a job closed with what it really took, days planned
// again, a document brought in, a copy put aside and brought back with equal exports, the jar's code.
//   node web_book.mjs PROGRAM WEB_DIR
import { spawnSync } from 'node:child_process';
import { dirname, join } from 'node:path';
import { Browser, PHONE, demoBook, missing } from './browser.mjs';
import { Server, folder } from './program.mjs';
import { check, done, must, same, skip } from './tally.mjs';

const [program, web] = process.argv.slice(2), root = dirname(web);
const no = missing(web);
if (no) {
  skip('the book in the browser', no);
  done();
  process.exit();
}
const dir = folder(), book = join(dir, 'demo.book');
demoBook(program, root, book);
const server = await Server.start(program, ['--book', book], dir), b = await Browser.start(web, server.url);
const json = async (path) => (await server.get(path)).json();
const said = (page, words) => page.waitForFunction((w) => new RegExp(w).test(document.querySelector('.said')?.textContent ?? ''), words, { timeout: 15000 })
  .catch(async () => { throw new Error(`"${await page.locator('.said').innerText()}" is said, want "${words}"`); });
const lookOver = async (page, group) => {
  await page.locator('#inspection').scrollIntoViewIfNeeded();
  await page.locator('.lookover summary', { hasText: group }).click();
};

await check('two windows change the same job: the second is told what the first did, nothing is overwritten', async () => {
  const one = await b.page(), two = await b.page(PHONE);
  // so that it does not learn of the other's change by itself
  await two.route('**/api/events', (r) => r.abort());
  await b.open(two, '/pieces/chest');
  await lookOver(two, 'What it is');
  await b.open(one, '/pieces/chest');
  await lookOver(one, 'What it is');
  await one.getByLabel('Width', { exact: true }).fill('33 in');
  await one.getByLabel('Width', { exact: true }).press('Tab');
  await said(one, 'Width');
  await two.getByLabel('Height', { exact: true }).fill('40 in');
  await two.getByLabel('Height', { exact: true }).press('Tab');
  await said(two, 'Changed meanwhile by another window: Width .*, now 33 in');
  const row = await json('/api/pieces/chest');
  same(row.document.width, '33 in', 'width in the book');
  must(row.document.height !== '40 in', 'the second change went over the first');
  await two.waitForFunction(() => [...document.querySelectorAll('label')].some((l) => l.textContent === 'Width' && document.getElementById(l.htmlFor).value === '33 in'));
  same(await two.getByLabel('Height', { exact: true }).inputValue(), row.document.height, 'the height that is shown');
  await two.getByLabel('Height', { exact: true }).fill('40 in');
  await two.getByLabel('Height', { exact: true }).press('Tab');
  await said(two, '^Height');
  same((await json('/api/pieces/chest')).document.height, '40 in', 'the height, done again');
  b.errors = b.errors.filter((e) => !/412|ERR_FAILED/.test(e));
  await one.close();
  await two.close();
});
await check('days planned again: what would move is said, kept, and nothing moves any more', async () => {
  const page = await b.page(PHONE);
  await b.open(page, '/days');
  await page.getByRole('button', { name: 'Something slipped' }).click();
  await page.waitForSelector('.moves li');
  await page.getByRole('button', { name: 'Keep it' }).click();
  await said(page, 'The new days stand');
  await page.getByRole('button', { name: 'Something slipped' }).click();
  await page.waitForFunction(() => /Nothing moves/.test(document.querySelector('main').textContent));
  same((await json('/api/history?limit=1')).rows[0].operation, 'days accept', 'last change');
  await page.close();
});
await check('a job is closed with what it really took, and says what an hour earned', async () => {
  const page = await b.page(PHONE), id = 'nightstands';
  const piece = (await json('/api/pieces')).rows.find((r) => r.id.startsWith('nightstand'))?.id ?? id;
  await b.open(page, `/pieces/${piece}`);
  await page.getByText('Close the job with what it really took').click();
  await page.getByLabel('Hours it took').fill('12,5');
  await page.getByLabel('Price paid').fill('480');
  const can = page.locator('fieldset .field').first(), name = await can.locator('label').innerText();
  await can.locator('input').fill('9');
  await page.getByRole('button', { name: 'Close the job' }).click();
  await said(page, 'An hour earned');
  const closed = (await json(`/api/money/pieces?piece=${piece}`)).rows[0];
  same([closed.actual_hours, closed.actual_price_cent], [12.5, 48000], 'hours, price');
  const product = closed.products.find((p) => p.name === name);
  must(Math.abs(product.actual_ml - 9 * 29.5735295625) < 0.01, `${name}: ${product.actual_ml} ml`);
  // by hand: (paid - fees - bought - material) / hours
  const hour = (48000 - closed.fee_cent - closed.bought_cent - closed.actual_material_cent) / 12.5;
  must(Math.abs(hour - closed.hour_cent) < 1e-6 && closed.actual_material_cent > 0, `an hour ${closed.hour_cent}, want ${hour}`);
  await page.waitForSelector('section[aria-label="What it came to"] table');
  must((await page.locator('section[aria-label="What it came to"]').innerText()).includes(name), 'the product is not in the table');
  same(await b.breaches(page), [], 'what axe finds');
  await b.open(page, '/money');
  must(/12\.5 h/.test(await page.locator('.table').first().innerText()), 'it is not among the closed pieces');
  await page.close();
});
await check('a can is put right, its stock explained, taken off, brought back from what was done', async () => {
  const page = await b.page(PHONE), paint = (await json('/api/paints')).rows.find((p) => p.color_hex && !p.leftover);
  await b.open(page, '/shelf');
  const row = page.locator('li', { has: page.getByRole('heading', { name: paint.name, exact: true }) });
  await row.getByRole('button', { name: /^Stock/ }).click();
  await row.getByText('How its stock came about').click();
  await row.getByText(/Counted/).last().waitFor();
  await row.getByText('Put it right').first().click();
  await row.getByLabel('One can costs').fill('$33');
  await row.getByRole('button', { name: 'Put it right' }).click();
  await said(page, 'is put right');
  same((await json(`/api/paints/${paint.id}`)).cost_cent, 3300, 'cost');
  await row.getByRole('button', { name: 'Take it off the shelf' }).click();
  await said(page, 'off the shelf');
  same((await server.get(`/api/paints/${paint.id}`)).status, 404, 'the can');
  await page.getByText('Another supply').click();
  await page.getByLabel('Name of the supply').fill('Blue tape');
  await page.getByLabel('Kind').selectOption('tape');
  await page.getByRole('button', { name: 'Keep it' }).click();
  await said(page, 'kept from now on');
  same((await json('/api/supplies')).rows.filter((s) => s.name === 'Blue tape' && s.kind === 'tape').length, 1, 'supply');
  await b.open(page, '/shop');
  await page.getByRole('button', { name: new RegExp(`^Take back.*paint remove ${paint.id}`) }).click();
  await said(page, 'Taken back');
  same((await server.get(`/api/paints/${paint.id}`)).status, 200, 'the can');
  await page.getByRole('button', { name: 'Is it sound?' }).click();
  await said(page, 'The file is sound');
  same(await b.breaches(page), [], 'what axe finds');
  await page.close();
});
await check('words are found in the whole book', async () => {
  const page = await b.page(PHONE);
  await b.open(page, '/pieces');
  await page.getByLabel('Search').fill('tape');
  await page.getByRole('link', { name: 'Blue tape' }).click();
  await page.waitForURL(/\/shelf$/);
  await page.close();
});
await check('a part is added, changed, and as it was at first again', async () => {
  const page = await b.page(PHONE);
  await b.open(page, '/pieces/chest');
  await page.getByText('Another part').click();
  await page.getByLabel('Name of the part').fill('Gallery');
  await page.getByLabel('Its shape').selectOption('box');
  await page.getByLabel('Width', { exact: true }).last().fill('30 in');
  await page.getByLabel('Depth', { exact: true }).last().fill('1 in');
  await page.getByLabel('Height', { exact: true }).last().fill('4 in');
  await page.getByRole('button', { name: 'Add it' }).click();
  await said(page, 'Gallery added');
  const own = async () => (await json('/api/pieces/chest')).document.parts?.find((p) => p.id === 'gallery');
  same((await own()).a, '30 in', 'size as typed');
  await page.getByText('All parts').click();
  await page.getByRole('button', { name: /^Gallery/ }).first().click();
  await page.getByRole('button', { name: 'Left as it is', exact: true }).click();
  await said(page, 'Gallery: bare');
  same((await own()).treatment, 'bare', 'treatment');
  await page.getByRole('button', { name: 'As it was at first' }).click();
  await said(page, 'as it was at first');
  same(await own(), undefined, 'the part');
  await page.close();
});
await check('a job document is brought in by a file', async () => {
  const page = await b.page();
  await b.open(page, '/shop');
  const job = { format: 'coatwright-job', version: 1, pieces: [{ id: 'hall-bench', title: 'Hall bench', template: 'side_table', width: '40 in', depth: '15 in', height: '18 in' }] };
  await page.locator('input[type=file]').first().setInputFiles({ name: 'bench.json', mimeType: 'application/json', buffer: Buffer.from(JSON.stringify(job)) });
  await page.waitForURL(/\/pieces$/);
  await page.waitForFunction(() => /Hall bench/.test(document.querySelector('main').textContent));
  same((await json('/api/pieces/hall-bench')).document.width, '40 in', 'as typed');
  await page.close();
});
await check('a copy put aside and brought back by button: the exports are equal', async () => {
  const page = await b.page(PHONE), before = await json('/api/export.json');
  await b.open(page, '/shop');
  await page.getByRole('button', { name: 'Copy the book now' }).click();
  await said(page, 'A copy is put aside');
  await server.send('PATCH', '/api/pieces/chest', { piece: { note: 'after the copy' } });
  await server.send('POST', '/api/clients', { name: 'After the copy' });
  const name = (await json('/api/backups')).rows.find((r) => r.name.startsWith('asked')).name;
  page.on('dialog', (d) => d.accept());
  await page.locator('li.when', { hasText: name }).getByRole('button', { name: 'Restore' }).click();
  await said(page, 'as it was in that copy');
  const after = await json('/api/export.json');
  same(Object.keys(after.tables), Object.keys(before.tables), 'tables');
  for (const t of Object.keys(before.tables)) same(after.tables[t], before.tables[t], t);
  must(after.revision > before.revision, 'the revision went back: old answers would look fresh');
  must((await json('/api/backups')).rows.some((r) => r.name.startsWith('restore')), 'the present book was not put aside first');
  await page.close();
});
await check('the code on a jar leads to its batch (read by another program)', async () => {
  if (spawnSync('zbarimg', ['--version']).error) return skip('the code on a jar', 'zbarimg is not there');
  const paint = (await json('/api/paints')).rows.find((p) => p.class === 'wb_enamel').id;
  const made = await (await server.send('POST', '/api/batches', { name: 'Jar', items: [{ paint, parts: 1 }], amount: '4 fl oz' })).json();
  const page = await b.page(), file = join(dir, 'label');
  await page.addInitScript(() => { window.print = () => undefined; });
  await b.open(page, `/batches/${made.id}`);
  await page.getByRole('button', { name: /label/i }).first().click();
  await page.waitForSelector('.p-label img', { state: 'attached' });
  await page.pdf({ path: `${file}.pdf`, format: 'Letter' });
  const drawn = spawnSync('pdftoppm', ['-r', '200', '-png', '-singlefile', `${file}.pdf`, file]);
  if (drawn.error) return skip('the code on a jar', 'pdftoppm is not there');
  const read = spawnSync('zbarimg', ['-q', '--raw', `${file}.png`], { encoding: 'utf8' });
  same(read.stdout.trim().split('\n')[0], `${server.url}/batches/${made.id}`, 'what the code says');
  await page.close();
});
await check('no console error in all of it', async () => same(b.errors, [], 'console'));
await check('nothing was asked of anywhere else', async () => same(b.outside, [], 'requests'));
await server.stop();
await b.stop();
done();
