// The forms in the hands of somebody who types what comes to mind: what is refused is said in the
// words of the page, beside its field, and what was typed is still there.
//   node web_forms.mjs PROGRAM WEB_DIR
import { demo, finish, PHONE } from './browser.mjs';
import { check, must, same, until } from './tally.mjs';

const all = await demo('forms in the browser'), { server, b, json } = all;
const said = (page) => page.locator('.said').innerText();
const wrong = (page) => page.locator('.field.wrong label').allInnerTexts();
const button = (page, name) => page.getByRole('button', { name, exact: true });
const field = (page, name) => page.getByLabel(name, { exact: true });
// What a member is called is for programs: none of these words may reach a person.
const MEMBERS = /\b(null|holds:|amount:|dried:|open:|close:|can_of|wb_|\/[a-z])/i;

// Each wrong text in turn: the field is marked, keeps what was typed, and the sentence is a person's.
async function refused(page, label, texts, press) {
  for (const text of texts) {
    await field(page, label).fill(text);
    const answer = page.waitForResponse((r) => !r.ok());
    await (press ? button(page, press).click() : field(page, label).blur());
    await answer;
    await page.waitForFunction((l) => [...document.querySelectorAll('.field.wrong label')].some((x) => x.innerText === l), label);
    same(await field(page, label).inputValue(), text, `what was typed into ${label}`);
    const line = await said(page);
    must(!MEMBERS.test(line), `${label} "${text}": ${line}`);
  }
}

await check('the shop: numbers, hours and days off', async () => {
  const page = await b.page(PHONE);
  await b.open(page, '/shop');
  await refused(page, 'People who work', ['two', '-1', '1.5']);
  must(/whole number|range/.test(await said(page)), await said(page));
  await field(page, 'People who work').fill('1');
  await field(page, 'People who work').blur();
  await refused(page, 'Deposit', ['half', '$100', '110 %']);
  await field(page, 'Deposit').fill('40');
  await field(page, 'Deposit').blur();
  await page.waitForFunction(() => /Deposit\. Plans follow/.test(document.querySelector('.said').innerText));
  same((await json('/api/shop')).document.deposit, '40 %', 'a bare number of the deposit');
  await refused(page, 'Monday', ['late - 5 pm', '8 - 12', '8 am'], 'Keep the hours');
  must(/^Monday: A time of day is missing/.test(await said(page)), await said(page));
  await field(page, 'Monday').fill('8 am - noon; 1 pm to 5 pm');
  await field(page, 'Tuesday').fill('closed');
  await button(page, 'Keep the hours').click();
  await page.waitForFunction(() => /Hours\. Plans follow/.test(document.querySelector('.said').innerText));
  const hours = (await json('/api/shop')).shop.hours;
  same([hours.filter((h) => h.day === 'mon').map((h) => [h.open_min, h.close_min]), hours.filter((h) => h.day === 'tue')], [[[480, 720], [780, 1020]], []], 'hours');
  await field(page, 'Off on').fill('2030-12-28');
  await field(page, 'Until, if longer').fill('2030-12-20');
  await button(page, 'Keep the days off').click();
  same(await wrong(page), ['Until, if longer'], 'a last day before the first');
  await field(page, 'Until, if longer').fill('2031-01-02');
  await button(page, 'Keep the days off').click();
  await page.getByText('6 days').waitFor();
  same((await json('/api/shop')).document.days_off, [28, 29, 30, 31].map((d) => `2030-12-${d}`).concat('2031-01-01', '2031-01-02'), 'days off');
  same(await b.breaches(page), [], 'what axe finds');
  await page.locator('[aria-label="Days off"]').getByRole('button', { name: /^Take out/ }).click();
  await page.waitForFunction(() => !/6 days/.test(document.querySelector('main').innerText));
  await page.close();
});
await check('an example stands below a field only while it is empty', async () => {
  const page = await b.page(PHONE), below = () => page.locator('.field', { has: field(page, 'Floor to dry on') }).locator('small');
  await b.open(page, '/shop');
  same(await below().count(), 0, 'below a filled field');
  await field(page, 'Floor to dry on').fill('');
  same(await below().innerText(), '60 ft2', 'below an empty one');
  await page.close();
});
await check("the browser's own marks in fields go by the ground that was chosen, not by the machine's", async () => {
  const page = await b.page(PHONE), scheme = () => page.evaluate(() => getComputedStyle(document.documentElement).colorScheme);
  await page.emulateMedia({ colorScheme: 'dark' });
  await b.open(page, '/shop');
  same(await scheme(), 'light', 'on the light ground');
  await page.getByRole('group', { name: 'Ground' }).getByRole('button', { name: 'Dark' }).click();
  same(await scheme(), 'dark', 'on the dark ground');
  await page.getByRole('group', { name: 'Ground' }).getByRole('button', { name: 'Light' }).click();
  await page.close();
});
await check('how fine it is measured: the example is one of the measure that the shop has', async () => {
  const page = await b.page(PHONE), step = page.getByLabel('Smallest step it shows', { exact: true });
  await server.send('PATCH', '/api/shop', { shop: { measure: 'gram' } });
  await b.open(page, '/color?target=%231d585f');
  same(await step.getAttribute('placeholder'), '1 g', 'as the shop does');
  await field(page, 'Measured with').selectOption('tsp');
  same(await step.getAttribute('placeholder'), '1/4 tsp', 'with spoons');
  await field(page, 'Measured with').selectOption('');
  await server.send('PATCH', '/api/shop', { shop: { measure: null } });
  await page.evaluate(() => localStorage.clear());
  await page.close();
});
await check('somebody who works here: own hours by the day', async () => {
  const page = await b.page(PHONE);
  await server.send('PATCH', '/api/shop', { shop: { crew: [{ id: 'helper', name: 'The helper' }] } });
  await b.open(page, '/shop');
  await page.getByText('Hours: the shop’s').click();
  const own = page.locator('.member'), keep = own.getByRole('button', { name: 'Keep the hours' });
  await own.getByLabel('Tuesday').fill('mornings');
  await keep.click();
  await own.locator('.wrong').waitFor();
  must(/^Tuesday: "mornings" is not a time of day/.test(await said(page)), await said(page));
  await own.getByLabel('Tuesday').fill('9 am - 1 pm');
  await keep.click();
  await page.getByText('Own hours').waitFor();
  same((await json('/api/shop')).document.crew[0].hours, [{ day: 'tue', open: '9 am', close: '1 pm' }], 'hours of one');
  await server.send('PATCH', '/api/shop', { shop: { crew: null } });
  await page.close();
});
await check('a client and money, half written: a reload loses nothing; wrong is said at its field', async () => {
  const page = await b.page(PHONE);
  await b.open(page, '/clients');
  await button(page, 'New client').click();
  await field(page, 'Name').fill('Mrs. Lane');
  await field(page, 'Phone').fill('(555) 010-0142');
  await page.reload();
  same(await field(page, 'Phone').inputValue(), '(555) 010-0142', 'the phone after a reload');
  await button(page, 'Write them down').click();
  await page.waitForURL(/\/clients\/mrs-lane$/);
  same(await page.locator('.reach a').getAttribute('href'), 'tel:5550100142', 'a number that can be called');
  await b.open(page, '/money');
  await button(page, 'In or out').click();
  await refused(page, 'How much', ['a hundred', '0', '$0.00', '30 bucks'], 'Write it down');
  await page.reload();
  same(await field(page, 'How much').inputValue(), '30 bucks', 'the amount after a reload');
  await field(page, 'What for').selectOption('mileage');
  await field(page, 'How much').fill('');
  await refused(page, 'How far', ['far', '3 parsecs'], 'Write it down');
  must(/Write miles or kilometers: 24 mi, 40 km\.$/.test((await said(page)).replace(/\s*Close$/, '')), await said(page));
  await field(page, 'How far').fill('24');
  await button(page, 'Write it down').click();
  await until(async () => must((await json('/api/money')).rows.length, 'the way is in the book'));
  const [row] = (await json('/api/money')).rows;
  same([row.kind, row.amount_cent, Math.round(row.distance_m)], ['mileage', 0, 38624], 'a way without money');
  same(await b.breaches(page), [], 'what axe finds');
  await page.close();
});
await check('a can: what is left, what was spilled, what a supply counts', async () => {
  const page = await b.page(PHONE), of = (name) => page.getByRole('button', { name: `Stock of ${name}`, exact: true });
  await b.open(page, '/shelf');
  await of('Masking tape, 1 in').click();
  await button(page, 'Used').click();
  await refused(page, 'How many', ['two', '-1', '3 rolls'], 'Write it down');
  await page.getByRole('group', { name: 'Stock of Masking tape, 1 in' }).getByRole('button', { name: 'Close' }).click();
  await of('White').click();
  await refused(page, 'How much is there', ['half a can', '26 oz'], 'Write it down');
  await button(page, 'Thrown out').click();
  await field(page, 'How much').fill('2');
  await page.getByRole('group', { name: 'Stock of White' }).getByLabel('Note').fill('tipped over');
  await button(page, 'Write it down').click();
  await page.waitForFunction(() => /White: thrown out, 2/.test(document.querySelector('.said').innerText));
  const [last] = (await json('/api/paints/white/stock')).rows;
  same([last.kind, Math.round(last.amount_ml), last.note], ['thrown', -59, 'tipped over'], 'what was written down');
  await button(page, 'Put a can on it').click();
  await field(page, 'Name').fill('White');
  await button(page, 'Put it on the shelf').click();
  await page.waitForFunction(() => document.querySelector('.field.wrong'));
  must(!MEMBERS.test(await said(page)), await said(page));
  await b.cursorIn(field(page, 'Name'));
  await page.close();
});
await check('a task and a new piece: what cannot be read is marked, nothing else is lost', async () => {
  const page = await b.page(PHONE);
  await b.open(page, '/today');
  const tops = await page.locator('.task-acts').first().locator('> .acts > .btn').evaluateAll((all) => all.map((e) => Math.round(e.getBoundingClientRect().top)));
  same([tops.length, new Set(tops).size], [5, 3], 'buttons of a task, and lines they stand in');
  await button(page, 'Took longer or shorter').click();
  await field(page, 'How long it took').fill('ages');
  await page.locator('.took').getByRole('button', { name: 'Done' }).click();
  await page.locator('.field.wrong', { hasText: 'How long it took' }).waitFor();
  same(await field(page, 'How long it took').inputValue(), 'ages', 'what was typed');
  must(/^How long it took: "ages"/.test(await said(page)), await said(page));
  await b.open(page, '/pieces/new');
  await page.locator('.choices button').first().click();
  await field(page, 'Width').fill('36');
  await field(page, 'Height').fill('42 in');
  await field(page, 'Made about').fill('before the war');
  await field(page, 'Color wanted').fill('greenish');
  await field(page, 'Color wanted').blur();
  await page.locator('.field.wrong').first().waitFor();
  await field(page, 'Made about').fill('1938');
  await button(page, 'Put it in the book').click();
  await page.locator('.field.wrong', { hasText: 'Color wanted' }).waitFor();
  same([await field(page, 'Color wanted').inputValue(), await field(page, 'Width').inputValue()], ['greenish', '36 in'], 'what was typed');
  await button(page, 'Begin anew').click();
  await page.close();
});
await finish(all, (e) => /status of (400|404|409|422)/.test(e));
