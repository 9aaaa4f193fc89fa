// The trade in the browser on a real book, phone in hand: worth buying, guided inspection, help at a
// step with cautions to acknowledge, quote and agreement, handing over; papers on letter and A4.
//   node web_trade.mjs PROGRAM WEB_DIR
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { demo, finish, PHONE, textOfPdf } from './browser.mjs';
import { check, must, same, until } from './tally.mjs';

const { dir, book, server, b, json } = await demo('the trade in the browser');
await check('a repair, a cane opening, a measured gap and an effect are said on the sheet, planned, and taken out', async () => {
  const page = await b.page(PHONE), of = async () => (await json('/api/pieces/desk')).document, was = await of();
  await b.open(page, '/pieces/desk');
  const form = async (section, add, fields, keep) => {
    await page.getByRole('button', { name: add }).click();
    for (const [label, value] of Object.entries(fields)) {
      const field = page.locator(`#${section}`).getByLabel(label, { exact: true });
      if ((await field.evaluate((e) => e.tagName)) === 'SELECT') await field.selectOption(value);
      else await field.fill(value);
    }
    await page.getByRole('button', { name: keep, exact: true }).click();
    await page.getByRole('button', { name: add }).waitFor();
  };
  await form('takedown', 'Something must be repaired', { What: 'split_top', Where: 'top', 'How many': '2', Note: 'along the glue line' }, 'Plan the repair');
  await page.getByText('split top, top, 2 of them, along the glue line').waitFor();
  await form('fittings', 'An opening is filled: cane, fabric, glass', { With: 'cane', 'Width of the opening': '12 in', 'Height of the opening': '10 in', 'Held by': 'spline' }, 'Plan the filling');
  await form('fittings', 'A gap was measured', { 'Beside which part': 'top', 'Gap on a side': '1/8 in' }, 'Keep the gap');
  await page.getByText('Effects: none').click();
  await page.getByLabel('Distress', { exact: false }).first().check();
  await page.locator('#coats summary', { hasText: /^Effects: .*[Dd]istress/ }).waitFor(); /* the choices below say it too, at once */
  const doc = await of(), { pieces } = await json('/api/pieces/desk/plan');
  same(doc.repairs.at(-1), { kind: 'split_top', part: 'top', count: 2, note: 'along the glue line' }, 'repair');
  same(doc.fittings.panels.at(-1), { kind: 'cane', width: '12 in', height: '10 in', hold: 'spline', id: 'opening-1' }, 'opening');
  same([doc.fittings.slides.at(-1), doc.wanted.effects], [{ part: 'top', gap: '1/8 in' }, ['distress']], 'gap, effect');
  must(pieces[0].repairs.some((r) => /^Repair: Split top/.test(r.text)) && pieces[0].fittings.some((l) => l.id === 'spline'), 'not planned');
  await page.getByLabel('Distress', { exact: false }).first().uncheck();
  await page.getByText('Effects: none').waitFor();
  for (const section of ['takedown', 'fittings', 'fittings']) {
    const lines = page.locator(`#${section} li.when`), n = await lines.count();
    await lines.last().getByRole('button', { name: 'Take out' }).click();
    await page.waitForFunction(([id, most]) => document.querySelectorAll(`#${id} li.when`).length < most, [section, n]);
  }
  const now = await of();
  same([now.repairs, now.fittings?.panels, now.fittings?.slides, now.wanted.effects], [was.repairs, was.fittings?.panels, was.fittings?.slides, was.wanted.effects], 'taken out');
  same(await b.breaches(page), [], 'what axe finds');
  await page.close();
});
await check('a part is put right: its height in its shape’s own words, its faces, that it is fiberboard; and as it was at first', async () => {
  const page = await b.page(), part = async () => ((await json('/api/pieces/chest')).document.parts ?? []).find((p) => p.id === 'drawer_front');
  await b.open(page, '/pieces/chest');
  await page.getByRole('button', { name: /^drawer fronts/i }).first().click();
  const edit = page.locator('.part-edit');
  await edit.getByText('Its sizes and what it is made of').click();
  const height = edit.getByLabel('Height', { exact: true });
  await height.fill('6 parsecs');
  await height.press('Tab');
  await edit.getByText('"6 parsecs" has no unit I know.').waitFor();
  await height.fill('6');
  await height.press('Tab');
  await until(async () => same((await part())?.b, '6 in', 'height'));
  await edit.getByRole('button', { name: 'Bottom', exact: true }).click();
  await until(async () => same((await part())?.faces, 'flrt', 'faces'));
  await edit.getByLabel('What it is made of').selectOption('mdf');
  await until(async () => same((await part())?.material, 'mdf', 'material'));
  await edit.getByRole('button', { name: 'As it was at first' }).click();
  await until(async () => same(await part(), undefined, 'part'));
  await page.close();
});

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
  await page.reload();
  await page.waitForFunction(() => /Take it\./.test(document.querySelector('.worth-head')?.innerText ?? ''));
  same(await page.getByLabel('Asked for it', { exact: true }).inputValue(), '25', 'what was asked, after a reload');
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
  await b.said(page, 'Taken back');
  await page.waitForFunction(() => document.querySelector('.guide-test h3')?.textContent === 'Live insects');
  await page.getByRole('button', { name: 'Skip: stays unknown' }).click();
  await page.waitForFunction(() => document.querySelector('.guide-test h3')?.textContent === 'Mold');
  must(/Nothing in the plan has changed/.test(await page.locator('.guide').innerText()), 'a skip changed the plan');
  same((await json('/api/pieces/nightstands')).document.tests.skipped, ['pests'], 'what is in the book');
  // typed at once, while the page still takes over what the skip brought
  await page.locator('.guide summary').click();
  await page.getByRole('button', { name: 'Answer: Moisture' }).click();
  const field = page.getByLabel('Reading, the middle one of three');
  await field.pressSequentially('14 %', { delay: 60 });
  await field.press('Tab');
  await page.waitForFunction(() => /Coat nothing yet/.test(document.querySelector('.changed')?.textContent ?? ''));
  same(await b.breaches(page), [], 'what axe finds');
  await page.close();
});

await check('help at a step: a caution is read before the first such step and kept; a defect is told by its look', async () => {
  const page = await b.page(PHONE);
  for (let n = 0; n < 40; n++) { /* each thing done lays the rest out again */
    const left = (await json('/api/days')).tasks.filter((t) => t.state !== 'done');
    if (left.findIndex((t) => t.operation === 'dewax') <= 0) break;
    const r = await server.send('POST', `/api/tasks/${left[0].id}/done`, { took: '10 min' });
    if (r.ok) continue;
    const { error } = await r.json(), about = /--about (\w+)/.exec(error.text)?.[1]; /* a test board with shellac asks too */
    must(error.field === '/cautions' && about, error.text);
    must((await server.send('POST', `/api/pieces/${left[0].piece}/accepted`, { kind: 'caution', about })).ok, `${about} cannot be read`);
  }
  await b.open(page, '/days');
  await page.getByRole('button', { name: /^Say how it went.*Take off wax/ }).first().click();
  await page.getByRole('button', { name: 'Done', exact: true }).first().click();
  await page.waitForSelector('.step-help .warns');
  must(/Lay the cloths/.test(await page.locator('.step-help .warns').innerText()), 'the caution is not said');
  same(await b.breaches(page), [], 'what axe finds');
  await page.getByRole('button', { name: 'I have read it: go on' }).click();
  await b.said(page, '^Done: ');
  const kept = (await Promise.all(['chest', 'nightstands', 'desk'].map((id) => json(`/api/pieces/${id}/accepted?kind=caution`)))).flatMap((a) => a.rows);
  must(kept.length > 0 && kept.every((r) => r.at_utc_min > 0 && r.text), 'what was read is not kept with its date');
  await b.open(page, '/pieces/nightstands');
  await page.locator('#coats .step-more summary').nth(5).scrollIntoViewIfNeeded();
  const fold = page.locator('#coats .step', { hasText: 'Color coat' }).first();
  await fold.locator('summary').click();
  await page.locator('.step-help button', { hasText: 'Curtains on upright faces' }).click();
  must(/Too thick/.test(await page.locator('.help-defect').innerText()), 'the cause is not said');
  await page.close();
});
await check('a gate: nothing that makes dust is begun on old paint before the laboratory has answered', async () => {
  const { days } = await json('/api/pieces/chest/plan'), scuff = days.rows.find((t) => t.piece === 'chest' && t.operation === 'scuff_veneer' || t.piece === 'chest' && t.operation === 'scuff');
  const r = await server.send('POST', `/api/tasks/${scuff.id}/start`, {});
  same([r.status, (await r.json()).error.field], [422, '/gate'], 'the answer');
});

await check('the section through the coats: wax that is taken off is no layer, a film that is scuffed is', async () => {
  const page = await b.page(PHONE), key = async (finish) => {
    const r = await server.send('POST', '/api/pieces', { piece: { template: 'stool', width: '14 in', height: '24 in', year: 1995, finish, wanted: { color: '#446677' } } });
    const { id } = await r.json();
    await b.open(page, `/pieces/${id}`);
    return page.locator('.film-key').innerText();
  };
  must(/lacquer,\s+stays/.test(await key('lacquer')), 'a film that stays is not drawn');
  must(!/stays/.test(await key('wax')), 'wax stays under the color');
  await page.close();
});

await check('on the job sheet a group stays with its steps, and nothing to fit has no heading', async () => {
  const page = await b.page(), r = await server.send('POST', '/api/pieces', { piece: { title: 'Table on paper', template: 'dining_table', width: '72 in', depth: '38 in', height: '30 in', year: 1995, finish: 'lacquer', wanted: { color: '#446677', top: 'natural' } } });
  const { id } = await r.json();
  await page.addInitScript(() => { window.print = () => undefined; });
  await b.open(page, `/pieces/${id}`);
  await page.getByRole('button', { name: 'Print the sheet', exact: true }).click();
  await page.waitForSelector('.paper-sheet', { state: 'attached' });
  await page.emulateMedia({ media: 'print' });
  const heads = await page.locator('.paper-sheet h2').allInnerTexts();
  must(heads.includes('Amounts') && !heads.includes('Fittings'), `headings: ${heads}`);
  const breaks = await page.locator('.p-steps section > header').evaluateAll((l) => l.map((x) => [getComputedStyle(x).breakAfter, getComputedStyle(x).display].join()));
  must(breaks.length > 1 && breaks.every((x) => x === 'avoid,table-header-group'), `after a group's name: ${breaks}`);
  await page.close();
});
await check('what a piece was bought for goes into the books in one tap', async () => {
  const page = await b.page(PHONE), r = await server.send('POST', '/api/pieces', { piece: { title: 'Bought stool', template: 'stool', width: '14 in', height: '24 in', year: 1995, finish: 'lacquer', wanted: { color: '#446677' }, agreement: { purpose: 'sale', bought: '$12.50', asking: '$90' } } });
  const { id } = await r.json();
  await b.open(page, `/pieces/${id}`);
  await page.getByRole('button', { name: /^Write \$12\.50, what it was bought for/ }).click();
  await b.said(page, 'In the books');
  same((await json(`/api/money?piece=${id}`)).rows.map((m) => [m.kind, m.amount_cent]), [['purchase', -1250]], 'the entry');
  await page.waitForFunction(() => ![...document.querySelectorAll('button')].some((x) => /what it was bought for/.test(x.textContent)));
  await page.close();
});
await check('a primer and a clear are chosen among their own kind, and no clear may be wished', async () => {
  const page = await b.page(PHONE), r = await server.send('POST', '/api/pieces', { piece: { title: 'Stool to choose for', template: 'stool', width: '14 in', height: '24 in', year: 1995, finish: 'lacquer', wanted: { color: '#446677' } } });
  const { id } = await r.json();
  await b.open(page, `/pieces/${id}`);
  await page.locator('.lookover summary', { hasText: 'What is wanted' }).click();
  const own = async (label) => page.getByLabel(label, { exact: true }).evaluate((s) => [...s.options].map((o) => o.value));
  const clears = await own('Clear'), primers = await own('Primer');
  must(clears.includes('wb_clear') && clears.includes('none') && !clears.includes('alkyd_primer'), `clears: ${clears}`);
  must(primers.includes('wb_primer') && !primers.includes('wb_enamel'), `primers: ${primers}`);
  await page.getByLabel('Clear', { exact: true }).selectOption('none');
  await b.said(page, 'Clear\\.');
  same((await json(`/api/pieces/${id}/plan`)).pieces[0].coats.rows.filter((c) => c.role === 'clear').length, 0, 'clear coats');
  await page.close();
});
await check('a quote is agreed, a change order follows, one is taken back; what was promised stays', async () => {
  const page = await b.page(PHONE);
  await b.open(page, '/pieces/chest');
  const agree = async (kind, fields) => {
    if (!(await page.getByLabel('Who agreed').isVisible())) await page.locator('.agreed summary', { hasText: 'Write down what was agreed' }).click();
    await page.locator('.agreed').getByRole('button', { name: kind, exact: true }).click();
    for (const [label, text] of fields) await page.getByLabel(label, { exact: true }).fill(text);
    await page.getByRole('button', { name: 'It was agreed' }).click();
    await b.said(page, 'Kept as it was promised');
    await page.getByRole('button', { name: 'Close', exact: true }).click();
  };
  await agree('Quote', [['Who agreed', 'Lane'], ['Price', '640'], ['In words', 'the ring stays as it is']]);
  must((await page.locator('.agreed ol').innerText()).includes('Lane: the ring stays as it is'), 'the words of a quote are nowhere on the page');
  await agree('Change order', [['Who agreed', 'Lane'], ['Adds to the price', '80'], ['What changes', 'brass pulls']]);
  same((await json('/api/pieces/chest')).document.agreement.quoted, '$720', 'the price that holds');
  await page.locator('.agreed').getByRole('button', { name: 'Take back: Change' }).click();
  await page.waitForFunction(() => document.querySelector('.agreed .withdrawn'));
  const rows = (await json('/api/pieces/chest/accepted')).rows.filter((r) => r.corrects === undefined && r.kind !== 'caution');
  same(rows.map((r) => [r.kind, r.withdrawn]), [['change', true], ['quote', false]], 'what is kept');
  same((await json('/api/pieces/chest')).document.agreement.quoted, '$640', 'the price that holds again');
  same(await b.breaches(page), [], 'what axe finds');
  await page.close();
});
await server.send('PATCH', '/api/pieces/chest', { piece: { agreement: { marks: ['ring on the top, left'], seen: '2026-09-01', storage_fee: '$20', collect: '2026-11-30' } } });
for (const [kind, open, words, most] of [
  ['agreement', 'Agreement', ['ring on the top', 'Storage after the day of collection: $20', 'Deposit of', 'the rest when it is collected', 'Agreed so far', 'Lane, the ring stays'], 3],
  ['story', 'Print its story', ['Before', 'After', 'How long it took', 'none logged', 'planned'], 1],
])
  for (const format of ['Letter', 'A4'])
    await check(`the ${kind} on ${format}`, async () => {
      const page = await b.page(), file = join(dir, `${kind}-${format}.pdf`);
      await page.addInitScript(() => { window.print = () => undefined; });
      await b.open(page, '/pieces/chest');
      await page.getByRole('button', { name: open, exact: true }).click();
      await page.waitForSelector('.paper-sheet', { state: 'attached' });
      await b.rest(page);
      await page.waitForFunction(() => !document.querySelector('.paper-sheet[aria-busy="true"]'));
      writeFileSync(file, await page.pdf({ format, preferCSSPageSize: false }));
      const pdf = textOfPdf(file);
      must(pdf.pages >= 1 && pdf.pages <= most, `${pdf.pages} pages`);
      must(!/Bought for|before buying/.test(pdf.text), 'what is the shop\'s own is on it');
      for (const w of words) must(pdf.text.includes(w), `"${w}" is not on it`);
      await page.close();
    });

// A piece whose color nobody has said yet cannot be planned: the page says so, the browser logs the 400.
// A step before which something must be read is answered with 422 and shown as what is to be read.
// A height in no unit is refused at its field.
const uncolored = (e) => /\b400\b.*\/api\/pieces\/(nightstand\/plan|chest\/parts\/drawer_front)/.test(e) || /\b422\b.*dewax\/done/.test(e);
await finish({ server, b }, uncolored);
