// A picture with paper and six chips becomes a target, a recipe, a sample and a corrected batch, at
// phone size, by taps. The picture is drawn here: known colors in a light of another color.
//   node web_photo.mjs PROGRAM WEB_DIR [FOLDER_FOR_SCREENSHOTS]
import { join } from 'node:path';
import { AT, H, W, picture } from './bench_picture.mjs';
import { demo, finish, PHONE } from './browser.mjs';
import { check, must, same } from './tally.mjs';

const shots = process.argv[4];
const { server, b, json } = await demo('color from a picture');
const off = async (a, c) => (await json(`/api/colors/difference?a=${encodeURIComponent(a)}&b=${encodeURIComponent(c)}`)).difference;
const shot = async (page, name) => { if (shots) await page.screenshot({ path: join(shots, `${name}.png`), fullPage: true }); };
const chips = (await json('/api/paints?limit=200')).rows.filter((p) => p.color_hex && !p.leftover && /enamel|chalk|milk|acrylic|paint/.test(p.class ?? 'paint')).slice(0, 6);
const PAPER = '#f1efec', WARM = [0.86, 0.78, 0.62], COOL = [0.7, 0.78, 0.86];

const tap = async (page, n) => {
  const box = page.locator('.marks');
  await box.scrollIntoViewIfNeeded();
  const r = await box.boundingBox();
  await page.mouse.move(r.x + (r.width * AT(n).x) / W, r.y + (r.height * AT(n).y) / H);
  await page.mouse.down();
  if (n === 7) { // what the finger hides is shown large
    await page.waitForSelector('.loupe');
    if (shots) await page.screenshot({ path: join(shots, 'photo-loupe.png') });
  }
  await page.mouse.up();
};
// Paper in the first square, six chips, the thing itself in the last.
async function mark(page, file, known = chips) {
  await page.locator('input[type=file]').last().setInputFiles(file);
  await page.waitForSelector('.marks img');
  await tap(page, 0);
  for (const [i, p] of known.entries()) {
    await page.getByRole('button', { name: 'Known chip', exact: true }).click();
    await tap(page, i + 1);
    await page.getByLabel('Chip of').nth(i).selectOption(`paint:${p.id}`);
  }
  await page.getByRole('button', { name: 'Wanted', exact: true }).click();
  await tap(page, 7);
}
async function read(page) {
  await page.getByRole('button', { name: 'Read the color' }).click();
  await page.waitForSelector('section[aria-label="What was read"]');
}

let target = '';
const page = await b.page(PHONE), bowl = '#2f6f74';
await check('the way back leads into the app, wherever the address would have it', async () => {
  const page = await b.page(PHONE);
  for (const [back, want] of [['/color/chest', '/color/chest'], ['javascript:alert(1)', null], ['//evil.example/', null], ['/\\evil.example/', null], ['https://evil.example/', null]]) {
    await b.open(page, `/photo?back=${encodeURIComponent(back)}`);
    const link = page.locator('.head').getByRole('link', { name: 'Back', exact: true });
    same(await link.count() ? await link.getAttribute('href') : null, want, back);
  }
  await page.close();
});
await check('six chips of the shelf have colors', async () => same(chips.length, 6, 'chips'));
await check('a picture with paper and six chips becomes a target', async () => {
  await b.open(page, '/color');
  await page.getByRole('link', { name: 'Read it from a picture' }).first().click();
  await page.waitForSelector('input[type=file]', { state: 'attached' });
  await shot(page, 'photo-begin');
  const seen = picture([PAPER, ...chips.map((p) => p.color_hex), bowl], WARM);
  await mark(page, seen);
  await shot(page, 'photo-marks');
  const breaches = await b.breaches(page);
  same(breaches, [], 'accessibility');
  await read(page);
  await shot(page, 'photo-read');
  same(await b.breaches(page), [], 'accessibility of the reading');
  await page.getByRole('button', { name: 'Use it as the target' }).click();
  await page.waitForURL(/\/color\?target=/);
  target = new URL(page.url()).searchParams.get('target');
  const d = await off(target, bowl);
  console.log(`the bowl is ${bowl}; read ${target}, ${d.toFixed(2)} off`);
  must(d < 3, `read ${d} off`);
});
await check('the target becomes recipes', async () => {
  await page.waitForSelector('.rc:not(.rc-head)', { timeout: 40000 });
  await shot(page, 'photo-recipes');
});
let items = '';
await check('a second picture becomes a sample of the recipe in hand', async () => {
  const link = page.getByRole('link', { name: 'Read it from a picture' }).last();
  items = new URL(await link.getAttribute('href'), server.url).searchParams.get('items');
  must(/=/.test(items ?? ''), 'no recipe in hand');
  const n = (await json('/api/samples')).rows.length;
  await link.click();
  await page.waitForSelector('input[type=file]', { state: 'attached' });
  const dried = '#38767a', seen = picture([PAPER, ...chips.map((p) => p.color_hex), dried], COOL);
  await mark(page, seen);
  await read(page);
  await shot(page, 'photo-sample');
  await page.getByRole('button', { name: 'Log it as a sample' }).click();
  await b.said(page, 'Learned');
  const rows = (await json('/api/samples')).rows;
  same(rows.length, n + 1, 'samples');
  same([rows[0].read, rows[0].document.items.map((i) => `${i.paint}=${i.parts}`).join(',')], ['photo', items], 'the sample');
  must((await off(rows[0].document.color, dried)) < 3, `it says ${rows[0].document.color}`);
});
await check('a batch that dried to another color is corrected by a picture', async () => {
  const made = await server.send('POST', '/api/batches', { name: 'Bowl green', target, amount: '16 fl oz',
    items: items.split(',').map((x) => x.split('=')).map(([paint, parts]) => ({ paint, parts: Number(parts) })) });
  must(made.ok, `batch: ${made.status} ${await made.clone().text()}`);
  const { id } = await made.json();
  await b.open(page, `/batches/${id}`);
  await page.getByRole('link', { name: 'Read it from a picture' }).click();
  await page.waitForSelector('input[type=file]', { state: 'attached' });
  await mark(page, picture([PAPER, ...chips.map((p) => p.color_hex), '#4a868a'], WARM));
  await read(page);
  await page.getByRole('button', { name: 'That is what the batch dried to' }).click();
  await page.waitForURL(/\/batches\//);
  await page.getByRole('button', { name: 'How to correct it' }).click();
  await page.waitForFunction(() => /Learned from it|Then/.test(document.querySelector('main')?.textContent + (document.querySelector('.said')?.textContent ?? '')), undefined, { timeout: 60000 });
  await b.rest(page);
  await shot(page, 'photo-batch');
  const row = await json(`/api/batches/${id}`);
  must((await off(row.dried, '#4a868a')) < 3, `dried ${row.dried}`);
  same((await json('/api/samples')).rows[0].read, 'photo', 'how it was read');
});
await check('what is no picture, and a picture cut off, are told in words', async () => {
  await b.open(page, '/photo');
  for (const [name, buffer] of [['a.jpg', Buffer.from('hello')], ['b.png', picture([PAPER], WARM).buffer.subarray(0, 3000)]]) {
    await page.locator('input[type=file]').last().setInputFiles({ name, mimeType: 'image/jpeg', buffer });
    await page.waitForFunction((k) => (k ? /broken or cut off/ : /not a picture/).test(document.querySelector('.said')?.textContent ?? ''), name === 'b.png');
  }
  b.errors = b.errors.filter((e) => !/status of 400/.test(e));
});
await check('two pictures of it are averaged; keys do what fingers do', async () => {
  await b.open(page, '/photo');
  await page.locator('input[type=file]').last().setInputFiles(picture([PAPER, bowl], WARM));
  await page.waitForSelector('.marks img');
  await tap(page, 0);
  await page.locator('.marks').focus();
  await page.keyboard.press('ArrowLeft');
  await page.keyboard.press('Enter');
  same(await page.locator('.mark').count(), 2, 'marks');
  await page.getByRole('button', { name: 'Take 2 away' }).click();
  await tap(page, 1);
  await read(page);
  await page.locator('input[type=file]').last().setInputFiles(picture([PAPER, bowl], COOL));
  await page.waitForFunction(() => /Picture 2 of 2/.test(document.querySelector('main').textContent));
  same(await page.locator('.mark').count(), 2, 'marks that came along');
  await read(page);
  must(/Mean of 2 pictures/.test(await page.locator('main').innerText()), 'no mean');
});
await check('marks are found again in the next picture, where things lie elsewhere', async () => {
  await b.open(page, '/photo');
  const colors = [PAPER, '#a03c32', '#2f6b3c', '#27408f', '#c9a02c', bowl], places = async () => Promise.all(
    (await page.locator('.mark').all()).map(async (m) => { const r = await m.boundingBox(); return [r.x + r.width / 2, r.y + r.height / 2]; }));
  await page.locator('input[type=file]').last().setInputFiles(picture(colors, WARM));
  await page.waitForSelector('.marks img');
  await tap(page, 0);
  for (const n of [1, 2, 3, 4, 5]) await tap(page, n);
  await read(page);
  await page.locator('.marks').scrollIntoViewIfNeeded();
  const box = await page.locator('.marks').boundingBox(), at = (await places()).map(([x, y]) => [x - box.x, y - box.y]);
  await page.locator('input[type=file]').last().setInputFiles(picture(colors, COOL, [28, -24]));
  await page.waitForFunction(() => /Picture 2 of 2/.test(document.querySelector('main').textContent));
  must(/found again/.test(await page.locator('.said').innerText()), 'nothing said');
  const now = await page.locator('.marks').boundingBox();
  for (const [n, [x, y]] of (await places()).entries())
    for (const off of [x - now.x - at[n][0] - (28 / W) * now.width, y - now.y - at[n][1] + (24 / H) * now.height])
      must(Math.abs(off) < 0.015 * now.width, `mark ${n + 1} is off by ${off}`);
  await shot(page, 'photo-found');
  await read(page);
});
await check('a chart is placed by four corners and counts as so many references', async () => {
  const hexes = ['#735244', '#c29682', '#627a9d', '#576c43', '#8580b1', '#67bdaa'], file = ['CGATS.17', 'LGOROWLENGTH 3', 'BEGIN_DATA_FORMAT', 'SAMPLE_ID LAB_L LAB_A LAB_B', 'END_DATA_FORMAT', 'BEGIN_DATA'];
  for (const [i, h] of hexes.entries()) file.push(`${i + 1} ${(await json(`/api/colors/show?color=${encodeURIComponent(h)}`)).color.lab.join(' ')}`);
  file.push('END_DATA', '');
  await b.open(page, '/photo');
  // three in a row: the fourth column of the picture holds the thing that is wanted
  const seen = picture([hexes[0], hexes[1], hexes[2], PAPER, hexes[3], hexes[4], hexes[5], bowl], WARM);
  await page.locator('input[type=file]').last().setInputFiles(seen);
  await page.waitForSelector('.marks img');
  await page.getByRole('button', { name: 'Chart', exact: true }).click();
  await page.locator('.chart-form input[type=file]').setInputFiles({ name: 'chart.txt', mimeType: 'text/plain', buffer: Buffer.from(file.join('\n')) });
  await page.getByLabel('Patches in a row').waitFor();
  same(await page.getByLabel('Patches in a row').inputValue(), '3', 'patches in a row');
  for (const n of [0, 2, 6, 4]) await tap(page, n);
  same(await page.locator('.mark').count(), 6, 'patches');
  await tap(page, 7);
  await shot(page, 'photo-chart');
  same(await b.breaches(page), [], 'accessibility');
  await read(page);
  const d = await off((await page.locator('.pair-cap small').first().innerText()), bowl);
  must(d < 2, `read ${d} off`);
});
await check('pictures of a piece: one comes in, is taken away, and comes back', async () => {
  await b.open(page, '/pieces/chest');
  const box = page.locator('#pictures');
  await box.waitFor();
  await box.locator('input[type=file]').last().setInputFiles(picture([PAPER, bowl], WARM));
  await box.locator('figure').waitFor();
  await box.scrollIntoViewIfNeeded();
  await page.waitForFunction(() => document.querySelector('#pictures img')?.naturalWidth > 100);
  if (shots) await box.screenshot({ path: join(shots, 'photo-piece.png') });
  same((await json('/api/pictures?piece=chest')).rows.map((r) => r.kind), ['before'], 'pictures');
  await box.getByRole('button', { name: /Take away/ }).click();
  await page.waitForFunction(() => !document.querySelector('#pictures figure'));
  await page.getByRole('button', { name: 'Undo' }).click();
  await box.locator('figure').waitFor();
});
await finish({ server, b });
