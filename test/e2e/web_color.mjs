// Color work in the browser: the demo shelf's blue-green is mixed, dries off twice by a truth that
// the program never sees (truth.mjs), is corrected twice and ends within 1.0 of the target. Sliders
// with live color (time printed), recipes, choices that are remembered, kept recipes, samples.
//   node web_color.mjs PROGRAM WEB_DIR
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { demo, finish, PHONE } from './browser.mjs';
import { Server, run } from './program.mjs';
import { check, must, same } from './tally.mjs';
import { labText, truthOf, unmix } from './truth.mjs';

const { program, root, dir, server, b, json } = await demo('color work in the browser');
const TARGET = '#1c6a70', SHOP = 2; // the same shop as in color_shop.mjs
const labOf = (text) => JSON.parse(run(program, ['color', 'show', text, '--json']).out).color.lab;
const off = (a, c) => Number(run(program, ['color', 'diff', a, c]).out);
const job = JSON.parse(readFileSync(join(root, 'examples/chest.job.json'), 'utf8'));
const { truth, made } = truthOf(root, job.shelf, labOf, 0.4, SHOP);

async function open(page) {
  await b.open(page, `/color?target=${encodeURIComponent(TARGET)}`);
  const amount = page.getByLabel('How much', { exact: true });
  await amount.fill('16 fl oz');
  await amount.press('Tab');
  await page.waitForSelector('#recipes .rc .r b');
  await page.waitForSelector('#pours .pours li');
}
await check('blue-green: mixed, off twice, corrected twice, within 1.0 in the end', async () => {
  const page = await b.page();
  await open(page);
  await page.getByRole('button', { name: 'I mixed it' }).click();
  await page.waitForURL(/\/batches\//);
  const id = new URL(page.url()).pathname.split('/')[2], batch = () => json(`/api/batches/${id}`);
  const now = async () => off(labText(truth.dries(unmix((await batch()).items, made))), TARGET), trail = [await now()];
  for (let time = 0; time < 2; time++) {
    const field = page.getByLabel('What it dried to', { exact: true });
    await field.fill(labText(truth.read(unmix((await batch()).items, made))));
    await field.press('Tab');
    await page.getByLabel('How it was read', { exact: true }).selectOption('instrument');
    await page.getByRole('button', { name: 'How to correct it' }).click();
    await page.getByRole('button', { name: 'I poured it in' }).click();
    await page.waitForFunction(() => !document.querySelector('.way'));
    trail.push(await now());
  }
  console.log(`blue-green in the app: truly off by ${trail.map((t) => t.toFixed(2)).join(', then ')}`);
  must(trail[0] > 1 && trail[1] > 1, `it did not dry off twice: ${trail}`);
  must(trail[2] <= 1, `${trail[2]} off in the end`);
  same(await b.breaches(page), [], 'what axe finds on the batch');
  await page.getByLabel('How much is left', { exact: true }).fill('4 fl oz');
  await page.getByRole('button', { name: 'Put it on the shelf' }).click();
  await page.waitForFunction(() => /4 fl oz of it on the shelf/.test(document.querySelector('main').innerText));
  await page.close();
});
await check('sliders: the color follows', async () => {
  const page = await b.page();
  await open(page);
  const times = await page.evaluate(async () => {
    const swatch = document.querySelector('.the-mix'), slider = document.querySelector('.slider input'), all = [];
    for (let i = 0; i < 12; i++) {
      const was = swatch.style.background, from = performance.now();
      slider.value = String((Number(slider.value) + 7) % Number(slider.max));
      slider.dispatchEvent(new Event('input', { bubbles: true }));
      while (swatch.style.background === was && performance.now() - from < 3000) await new Promise(requestAnimationFrame);
      all.push(performance.now() - from);
    }
    return all.sort((x, y) => x - y);
  });
  console.log(`slider to color: median ${times[6].toFixed(0)} ms, slowest of 12 ${times[11].toFixed(0)} ms (asked: under 100)`);
  must(times[11] < 3000, 'the color did not follow');
  must((await page.locator('.slider').first().locator('.ramp i').count()) >= 8, 'no colors along the slider');
  await page.close();
});
await check('a batch of a piece stands in its sheet, on a phone within the window', async () => {
  const made = await server.send('POST', '/api/batches', { piece: 'chest', name: 'Bowl green', target: TARGET, amount: '13 fl oz', items: [{ paint: 'sea-blue', parts: 5 }, { paint: 'pine-green', parts: 3 }] });
  same(made.status, 200, 'the batch');
  const page = await b.page(PHONE);
  await b.open(page, '/pieces/chest');
  await page.waitForSelector('.of-piece .kept');
  const over = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
  must(over <= 0, `${over} px wider than the window`);
  await page.close();
});
await check('a color that was mixed for another piece is mixed again for this one, in its amount', async () => {
  const page = await b.page(PHONE), r = await server.send('POST', '/api/pieces', { piece: { title: 'Bench in the bowl’s color', template: 'bench', width: '54 in', depth: '14 in', height: '18 in', year: 2024, finish: 'bare', wanted: { color: TARGET } } });
  const { id } = await r.json(), amount = (await json(`/api/pieces/${id}/plan`)).pieces[0].amounts.find((a) => a.role === 'color').mix_ml;
  await b.open(page, `/pieces/${id}`);
  same(await page.locator('.head p').first().innerText(), 'Unfinished, 2024', 'what it is');
  await page.getByRole('link', { name: /^Mix it again.*Bowl green/ }).click();
  await page.waitForFunction(() => /Bowl green, again\. .*the old recipe stands/.test(document.querySelector('main').innerText) && document.querySelector('.slider'));
  const { items } = (await json('/api/batches')).rows.find((x) => x.name === 'Bowl green'), all = items.reduce((n, i) => n + i.parts, 0);
  await page.waitForFunction((n) => document.querySelectorAll('.slider').length === n, items.length);
  const parts = await page.locator('.slider input[type=range]').evaluateAll((l) => l.map((x) => Number(x.value))), sum = parts.reduce((n, v) => n + v, 0);
  items.forEach((it, i) => must(Math.abs(parts[i] / sum - it.parts / all) < 0.02, `${it.name}: ${parts[i]} of ${sum}, was ${it.parts / all}`));
  const said = await page.getByLabel('How much', { exact: true }).inputValue();
  must(Math.abs(parseFloat(said) * 29.5735 - amount) < 0.3 * 29.5735, `${said} for ${amount} ml`);
  await page.waitForFunction(() => /By the old recipe/.test(document.querySelector('.pair-cap')?.innerText ?? '')); // not the doubt of a mix that nobody made yet
  await page.close();
});
await check('recipes: another is taken, kept, found by search, mixed again', async () => {
  const page = await b.page();
  await open(page);
  must((await page.locator('#recipes .rc svg[role=img]').count()) >= 3, 'no doubt is drawn');
  await page.locator('#recipes').getByRole('button', { name: /^Take it/ }).first().click();
  await page.getByLabel('Keep this recipe as', { exact: true }).fill('Bowl blue-green');
  await page.getByRole('button', { name: 'Keep it' }).click();
  await page.waitForSelector('#kept');
  const hits = await json('/api/search?q=bowl');
  must(JSON.stringify(hits).includes('"recipe"'), 'search does not find it');
  await page.getByRole('link', { name: /^Mix again.*Bowl blue-green/ }).click();
  await page.waitForFunction(() => /the old recipe stands/.test(document.querySelector('main').innerText));
  await page.close();
});
await check('what is measured with and which paints are remembered; a smaller measure shows', async () => {
  let page = await b.page(PHONE);
  await open(page);
  await page.getByLabel('Measured with', { exact: true }).selectOption('ml');
  await page.getByRole('button', { name: 'Which paints, how sure' }).click();
  await page.getByLabel('Must not be in it', { exact: true }).selectOption('left-slate');
  await page.waitForFunction(() => / ml\b/.test(document.querySelector('#pours')?.innerText ?? ''));
  await page.close();
  page = await b.page(PHONE);
  await open(page);
  same(await page.getByLabel('Measured with', { exact: true }).inputValue(), 'ml', 'measure');
  await page.waitForFunction(() => !/Slate/.test(document.querySelector('#recipes')?.innerText ?? 'Slate'));
  same(await b.breaches(page), [], 'what axe finds');
  await page.evaluate(() => localStorage.clear());
  await page.close();
});
await check('the next sample is said, made and learned from', async () => {
  const page = await b.page(), before = (await json('/api/samples?limit=500')).rows.length;
  await open(page);
  await page.getByRole('button', { name: 'Say which' }).click();
  await page.getByRole('button', { name: 'I made it, read the card' }).click();
  const field = page.getByLabel('What it dried to', { exact: true }).first();
  await field.fill('#5f98a0');
  await field.press('Tab');
  await page.getByRole('button', { name: 'Log the sample' }).first().click();
  await b.said(page, 'Learned');
  same((await json('/api/samples?limit=500')).rows.length, before + 1, 'samples');
  await page.close();
});
await check('a card of any mix is logged on the shelf, without a color wanted', async () => {
  const page = await b.page(PHONE), before = (await json('/api/samples?limit=500')).rows.map((s) => s.id);
  const card = async (white, color) => {
    await page.getByRole('button', { name: 'Log a card' }).click();
    await page.getByLabel('Paint on the card', { exact: true }).selectOption('white');
    await page.getByLabel('Parts', { exact: true }).first().fill(white);
    await page.getByLabel('And', { exact: true }).selectOption('black');
    const field = page.getByLabel('What it dried to', { exact: true });
    await field.fill(color);
    await field.press('Tab');
  };
  await b.open(page, '/shelf');
  await card('4', '#8d8d8f');
  same(await b.breaches(page), [], 'what axe finds');
  await page.getByRole('button', { name: 'Log the sample' }).click();
  await b.said(page, 'Learned');
  const [row] = (await json('/api/samples?limit=500')).rows.filter((s) => !before.includes(s.id));
  same(row.document.items, [{ paint: 'white', parts: 4 }, { paint: 'black', parts: 1 }], 'what is on it');
  for (const [white, color, says] of [['5', '#8d8d8f', 'Learned'], ['4', '#8d8d90', 'Learned'], ['4', '#8d8d8f', 'The same mix was read as the same color before']]) {
    await card(white, color);
    await page.getByRole('button', { name: 'Log the sample' }).click();
    await b.said(page, says);
  }
  await page.close();
});
await check('five new jars: the nearest on paper to begin with, a card read by eye, and a can that was entered alone is another can', async () => {
  const fresh = await Server.start(program, ['--book', join(dir, 'five.book')], dir), own = b.base;
  const add = (name, color) => fresh.send('POST', '/api/paints', { name, class: 'wb_enamel', color, stock: '1 qt', size: '1 qt' });
  for (const [name, color] of [['White', '#f4f2ec'], ['Black', '#201f1e'], ['Yellow ochre', '#c08a3e'], ['Ultramarine', '#232a70'], ['Red oxide', '#7d3527'], ['Blue, new', '#242b70']])
    same((await add(name, color)).status, 200, name);
  b.base = fresh.url;
  const page = await b.page(PHONE), asked = page.waitForResponse((r) => r.url().endsWith('/api/recipes') && r.request().method() === 'POST');
  await b.open(page, '/color?target=%235f7f86');
  const { recipes } = await (await asked).json(), best = Math.min(...recipes.map((r) => r.difference));
  must(best < recipes[0].difference - 1, 'not the case that was meant');
  await page.waitForFunction((off) => document.querySelector('main').innerText.includes(`The mix ${off} off`), best.toFixed(1));
  same(await page.getByLabel('How it was read', { exact: true }).last().inputValue(), 'eye', 'how most read');
  await b.open(page, '/shelf');
  await page.getByRole('button', { name: 'Stock of Blue, new', exact: true }).click();
  await page.getByText('Put it right', { exact: true }).click();
  await page.getByLabel('Another can of', { exact: true }).selectOption({ label: 'Ultramarine' });
  await page.getByLabel('Coats to hide black', { exact: true }).fill('2');
  await page.getByRole('button', { name: 'Put it right' }).click();
  await page.waitForFunction(() => /As Ultramarine, another can/.test(document.querySelector('main').innerText));
  const { document: can } = await (await fresh.get('/api/paints/blue-new')).json();
  same([can.can_of, can.hides_in], ['ultramarine', 2], 'what is written down');
  await page.close();
  b.base = own;
  await fresh.stop();
});
await check('what a card teaches is seen over the ground too, without a touch', async () => {
  const page = await b.page(), asked = page.waitForRequest((r) => r.url().includes('/api/hiding'));
  await open(page);
  const items = new URL((await asked).url()).searchParams.get('items').split(',').map((x) => x.split('=')).map(([paint, parts]) => ({ paint, parts: Number(parts) }));
  await page.waitForSelector('#hiding .coats-strip i');
  const seen = () => page.evaluate(() => [...document.querySelectorAll('#hiding .coats-strip i')].at(-1).style.background), before = await seen();
  same((await server.send('POST', '/api/samples', { sample: { items, color: '#16606a', read: 'instrument' } })).status, 200, 'a card');
  await page.waitForFunction((was) => [...document.querySelectorAll('#hiding .coats-strip i')].at(-1).style.background !== was, before);
  same((await server.send('POST', '/api/undo', {})).status, 200, 'taken back');
  await page.close();
});
await check('another can of a paint that is known is put on the shelf in two taps, and stands beside it', async () => {
  const page = await b.page(PHONE);
  await b.open(page, '/shelf');
  await page.getByRole('button', { name: 'Stock of Sea blue', exact: true }).click();
  await page.getByText('Another can of it', { exact: true }).click();
  // in its own form: another hidden Note stands at the foot of the page, and a locator keeps what it found first
  await page.locator('details', { has: page.getByText('Another can of it', { exact: true }) }).getByLabel('Note', { exact: true }).fill('lot 7');
  same(await b.breaches(page), [], 'what axe finds');
  await page.getByRole('button', { name: 'Put this can on the shelf' }).click();
  await page.waitForFunction(() => /As Sea blue, another can/.test(document.querySelector('main').innerText));
  const names = await page.locator('.things h3').allInnerTexts();
  same(names[names.indexOf('Sea blue') + 1], 'Sea blue 2', 'beside it');
  const can = await json('/api/paints/sea-blue-2'), one = await json('/api/paints/sea-blue');
  same([can.document.can_of, can.document.note, can.stock_ml, can.class, can.color_hex], ['sea-blue', 'lot 7', one.size_ml, one.class, one.color_hex], 'the can');
  // a full can where nothing else is said; from the head of the page too
  await page.getByRole('button', { name: 'Put a can on it' }).click();
  await page.getByLabel('It is', { exact: true }).selectOption({ label: 'Another can of Black' });
  await page.getByLabel('How much is left', { exact: true }).fill('1 pt of it');
  await page.getByRole('button', { name: 'Put this can on the shelf' }).click();
  // what is refused is said beside its field, until something else is typed there
  const wrong = page.locator('.field.wrong');
  await wrong.waitFor();
  must(/^How much is left/.test(await wrong.innerText()) && /"1 pt of it"/.test(await wrong.innerText()), await wrong.innerText());
  same(await page.getByLabel('How much is left', { exact: true }).getAttribute('aria-invalid'), 'true', 'for a reader of the screen');
  await page.getByLabel('How much is left', { exact: true }).fill('1 pt');
  same(await wrong.count(), 0, 'wrong fields once it is put right');
  await page.getByRole('button', { name: 'Put this can on the shelf' }).click();
  await page.waitForFunction(() => /As Black, another can/.test(document.querySelector('main').innerText));
  same(Math.round((await json('/api/paints/black-2')).stock_ml), 473, 'a pint'); // NIST SP 811
  same((await server.send('POST', '/api/undo', {})).status, 200, 'taken back');
  same((await server.send('POST', '/api/undo', {})).status, 200, 'taken back');
  await page.close();
});
await check('a target from a file of measured reflectance: its color, and the search is asked with it', async () => {
  const page = await b.page();
  await b.open(page, '/color');
  const asked = page.waitForRequest((r) => r.url().endsWith('/api/recipes') && r.method() === 'POST');
  const rows = Array.from({ length: 31 }, (_, i) => `${400 + 10 * i},${(0.1 + 0.2 * Math.abs(i - 12) / 18).toFixed(3)}`);
  await page.locator('input[type=file][accept*=cgats]').setInputFiles({ name: 'bowl.csv', mimeType: 'text/csv', buffer: Buffer.from(`wavelength,bowl\n${rows.join('\n')}\n`) });
  const { target, measured } = (await asked).postDataJSON();
  must(/^lab\(/.test(target) && measured.includes('400,0.233'), `${target}, ${measured?.slice(0, 60)}`);
  await page.waitForSelector('#recipes .rc .r b');
  await page.close();
});
await check('a target far outside: said so, with the nearest and what would extend the reach', async () => {
  const page = await b.page();
  await b.open(page, `/color?target=${encodeURIComponent('lab(55 90 70)')}`);
  await page.waitForSelector('#recipes .rc');
  await page.waitForFunction(() => /would bring it from/.test(document.querySelector('main').innerText));
  await page.close();
});
await check('any two colors beside each other: how far apart, each in the other notations', async () => {
  const page = await b.page(PHONE);
  await b.open(page, '/color');
  await page.locator('summary', { hasText: 'Any two colors' }).click();
  // pair 1 of CIEDE2000's published test data (Sharma, Wu, Dalal 2005): 2.0425
  for (const [label, color] of [['One color', 'lab(50 2.6772 -79.7751)'], ['The other', 'lab(50 0 -82.7485)']]) {
    await page.getByLabel(label, { exact: true }).fill(color);
    await page.getByLabel(label, { exact: true }).press('Tab');
  }
  await page.waitForFunction(() => /2\.0 apart, seen side by side/.test(document.querySelector('main').innerText));
  must(/Stronger than this screen/.test(await page.locator('main').innerText()), 'a color beyond the screen is not said');
  same(await b.breaches(page), [], 'what axe finds');
  await b.open(page, `/color?target=${encodeURIComponent('7.5BG 4/4')}`);
  await page.waitForFunction(() => { const d = document.querySelector('.pair > div'); return d && getComputedStyle(d).backgroundColor !== 'rgba(0, 0, 0, 0)'; });
  await page.close();
});
// a browser notes each answer of 400: here the can that is refused on purpose
await finish({ server, b }, (e) => /status of 400 .*\/api\/paints$/.test(e));
