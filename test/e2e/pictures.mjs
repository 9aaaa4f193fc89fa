// Pictures of every page into docs/images: desktop 1280, phone 390, and the papers.
//   node test/e2e/pictures.mjs PROGRAM WEB_DIR OUT_DIR
import { mkdirSync, writeFileSync } from 'node:fs';
import { spawnSync } from 'node:child_process';
import { dirname, join } from 'node:path';
import { AT, H, W, picture } from './bench_picture.mjs';
import { Browser, DESKTOP, PHONE, demoBook, missing } from './browser.mjs';
import { Server, folder } from './program.mjs';

const [program, web, out] = process.argv.slice(2), no = missing(web);
if (no) throw new Error(no);
mkdirSync(out, { recursive: true });
const dir = folder(), book = join(dir, 'demo.book');
demoBook(program, dirname(web), book);
const server = await Server.start(program, ['--book', book], dir), b = await Browser.start(web, server.url);
const views = [['today', '/today'], ['pieces', '/pieces'], ['new', '/pieces/new'], ['piece', '/pieces/chest'], ['color', '/color/chest'],
  ['shelf', '/shelf'], ['clients', '/clients'], ['money', '/money'], ['days', '/days'], ['shop', '/shop']];
for (const [size, name] of [[DESKTOP, 'desktop'], [PHONE, 'phone']]) {
  const page = await b.page(size);
  for (const [view, path] of views) {
    await b.open(page, path);
    await page.waitForTimeout(900);
    const height = await page.evaluate(() => document.documentElement.scrollHeight);
    await page.setViewportSize({ width: size.width, height: Math.min(height, name === 'phone' ? 1800 : 2200) });
    await page.evaluate(() => window.scrollTo(0, 0));
    await page.screenshot({ path: join(out, `${view}-${name}.png`) });
    await page.setViewportSize(size);
  }
  if (name === 'desktop') for (const id of ['coats', 'surfaces', 'amounts', 'days']) {
    await b.open(page, '/pieces/chest');
    await page.evaluate(() => document.querySelector('.jump')?.remove());
    const stage = page.locator(`#${id}`);
    if (await stage.count()) await stage.screenshot({ path: join(out, `piece-${id}.png`) });
  }
  await page.close();
}
{ // a color read from a picture: paper, two chips, the thing that is wanted
  const page = await b.page(PHONE), chips = ['white', 'sea-blue'];
  const of = async (id) => (await (await server.get(`/api/paints/${id}`)).json()).color_hex;
  await b.open(page, '/photo');
  await page.locator('input[type=file]').last().setInputFiles(picture(['#f1efec', ...(await Promise.all(chips.map(of))), '#6a6a68', '#2f6f74'], [0.86, 0.78, 0.62]));
  await page.waitForSelector('.marks img');
  const tap = async (n) => {
    const r = await page.locator('.marks').boundingBox();
    await page.mouse.click(r.x + (r.width * AT(n).x) / W, r.y + (r.height * AT(n).y) / H);
  };
  await tap(0);
  for (const [i, id] of chips.entries()) {
    await page.getByRole('button', { name: 'Known chip', exact: true }).click();
    await tap(i + 1);
    await page.getByLabel('Chip of').nth(i).selectOption(`paint:${id}`);
  }
  await page.getByRole('button', { name: 'Wanted', exact: true }).click();
  await tap(4);
  await page.getByRole('button', { name: 'Read the color' }).click();
  await page.waitForSelector('section[aria-label="What was read"]');
  await page.setViewportSize({ width: PHONE.width, height: 1800 });
  await page.evaluate(() => window.scrollTo(0, 0));
  await page.waitForTimeout(600);
  await page.screenshot({ path: join(out, 'photo-phone.png') });
  await page.close();
}
const page = await b.page();
await page.addInitScript(() => { window.print = () => undefined; });
for (const [name, button] of [['jobsheet', 'Print the sheet'], ['quote', 'Quote'], ['agreement', 'Agreement'], ['care', 'Care card']]) {
  await b.open(page, '/pieces/chest');
  await page.getByRole('button', { name: button, exact: true }).click();
  await page.waitForSelector('.paper-sheet', { state: 'attached' });
  const pdf = join(dir, `${name}.pdf`);
  writeFileSync(pdf, await page.pdf({ format: 'Letter' }));
  spawnSync('pdftoppm', ['-r', '80', '-f', '1', '-l', '1', '-singlefile', '-png', pdf, join(out, `print-${name}`)]);
}
await server.stop();
{ // a week in which the clocks are set back, and a slip: only where the clock can be moved
  const clock = '2026-10-29 12:00:00', at = join(dir, 'at-that-time'), slipped = join(dir, 'slipped.book');
  const library = spawnSync('sh', ['-c', 'ls /usr/lib/*/faketime/libfaketime.so.1'], { encoding: 'utf8' }).stdout.trim();
  if (!library) console.log('skipped: no libfaketime, so no picture of the week of a clock change');
  else {
    writeFileSync(at, `#!/bin/sh\nLD_PRELOAD='${library}' FAKETIME='@${clock}' exec '${program}' "$@"\n`, { mode: 0o755 });
    demoBook(at, dirname(web), slipped);
    const then = await Server.start(at, ['--book', slipped], dir);
    await then.send('POST', '/api/days/accept', {});
    await then.send('PATCH', '/api/pieces/desk', { piece: { waits: [{ kind: 'client', until: '2026-11-09' }] } });
    const week = await b.page({ width: 1280, height: 1240 });
    await week.clock.install({ time: new Date(`${clock.replace(' ', 'T')}Z`) });
    await week.goto(`${then.url}/days`);
    await week.clock.runFor(3000);
    await week.waitForSelector('.days-chart .ghost');
    await week.screenshot({ path: join(out, 'days-slipped.png') });
    const paper = join(dir, 'days.pdf');
    writeFileSync(paper, await week.pdf({ format: 'Letter' }));
    spawnSync('pdftoppm', ['-r', '80', '-f', '1', '-l', '1', '-singlefile', '-png', paper, join(out, 'print-days')]);
    await week.getByRole('button', { name: /^See what moves/ }).click();
    await week.waitForSelector('.moves li');
    await week.screenshot({ path: join(out, 'days-moves.png') });
    await then.stop();
  }
}
await b.stop();
