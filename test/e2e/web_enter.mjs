// Enter in a field does what the button of its form does, once, and nothing where there is none: not in
// a text of several lines, not while a list of suggestions is open, not a button that takes away.
//   node web_enter.mjs PROGRAM WEB_DIR
import { demo, finish, PHONE } from './browser.mjs';
import { check, must, same } from './tally.mjs';

const all = await demo('Enter in the forms', ['desk']), { server, b, json } = all;
const field = (page, name) => page.getByLabel(name, { exact: true });
const button = (page, name) => page.getByRole('button', { name, exact: true });

await check('money, a client, a can: written down by Enter', async () => {
  const page = await b.page(PHONE);
  await b.open(page, '/money');
  await button(page, 'In or out').click();
  await field(page, 'How much').fill('25');
  await field(page, 'How much').press('Enter');
  await b.said(page, 'Written down');
  same((await json('/api/money')).rows.map((r) => r.amount_cent), [2500], 'the entries');
  await b.open(page, '/clients');
  await button(page, 'New client').click();
  await field(page, 'Name').fill('The bakery');
  await field(page, 'Name').press('Enter');
  await page.waitForURL(/\/clients\/the-bakery$/);
  await b.open(page, '/shelf');
  await button(page, 'Put a can on it').click();
  await field(page, 'Name').fill('Chalk gray');
  await field(page, 'What it dries to').fill('#8a8c86');
  await field(page, 'What it is').selectOption('wb_enamel');
  await field(page, 'How much is left').fill('half a can');
  await field(page, 'How much is left').press('Enter');
  await page.locator('.field.wrong', { hasText: 'How much is left' }).waitFor();
  await b.cursorIn(field(page, 'How much is left'));
  await field(page, 'How much is left').fill('1 qt');
  await field(page, 'How much is left').press('Enter');
  await b.said(page, 'Chalk gray stands on the shelf');
  await page.close();
});
await check('how long a task took: Enter ticks it off', async () => {
  const page = await b.page(PHONE), { now: [task] } = await json('/api/today?days_only=true');
  await b.open(page, '/today');
  await button(page, 'Took longer or shorter').click();
  await field(page, 'How long it took').fill('9 min');
  await field(page, 'How long it took').press('Enter');
  await b.said(page, `^Done: ${task.name}`);
  await page.close();
});
await check('somebody who works here is not taken out by Enter, and a new one is entered', async () => {
  const page = await b.page(PHONE);
  await b.open(page, '/shop');
  const crew = async () => ((await json('/api/shop')).document.crew ?? []).map((m) => m.name);
  const add = page.locator('section', { has: page.getByRole('heading', { name: 'People' }) });
  for (const name of ['Ann', 'Ben']) {
    await add.getByLabel('Name', { exact: true }).last().fill(name);
    await add.getByLabel('Name', { exact: true }).last().press('Enter');
    await page.waitForFunction((n) => [...document.querySelectorAll('.member input')].some((e) => e.value === n), name);
  }
  same(await crew(), ['Ann', 'Ben'], 'people');
  await add.getByLabel('Name', { exact: true }).first().fill('Anna');
  await add.getByLabel('Name', { exact: true }).first().press('Enter');
  await page.waitForFunction(async () => (await (await fetch('/api/shop')).json()).document.crew?.some((m) => m.name === 'Anna'), undefined, { polling: 100 });
  same(await crew(), ['Anna', 'Ben'], 'people, one called otherwise');
  await server.send('PATCH', '/api/shop', { shop: { crew: null } });
  await page.close();
});
await check('several lines, a list of suggestions, another form, a held key', async () => {
  const page = await b.page();
  await b.open(page, '/clients');
  await page.evaluate(() => {
    const at = document.createElement('div');
    at.innerHTML = `<div id="one"><div class="form"><label>Lines<textarea></textarea></label><label>Word<input></label>
      <label>Choice<input list="some"><datalist id="some"><option value="brass"><option value="bronze"></datalist></label>
      <label>Tick<input type="checkbox"></label></div><div class="acts"><button type="button" data-enter>Send</button></div></div>
      <div class="form"><label>Alone<input></label></div>`;
    document.querySelector('main').append(at);
    globalThis.sent = 0;
    at.querySelector('button').onclick = () => { globalThis.sent += 1; };
  });
  const after = async (name, ...keys) => {
    await page.evaluate(() => { globalThis.sent = 0; });
    for (const k of keys) await field(page, name).press(k);
    await page.evaluate(() => new Promise((f) => { setTimeout(() => setTimeout(f, 50)); })); /* after what Enter asked for */
    return page.evaluate(() => globalThis.sent);
  };
  same(await after('Word', 'a', 'Enter'), 1, 'a word');
  same(await after('Lines', 'a', 'Enter', 'b'), 0, 'a text of several lines');
  same(await field(page, 'Lines').inputValue(), 'a\nb', 'the lines');
  same(await after('Tick', 'Enter'), 0, 'a tick');
  same(await after('Alone', 'a', 'Enter'), 0, 'a field without a button');
  same(await after('Word', 'Shift+Enter'), 0, 'with another key');
  same(await after('Choice', 'b', 'r', 'Enter'), 0, 'the list is open: it takes the first Enter');
  same(await after('Choice', 'Enter'), 1, 'the list is shut');
  await field(page, 'Choice').fill('bronze');
  same(await after('Choice', 'Enter'), 1, 'a word of the list');
  await field(page, 'Choice').fill('copper');
  same(await after('Choice', 'Enter'), 1, 'a word that the list does not know');
  await page.close();
});
await finish(all, (e) => /status of 400/.test(e));
