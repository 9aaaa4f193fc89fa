// Hard moments: paint that runs short in the middle of the coats, a color nobody can read, a day on
// which nothing can be worked on, a promise that cannot be kept, a file that is none.
//   node web_trouble.mjs PROGRAM WEB_DIR
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { demo, DESKTOP, finish, PHONE } from './browser.mjs';
import { check, must, same } from './tally.mjs';

const all = await demo('hard moments in the browser', ['desk']), { server, b, json, dir } = all;
const said = (page) => page.locator('.said').innerText();
const hears = (page, what) => page.waitForFunction((t) => new RegExp(t).test(document.querySelector('.said')?.innerText), what);
const button = (page, name) => page.getByRole('button', { name, exact: true });
const field = (page, name) => page.getByLabel(name, { exact: true });
async function sent(method, path, body) {
  const r = await server.send(method, path, body), text = await r.text();
  must(r.ok, `${method} ${path}: ${text}`);
  return JSON.parse(text);
}

await check('without the server pages have their heading, and say what is shown', async () => {
  const page = await b.page(PHONE);
  for (const [path, asked, title] of [['/today', '**/api/today**', 'Today'], ['/days', '**/api/days**', 'Days']]) {
    await page.goto(`${server.url}/clients`); /* what came inside the page would be shown */
    await page.locator('main h1').waitFor();
    await page.route(asked, (r) => r.abort());
    await page.evaluate((to) => { history.pushState(null, '', to); window.dispatchEvent(new PopStateEvent('popstate')); }, path);
    await page.locator('main h1', { hasText: title }).waitFor();
    await page.getByText('The server does not answer').first().waitFor();
    await page.unroute(asked);
  }
  b.errors = b.errors.filter((e) => !/ERR_FAILED/.test(e));
  await page.close();
});
await check('a batch runs short: its can is empty, another one takes its place, and it stays with its piece', async () => {
  const page = await b.page(PHONE), items = [{ paint: 'white', parts: 3 }, { paint: 'sea-blue', parts: 1 }];
  const first = await sent('POST', '/api/batches', { piece: 'desk', name: 'Shelf blue', target: '#7fa3a8', items, amount: '12 fl oz' });
  await sent('POST', '/api/paints/sea-blue/stock', { kind: 'counted', amount: '0 fl oz' });
  await b.open(page, `/batches/${first.id}`);
  await page.getByText('Sea blue: none is left.').waitFor();
  await sent('POST', '/api/paints', { can_of: 'sea-blue', stock: '1 pt', note: 'lot 7' });
  await page.getByRole('link', { name: 'Mix it again' }).click();
  await page.waitForURL(/\/color\/desk\?again=/);
  await page.getByText('The old recipe stands, from another can.').waitFor();
  await page.getByText('Sea blue: none is left; Sea blue 2, another can of it, takes its place').waitFor();
  same(await field(page, 'How much').inputValue(), '12 fl oz', 'as much as was mixed');
  await field(page, 'How much').fill('4 fl oz');
  await field(page, 'How much').blur();
  await page.waitForFunction(() => /Makes 4 fl oz/.test(document.querySelector('#pours')?.innerText));
  await button(page, 'I mixed it').click();
  await page.waitForURL(/\/batches\//);
  const rows = (await json('/api/batches?piece=desk')).rows;
  same(rows.map((r) => [Math.round(r.amount_ml), r.items.map((i) => i.paint).sort().join()]), [[118, 'sea-blue-2,white'], [355, 'sea-blue,white']], 'both batches of the piece');
  const b3 = rows[0].items.find((i) => i.paint === 'white');
  must(Math.abs(b3.parts / rows[0].items.reduce((n, i) => n + i.parts, 0) - 0.75) < 0.03, 'the shares are those of the first batch');
  await page.close();
});
await check('more of the same and two drops of black go into a batch, and off the shelf', async () => {
  const page = await b.page(PHONE), [one] = (await json('/api/batches?piece=desk')).rows;
  await b.open(page, `/batches/${one.id}`);
  await field(page, 'How much').fill('some');
  await button(page, 'I poured more in').click();
  await page.locator('.field.wrong', { hasText: 'How much' }).waitFor();
  same(await field(page, 'How much').inputValue(), 'some', 'what was typed');
  await field(page, 'How much').fill('4 fl oz');
  await button(page, 'I poured more in').click();
  await hears(page, 'It is in the batch');
  const twice = await json(`/api/batches/${one.id}`);
  must(Math.abs(twice.amount_ml - one.amount_ml - 118.29) < 0.1, `${twice.amount_ml} ml`);
  for (const [i, item] of twice.items.entries()) must(Math.abs(item.parts / one.items[i].parts - twice.amount_ml / one.amount_ml) < 1e-6, 'its shares moved');
  await field(page, 'What').selectOption('black');
  await field(page, 'How much').fill('2 drops');
  const stock = async () => (await json('/api/paints/black')).stock_ml, before = await stock();
  await button(page, 'I poured more in').click();
  await page.waitForFunction(() => /Black/.test(document.querySelector('.pours')?.innerText));
  must(Math.abs(before - (await stock()) - 0.1) < 0.01, 'two drops are 0.1 ml'); // common practice: 20 drops a milliliter
  same(await b.breaches(page), [], 'what axe finds');
  await field(page, 'How much is left').fill('2 gal');
  await button(page, 'Put it on the shelf').click();
  await page.locator('.field.wrong', { hasText: 'How much is left' }).waitFor();
  must(/than was mixed, 8 fl oz/.test(await said(page)), await said(page));
  await page.close();
});
await check('on the color page what cannot be read is said at its field', async () => {
  const page = await b.page(PHONE);
  await b.open(page, '/color');
  await field(page, 'Color wanted').fill('a nice blue');
  await field(page, 'Color wanted').blur();
  await page.locator('.field.wrong', { hasText: 'Color wanted' }).waitFor();
  await field(page, 'Color wanted').fill('#7fa3a8');
  await field(page, 'How much').fill('a jar');
  await field(page, 'How much').blur();
  await page.locator('.field.wrong', { hasText: 'How much' }).waitFor();
  same(await page.locator('.field.wrong label').allInnerTexts(), ['How much'], 'fields that are marked');
  await page.close();
});
await check('Today says what is late, what is stopped, and what cannot be planned', async () => {
  const page = await b.page(PHONE), day = (n) => new Date(Date.now() + n * 86400e3).toISOString().slice(0, 10), now = () => page.locator('.now').innerText();
  await sent('PATCH', '/api/pieces/desk', { piece: { agreement: { due: day(1) } } });
  await b.open(page, '/today');
  must(/would be ready .*; promised for/.test(await page.locator('section', { has: page.getByRole('heading', { name: 'Late' }) }).innerText()), 'nobody is told that it comes late');
  same(await b.breaches(page), [], 'what axe finds');
  await sent('PATCH', '/api/pieces/desk', { piece: { tests: { lead: 'lab positive' } } });
  await b.open(page, '/today');
  must(/^Nothing may be worked on\s+Stopped, .*: Oak school desk/.test(await now()), await now());
  await sent('PATCH', '/api/pieces/desk', { piece: { tests: { lead: null } } });
  await sent('POST', '/api/paints', { name: 'Gone', paint: { id: 'gone', class: 'wb_enamel', color: '#123456' } });
  await sent('PATCH', '/api/pieces/desk', { piece: { wanted: { product: 'gone' } } });
  await sent('DELETE', '/api/paints/gone');
  await b.open(page, '/today');
  must(/^Nothing can be planned\s+Its sheet says what is missing: Oak school desk/.test(await now()), await now());
  must(!/wanted\/|class I know/.test(await page.locator('main').innerText()), 'a member is named to a person');
  await b.open(page, '/pieces/desk');
  must(/Paint or class for the color: "gone" is neither/.test(await page.locator('main').innerText()), 'the sheet does not name what is missing');
  await sent('PATCH', '/api/pieces/desk', { piece: { wanted: { product: null } } });
  await page.close();
});
await check('a file that is none, and a whole book: it is said what they are', async () => {
  const page = await b.page(DESKTOP), text = join(dir, 'note.txt'), whole = join(dir, 'book.json'), small = join(dir, 'dot.png');
  writeFileSync(text, 'no picture');
  writeFileSync(whole, await (await server.get('/api/export.json')).text());
  writeFileSync(small, Buffer.from('iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==', 'base64'));
  await b.open(page, '/shop');
  const asks = page.waitForEvent('dialog'), { revision } = await json('/api/export.json');
  await page.getByLabel('Choose a file').setInputFiles(whole);
  const dialog = await asks;
  must(/^book.json is a whole book\./.test(dialog.message()), dialog.message());
  await dialog.dismiss();
  await b.rest(page);
  same((await json('/api/export.json')).revision, revision, 'the book, where no was said');
  await b.open(page, '/photo');
  await page.getByLabel('Choose one').setInputFiles(text);
  await hears(page, 'not a picture');
  await page.getByLabel('Choose one').setInputFiles(small);
  await page.waitForFunction(() => !/not a picture/.test(document.querySelector('.said')?.innerText));
  await page.close();
});
await finish(all, (e) => /status of (400|404|409|413|422)/.test(e));
