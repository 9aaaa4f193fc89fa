// Pictures of every page into docs/images: desktop 1280, phone 390, and the papers.
//   node test/e2e/pictures.mjs PROGRAM WEB_DIR OUT_DIR
import { mkdirSync, writeFileSync } from 'node:fs';
import { spawnSync } from 'node:child_process';
import { dirname, join } from 'node:path';
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
await b.stop();
