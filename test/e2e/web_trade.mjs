// The trade in the browser on a real book, phone in hand: worth buying, guided inspection, help at a
// step with cautions to acknowledge, quote and agreement, handing over; papers on letter and A4.
//   node web_trade.mjs PROGRAM WEB_DIR
import { dirname, join } from 'node:path';
import { Browser, PHONE, demoBook, missing } from './browser.mjs';
import { Server, folder } from './program.mjs';
import { check, done, must, same, skip } from './tally.mjs';

const [program, web] = process.argv.slice(2), root = dirname(web);
const no = missing(web);
if (no) {
  skip('the trade in the browser', no);
  done();
  process.exit();
}
const dir = folder(), book = join(dir, 'demo.book');
demoBook(program, root, book);
const server = await Server.start(program, ['--book', book], dir), b = await Browser.start(web, server.url);
const json = async (path) => (await server.get(path)).json();

await check('worth buying, from Pieces, at phone size: the answer moves, a figure opens, taken it is a piece', async () => {
  const page = await b.page(PHONE);
  await b.open(page, '/pieces');
  await page.getByRole('link', { name: 'Worth buying?' }).click();
  await page.getByLabel('What it is', { exact: true }).selectOption('nightstand');
  await page.getByLabel('Asked for it', { exact: true }).fill('25');
  await page.getByLabel('Sells for when done', { exact: true }).fill('140');
  await page.waitForFunction(() => /Leave it\./.test(document.querySelector('.worth-head')?.innerText ?? ''));
  await page.getByLabel('Sells for when done', { exact: true }).fill('900');
  await page.waitForFunction(() => /Take it\./.test(document.querySelector('.worth-head')?.innerText ?? ''));
  await page.getByRole('button', { name: 'Damaged' }).click();
  await page.locator('.rows .fig').first().click();
  await page.waitForSelector('.basis dl');
  must(/sale price/.test(await page.locator('.basis').innerText()), 'the basis does not say what it came from');
  same(await b.breaches(page), [], 'what axe finds');
  await page.getByRole('button', { name: 'Take it: make the piece' }).click();
  await page.waitForURL(/\/pieces\/nightstand/);
  const id = new URL(page.url()).pathname.split('/')[2], { document } = await json(`/api/pieces/${id}`);
  same([document.template, document.condition, document.agreement], ['nightstand', 'damaged', { purpose: 'sale', bought: '$25', asking: '$900' }], 'what is in the book');
  await page.close();
});

await check('guided inspection at phone size: an answer by a tap says what it changed; a skip stays unknown; undo', async () => {
  const page = await b.page(PHONE);
  await b.open(page, '/pieces/nightstands');
  const heading = () => page.locator('.guide-test h3').innerText();
  await page.waitForSelector('.guide-test');
  same(await heading(), 'Live insects', 'the first test');
  await page.locator('.guide button', { hasText: 'Fresh pale dust' }).click();
  await page.waitForSelector('.changed li');
  must(/Keep it wrapped and apart/.test(await page.locator('.changed').innerText()), 'the new stop is not said');
  await page.getByRole('button', { name: 'Undo' }).click();
  await page.waitForFunction(() => /Taken back/.test(document.querySelector('.said')?.textContent ?? ''));
  await page.waitForFunction(() => document.querySelector('.guide-test h3')?.textContent === 'Live insects');
  await page.getByRole('button', { name: 'Skip: stays unknown' }).click();
  await page.waitForFunction(() => document.querySelector('.guide-test h3')?.textContent === 'Mold');
  must(/Nothing in the plan has changed/.test(await page.locator('.guide').innerText()), 'a skip changed the plan');
  same((await json('/api/pieces/nightstands')).document.tests.skipped, ['pests'], 'what is in the book');
  await page.locator('.guide summary').click();
  await page.getByRole('button', { name: 'Answer: Moisture' }).click();
  await page.getByLabel('Reading, the middle one of three').fill('14 %');
  await page.getByLabel('Reading, the middle one of three').press('Tab');
  await page.waitForFunction(() => /Coat nothing yet/.test(document.querySelector('.changed')?.textContent ?? ''));
  same(await b.breaches(page), [], 'what axe finds');
  await page.close();
});

// A piece whose color nobody has said yet cannot be planned: the page says so, the browser logs the 400.
const uncolored = (e) => /\b400\b.*\/api\/pieces\/nightstand\/plan/.test(e);
await check('no console error in all of it', async () => same(b.errors.filter((e) => !uncolored(e)), [], 'console'));
await check('nothing was asked of anywhere else', async () => same(b.outside, [], 'requests'));
await server.stop();
await b.stop();
done();
