// What comes late, twice or out of order, and forms that are typed in meanwhile: no word is lost, none
// is overwritten by an older one, and the keyboard stays where it was.
//   node web_late.mjs PROGRAM WEB_DIR
import { demo, finish, PHONE } from './browser.mjs';
import { check as named, must, same, until } from './tally.mjs';

const only = new RegExp(process.argv[4] ?? '.');
const { server, b, json } = await demo('what comes late');
// a browser has six connections to one server, and every open page holds one
const check = async (name, run) => { if (!only.test(name)) return; await named(name, run); await b.closePages(); };
const patched = (page) => page.waitForResponse((r) => r.request().method() === 'PATCH');
const held = async (page, url, method = 'PATCH') => {
  let go, wait = new Promise((resolve) => { go = resolve; });
  await page.route(url, async (r) => {
    if (r.request().method() === method) await wait;
    await r.continue().catch(() => undefined);
  });
  return () => { go(); wait = undefined; };
};
const focused = (page) => page.evaluate(() => document.activeElement.getAttribute('aria-label') ?? document.activeElement.innerText ?? '');

await check('what waits to be sent goes before what is written later', async () => {
  const { id } = await (await server.send('POST', '/api/clients', { name: 'Rowe', phone: '1' })).json(), page = await b.page();
  let cut = true;
  await page.route('**/api/clients/*', (r) => (r.request().method() === 'PATCH' && cut ? r.abort() : r.continue()));
  await b.open(page, `/clients/${id}`);
  for (const phone of ['22', '333']) {
    await page.getByLabel('Phone', { exact: true }).fill(phone);
    await page.getByRole('button', { name: 'Keep the changes' }).click();
    if (cut) await page.waitForSelector('.unsent li');
    cut = false;
  }
  await b.said(page, 'Written down');
  await page.waitForFunction(() => !document.querySelector('.unsent li'));
  same((await json(`/api/clients/${id}`)).phone, '333', 'the phone number in the book');
});
await check('an answer that breaks off in the middle: sent again, done once', async () => {
  const page = await b.page();
  let broken = 0;
  await page.route('**/api/clients', async (r) => {
    if (r.request().method() !== 'POST' || broken++) return r.continue();
    await r.fetch();
    return r.fulfill({ status: 201, contentType: 'application/json', body: '{"id":"ha' });
  });
  await b.open(page, '/clients');
  await page.getByRole('button', { name: 'New client' }).click();
  await page.getByLabel('Name', { exact: true }).fill('Half told');
  await page.getByRole('button', { name: 'Write them down' }).click();
  await page.getByRole('button', { name: 'Send now' }).click();
  await page.waitForFunction(() => !document.querySelector('.unsent li'));
  same((await json('/api/clients')).rows.filter((c) => c.name === 'Half told').length, 1, 'clients of that name');
});
await check('a window that nobody sees gives its connection back, and reads what it missed when it is seen', async () => {
  const page = await b.page(), ended = page.waitForEvent('requestfailed', (r) => r.url().endsWith('/api/events'));
  const see = (yes) => page.evaluate((v) => {
    Object.defineProperty(document, 'hidden', { value: !v, configurable: true });
    document.dispatchEvent(new Event('visibilitychange'));
  }, yes);
  await b.open(page, '/clients');
  await see(false);
  await ended;
  await server.send('POST', '/api/clients', { name: 'Came meanwhile' });
  await see(true);
  await page.getByRole('link', { name: 'Came meanwhile' }).waitFor();
});
await check('two things written down one after the other, before the page has read the first: both stand', async () => {
  const page = await b.page(PHONE), of = async () => (await json('/api/pieces/desk')).document, was = await of();
  await b.open(page, '/pieces/desk');
  const go = await held(page, '**/api/pieces/desk', 'GET'); // what the page reads again comes late
  const repair = async (kind) => {
    await page.getByRole('button', { name: 'Something must be repaired' }).click();
    await page.locator('#takedown').getByLabel('What', { exact: true }).selectOption(kind);
    await page.getByRole('button', { name: 'Plan the repair', exact: true }).click();
    await b.said(page, 'Repair written down');
    await page.getByRole('button', { name: 'Something must be repaired' }).waitFor();
  };
  for (const kind of ['split_top', 'loose_joint']) await repair(kind);
  same(((await of()).repairs ?? []).slice((was.repairs ?? []).length).map((r) => r.kind), ['split_top', 'loose_joint'], 'repairs');
  // both taken out at once: the second goes on from what the first came to
  const out = page.locator('#takedown li.when').getByRole('button', { name: 'Take out' }), n = await out.count();
  await page.evaluate((k) => [...document.querySelectorAll('#takedown li.when button')].slice(k - 2).forEach((x) => x.click()), n);
  await until(async () => same((await of()).repairs, was.repairs, 'repairs in the end'));
  go();
});
await check('what the next card reads is typed while the pour is still being read again: it stays', async () => {
  const mixed = await server.send('POST', '/api/batches', { name: 'Late', target: '#1c6a70', amount: '13 fl oz', items: [{ paint: 'sea-blue', parts: 5 }, { paint: 'pine-green', parts: 3 }, { paint: 'left-cream', parts: 8 }] });
  const { id } = await mixed.json(), page = await b.page(), field = page.getByLabel('What it dried to', { exact: true });
  await b.open(page, `/batches/${id}?dried=${encodeURIComponent('lab(43 -20 -12)')}`);
  await page.getByRole('button', { name: 'How to correct it' }).click();
  await page.getByRole('button', { name: 'I poured it in' }).waitFor();
  await b.rest(page);
  const go = await held(page, `**/api/batches/${id}`, 'GET');
  await page.getByRole('button', { name: 'I poured it in' }).click();
  await page.waitForFunction(() => !document.querySelector('.way'));
  same(await field.inputValue(), '', 'the field after the pour');
  await field.fill('lab(40 -19 -11)');
  const read = page.waitForResponse((r) => r.url().endsWith(`/api/batches/${id}`));
  go();
  await read;
  await b.rest(page);
  same(await field.inputValue(), 'lab(40 -19 -11)', 'what was typed');
  must(await page.getByRole('button', { name: 'How to correct it' }).isEnabled(), 'it cannot be corrected again');
});
await check('a search that is no longer wanted is given up: the next does not wait for it', async () => {
  const page = await b.page();
  await b.open(page, '/color');
  const target = page.getByLabel('Color wanted', { exact: true });
  await page.route('**/api/recipes', (r) => (/7d6a8a/.test(r.request().postData()) ? undefined : r.continue())); // never answered
  const asked = page.waitForRequest('**/api/recipes'), stopped = page.waitForEvent('requestfailed', (r) => r.url().endsWith('/api/recipes'));
  await target.fill('#7d6a8a');
  await target.press('Tab');
  await asked;
  await target.fill('#445566');
  await target.press('Tab');
  await stopped;
  await page.waitForSelector('#recipes .rc .r b');
});
await check('where a figure comes from is asked again when no answer came', async () => {
  for (const [path, figure, why] of [['/pieces/chest', '.block.title .fig', '**/plan?why=1*'], ['/money', '.rows .fig', '**/api/money/open?why=true']]) {
    const page = await b.page(), one = page.locator(figure).first();
    await b.open(page, path);
    await page.route(why, (r) => r.abort());
    await one.click();
    await page.getByText('No basis was kept for this figure.').waitFor();
    await page.unroute(why);
    await one.click();
    await one.click();
    await page.locator('.basis dl').waitFor();
  }
});
await check('a client: what another window wrote meanwhile is not written over', async () => {
  const { id } = await (await server.send('POST', '/api/clients', { name: 'Pell', phone: '1', email: 'p@example.org' })).json(), page = await b.page();
  await page.addInitScript(() => { delete globalThis.EventSource; }); // so that it does not learn of it
  await b.open(page, `/clients/${id}`);
  await server.send('PATCH', `/api/clients/${id}`, { phone: '2' });
  await page.getByLabel('Note', { exact: true }).fill('rings first');
  await page.getByLabel('Mail', { exact: true }).fill('');
  await page.getByRole('button', { name: 'Keep the changes' }).click();
  await b.said(page, 'Written down');
  const { phone, note, email } = await json(`/api/clients/${id}`);
  same([phone, note, email], ['2', 'rings first', undefined], 'phone, note, mail');
});
await check('a supply: a bare price is dollars, a note that was emptied is gone, a refusal stands at its field', async () => {
  const page = await b.page(), row = async () => (await json('/api/supplies')).rows.find((s) => s.name === 'Green tape');
  await b.open(page, '/shelf');
  await page.getByText('Another supply').click();
  await page.getByLabel('Name of the supply').fill('Green tape');
  await page.getByLabel('One costs').fill('much');
  const form = page.locator('details', { hasText: 'Another supply' });
  await form.getByLabel('Note', { exact: true }).fill('wide');
  await page.getByRole('button', { name: 'Keep it' }).click();
  await form.locator('.field.wrong', { hasText: 'One costs' }).waitFor();
  await page.getByLabel('One costs').fill('5');
  await page.getByRole('button', { name: 'Keep it' }).click();
  await b.said(page, 'kept from now on');
  same([(await row()).cost_cent, (await row()).note], [500, 'wide'], 'cost and note');
  const own = page.locator('li', { has: page.getByRole('button', { name: 'Stock of Green tape' }) });
  await own.getByRole('button', { name: /^Stock/ }).click();
  await own.getByText('Put it right').first().click();
  const note = own.getByLabel('Note', { exact: true }).last();
  await until(async () => same(await note.inputValue(), 'wide', 'the note in the form'));
  await note.fill('');
  await own.getByRole('button', { name: 'Put it right' }).click();
  await b.said(page, 'is put right');
  same([(await row()).cost_cent, (await row()).note], [500, undefined], 'cost and note');
});
await check('people: what is typed while the last word is under way stays, and all of it is kept', async () => {
  const page = await b.page(), people = page.locator('section.stage', { has: page.getByRole('heading', { name: 'People' }) }), ida = people.locator('fieldset.member').first();
  await b.open(page, '/shop');
  await people.getByLabel('Name', { exact: true }).last().fill('Ida');
  await people.getByRole('button', { name: 'Add a person' }).click();
  await ida.waitFor();
  const go = await held(page, '**/api/shop');
  await ida.getByLabel('Name', { exact: true }).fill('Ida M');
  await page.keyboard.press('Tab');
  await ida.getByLabel('Off on').fill('2027-12-24');
  await ida.getByRole('button', { name: 'Keep the days off' }).press('Enter'); // the name is not answered yet
  await ida.getByText('Hours: the shop’s').click();
  await ida.getByLabel('Monday').fill('9:00 am');
  const first = patched(page);
  go();
  await first;
  await ida.getByRole('button', { name: /^Take out.*Dec 24/ }).waitFor();
  await b.rest(page);
  await ida.getByLabel('Monday').pressSequentially(' - 1:00 pm');
  same(await ida.getByLabel('Monday').inputValue(), '9:00 am - 1:00 pm', 'what was typed');
  await ida.getByRole('button', { name: 'Keep the hours' }).click();
  await ida.getByText('Own hours').waitFor();
  await b.rest(page);
  same((await json('/api/shop')).document.crew, [{ id: 'ida', name: 'Ida M', days_off: ['2027-12-24'], hours: [{ day: 'mon', open: '9:00 am', close: '1:00 pm' }] }], 'people in the book');
  await people.getByRole('button', { name: /^Take out.*Ida M/ }).click();
  await ida.waitFor({ state: 'detached' });
});
await check('the shop: a pressed button keeps the keyboard, half typed hours stay', async () => {
  const page = await b.page(), booth = page.getByRole('group', { name: 'A booth for sprayed coats', exact: true }).getByRole('button', { name: 'Yes', exact: true });
  await b.open(page, '/shop');
  await page.getByLabel('Monday').first().fill('9:00');
  await booth.focus();
  await page.keyboard.press('Enter');
  await b.said(page, 'booth');
  await b.rest(page);
  same([await focused(page), await booth.getAttribute('aria-pressed')], ['Yes', 'true'], 'where the keyboard is');
  same(await page.getByLabel('Monday').first().inputValue(), '9:00', 'what was typed');
  const keep = page.getByRole('button', { name: 'Keep the hours' }).first();
  await page.getByLabel('Monday').first().fill('9 am - 1 pm');
  await keep.press('Enter');
  await b.said(page, 'Hours');
  await b.rest(page);
  same(await focused(page), 'Keep the hours', 'where the keyboard is');
});
await check('words of a listing that were changed stay when the book moves', async () => {
  const page = await b.page();
  await b.open(page, '/pieces/chest');
  await page.getByText('Words and pictures for a listing').click();
  const words = page.locator('textarea.listing'), read = page.waitForResponse((r) => /\/listing/.test(r.url()) && r.ok());
  await words.fill('My own words');
  await read; // of the first
  const again = page.waitForResponse((r) => /\/listing/.test(r.url()));
  await server.send('POST', '/api/clients', { name: 'Elsewhere' });
  await again;
  await b.rest(page);
  same(await words.inputValue(), 'My own words', 'the words');
});
await check('a number of parts that was emptied leaves no part out', async () => {
  const page = await b.page();
  await b.open(page, '/pieces/chest');
  await page.getByText('All parts').click();
  const list = page.locator('details', { has: page.getByText('All parts', { exact: true }) }), top = list.getByRole('button').first();
  await top.click();
  const many = page.locator('.part-edit').getByLabel('How many', { exact: true }), was = await many.inputValue();
  await many.fill('');
  await many.press('Tab');
  same([await many.inputValue(), (await json('/api/pieces/chest')).document.parts], [was, undefined], 'number and parts');
  await page.keyboard.press('Escape');
  await page.locator('.part-edit').waitFor({ state: 'detached' });
  same(await focused(page), await top.innerText(), 'where the keyboard is');
});
await check('a form that opens in place takes the keyboard, and gives it back', async () => {
  const page = await b.page(), ask = 'It must wait for something';
  await b.open(page, '/pieces/desk');
  await page.getByRole('button', { name: ask }).press('Enter');
  await page.waitForFunction(() => document.activeElement.tagName === 'SELECT');
  await page.getByRole('button', { name: 'Leave it', exact: true }).press('Enter');
  await page.getByRole('button', { name: ask }).waitFor();
  same(await focused(page), ask, 'after it was left');
  await b.open(page, '/shelf');
  const stock = page.getByRole('button', { name: /^Stock of/ }).first();
  await stock.press('Enter');
  await page.keyboard.press('Tab');
  await page.keyboard.press('Escape');
  await page.locator('.part-edit').waitFor({ state: 'detached' });
  same(await focused(page), await stock.innerText(), 'after Escape');
});
await check('what waits on Today leads to the days of its piece', async () => {
  const page = await b.page(PHONE);
  await b.open(page, '/today');
  await page.locator('a[href$="#days"]').first().click();
  await page.waitForFunction(() => {
    const top = document.getElementById('days')?.getBoundingClientRect().top;
    return top > -100 && top < innerHeight / 2;
  });
  must(page.url().endsWith('#days'), page.url());
});
await finish({ server, b }, (e) => /ERR_FAILED|ERR_ABORTED|400 \(Bad Request\)/.test(e));
