// Every figure of Today, of the Shelf, of Money and of the list of pieces opens in place and says its rule and how sure it is;
// what is open under a row, or typed for a task, does not pass to the next one; a set is drawn as one;
// printed, no heading stands alone at the foot of a page.
//   node web_figures.mjs PROGRAM WEB_DIR
import { join } from 'node:path';
import { DESKTOP, demo, PHONE, textOfPdf } from './browser.mjs';
import { check, done, must, same } from './tally.mjs';

const { server, b, json, dir } = await demo('figures that open');
const post = async (path, body = {}, method = 'POST') => {
  const r = await server.send(method, path, body);
  must(r.ok, `${path}: ${await r.clone().text()}`);
  return r.json();
};
// something on every list: entries, a quoted piece, records, a closed piece, a film that dries
await post('/api/money', { kind: 'deposit', amount: '$300', piece: 'chest' });
await post('/api/money', { kind: 'material', amount: '$41.50', note: 'brushes' });
await post('/api/money', { kind: 'mileage', amount: '$14', distance: '24 mi' });
await post('/api/supplies', { name: 'Masking tape', count: 6, cost: '$4' });
await post('/api/supplies/masking-tape/stock', { kind: 'used', count: 2 });
await post('/api/pieces', { id: 'stand', title: 'Plant stand', template: 'nightstand', width: '18 in', depth: '14 in', height: '26 in', wanted: { color: '#e8e4da' } });
await post('/api/pieces/chest', { piece: { agreement: { quoted: '$980' } } }, 'PATCH');
for (const took of ['50 min', '60 min', '70 min']) await post('/api/records', { kind: 'hours', operation: 'scuff', took, planned: 40 });
await post('/api/pieces/desk/close', { hours: '9 h', price: '$400', material: '$31' });
const { tasks: days } = await json('/api/days'), film = days.find((t) => t.piece === 'nightstands' && t.window_end_utc_min);
for (const about of new Set((await json(`/api/tasks/${film.id}/help`)).cautions?.filter((c) => c.read_utc_min === undefined).map((c) => c.id)))
  await post('/api/pieces/nightstands/accepted', { kind: 'caution', about });
await post(`/api/tasks/${film.id}/done`);

for (const [name, size] of [['desktop', DESKTOP], ['phone', PHONE]]) {
  const page = await b.page(size);
  for (const [path, least] of [['/today', 8], ['/shelf', 20], ['/money', 10], ['/pieces', 6], ['/pieces?closed', 2]])
    await check(`${name} ${path}: every figure says where it comes from`, async () => {
      await page.goto(b.base + path);
      if (path === '/pieces?closed') {
        await page.getByRole('button', { name: 'Closed', exact: true }).click();
        await page.locator('.pc', { hasText: 'Closed' }).waitFor();
      }
      await page.waitForSelector('main .fig');
      if (/today|shelf/.test(path)) await page.waitForSelector('text=/fl oz on the shelf/'); // what is short comes last
      const all = page.locator('main .fig'), n = await all.count(), mute = [];
      must(n >= least, `only ${n} figures open`);
      for (let i = 0; i < n; i++) {
        await all.nth(i).evaluate((e) => e.click());
        const id = await all.nth(i).getAttribute('aria-controls'), panel = page.locator(`[id="${id}"]`);
        await panel.locator('text=/How sure|No basis/').first().waitFor();
        const text = await panel.innerText();
        if (!/Rule[^]*How sure/.test(text) || /\b(CP|NaN|undefined)\b/.test(text)) mute.push(`${await all.nth(i).innerText()}: ${text}`);
        if (i > 2) await all.nth(i).evaluate((e) => e.click());
      }
      same(mute, [], 'figures that do not say it');
      same(await b.breaches(page), [], 'what axe finds with three of them open');
      const over = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
      must(over <= 0, `${over} px wider than the window`);
    });
  await page.close();
}
await check('what is short opens to what each piece wants; the sum is what is said', async () => {
  const { rows, basis } = await json('/api/shopping?why=true');
  for (const [i, r] of rows.entries()) {
    const inputs = basis[`/rows/${i}/buy_ml`].inputs, of = (name) => inputs.find((x) => x.name === name)?.value ?? 0;
    const wanted = inputs.filter((x) => r.pieces.includes(x.name)).reduce((n, x) => n + x.value, 0);
    must(Math.abs(wanted - r.need_ml) < 0.01, `${r.name}: ${wanted} of ${r.need_ml}`);
    must(Math.abs(wanted - of('on the shelf') + (r.used_ml ?? 0) - r.buy_ml) < 0.01, `${r.name}: ${r.buy_ml}`);
  }
});
await check('sums open to what was added up: what to buy, kinds of money, what was driven, what a supply came to', async () => {
  const of = (basis, at) => basis[at].inputs, sum = (inputs) => inputs.reduce((n, x) => n + (x.value ?? 0), 0);
  const buy = await json('/api/shopping?why=true'), books = await json('/api/books?why=true'), supplies = await json('/api/supplies?why=true');
  must(buy.cost_cent > 0 && Math.abs(sum(of(buy.basis, '/cost_cent')) - buy.cost_cent) < 0.01, 'what to buy');
  same(of(buy.basis, '/cost_cent').length, buy.rows.length, 'lines of what to buy');
  const way = books.rows.findIndex((r) => r.kind === 'mileage'), miles = of(books.basis, '/distance_m');
  must(Math.abs(sum(miles) / 1609344 - 24) < 0.01, 'what was driven in all');
  same(of(books.basis, `/rows/${way}/distance_m`).map((x) => x.name), ['entries', 'together'], 'what was driven of a kind');
  same(of(books.basis, `/rows/${way}/out_cent`)[1].value, 1400, 'what its mileage came to');
  const tape = supplies.rows.findIndex((s) => s.id === 'masking-tape');
  same(of(supplies.basis, `/rows/${tape}/count`).map((x) => [x.name, x.value]), [['counted', 6], ['used', -2]], 'the tape');
  same(Object.keys((await json('/api/supplies')).basis ?? {}), [], 'what is said without why');
});
await check('a price as planned opens to the cost lines of its sheet, a span to those of its step', async () => {
  const { rows, basis } = await json('/api/money/open?why=true'), i = rows.findIndex((r) => r.id === 'stand'), lines = basis[`/rows/${i}/price_cent`].inputs;
  same(rows[i].price_is, 'planned', 'the price');
  const plan = await json('/api/pieces/stand/plan?why=1'), price = plan.pieces[0].price;
  for (const line of price.rows) must(Math.abs(lines.find((x) => x.name === line.name)?.value - (line.cost_cent)) < 0.01, `${line.name} is not among the cost lines`);
  for (const [k, t] of plan.days.rows.entries()) must(!t.hands_min || plan.basis[`/days/rows/${k}/hands_min`]?.inputs.length, `${t.name} does not say why it takes so long`);
  const k = plan.days.rows.findIndex((t) => t.piece === 'stand' && t.id.endsWith('photo_before'));
  same(plan.basis[`/days/rows/${k}/hands_min`].inputs, plan.basis['/pieces/0/takedown/0/hands_min'].inputs, 'the first step, as its sheet says it');
});
await check('an hour earned opens to what it is reckoned from', async () => {
  const { rows, basis } = await json('/api/money/pieces?why=true'), inputs = basis['/rows/0/hour_cent'].inputs, of = (name) => inputs.find((x) => x.name === name)?.value ?? 0;
  must(Math.abs((of('paid') - of('fees') - of('bought for') - of('material')) / (of('hours') / 60) - rows[0].hour_cent) < 0.01, JSON.stringify(inputs));
  same(Object.keys((await json('/api/money/pieces')).basis ?? {}), [], 'what is said without why');
});
await check('a film that dries says until when it takes the next coat', async () => {
  const plan = await json('/api/pieces/nightstands/plan?why=1'), i = plan.days.rows.findIndex((t) => t.window_end_utc_min);
  for (const member of ['dry_until', 'window_end']) must(plan.basis[`/days/rows/${i}/${member}_utc_min`]?.inputs.length === 2, `${member} of ${plan.days.rows[i].name}`);
});
await check('what was typed for a task is not handed to the next one', async () => {
  const page = await b.page();
  await page.goto(`${b.base}/today`);
  const buttons = page.locator('.now .task-acts').first(), title = page.locator('main h1');
  await buttons.getByRole('button', { name: 'Took longer or shorter' }).click();
  await buttons.getByLabel('How long it took').fill('3 h');
  const was = await title.innerText(), [task] = (await json('/api/today?days_only=true')).now;
  await post(`/api/tasks/${task.id}/done`);
  await page.waitForFunction((t) => document.querySelector('main h1').textContent !== t, was);
  same(await page.getByLabel('How long it took').count(), 0, 'forms that are open for the next task');
  await page.close();
});
await check('a pair is drawn as a pair, of six the number is said', async () => {
  const page = await b.page();
  await post('/api/pieces', { id: 'six', title: 'Six chairs', template: 'side_chair', count: 6, width: '18 in', depth: '18 in', height: '34 in' });
  await page.goto(`${b.base}/pieces`);
  const behind = (title) => page.locator('.thing', { hasText: title }).locator('svg g[aria-hidden] > g');
  await behind('Six chairs').first().waitFor({ state: 'attached' });
  same([await behind('Pair of pine nightstands').count(), await behind('Bow-front chest').count(), await behind('Six chairs').count()], [1, 0, 2], 'drawn behind');
  same(await page.locator('.thing', { hasText: 'Six chairs' }).locator('svg .count').textContent(), '6×', 'the number');
  await page.goto(`${b.base}/pieces/nightstands`);
  must(/2 alike/.test(await page.locator('#surfaces svg.wide').textContent()), 'the drawing of the sheet does not say how many');
  await page.close();
});
await check('printed, no heading stands alone at the foot of a page, and nothing that is folded', async () => {
  const page = await b.page(), file = join(dir, 'page.pdf'), alone = [];
  for (const path of ['/pieces/nightstands', '/pieces/chest', '/shelf', '/money'])
    for (const format of ['Letter', 'A4']) {
      await b.open(page, path);
      const heads = await page.evaluate(() => [...document.querySelectorAll('main :is(h2, h3)')].map((h) => h.lastChild?.textContent.trim()));
      await page.pdf({ path: file, format });
      const { text } = textOfPdf(file);
      for (const [n, sheet] of text.split('\f').entries()) {
        const last = sheet.split('\n').map((l) => l.trim()).filter(Boolean).at(-1);
        if (heads.includes(last)) alone.push(`${path} on ${format}, page ${n + 1}: ${last}`);
      }
      must(!/^\+ /m.test(text), `${path}: a fold is printed`);
    }
  same(alone, [], 'headings alone');
  await page.close();
});
same(b.errors, [], 'console');
await b.stop();
await server.stop();
done();
