// The days of six pieces in the browser: an order looked for longer is told by when pieces are ready,
// drawn as it would be kept, and kept as it was drawn.
//   node web_days.mjs PROGRAM WEB_DIR
import { demo, DESKTOP, finish, PHONE } from './browser.mjs';
import { check, must, same } from './tally.mjs';

const { server, b, json } = await demo('the days of six pieces', ['chest', 'nightstands', 'desk', 'dresser', 'bench', 'fronts']);
const starts = (days) => days.tasks.map((t) => `${t.id} ${t.start_utc_min}`).sort();
const readyDay = (days) => Math.max(...days.pieces.map((p) => p.deliver_utc_min ?? 0));

await check('nothing kept yet: a better order is looked for, told by the days of pieces, and kept as shown', async () => {
  const page = await b.page(DESKTOP), quick = await json('/api/days');
  await b.open(page, '/days');
  await page.getByRole('button', { name: 'Look for a better order' }).click();
  await page.getByText(/A better order was found|No better order was found/).waitFor({ timeout: 30000 });
  const longer = await json('/api/days?anew=true'), lines = await page.locator('.moves li').allInnerTexts();
  must(readyDay(longer) <= readyDay(quick), 'all is over later than it was');
  must(lines.length > 0 && lines.every((l) => /: ready .+ instead of /.test(l)), `pieces that are ready on another day: ${lines}`);
  same(await b.breaches(page), [], 'what was found');
  await page.getByRole('button', { name: 'Keep it' }).click();
  await page.waitForFunction(() => !document.querySelector('.moves'));
  same(starts(await json('/api/days')), starts(longer), 'the days that are kept');
  await page.close();
});
await check('kept days: laid out anew nothing moves, since no more is found', async () => {
  const page = await b.page(PHONE);
  await b.open(page, '/days');
  must(await page.getByRole('button', { name: 'Look for a better order' }).count() === 0, 'days that are kept are looked for again');
  await page.getByRole('button', { name: 'Lay out anew' }).click();
  await page.getByText('Nothing moves.').waitFor({ timeout: 30000 });
  await page.close();
});
await check('what would bring the days forward is asked for, and each line is a day', async () => {
  const page = await b.page(PHONE);
  await b.open(page, '/days');
  const came = page.waitForResponse((r) => r.url().endsWith('/api/days/sooner'), { timeout: 60000 });
  await page.getByRole('button', { name: 'What would bring the days forward' }).click();
  const a = await (await came).json(); /* a minute later another may be best */
  await page.getByRole('heading', { name: 'What would bring the days forward' }).waitFor({ timeout: 60000 });
  const own = page.locator('section', { has: page.getByRole('heading', { name: 'What would bring the days forward' }) });
  same((await own.locator('.row').allInnerTexts()).map((t) => a.rows.some((r) => t.includes(r.name) && t.includes(r.text))), a.rows.map(() => true), 'lines');
  must(a.rows.length > 0, 'nothing helps six pieces');
  same(await b.breaches(page), [], 'what would bring the days forward');
  await page.close();
});
await check('more pieces are open than are planned together: the days say so', async () => {
  const page = await b.page(PHONE), note = page.getByText('Not every open piece is in these days.');
  const days = await json('/api/days');
  await b.open(page, '/days');
  await page.locator('main h1').waitFor();
  same(await note.count(), 0, 'the note where all are in them');
  await page.route('**/api/days', (r) => r.fulfill({ json: { ...days, cut: true } }));
  await page.goto(`${server.url}/clients`);
  await page.evaluate(() => { history.pushState(null, '', '/days'); window.dispatchEvent(new PopStateEvent('popstate')); });
  await note.waitFor();
  await page.close();
});
await finish({ server, b });
