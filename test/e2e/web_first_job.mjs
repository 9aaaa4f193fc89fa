// A first job in the browser, from an empty book, phone in hand: a paint named from a picture, a test
// that is skipped and a repair as the record tells them, a pour that the shelf has not, the closing.
//   node web_first_job.mjs PROGRAM WEB_DIR
import { AT, H, W, picture } from './bench_picture.mjs';
import { demo, finish, PHONE } from './browser.mjs';
import { check, must, same, until } from './tally.mjs';

const { server, b, json } = await demo('a first job in the browser', []);
const post = async (path, body) => {
  const r = await server.send('POST', path, body);
  if (!r.ok) throw new Error(`POST ${path}: ${await r.text()}`);
  return r.json();
};
for (const [name, color, stock] of [['White', '#f4f2ec', '1 qt'], ['Pine green', '#20503a', '1 pt']])
  await post('/api/paints', { name, class: 'wb_enamel', color, stock, size: stock });
const { id } = await post('/api/pieces', { piece: { title: 'Flip table', template: 'side_table', width: '20 in', depth: '20 in', height: '24 in', year: 1995, wanted: { color: '#8aa295' }, agreement: { purpose: 'sale', bought: '$15' } } });
const page = await b.page(PHONE);

await check('a color read from a picture, put on the shelf under a name that is taken: said at the name', async () => {
  await b.open(page, '/photo');
  await page.locator('input[type=file]').last().setInputFiles(picture(['#f1efec', '#2f6f74'], [0.86, 0.78, 0.62]));
  await page.waitForSelector('.marks img');
  for (const n of [0, 1]) {
    const r = await page.locator('.marks').boundingBox();
    await page.mouse.click(r.x + (r.width * AT(n).x) / W, r.y + (r.height * AT(n).y) / H);
  }
  await page.getByRole('button', { name: 'Read the color' }).click();
  await page.locator('summary', { hasText: 'Put it on the shelf as a paint' }).click();
  const name = page.getByLabel('Name', { exact: true });
  await name.fill('White');
  await page.getByLabel('What it is', { exact: true }).selectOption('wb_enamel');
  const put = page.getByRole('button', { name: 'Put it on the shelf', exact: true });
  await put.click();
  await page.locator('.field.wrong', { has: name }).getByText('There is a "White" on the shelf already').waitFor();
  await name.fill('Teal');
  same(await page.locator('.field.wrong').count(), 0, 'fields that are wrong, once another name is typed');
  await put.click();
  await b.said(page, 'Teal stands on the shelf');
  same(await name.inputValue(), '', 'the name, ready to be sent again');
});
await check('the record tells a skipped test and a repair in words', async () => {
  await b.open(page, `/pieces/${id}`);
  for (const n of [1, 2]) {
    await page.getByRole('button', { name: 'Skip: stays unknown' }).click();
    await until(async () => same((await json(`/api/pieces/${id}`)).document.tests?.skipped?.length, n, 'skipped'));
    await b.rest(page);
  }
  await page.getByRole('button', { name: 'Something must be repaired' }).click();
  await page.locator('#takedown').getByLabel('What', { exact: true }).selectOption('loose_joint');
  await page.getByRole('button', { name: 'Plan the repair', exact: true }).click();
  const lines = page.locator('#record li.when span:nth-child(2)');
  await until(async () => same(await lines.first().innerText(), 'Repairs: loose joint', 'the newest line'));
  same((await lines.allInnerTexts()).slice(1, 3).map((t) => t.split(':')[0]), ['Tests skipped', 'Tests skipped'], 'what was skipped');
});
await check('more is poured than the shelf has: it is written down, and said by how much', async () => {
  const batch = await post('/api/batches', { name: 'Table green', amount: '8 fl oz', items: [{ paint: 'white', parts: 3 }, { paint: 'pine-green', parts: 1 }] });
  await b.open(page, `/batches/${batch.id}`);
  const amount = page.getByLabel('How much', { exact: true }), pour = page.getByRole('button', { name: 'I poured more in' });
  await amount.fill('4 fl oz');
  await pour.click();
  await b.said(page, 'The shelf is less by it');
  await amount.fill('40 fl oz');
  await pour.click();
  await b.said(page, 'The shelf had 23 fl oz of White; 30 fl oz was poured\\. Count what is left'); // 32 - 6 - 3
  must(!/Pine green/.test(await page.locator('.said').innerText()), 'a paint of which there was enough');
  await page.getByLabel('What', { exact: true }).selectOption('white');
  await amount.fill('1 fl oz');
  await pour.click();
  await b.said(page, 'The shelf had none of White; 1 fl oz was poured');
});
await check('the closing: what is refused is said at its field, nothing typed is lost, an undo opens it again', async () => {
  await b.open(page, `/pieces/${id}`);
  await page.locator('summary', { hasText: 'Close the job with what it really took' }).click();
  const close = page.getByRole('button', { name: 'Close the job', exact: true });
  const used = page.locator('#record fieldset input').first(), hours = page.getByLabel('Hours it took', { exact: true }), price = page.getByLabel('Price paid', { exact: true });
  await used.waitFor();
  const wrong = async (field, text, says) => {
    const was = await field.inputValue();
    await field.fill(text);
    await close.click();
    await page.locator('#record .field.wrong').getByText(says).waitFor();
    await b.cursorIn(field);
    await field.fill(was);
  };
  await hours.fill('5');
  await wrong(price, 'lots', 'Write dollars');
  await price.fill('140');
  await wrong(used, 'a bit', 'Write fluid ounces');
  same([await hours.inputValue(), await price.inputValue()], ['5', '140'], 'what was typed');
  await used.fill('9');
  same(await b.breaches(page), [], 'what axe finds');
  await close.click();
  await b.said(page, '^Closed\\. An hour earned');
  const [came] = (await json(`/api/money/pieces?piece=${id}`)).rows;
  same([came.actual_hours, came.actual_price_cent, came.unbooked_cent], [5, 14000, 14000], 'what it came to');
  must(came.products.some((p) => Math.abs(p.actual_ml - 9 * 29.5735) < 0.1), 'what was used');
  await page.getByRole('button', { name: 'Undo', exact: true }).click();
  await b.said(page, 'Taken back');
  await until(async () => same((await json(`/api/pieces/${id}`)).stage, 'looked_over', 'where it stands'));
  await page.locator('summary', { hasText: 'Close the job with what it really took' }).waitFor();
});
// on purpose: a name that is taken, a price and an amount that are none
await finish({ server, b }, (e) => /status of 400 .*\/(paints|close)$/.test(e));
