// A painter's first weeks in the browser, from an empty book: a clock without a zone, numbers without a
// unit, forms that are left half filled, a card logged at the first tap, a test answered from the list.
//   node web_new_shop.mjs PROGRAM WEB_DIR
import { demo, finish, PHONE } from './browser.mjs';
import { check, must, same, until } from './tally.mjs';

process.env.TZ = 'America/Chicago'; // the machine's zone, for the server and the browser alike
const { server, b, json } = await demo('a new shop in the browser', []);
const post = async (path, body, method = 'POST') => {
  const r = await server.send(method, path, body);
  if (!r.ok) throw new Error(`${method} ${path}: ${await r.text()}`);
  return r.json();
};

await check('where no zone is said the pages have the clock of the machine, as the plans do', async () => {
  const page = await b.page();
  await b.open(page, '/today');
  const here = await page.evaluate(() => new Intl.DateTimeFormat('en-US', { hour: 'numeric', minute: '2-digit', hour12: true, timeZone: 'America/Chicago' })
    .format(Date.now()).replace(' AM', ' am').replace(' PM', ' pm'));
  must((await page.locator('header').first().innerText()).includes(here), `not ${here}: ${await page.locator('header').first().innerText()}`);
  await b.open(page, '/shop');
  must(/this machine’s, America\/Chicago/.test(await page.locator('main').innerText()), 'the shop does not say which zone it takes');
  await page.close();
});
await check('what is not said stands there as it is assumed: no shop is told that it is closed', async () => {
  const page = await b.page(), monday = page.getByLabel('Monday', { exact: true });
  await b.open(page, '/shop');
  await page.getByText('Not said: weekdays 8:00 am to noon and 1:00 to 5:00 pm are assumed.').waitFor();
  same(await monday.getAttribute('placeholder'), ' ', 'what an empty Monday says');
  for (const [label, text] of [['An hour of work', '$45/h'], ['Overhead', '15 %'], ['By day', '68 °F'], ['People who work', '1']])
    same(await page.locator('.field', { has: page.getByLabel(label, { exact: true }) }).locator('small').innerText(), `Not said: ${text} is assumed.`, label);
  await post('/api/shop', { shop: { hours: [{ day: 'tue', open: '9 am', close: '1 pm' }] } }, 'PATCH');
  await until(async () => must((await monday.getAttribute('placeholder')) === 'closed', 'Monday is closed'));
  same(await page.getByText('are assumed.').count(), 0, 'hours that are assumed beside hours that were said');
  await post('/api/shop', { shop: { hours: null } }, 'PATCH');
  await page.close();
});
await check('a bare number is meant in what its field is measured in', async () => {
  const page = await b.page();
  await b.open(page, '/shop');
  const bare = [['An hour of work', '40', 'rate', '$40/h'], ['Overhead', '12', 'overhead', '12 %'], ['Least for a job', '$100', 'minimum', '$100'],
    ['By day', '64', 'day_temperature', '64 °F'], ['By night', '45', 'night_temperature', '45 °F'], ['Humidity', '50', 'humidity', '50 %'],
    ['Deposit', '40', 'deposit', '40 %'], ['Floor to dry on', '80', 'drying_area', '80 ft2']];
  for (const [label, text, member, kept] of bare) {
    const field = page.getByLabel(label, { exact: true });
    await field.fill(text);
    await field.press('Tab');
    await until(async () => must((await json('/api/shop')).document[member] === kept, `${label} ${text}`));
    await until(async () => must((await field.inputValue()) === kept, `${kept} on the page`));
  }
  const amount = page.getByLabel('Smallest amount', { exact: true });
  await amount.fill('3');
  await amount.press('Tab');
  await page.getByText(/3 is missing its unit/).first().waitFor(); // ounces, spoons or drops
  b.errors = b.errors.filter((e) => !/400/.test(e));
  await page.close();
});
await check('a can that is half typed is there after a look at another page, and is put on the shelf with a bare price', async () => {
  const page = await b.page(PHONE);
  await b.open(page, '/shelf');
  await page.getByRole('button', { name: 'Put a can on it' }).click();
  await page.getByLabel('Name', { exact: true }).fill('White');
  await page.getByLabel('What it is', { exact: true }).selectOption('wb_enamel');
  await page.getByLabel('How much is left', { exact: true }).fill('3 qt');
  await page.getByRole('link', { name: 'Today' }).first().click();
  await page.waitForURL(/today/);
  await page.goBack();
  await page.getByLabel('Name', { exact: true }).waitFor();
  same(await page.getByLabel('Name', { exact: true }).inputValue(), 'White', 'name after the way back');
  await page.reload();
  await page.getByLabel('Name', { exact: true }).waitFor();
  same(await page.getByLabel('How much is left', { exact: true }).inputValue(), '3 qt', 'stock after the page was loaded anew');
  await page.getByLabel('What it dries to', { exact: true }).fill('#f4f2ec');
  await page.getByLabel('One can holds', { exact: true }).fill('1 qt');
  await page.getByLabel('One can costs', { exact: true }).fill('32');
  await page.getByRole('button', { name: 'Put it on the shelf' }).click();
  const row = page.locator('li').filter({ has: page.getByRole('heading', { name: 'White', exact: true }) });
  await row.getByText('96 fl oz').waitFor();
  must(/96 fl oz\s+in cans of 32 fl oz/.test(await row.innerText()), `three quarts in cans of a quart: ${await row.innerText()}`);
  same((await json('/api/paints/white')).document.cost, '$32', 'cost');
  same(await page.getByRole('button', { name: 'Put it on the shelf' }).count(), 0, 'the form after it was sent');
  await page.reload();
  await row.waitFor();
  same(await page.getByRole('button', { name: 'Put it on the shelf' }).count(), 0, 'the form after it was sent and the page loaded anew');
  await page.close();
});
await check('a can from which some is missing is not said to be unopened', async () => {
  const jar = { class: 'wb_enamel', size: '1 qt' };
  await post('/api/paints', { name: 'Blue', color: '#26348a', stock: '16 fl oz', ...jar });
  await post('/api/paints', { name: 'Green', color: '#1f5b3d', stock: '1 qt', ...jar });
  const page = await b.page(), row = (name) => page.locator('li').filter({ has: page.getByRole('heading', { name, exact: true }) });
  await b.open(page, '/shelf');
  await row('Green').waitFor();
  must(/not opened/.test(await row('Green').innerText()), 'a full one');
  must(!/not opened/.test(await row('Blue').innerText()), 'a half one');
  await page.close();
});
await check('a card is logged at the first tap: nothing moves from under it when its color is typed', async () => {
  const page = await b.page(PHONE);
  await b.open(page, '/shelf');
  await page.getByRole('button', { name: 'Log a card' }).click();
  await page.getByLabel('Paint on the card', { exact: true }).selectOption('white');
  await page.getByLabel('And', { exact: true }).selectOption('blue');
  const log = page.getByRole('button', { name: 'Log the sample' });
  await log.scrollIntoViewIfNeeded();
  await page.getByLabel('What it dried to', { exact: true }).pressSequentially('#8c97c4');
  must(await log.isEnabled(), 'the button waits until the field is left');
  const before = await log.boundingBox();
  await page.getByLabel('What it dried to', { exact: true }).blur();
  same((await log.boundingBox()).y, before.y, 'where the button stands once the field is left');
  await log.click();
  await until(async () => must((await json('/api/samples')).rows.length === 1, 'the card in the book'));
  await page.close();
});
await check('a card that waits for the server is not left in the form to be logged again', async () => {
  const page = await b.page(PHONE);
  await b.open(page, '/shelf');
  await page.getByRole('button', { name: 'Log a card' }).click();
  await page.getByLabel('Paint on the card', { exact: true }).selectOption('green');
  await page.getByLabel('What it dried to', { exact: true }).fill('#1f5b3d');
  let open = false;
  await page.route('**/api/samples', (route) => (open || route.request().method() !== 'POST' ? route.continue() : route.abort('connectionrefused')));
  await page.getByRole('button', { name: 'Log the sample' }).click();
  await page.waitForSelector('.unsent li');
  same(await page.getByRole('button', { name: 'Log the sample', disabled: false }).count(), 0, 'ready to be logged again');
  open = true;
  await until(async () => must((await json('/api/samples')).rows.length === 2, 'the card in the book'));
  b.errors = b.errors.filter((e) => !/ERR_CONNECTION_REFUSED|ERR_FAILED/.test(e));
  await page.close();
});
await check('a new piece that is half filled is there after a look at the shelf; it can be begun anew', async () => {
  const page = await b.page(PHONE);
  await b.open(page, '/pieces/new');
  await page.locator('.choices').getByText('nightstand', { exact: true }).click();
  await page.getByLabel('Width', { exact: true }).fill('20');
  await page.getByLabel('Height', { exact: true }).fill('26');
  await page.getByLabel('What to call it', { exact: true }).fill('Stand');
  await page.getByRole('link', { name: 'Shelf' }).first().click();
  await page.waitForURL(/shelf/);
  await page.goBack();
  await page.getByLabel('Width', { exact: true }).waitFor();
  same(await page.getByLabel('Width', { exact: true }).inputValue(), '20 in', 'width');
  same(await page.getByLabel('What to call it', { exact: true }).inputValue(), 'Stand', 'name');
  await page.getByRole('button', { name: 'Begin anew' }).click();
  same(await page.getByLabel('What to call it', { exact: true }).inputValue(), '', 'begun anew');
  await b.open(page, '/pieces/new');
  same(await page.getByRole('button', { name: 'Begin anew' }).count(), 0, 'begun anew, and opened again');
  await page.close();
});
await check('on a phone a test that is chosen in the list is shown where it is answered; the client is offered by name', async () => {
  await post('/api/clients', { name: 'The Lindgrens' });
  const { id } = await post('/api/pieces', { piece: { template: 'dresser', width: '54 in', depth: '20 in', height: '33 in', wood: 'mahogany', finish: 'lacquer', wanted: { color: '#5f7a6c' }, agreement: { purpose: 'client' } } });
  const page = await b.page(PHONE);
  await b.open(page, `/pieces/${id}`);
  const all = page.locator('summary').filter({ hasText: 'All tests, in the order' });
  await all.click();
  await page.getByRole('button', { name: 'Answer: Rag test for bleeding' }).click();
  const title = page.locator('.guide-test h3').filter({ hasText: 'Rag test for bleeding' });
  await title.waitFor();
  await until(async () => {
    const box = await title.boundingBox();
    must(box && box.y > 0 && box.y < 500, 'the test in sight');
  });
  await page.locator('details').filter({ hasText: /^Agreement/ }).locator('summary').click();
  const client = page.getByLabel('Client', { exact: true });
  same(await client.getAttribute('list'), 'clients', 'a list of names');
  same(await page.locator('datalist#clients option').evaluateAll((o) => o.map((x) => x.value)), ['The Lindgrens'], 'names offered');
  same(await b.breaches(page), [], 'what axe finds');
  await page.close();
});
await finish({ server, b });
