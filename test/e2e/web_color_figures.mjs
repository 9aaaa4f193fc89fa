// Every figure of the color pages against the command line on the same book: recipe rows and
// trade-offs, the next sample, a logged sample, how a batch is corrected, a measured paint.
//   node web_color_figures.mjs PROGRAM WEB_DIR
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { demo, finish } from './browser.mjs';
import { run } from './program.mjs';
import { check, must, same } from './tally.mjs';

const { program, dir, book, server, b } = await demo('color figures in the browser');
const TARGET = '#1c6a70';
const cli = (...args) => {
  const r = run(program, [...args, '--book', book, '--json']);
  if (r.code !== 0) throw new Error(`${args.join(' ')}: ${r.err}`);
  return JSON.parse(r.out);
};
// A figure as the page writes it, and the whole one: equal but for rounding.
const near = (shown, value, what, digit = 0.1) => must(Math.abs(Number(shown) - value) <= digit / 2 + 1e-9, `${what}: the page has ${shown}, the command line ${value}`);
const poured = (items, name = (i) => i.name) => items.map((i) => `${i.text ?? `${i.parts} ${i.parts === 1 ? 'part' : 'parts'}`} ${name(i)}`);
async function open(page) {
  await b.open(page, `/color?target=${encodeURIComponent(TARGET)}`);
  const amount = page.getByLabel('How much', { exact: true });
  await amount.fill('8 fl oz');
  await amount.press('Tab');
  await page.waitForSelector('#recipes .rc .r b');
  await page.waitForFunction(() => document.querySelector('#recipes [aria-busy=false]'));
  await b.rest(page, 300); // pours are asked 200 ms after the recipe stands
}
await check('recipes and trade-offs: each row, with what to expect, other light and cost', async () => {
  const page = await b.page();
  await open(page);
  const found = cli('recipes', '--target', TARGET, '--paints-max', '3', '--amount', '8 fl oz', '--sure');
  const all = new Map([...(found.tradeoff ?? []), ...found.recipes].map((r) => [poured(r.items).sort().join(', '), r]));
  const more = page.getByRole('button', { name: /that are best in something/ });
  if (await more.count()) {
    same(Number(/\d+/.exec(await more.innerText())[0]), all.size, 'rows said');
    await more.click();
  }
  /* what stands in hand from another amount is no recipe that was found */
  const rows = await page.locator('#recipes .rc:not(.rc-head)').evaluateAll((list) => list.filter((li) => !/as the sliders stand/.test(li.textContent)).map((li) => ({
    items: [...li.querySelectorAll('.rc-what p span')].map((s) => s.textContent.trim()),
    figures: [...li.querySelectorAll(':scope > div > b.num')].map((n) => n.textContent), line: li.querySelector('svg[role=img]')?.getAttribute('aria-label') ?? '',
  })));
  same(rows.length, all.size, 'rows shown');
  must(rows.length >= 5, `only ${rows.length} rows to compare`);
  for (const row of rows) {
    const key = [...row.items].sort().join(', '), r = all.get(key);
    must(r, `the command line has no ${key}`);
    near(row.figures[0], r.expected_difference, `${key}, expect`);
    near(row.figures[1], r.metamerism, `${key}, other light`);
    near(row.figures[2].replace(/[$,]/g, ''), r.cost_cent / 100, `${key}, cost`, 0.01);
    must(row.line.includes(r.expected_difference.toFixed(1)), `${key}: the line says ${row.line}`);
  }
  const expected = rows.map((r) => Number(r.figures[0]));
  same(expected, [...expected].sort((x, y) => x - y), 'least doubt first');
  const said = await page.locator('#recipes').innerText();
  must(said.includes(`of ${found.proof.grid_points >= 1e6 ? `${(found.proof.grid_points / 1e6).toFixed(1)} million` : Math.round(found.proof.grid_points).toLocaleString('en-US')} recipes`), 'recipes on the grid');
  await page.close();
});
await check('the next sample: what to mix, doubt before and after', async () => {
  const page = await b.page();
  await open(page);
  const asked = page.waitForRequest((r) => r.url().endsWith('/api/samples/next'));
  await page.getByRole('button', { name: 'Say which' }).click();
  const { items } = (await asked).postDataJSON();
  const next = cli('sample', 'next', '--target', TARGET, '--items', JSON.stringify(items));
  await page.waitForSelector('.next');
  same((await page.locator('.next .lead b').innerText()).trim(), `${poured(next.items).join(', ')}.`, 'what to mix');
  const shown = await page.locator('.now-then dd b.num').allInnerTexts();
  near(shown[0], next.before, 'now');
  near(shown[1], next.after, 'after it');
  same((await page.locator('.next .say').innerText()).trim(), next.text, 'why');
  await page.close();
});
await check('a logged sample is on record as it was read, and how far off the shelf has it', async () => {
  const page = await b.page(), rows = cli('samples').rows, before = rows.map((s) => s.id), last = rows[0].read;
  await open(page);
  const asked = page.waitForRequest((r) => r.url().endsWith('/api/samples') && r.method() === 'POST');
  const field = page.getByLabel('What it dried to', { exact: true }).first();
  await field.fill('#33727a');
  await field.press('Tab');
  await page.getByRole('button', { name: 'Log the sample' }).first().click();
  const { sample } = (await asked).postDataJSON();
  await b.said(page, 'Learned');
  const [row, ...others] = cli('samples').rows.filter((s) => !before.includes(s.id));
  same(others.length, 0, 'more than one sample was logged');
  same(row.document.items, sample.items, 'what is in it');
  same([row.color_hex, row.read], ['#33727a', last], 'color, and read as the last one on record');
  const known = cli('shelf', 'known').samples.filter((s) => s.residual !== undefined);
  await b.open(page, '/shelf');
  await page.waitForSelector('.samples li b');
  const off = (await page.locator('.samples li b').allInnerTexts()).map((t) => Number.parseFloat(t)).sort((x, y) => x - y);
  const want = known.map((k) => k.residual).sort((x, y) => x - y);
  same(off.length, want.length, 'samples with a figure');
  off.forEach((v, i) => near(v, want[i], 'off'));
  await page.close();
});
await check('a batch that dried off: what to add, or to start again with, and what to expect', async () => {
  const page = await b.page();
  const first = cli('recipes', '--target', TARGET, '--paints-max', '3', '--amount', '8 fl oz').recipes[0];
  const batch = cli('batch', 'add', '--name', 'Figures', '--target', TARGET, '--items', JSON.stringify(first.items.map((i) => ({ paint: i.paint, parts: i.parts }))), '--amount', '8 fl oz');
  const fix = cli('batch', 'correct', batch.id, '--dried', '#3a7f86', '--read', 'instrument');
  cli('undo'); // the page asks the same of the same book
  await b.open(page, `/batches/${batch.id}`);
  const field = page.getByLabel('What it dried to', { exact: true });
  await field.fill('#3a7f86');
  await field.press('Tab');
  await page.getByLabel('How it was read', { exact: true }).selectOption('instrument');
  await page.getByRole('button', { name: 'How to correct it' }).click();
  await page.waitForSelector('.way');
  const lead = (await page.locator('.lead', { hasText: 'It dried' }).innerText()).trim();
  near(/dried ([\d.]+) off/.exec(lead)[1], fix.difference_now, 'dried off');
  must(lead.includes(fix.text), `the page says "${lead}", the command line "${fix.text}"`);
  const ways = await page.locator('.way').evaluateAll((list) => list.map((w) => ({
    pours: [...w.querySelectorAll('.pours li')].map((li) => li.textContent.trim()), words: w.querySelector('p.k')?.textContent ?? '' })));
  same(ways.map((w) => w.pours), [fix.add, fix.fresh].filter((list) => list?.length).map((list) => poured(list)), 'pours');
  must(fix.add.length > 0, 'nothing to add: the case shows nothing');
  near(/Expect ([\d.]+) off/.exec(ways[0].words)[1], fix.expected_difference, 'expect');
  near(/\$([\d.]+) of paint/.exec(ways[0].words)[1], fix.add_cost_cent / 100, 'cost', 0.01);
  if (ways[1]) near(/Expect ([\d.]+) off/.exec(ways[1].words)[1], fix.fresh_expected_difference, 'a fresh one');
  await page.close();
});
await check('a measured paint: the samples of its file, and the paint on the shelf, are the command line’s', async () => {
  const nm = Array.from({ length: 31 }, (_, i) => 400 + 10 * i);
  const green = nm.map((x) => 0.05 + 0.4 * Math.exp(-(((x - 530) / 40) ** 2))), sand = nm.map((x) => 0.2 + 0.4 / (1 + Math.exp((560 - x) / 30)));
  const text = `nm,Moss,Sand\n${nm.map((x, i) => `${x},${green[i].toFixed(4)},${sand[i].toFixed(4)}`).join('\n')}\n`, file = join(dir, 'two.csv'), other = join(dir, 'other.book');
  writeFileSync(file, text);
  const read = JSON.parse(run(program, ['spectrum', 'read', file, '--json']).out);
  const made = run(program, ['paint', 'measured', file, '--sample', 'Sand', '--class', 'wb_enamel', '--book', other, '--json']);
  same(made.code, 0, made.err);
  const page = await b.page();
  await b.open(page, '/shelf');
  await page.getByRole('button', { name: 'Put a can on it' }).click();
  await page.getByLabel('What it is', { exact: true }).selectOption('wb_enamel');
  await page.locator('.stage input[type=file]').first().setInputFiles({ name: 'two.csv', mimeType: 'text/csv', buffer: Buffer.from(text) });
  const which = page.getByLabel('Which sample', { exact: true });
  await which.waitFor();
  same(await which.locator('option').allInnerTexts(), read.rows.map((r) => r.name), 'samples of the file');
  await which.selectOption({ label: 'Sand' });
  await page.waitForFunction(() => /Sand: measured from 400 to 700 nm by 10\./.test(document.querySelector('main').innerText));
  const name = page.getByLabel('Name', { exact: true }).first();
  await name.fill('Sand');
  await page.getByRole('button', { name: 'Put it on the shelf' }).click();
  await b.said(page, 'Sand stands on the shelf');
  const mine = cli('paint', 'show', 'sand'), theirs = JSON.parse(made.out);
  same(mine.color_hex, theirs.color_hex, 'color');
  same(mine.color_hex, read.rows[1].hex, 'color of the file');
  same(mine.document.spectrum, theirs.document.spectrum, 'reflectance');
  same(cli('shelf', 'known').paints.find((p) => p.id === 'sand').known, 'spectrum', 'known by');
  same(await b.breaches(page), [], 'what axe finds on the shelf');
  await page.close();
});
await check('a card read wet is shown beside what it lacks, in the words of the command line', async () => {
  const page = await b.page(), file = join(dir, 'card.json');
  const [one, two] = cli('shelf', 'known').paints.filter((p) => p.id !== 'sand');
  writeFileSync(file, JSON.stringify({ items: [{ paint: one.id, parts: 1 }, { paint: two.id, parts: 1 }], color: '#808080', read: 'photo', wet: true }));
  const { id } = cli('sample', 'add', file);
  const card = cli('shelf', 'known').wet.find((w) => w.id === id);
  must(card && !card.learnt && /Read wet/.test(card.text), 'the card is not told of');
  await b.open(page, '/shelf');
  await page.waitForFunction((text) => document.querySelector('#samples')?.innerText.includes(text), card.text);
  await page.close();
});
await finish({ server, b });
