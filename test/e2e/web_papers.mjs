// Pages and papers as they come out of a printer, of pieces that are not the usual one: a job of many
// pages, one that is refused, one that is closed; a label with much in the jar; a form on paper.
//   node test/e2e/web_papers.mjs PROGRAM WEB_DIR
import { spawnSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { demo, finish } from './browser.mjs';
import { check, must, same, skip } from './tally.mjs';

const t = await demo('papers', ['chest', 'nightstands', 'crib']), { b, server, dir, json } = t;
const DAY = /^\s*(Mon|Tues|Wednes|Thurs|Fri|Satur|Sun)day, /, DRAWN = /^\s*\w{3} \w{3} \d+\b/, CLOCK = /\d+:\d\d [ap]m/;
const page = await b.page();
await page.addInitScript(() => { window.print = () => undefined; });

// The text of each page that a printer would get; undefined where it cannot be read.
async function printed(path, button, format = 'Letter') {
  const file = join(dir, 'printed.pdf');
  await b.open(page, path);
  if (button) {
    await page.getByRole('button', { name: button, exact: true }).first().click();
    await page.waitForSelector('.paper', { state: 'attached' });
    await b.rest(page);
  }
  writeFileSync(file, await page.pdf({ format }));
  const text = spawnSync('pdftotext', ['-layout', file, '-'], { encoding: 'utf8' });
  return text.error ? undefined : text.stdout.split('\f').slice(0, -1);
}

if (!(await printed('/days'))) skip('what stands on paper', 'pdftotext is missing');
else {
  for (const format of ['Letter', 'A4'])
    for (const [name, path, button, title] of [
      ['a job sheet', '/pieces/chest', 'Print the sheet', 'Job sheet: Bow-front chest, five drawers.'],
      ['the days', '/days', undefined, 'Days.'],
      ['a sheet as it stands on the page', '/pieces/chest', undefined, 'Bow-front chest, five drawers.'],
    ])
      await check(`every page of ${name} says what it is of and which it is, on ${format}`, async () => {
        const pages = await printed(path, button, format);
        must(pages.length > 1, `${pages.length} pages`);
        pages.forEach((text, i) => {
          const foot = text.trimEnd().split('\n').pop();
          must(foot.trim().startsWith(`${title} Printed `) && foot.endsWith(` ${i + 1} of ${pages.length}`), `the foot of page ${i + 1} is "${foot}"`);
        });
      });
  await check('the hour\'s work on paper is named as the page is, not by its task alone', async () => {
    const [text] = await printed('/today'), foot = text.trimEnd().split('\n').pop().trim();
    must(/^Today: .+\. Printed .+ 1 of \d/.test(foot), foot);
  });
  await check('a day that goes on over a page or a column is named there again', async () => {
    const pages = await printed('/pieces/chest', 'Print the sheet');
    const later = pages.slice(1).filter((text) => CLOCK.test(text.split('Color')[0]));
    must(later.length > 0, 'its days are on one page: not the piece to try it with');
    for (const text of later) {
      const head = text.split('\n').find((l) => l.trim());
      must(DAY.test(head), `a page of days begins "${head}"`);
    }
    for (const text of (await printed('/days')).slice(1))
      must(DAY.test(text.trimStart()) || DRAWN.test(text.trimStart()), `a page of the days begins "${text.trim().split('\n')[0]}"`);
  });
  await check('every day that has work is drawn on paper, not only those that fit one row', async () => {
    const text = (await printed('/days')).join('\n'), days = [...new Set(text.match(/\b\w+day, [A-Z]\w+ \d+\b/g))];
    must(days.length > 6, `${days.length} days: not the book to try it with`);
    for (const day of days) {
      const [, weekday, month, n] = /^(\w{3})\w*, (\w{3})\w* (\d+)$/.exec(day);
      must(text.includes(`${weekday} ${month} ${n}`), `${day} is listed, not drawn`);
    }
  });
  await check('warnings can be read on paper, printed with backgrounds too', async () => {
    await b.open(page, '/days');
    await page.emulateMedia({ media: 'print' });
    const seen = await page.locator('.mind, .stop').evaluateAll((all) => all.map((e) => [e.className, getComputedStyle(e).color, getComputedStyle(e).backgroundColor]));
    await page.emulateMedia({ media: null });
    must(seen.some(([name]) => name === 'mind') && seen.some(([name]) => name === 'stop'), JSON.stringify(seen));
    same(seen.filter(([, ink, ground]) => ink === ground), [], 'ink on ink');
  });
  await check('the sheet of a job that is refused says why and asks for nothing else', async () => {
    const text = (await printed('/pieces/crib', 'Print the sheet')).join('\n');
    must(/Do not refinish this crib/.test(text), 'it does not say why');
    for (const word of ['Amounts', 'Air when coating', 'Steps', 'a dab of the paint']) must(!text.includes(word), `"${word}" is on it`);
    await b.open(page, '/pieces/crib');
    await page.getByText('No test is open.').waitFor();
    const said = (await json('/api/pieces/crib/plan')).pieces[0].hazards.refusal.split('. ').at(-1), main = await page.locator('main').innerText();
    same(main.split(said).length - 1, 1, `"${said}" on the page`);
  });
  await check('a closed piece has no days to come, on its page or on paper', async () => {
    same((await server.send('POST', '/api/pieces/nightstands/close', { hours: '11 h', price: '$260' })).status, 200, 'closing');
    const text = (await printed('/pieces/nightstands', 'Print the sheet')).map((x) => x.replace(/Printed .*/g, '')).join('\n');
    must(text.includes('Closed') && text.includes('Take off wax and polish'), 'it is not the sheet of the closed piece');
    must(!CLOCK.test(text), `"${CLOCK.exec(text)?.[0]}" is on it`);
    await b.open(page, '/pieces/nightstands');
    same(await page.locator('.days-chart').count(), 0, 'charts of the days');
  });
  await check('a form on paper is what was said in it', async () => {
    same((await server.send('PATCH', '/api/shop', { shop: { tools: ['foam_roller'] } })).status, 200, 'tools');
    const text = (await printed('/shop')).join('\n');
    for (const word of ['Back Lane Shop', '$45/h', '66 °F', '8 am - 12 pm', 'inches', '4 in foam roller']) must(text.toLowerCase().includes(word.toLowerCase()), `"${word}" is not on it`);
    for (const word of ['Import', 'On the phone', 'mm/dd', 'Fee of a market', 'low-pressure spray gun']) must(!text.includes(word), `"${word}" is on it`);
  });
}

await check('all that a label says is within the label', async () => {
  const paints = (await json('/api/paints?limit=200')).rows.filter((p) => p.class === 'wb_enamel').slice(0, 12);
  const batch = await (await server.send('POST', '/api/batches', {
    name: 'Second trial for the chest of five drawers, mixed in the evening and stirred for long', target: '#1c6a70', amount: '30 fl oz',
    items: paints.map((p) => ({ paint: p.id, parts: 1 })),
  })).json();
  await b.open(page, `/batches/${batch.id}`);
  await page.getByLabel('Labels').fill('6');
  await page.getByRole('button', { name: 'Print the label' }).click();
  await page.waitForSelector('.p-label', { state: 'attached' });
  await page.emulateMedia({ media: 'print' });
  const labels = await page.locator('.p-label').evaluateAll((all) => all.map((l) => {
    const box = l.getBoundingClientRect(), lines = [...l.querySelectorAll('p')];
    return { lines: lines.length, last: lines.at(-1).textContent, over: Math.max(...lines.map((p) => p.getBoundingClientRect().bottom)) - box.bottom };
  }));
  await page.emulateMedia({ media: null });
  same(labels.length, 6, 'labels');
  for (const l of labels) {
    must(l.lines >= paints.length + 3 && /Target/.test(l.last), `${l.lines} lines, the last is "${l.last}"`);
    must(l.over < 0, `the last line ends ${l.over.toFixed(0)} px below the label`);
  }
});
await page.close();
await finish(t);
